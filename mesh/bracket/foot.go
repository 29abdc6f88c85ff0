package bracket

import (
	"fmt"
	"math"

	"barwright/frame"
	"barwright/geom"
	"barwright/mesh/bracket/csg"
	"barwright/standard"
)

// endPlate builds what foot pad and caster plate share: a plate under a post's end with pegs in its slots and a sunk screw
// into each core bore. half is half the plate's size. It returns the boxes of the pegs.
func (m *model) endPlate(half geom.Vec2, least float64) (pegs []geom.Box, ok bool) {
	thread := m.coreThread()
	bore, ok := standard.Counterbore(thread)
	if m.err != nil || !ok {
		m.fail(fight(RuleThread, "thread", "no counterbore for %q is in the tables", thread))
		return nil, false
	}
	t := m.wall
	if m.spec.Wall == 0 {
		t = m.a.lines(math.Max(least, bore.Depth+3*m.a.Layer+2*m.a.Seat))
		m.wall = t
	}
	if t < bore.Depth+3*m.a.Layer+m.a.Seat-1e-9 {
		m.fail(fight(RuleThin, "wall,thread", "the counterbore of an %s screw is %.1f mm deep; a plate of %g mm leaves less than %g mm under the head", thread, bore.Depth, t, m.a.Seat))
		return nil, false
	}
	m.stand(geom.Vec{Z: 1}, geom.Vec{X: 1}, -t, "margin,pattern")
	m.add(csg.Prism(geom.Identity(), csg.Rounded(half.Scale(-1), half, plateCorner(half)), -t, 0, m.a.Edge, 0))
	m.contacts = append(m.contacts, Contact{Toward: geom.Vec{Z: 1}})
	for _, c := range m.p.Cores() {
		m.screw(screwSpec{face: geom.Vec{X: c.X, Y: c.Y, Z: -t}, dir: geom.Vec{Z: 1}, wall: t, sunk: bore.Depth, thread: thread, head: "ISO 4762", core: true, p: m.p})
	}
	hole, _ := standard.ClearanceHole(thread)
	pegs = m.pegs(m.v("peg"), hole.Medium/2+m.a.VHole)
	return pegs, m.err == nil
}

// plateCorner is the radius of an end plate's corners.
func plateCorner(half geom.Vec2) float64 { return math.Min(6, math.Min(half.X, half.Y)/2) }

// pegs adds a peg in the mouth of each slot, so that the plate can't turn. They stay clear of a radius round each core.
// It returns their boxes.
func (m *model) pegs(high, clear float64) (boxes []geom.Box) {
	s := m.p.Slot
	half := math.Min(s.Opening/2, s.Cavity/2-s.Chamfer) - m.a.Fit
	deep := math.Min(s.Depth-m.a.Fit-0.1, m.p.Pitch/2-clear-m.a.LeastTo)
	if 2*half < m.a.LeastTo || deep < 2 {
		m.fail(fight(RuleWall, "slot.chamfer,slot.opening", "no peg of at least %g mm fits into the slot beside the screw", m.a.LeastTo))
		return nil
	}
	for side := range geom.Side(4) {
		for _, o := range m.p.SlotLines(side) {
			a, b := m.p.Point(side, o-half, 0.6), m.p.Point(side, o+half, deep)
			lo := geom.Vec2{X: math.Min(a.X, b.X), Y: math.Min(a.Y, b.Y)}
			hi := geom.Vec2{X: math.Max(a.X, b.X), Y: math.Max(a.Y, b.Y)}
			m.add(csg.Prism(geom.Identity(), csg.Rectangle(lo, hi), -0.5, high, 0, math.Min(0.8, math.Min(half, high)/2)))
			boxes = append(boxes, geom.Box{Low: geom.Vec{X: lo.X, Y: lo.Y}, High: geom.Vec{X: hi.X, Y: hi.Y, Z: high}})
		}
	}
	return boxes
}

// makePad builds the foot pad.
func makePad(m *model) {
	half := m.p.Size().Scale(0.5).Add(geom.Vec2{X: m.v("margin"), Y: m.v("margin")})
	pegs, ok := m.endPlate(half, 0)
	if !ok {
		return
	}
	if b := m.screws[0]; m.p.Pitch/2+m.v("margin") < b.HeadDiameter/2+1.2 {
		m.fail(fight(RuleThin, "margin,thread", "a pad %g mm wide is too narrow for the counterbore of an %s screw", 2*half.X, b.Thread))
		return
	}
	m.endPlateMeasures(half, m.wall, plateCorner(half), pegs, nil)
	m.plateLoad(half)
	m.notes = append(m.notes, "Print standing on its sole, pegs up; the screws' recesses are bridged in steps, no support needed.")
}

