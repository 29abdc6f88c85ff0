package job

import (
	"fmt"
	"math"

	"barwright/geom"
	"barwright/standard"
)

// driverBlocked returns what keeps a key from a screw of a part, or "". The arm that goes in is a bundle of thirteen rays from the head
// outward; the arm that turns is three rays at its height, at 48 places round the screw, of which those over 60° side by side must be free.
func (s *fitScene) driverBlocked(p *placedSolid, seat, dir geom.Vec, head, key, wide float64) string {
	k, ok := standard.HexKey(key)
	if !ok {
		return fmt.Sprintf("no key of %g mm is in the tables", key)
	}
	at, out := p.place.Apply(seat), p.place.Turn(dir).Scale(-1)
	x := out.Cross(geom.Vec{X: 0.21, Y: 0.43, Z: 0.88}).Unit()
	y := out.Cross(x)
	why := ""
	for _, arm := range [][2]float64{{k.LongArmMax, k.ShortArmMax}, {k.ShortArmMax, k.LongArmMax}} {
		if arm[0] <= 0 {
			continue
		}
		blocker := s.bundleBlocked(at.Add(out.Scale(head+0.05)), out, x, y, wide/2, arm[0]-head)
		if blocker == "" && !s.swings(at.Add(out.Scale(head+arm[0]-k.Size)), x, y, k.AcrossCorners/2, arm[1]) {
			blocker = "something in the way of the other arm"
		}
		if blocker == "" {
			return ""
		}
		why = blocker
	}
	return why
}

// solids calls fn for bars and printed parts until it returns false.
func (s *fitScene) solids(fn func(b *placedSolid) bool) {
	for _, list := range [][]*placedSolid{s.bars, s.parts} {
		for _, b := range list {
			if !fn(b) {
				return
			}
		}
	}
}

// bundleBlocked names what a bundle of rays meets.
func (s *fitScene) bundleBlocked(from, out, x, y geom.Vec, radius, reach float64) string {
	what := ""
	s.solids(func(b *placedSolid) bool {
		for k := range 13 {
			q := from
			if k > 0 {
				sn, cs := math.Sincos(float64(k) * math.Pi / 6)
				q = q.Add(x.Scale(radius * cs)).Add(y.Scale(radius * sn))
			}
			if d := b.first(q, out, reach); d < reach {
				what = fmt.Sprintf("%s is in the way after %.1f mm", b.name, d)
				return false
			}
		}
		return true
	})
	return what
}

// swings reports whether an arm has 60° free about a point.
func (s *fitScene) swings(hub, x, y geom.Vec, radius, length float64) bool {
	const places = 48
	run := 0
	for i := range places + places/6 + 1 {
		sn, cs := math.Sincos(2 * math.Pi * float64(i) / places)
		way, side := x.Scale(cs).Add(y.Scale(sn)), y.Scale(cs).Sub(x.Scale(sn))
		free := true
		s.solids(func(b *placedSolid) bool {
			for _, o := range []float64{-radius, 0, radius} {
				if b.first(hub.Add(side.Scale(o)), way, length) < length {
					free = false
				}
			}
			return free
		})
		if !free {
			run = 0
			continue
		}
		if run++; run > places/6 {
			return true
		}
	}
	return false
}
