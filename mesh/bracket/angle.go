package bracket

import (
	"fmt"
	"math"

	"barwright/geom"
	"barwright/mesh/bracket/csg"
)

// sideGap is how far a bracket stays inside the edges of the bar it sits on, each side (common practice, no source).
const sideGap = 0.5

// legScrews returns where the screws of a leg stand, as distances from the corner, and where the leg's seat must end.
// first is the least distance of the first head's edge from the corner.
func legScrews(n int, first, head, pitch float64) (at []float64, end float64) {
	s := math.Max(first+head+0.5, pitch/2)
	s = math.Ceil(2*s) / 2
	step := math.Ceil(math.Max(2*head+1.5, pitch/2))
	for k := range n {
		at = append(at, s+float64(k)*step)
	}
	return at, at[n-1] + head + 0.5
}

// lines returns the z of the slots' middles of a part that covers a number of cells.
func slotLines(cells int, pitch float64) []float64 {
	out := make([]float64, cells)
	for i := range out {
		out[i] = (float64(i) - float64(cells-1)/2) * pitch
	}
	return out
}

// inCorner fillets the free inside of a corner (common practice, no source).
const inCorner = 3

// relief is cut off the edge that lies in the bars' corner, where burrs and weld beads are (common practice, no source).
const relief = 0.8

// makeAngle builds the corner angle. It is printed standing on the slanting edges of its gussets and the tips of its legs:
// both mating faces look up at 45°, no face hangs over by more, and the layers run along the gussets' edges, which take
// the pull when the corner is opened.
func makeAngle(m *model) {
	thread := m.slotThread()
	head := m.headRadius("ISO 7380-1", thread, m.on("washer"))
	m.fitWall(thread, "ISO 7380-1", 0, 0)
	t, cells := m.wall, int(m.v("cells"))
	gusset := m.v("gusset")
	if gusset == 0 {
		gusset = math.Max(2*m.a.Line, 0.06*math.Min(m.p.Pitch, 100)+0.4)
	}
	gusset = m.a.lines(gusset)
	width := float64(cells)*m.p.Pitch - 2*sideGap
	screws, end := legScrews(int(m.v("screws")), t+inCorner, head, m.p.Pitch)
	if room := width/2 - gusset - (m.p.Pitch/2)*float64(cells-1) - head; room < 0.2 {
		m.fail(fight(RuleDriver, "gusset,thread", "a head %.1f mm wide does not fit between gussets of %g mm on a bracket %g mm wide", 2*head, gusset, width))
		return
	}
	c := end + t // the bed is the plane x + y = c
	leg := c - t/2
	for k, room := range []float64{m.v("room_a"), m.v("room_b")} {
		if room > 0 && leg > room {
			m.fail(fight(RuleRoom, []string{"room_a", "room_b"}[k]+",screws", "the legs and gussets are %.1f mm long; bar %c is free over %g mm only", leg, 'A'+rune(k), room))
			return
		}
	}
	m.stand(geom.Vec{X: -1, Y: -1}, geom.Vec{X: 1, Y: -1}, -c/math.Sqrt2, "screws,cells")
	m.angleBody(t, leg, gusset, width)
	w, area := ribbed(width, t, 2*gusset, c-t)
	m.root(screws[len(screws)-1]-t, w, area, geom.Vec{X: 1}, "load square on a leg at its last screw, root of the leg with both gussets")
	for bar, place := range []geom.Motion{
		{EX: geom.Vec{X: 1}, EY: geom.Vec{Y: 1}, EZ: geom.Vec{Z: 1}},
		{EX: geom.Vec{Y: 1}, EY: geom.Vec{X: 1}, EZ: geom.Vec{Z: 1}},
	} {
		m.leg(place, []*geom.Profile{m.p, m.pb}[bar], slotLines(cells, m.p.Pitch), screws, leg, t, thread, bar, false)
	}
	m.angleMeasures(t, c, leg, gusset, width, screws, slotLines(cells, m.p.Pitch))
	if m.spec.Text != "" {
		right, up := geom.Vec{X: 1, Y: -1}.Unit(), geom.Vec{X: -1, Y: -1}.Unit()
		r := c / (2 + math.Sqrt2) // the middle of the largest circle in the gusset
		h := math.Min(7, math.Min(0.8*r, 1.7*r*6/(6*float64(len(m.spec.Text))-2)))
		if m.legible(h) {
			m.sink(m.spec.Text, geom.Vec{X: r, Y: r, Z: -width / 2}.Add(up.Scale(-0.1*r)), right, up, h)
		}
	}
	m.notes = append(m.notes, "Print standing on the gussets' slanting edges, both mating faces up, as the file lies: layers then run along those edges, and only half of a leg's bending pulls across layers.",
		fmt.Sprintf("Gussets %s.", m.a.count(gusset)))
}

