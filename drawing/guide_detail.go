package drawing

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"barwright/assembly"
	"barwright/geom"
)

// Sizes of the detail circles in mm.
const (
	detailRadius = 13.0
	detailText   = 20.5 // room for four lines under a circle
)

// detail is what goes into slots in the same way, drawn once.
type detail struct {
	assembly.Load
	names []string
	rings []ring
}

// ring is a place where something waits in a slot.
type ring struct {
	in string // member
	at geom.Vec
}

// ringsOf returns the places of a load.
func ringsOf(l assembly.Load) []ring {
	var out []ring
	for _, p := range l.Places {
		out = append(out, ring{l.Member.Name, p})
	}
	return out
}

// mostDetails is how many detail circles stand beside a picture.
const mostDetails = 6

// details gathers the loads of a step that look the same.
func (g *guide) details(s *assembly.Step) []detail {
	var out []detail
next:
	for _, l := range s.Load {
		for i := range out {
			if o := &out[i]; o.Member.Part == l.Member.Part && o.Face == l.Face && o.End == l.End && o.Item == l.Item && o.Size == l.Size && sameAt(o.At, l.At) {
				o.names, o.rings = append(o.names, l.Member.Name), append(o.rings, ringsOf(l)...)
				continue next
			}
		}
		out = append(out, detail{l, []string{l.Member.Name}, ringsOf(l)})
	}
	if len(out) > mostDetails {
		out = out[:mostDetails]
	}
	return out
}

func sameAt(a, b []float64) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if a[i]-b[i] > 0.01 || b[i]-a[i] > 0.01 {
			return false
		}
	}
	return true
}

// drawDetail draws the mouth of a slot with what is loaded, seen onto its face with end 1 at the left, and says what it is.
func (g *guide) drawDetail(d detail, mid geom.Vec2) {
	s := g.page
	s.Circle(Outline, mid, detailRadius)
	p := d.Member.Bar.Profile
	k := detailRadius * 1.1 / p.Pitch
	chord := func(y float64) float64 {
		v := detailRadius*detailRadius - y*y
		if v <= 0 {
			return 0
		}
		return math.Sqrt(v)
	}
	level := func(role Role, y float64) {
		if c := chord(y); c > 0 {
			s.Line(role, mid.Add(geom.Vec2{X: -c, Y: y}), mid.Add(geom.Vec2{X: c, Y: y}))
		}
	}
	level(Edge, p.Pitch/2*k)
	level(Edge, -p.Pitch/2*k)
	level(Edge, p.Slot.Opening/2*k)
	level(Edge, -p.Slot.Opening/2*k)
	// The head or nut behind the lips, and the thread that shows in the opening.
	wide := p.Slot.Cavity * 0.42 * k
	if d.Item == "slot nut" {
		s.Rect(Hidden, mid.Add(geom.Vec2{X: -wide, Y: -wide}), mid.Add(geom.Vec2{X: wide, Y: wide}))
		s.Circle(Outline, mid, p.Slot.Opening*0.32*k)
	} else {
		s.Circle(Hidden, mid, wide)
		s.Circle(Outline, mid, p.Slot.Opening*0.46*k)
		s.Circle(Thread, mid, p.Slot.Opening*0.38*k)
	}
	switch d.End {
	case 1:
		s.fatArrow(mid.Add(geom.Vec2{X: -detailRadius - 1}), mid.Add(geom.Vec2{X: -detailRadius + 7}))
	case 2:
		s.fatArrow(mid.Add(geom.Vec2{X: detailRadius + 1}), mid.Add(geom.Vec2{X: detailRadius - 7}))
	}
	y := mid.Y - detailRadius - 4
	for _, t := range g.detailLines(d) {
		s.Write(Note, geom.Vec2{X: mid.X, Y: y}, SmallText, Centre, Fit(t, SmallText, 2*detailRadius+2))
		y -= guideLine
	}
}

// detailLines says what is loaded, where, and how far.
func (g *guide) detailLines(d detail) []string {
	var at []string
	for _, z := range d.At {
		at = append(at, g.u.place(z))
	}
	item := "screw"
	if d.Item == "slot nut" {
		item = "nut"
	}
	first := fmt.Sprintf("%d %s %s", d.Count, item, strings.ReplaceAll(d.Size, "x", "×"))
	if n := len(d.names); n > 1 {
		first = fmt.Sprintf("%d in each of %d", d.Count, n)
	}
	if d.Count > 1 && len(d.names) == 1 {
		first = fmt.Sprintf("%d %ss %s", d.Count, item, strings.ReplaceAll(d.Size, "x", "×"))
	}
	lines := []string{first, fmt.Sprintf("%s, face %d", d.Member.Part.Mark, d.Face)}
	far := Wrap("at "+strings.Join(at, ", "), SmallText, 2*detailRadius+2)
	if len(far) > 2 {
		far = append(far[:1], "and so on")
	}
	return append(lines, far...)
}

// ringRadius is that of the ring round a place where something waits in a slot, mm.
const ringRadius = 2.2

// drawLoadLeaders marks the places of what is loaded in the picture with a dot in a ring. Of places so near that their rings would
// lie on one another the first is marked.
func (g *guide) drawLoadLeaders(b *guideBlock, at func(geom.Vec) geom.Vec2, away geom.Vec) {
	fresh := map[string]bool{}
	for _, m := range b.step.Add {
		fresh[m.Name] = true
	}
	var drawn []geom.Vec2
	for _, d := range b.details {
		for _, r := range d.rings {
			p := r.at
			if fresh[r.in] {
				p = p.Add(away)
			}
			q := at(p)
			if slices.ContainsFunc(drawn, func(o geom.Vec2) bool { return o.Dist(q) < 2*ringRadius }) {
				continue
			}
			drawn = append(drawn, q)
			g.page.Dot(Leader, q, 0.9)
			g.page.Circle(Outline, q, ringRadius)
		}
	}
}