// plateLoad notes the bending of an end plate that stands on its rim: half the load at the rim's middle, the section
// through the middle less the counterbores.
func (m *model) plateLoad(half geom.Vec2) {
	bore, _ := standard.Counterbore(m.screws[0].Thread)
	w, a := plateModulus(math.Max(2*half.Y-float64(m.p.Cells[1])*bore.Diameter, 2*half.Y*0.2), m.wall)
	m.root(half.X/2, w, a, geom.Vec{X: 1}, "the post's load carried by half of the plate, section through the counterbore")
}

// makeCaster builds the caster plate.
func makeCaster(m *model) {
	px, py := m.v("pattern_x")/2, m.v("pattern_y")/2
	bolt := fmt.Sprintf("M%g", m.v("bolt"))
	insert := int(m.v("insert"))
	hole, ok := standard.ClearanceHole(bolt)
	nut, ok2 := standard.HexNut(bolt)
	if !ok || !ok2 {
		m.fail(fight(RuleThread, "bolt", "no clearance hole and nut for %s are in the tables", bolt))
		return
	}
	d, rim, deep := hole.Medium, hole.Medium/2+m.a.VHole+2.4, 0.0
	switch insert {
	case 1:
		rim = (nut.AcrossFlats+m.a.NutGap)/math.Sqrt(3) + 2.4
		deep = nut.Height + 0.3
	case 2:
		r, ok := standard.PrintRuleByName("heat_set_hole_" + bolt)
		if !ok {
			m.fail(fight(RuleThread, "bolt,insert", "no usual heat-set insert for %s is in the tables", bolt))
			return
		}
		d = r.Typical - m.a.VHole // the table's figure is the printed hole's own
		rim = r.Typical/2 + math.Max(2.4, 0.4*r.Typical)
	}
	if own := rim - 2.4; 2*math.Min(px, py) < 2*own+m.a.LeastTo+2*m.a.First {
		m.fail(fight(RuleThin, "pattern_x,pattern_y", "holes %.1f mm wide at %g × %g mm leave no wall between them", 2*own, 2*px, 2*py))
		return
	}
	size := m.p.Size()
	if px-rim < size.X/2+0.5 && py-rim < size.Y/2+0.5 {
		m.fail(fight(RuleDriver, "pattern_x,pattern_y", "holes at ±%g, ±%g lie under the post of %g × %g, where no screw can be held", px, py, size.X, size.Y))
		return
	}
	half := geom.Vec2{X: math.Max(px+rim+1, size.X/2), Y: math.Max(py+rim+1, size.Y/2)}
	pegs, ok := m.endPlate(half, deep+4)
	if !ok {
		return
	}
	before := len(m.holes)
	if deep+m.a.Seat > m.wall {
		m.fail(fight(RuleThin, "wall,insert", "a nut's pocket %.1f mm deep leaves less than %g mm of a plate of %g mm", deep, m.a.Seat, m.wall))
		return
	}
	for _, c := range []geom.Vec2{{X: -px, Y: -py}, {X: px, Y: -py}, {X: px, Y: py}, {X: -px, Y: py}} {
		place := axes(geom.Vec{X: c.X, Y: c.Y, Z: -m.wall}, geom.Vec{Z: 1})
		o, wide := m.round(place, d)
		m.cut(csg.Prism(place, o, -1, m.wall+1, 0, 0))
		m.flare(place, o)
		top := axes(geom.Vec{X: c.X, Y: c.Y}, geom.Vec{Z: -1})
		h := m.hole(top, wide, m.wall, []string{bolt, bolt + " and its nut ISO 4032", bolt + " heat-set insert"}[insert])
		if insert == 1 {
			h.Flats, h.FlatDepth = nut.AcrossFlats+m.a.NutGap, deep
			m.cut(csg.Prism(place, csg.Hexagon(geom.Vec2{}, nut.AcrossFlats+m.a.NutGap, geom.Vec2{X: 1}), m.wall-deep, m.wall+1, 0, 0))
		}
	}
	switch insert {
	case 1:
		m.extra = []frame.Hardware{{Item: "hexagon nut", Standard: "ISO 4032", Size: bolt, Quantity: 4}}
	case 2:
		m.extra = []frame.Hardware{{Item: "heat-set insert", Size: bolt, Quantity: 4, Note: "short; take the hole from the insert in hand"}}
	}
	m.endPlateMeasures(half, m.wall, plateCorner(half), pegs, m.holes[before:])
	m.plateLoad(half)
	m.notes = append(m.notes, fmt.Sprintf("Holes at %g × %g mm for %s%s. The caster and its four screws are bought by themselves; they stand on no list.", 2*px, 2*py, bolt, []string{"", " with nuts in the pockets", " with heat-set inserts from above"}[insert]),
		"Print standing on its underside, pegs up; the screws' recesses are bridged in steps, no support needed.")
}
