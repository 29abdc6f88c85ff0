package drawing

import (
	"math"
	"sort"

	"barwright/frame"
)

// Figures of broken views, mm on the paper.
const (
	breakGap    = 4.0 // between the two zigzag lines (common practice: 3 to 5)
	breakPast   = 2.5 // how far a zigzag runs past the outline
	besideHole  = 6.0 // of plain bar that stays beside a hole
	besideEnd   = 14.0
	leastBroken = 8.0 // a stretch must lose at least this much to be worth a break
)

// lengthPiece is an unbroken stretch of the bar: true lengths z0 to z1 lie at x0 to x1 on the paper.
type lengthPiece struct{ z0, z1, x0, x1 float64 }

// lengthMap says where a place along the bar lies on the paper, with stretches of plain bar cut out.
type lengthMap struct {
	pieces []lengthPiece
	scale  float64
}

// width returns the length of the drawn bar in mm on the paper.
func (m *lengthMap) width() float64 { return m.pieces[len(m.pieces)-1].x1 }

// at returns where a place z along the bar lies; a place in a break lies in the middle of the gap.
func (m *lengthMap) at(z float64) float64 {
	for i, p := range m.pieces {
		if z <= p.z1 || i == len(m.pieces)-1 {
			if z < p.z0 && i > 0 {
				return p.x0 - breakGap/2
			}
			return p.x0 + (z-p.z0)*m.scale
		}
	}
	return 0
}

// keep is a stretch of bar that must be seen.
type keep struct{ lo, hi float64 }

// newLengthMap fits a bar into a width on the paper: whole where it fits, else with as few
// breaks as do. It reports false where even breaking every plain stretch is not enough.
func newLengthMap(b *frame.Bar, scale, width float64) (*lengthMap, bool) {
	m := &lengthMap{scale: scale}
	if b.Length*scale <= width {
		m.pieces = []lengthPiece{{0, b.Length, 0, b.Length * scale}}
		return m, true
	}
	keeps := keepSeen(b, scale)
	type gap struct {
		after int // index of the keep before it
		loss  float64
	}
	var gaps []gap
	for i := 1; i < len(keeps); i++ {
		if loss := (keeps[i].lo-keeps[i-1].hi)*scale - breakGap; loss >= leastBroken {
			gaps = append(gaps, gap{i - 1, loss})
		}
	}
	sort.SliceStable(gaps, func(i, j int) bool { return gaps[i].loss > gaps[j].loss })
	over := b.Length*scale - width
	n := 0
	for over > 0 && n < len(gaps) {
		over -= gaps[n].loss
		n++
	}
	if over > 0 {
		return nil, false
	}
	// What was cut too much is given back, to every break alike, as far as a break stays worth it.
	loss := map[int]float64{}
	slack := -over
	for i := range n {
		give := math.Min(slack/float64(n), gaps[i].loss-leastBroken)
		loss[gaps[i].after] = gaps[i].loss - give
	}
	m.build(b.Length, keeps, loss)
	return m, true
}

// build lays the pieces out: each broken gap loses some of its middle.
func (m *lengthMap) build(length float64, keeps []keep, loss map[int]float64) {
	z, x := 0.0, 0.0
	for i := range keeps {
		l, broken := loss[i]
		if !broken {
			continue
		}
		lost := (l + breakGap) / m.scale
		mid := (keeps[i].hi + keeps[i+1].lo) / 2
		end := mid - lost/2
		m.pieces = append(m.pieces, lengthPiece{z, end, x, x + (end-z)*m.scale})
		x += (end-z)*m.scale + breakGap
		z = mid + lost/2
	}
	m.pieces = append(m.pieces, lengthPiece{z, length, x, x + (length-z)*m.scale})
}

// keepSeen returns the stretches with ends and holes, merged and in order.
func keepSeen(b *frame.Bar, scale float64) []keep {
	ends := [2]float64{}
	for e := range 2 {
		reach := b.Plane(0)
		if e == 1 {
			reach = b.Length - b.Plane(1)
		}
		ends[e] = math.Min(2*reach+besideEnd/scale, b.Length/2)
	}
	all := []keep{{0, ends[0]}, {b.Length - ends[1], b.Length}}
	for _, h := range b.Holes {
		r := math.Max(h.Diameter, h.Bore)/2 + besideHole/scale
		all = append(all, keep{math.Max(0, h.Z-r), math.Min(b.Length, h.Z+r)})
	}
	sort.Slice(all, func(i, j int) bool { return all[i].lo < all[j].lo })
	out := all[:1]
	for _, k := range all[1:] {
		if last := &out[len(out)-1]; k.lo <= last.hi {
			last.hi = math.Max(last.hi, k.hi)
		} else {
			out = append(out, k)
		}
	}
	return out
}
