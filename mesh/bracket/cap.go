package bracket

import (
	"fmt"
	"math"

	"barwright/geom"
	"barwright/mesh/bracket/csg"
)

// makeCap builds an end cap: a plate on the bar's end and tongues in the slots' cavities, or pins in the core bores. It is
// printed lying on its outside.
func makeCap(m *model) {
	size, t, depth := m.p.Size(), m.wall, m.v("depth")
	if m.spec.Wall == 0 {
		t = m.a.lines(2.4)
		m.wall = t
	}
	m.stand(geom.Vec{Z: -1}, geom.Vec{X: 1}, -t, "profile")
	half := size.Scale(0.5).Sub(geom.Vec2{X: m.v("inset"), Y: m.v("inset")})
	edge := math.Min(m.a.Edge, t/2)
	m.add(csg.Prism(geom.Identity(), csg.Rounded(half.Scale(-1), half, math.Max(0, m.p.CornerRadius)), 0, t, 0, math.Max(edge, m.a.First)))
	m.contacts = append(m.contacts, Contact{Toward: geom.Vec{Z: -1}})
	var tongues []geom.Box
	var pins []geom.Vec
	down := geom.Motion{EX: geom.Vec{X: 1}, EY: geom.Vec{Y: -1}, EZ: geom.Vec{Z: -1}}
	if m.on("hold") {
		// Eight edges bite into the bore.
		r := m.p.Core/2 + m.v("grip")/2
		for _, c := range m.p.Cores() {
			var o csg.Outline
			for k := range 8 {
				n := octagon[k]
				o = append(o, csg.HalfPlane{N: n, D: n.Dot(geom.Vec2{X: c.X, Y: -c.Y}) + r*math.Cos(math.Pi/8)})
			}
			m.add(csg.Prism(down, o, 0, depth, 0, math.Min(1, r/2)))
			pins = append(pins, geom.Vec{X: c.X, Y: c.Y})
		}
		m.notes = append(m.notes, fmt.Sprintf("Pins %.2f mm over their edges in bores of %g mm: press in, or drop in with glue.", 2*r, m.p.Core))
	} else {
		tongues = m.tongues(depth)
	}
	m.capMeasures(half, t, tongues, pins, m.p.Core/2+m.v("grip")/2, depth, m.p.CornerRadius)
	m.notes = append(m.notes, "Print lying on the outside; no load.")
}

// tongues adds a tongue in each slot's cavity, under the lips, and returns their boxes.
func (m *model) tongues(depth float64) (boxes []geom.Box) {
	s := m.p.Slot
	room := s.Depth - s.Chamfer - s.Lip - 2*m.a.Fit // where the cavity keeps its full width
	thick := m.v("tongue")
	if thick == 0 {
		thick = math.Min(math.Floor(room/m.a.Line+1e-6)*m.a.Line, 6*m.a.Line)
		if thick < m.a.LeastTo {
			m.fail(fight(RuleWall, "slot.depth,slot.chamfer", "the slot's cavity leaves only %.2f mm for a tongue; the least wall is %g", room, m.a.LeastTo))
			return nil
		}
	}
	if thick > room+1e-9 {
		m.fail(fight(RuleWall, "tongue,slot.depth", "a tongue %g mm thick does not fit into the slot's cavity, which is %.2f mm deep behind the lip, fits taken off", thick, room))
		return nil
	}
	n := 0
	for side := range geom.Side(4) {
		for _, o := range m.p.SlotLines(side) {
			half := s.Cavity/2 - m.a.Fit
			a := m.p.Point(side, o-half, s.Lip+m.a.Fit)
			b := m.p.Point(side, o+half, s.Lip+m.a.Fit+thick)
			lo := geom.Vec2{X: math.Min(a.X, b.X), Y: math.Min(a.Y, b.Y)}
			hi := geom.Vec2{X: math.Max(a.X, b.X), Y: math.Max(a.Y, b.Y)}
			down := geom.Motion{EX: geom.Vec{X: 1}, EY: geom.Vec{Y: -1}, EZ: geom.Vec{Z: -1}}
			m.add(csg.Prism(down, csg.Rectangle(geom.Vec2{X: lo.X, Y: -hi.Y}, geom.Vec2{X: hi.X, Y: -lo.Y}), 0, depth, 0, math.Min(1, 0.3*thick)))
			boxes = append(boxes, geom.Box{Low: geom.Vec{X: lo.X, Y: lo.Y, Z: -depth}, High: geom.Vec{X: hi.X, Y: hi.Y}})
			n++
		}
	}
	if n == 0 {
		m.fail(fight(RuleProfile, "closed,hold", "every side of the profile is closed: hold the cap by the core bores"))
	}
	m.notes = append(m.notes, fmt.Sprintf("%d tongues of %.2f mm under the lips, %g mm clear all round as drawn: push it in by hand; a drop of glue holds one that is loose.", n, thick, m.a.Fit))
	return boxes
}