// angleBody adds the two legs, the gussets and the fillet.
func (m *model) angleBody(t, leg, gusset, width float64) {
	half := width / 2
	left := csg.Half{N: geom.Vec{Z: 1}, D: half}
	right := csg.Half{N: geom.Vec{Z: -1}, D: half}
	x0, y0 := csg.Half{N: geom.Vec{X: -1}}, csg.Half{N: geom.Vec{Y: -1}}
	corner := csg.Facing(geom.Vec{X: -1, Y: -1}, geom.Vec{X: relief})
	common := csg.Convex{x0, y0, corner, m.onBed(), left, right}
	outer := []csg.Half{m.bedBevel(left), m.bedBevel(right)}
	m.add(common.With(csg.Half{N: geom.Vec{Y: 1}, D: t}, csg.Half{N: geom.Vec{X: 1}, D: leg}).With(outer...))
	m.add(common.With(csg.Half{N: geom.Vec{X: 1}, D: t}, csg.Half{N: geom.Vec{Y: 1}, D: leg}).With(outer...))
	m.add(common.With(csg.Facing(geom.Vec{X: 1, Y: 1}, geom.Vec{X: 2*t + inCorner})))
	for _, s := range []float64{1, -1} {
		inner := csg.Half{N: geom.Vec{Z: -s}, D: gusset - half}
		own, bevel := left, outer[0]
		if s < 0 {
			own, bevel = right, outer[1]
		}
		m.add(csg.Convex{x0, y0, corner, m.onBed(), own, inner, bevel, m.bedBevel(inner)}.With(
			csg.Half{N: geom.Vec{X: 1}, D: leg}, csg.Half{N: geom.Vec{Y: 1}, D: leg}))
	}
}

// leg adds what a leg has beside its plate: ribs, screws and the record of its contact. The motion's x runs along the leg
// from the corner, its y away from the bar, its z across; it may be left-handed.
func (m *model) leg(place geom.Motion, p *geom.Profile, lines, screws []float64, leg, t float64, thread string, bar int, lying bool) {
	toward := place.EY.Scale(-1)
	ribs := m.values["ribs"] == 1
	for _, z := range lines {
		at := place.Apply(geom.Vec{Z: z})
		m.contacts = append(m.contacts, Contact{At: at.Add(place.EX.Scale(leg / 2)), Toward: toward, Along: place.EX, Bar: bar})
		if ribs {
			from := relief + 0.7
			gaps := make([]float64, len(screws))
			for i, s := range screws {
				gaps[i] = s - from
			}
			hole := m.screwHole(thread)
			m.rib(p, at.Add(place.EX.Scale(from)), place.EX, toward, leg-from-1, gaps, hole/2+1, lying, bar)
		}
		for _, s := range screws {
			m.screw(screwSpec{face: place.Apply(geom.Vec{X: s, Y: t, Z: z}), dir: toward, wall: t, thread: thread, head: "ISO 7380-1", p: p, bar: bar})
		}
	}
}
