package bracket

import (
	"fmt"
	"math"
	"slices"

	"barwright/geom"
	"barwright/mesh/bracket/csg"
	"barwright/standard"
)

// screwSpec says what a screw joins.
type screwSpec struct {
	face   geom.Vec // middle of the hole on the free face
	dir    geom.Vec // from head to tip
	wall   float64  // from the free face to the bar
	sunk   float64  // depth of the counterbore in the free face, 0 for none
	thread string
	head   string // standard of the screw
	core   bool   // into the core bore of the profile, not a slot nut
	p      *geom.Profile
	bar    int
}

// screw makes the hole for a screw and records it.
func (m *model) screw(s screwSpec) {
	hole, ok := standard.ClearanceHole(s.thread)
	sc, ok2 := standard.ScrewOf(s.head, s.thread)
	if !ok || !ok2 {
		m.fail(fight(RuleThread, "thread", "no screw %s of %s is in the tables", s.thread, s.head))
		return
	}
	grip := s.wall - s.sunk
	if grip < m.a.Seat-1e-9 {
		m.fail(fight(RuleThin, "wall,seat", "only %.2f mm of plastic would lie under the head of an %s screw; %g are needed", grip, s.thread, m.a.Seat))
		return
	}
	length, e := m.screwLength(s, grip)
	if e != nil {
		m.fail(e)
		return
	}
	place := axes(s.face, s.dir)
	o, d := m.round(place, hole.Medium)
	m.cut(csg.Prism(place, o, -1, s.wall+1+8, 0, 0))
	seat := s.face.Add(s.dir.Scale(s.sunk))
	h := m.hole(place, d, s.wall, fmt.Sprintf("%s × %g %s", s.thread, length, s.head))
	if s.sunk > 0 {
		bore, _ := standard.Counterbore(s.thread)
		h.Bore, h.BoreDepth = m.counterbore(place, bore.Diameter, d, s.sunk), s.sunk
	} else {
		m.flare(place, o)
	}
	into := "slot nut"
	if s.core {
		into = "core"
	}
	m.screws = append(m.screws, Screw{Seat: seat, Dir: s.dir, Standard: s.head, Thread: s.thread, Length: length,
		HeadDiameter: sc.HeadDiameterMax, HeadHeight: sc.HeadHeight, Key: sc.Key, Hole: d, Grip: grip, Into: into, Bar: s.bar})
}

// counterbore cuts the recess of a head. Where it opens on the bed its ceiling is bridged in steps of one layer: strips beside
// a slot, strips across the slot, and so on until a square is left round the hole. It returns the recess's diameter.
func (m *model) counterbore(place geom.Motion, diameter, hole, depth float64) (bore float64) {
	o, bore := m.round(place, diameter)
	m.cut(csg.Prism(place, o, -1, depth, 0, 0))
	m.flare(place, o)
	if place.EZ.Dot(m.up) < 1-1e-9 {
		return bore
	}
	r, half := hole/2, hole/2
	if chord := 2 * math.Sqrt(math.Max(0, bore*bore/4-r*r)); chord > m.a.Bridge-0.5 {
		half = bore / 2 / math.Sqrt2 // the slot for which strips beside and across are equally long
	}
	if 2*half > m.a.Bridge-0.2 {
		m.fail(fight(RuleThin, "bridge,thread", "the ceiling of a counterbore %.1f mm wide needs bridges of %.1f mm; %g are allowed", bore, 2*half, m.a.Bridge))
		return bore
	}
	slot := append(slices.Clone(o), csg.HalfPlane{N: geom.Vec2{Y: 1}, D: half}, csg.HalfPlane{N: geom.Vec2{Y: -1}, D: half})
	m.cut(csg.Prism(place, slot, depth-1, depth+m.a.Layer, 0, 0))
	m.cut(csg.Prism(place, csg.Rectangle(geom.Vec2{X: -r, Y: -half}, geom.Vec2{X: r, Y: half}), depth-1, depth+2*m.a.Layer, 0, 0))
	if half > r {
		m.cut(csg.Prism(place, csg.Rectangle(geom.Vec2{X: -r, Y: -r}, geom.Vec2{X: r, Y: r}), depth-1, depth+3*m.a.Layer, 0, 0))
	}
	return bore
}

// screwLength returns the stock length that holds in a slot nut or a core and does not touch the slot's floor.
func (m *model) screwLength(s screwSpec, grip float64) (float64, *Error) {
	t, ok := standard.ThreadByName(s.thread)
	if !ok {
		return 0, fight(RuleThread, "thread", "no thread %q is in the tables", s.thread)
	}
	if s.core {
		l, ok := standard.RoundUpLengthOf(s.head, s.thread, grip+2*t.Nominal)
		if !ok {
			return 0, fight(RuleScrew, "wall,thread", "no %s screw is long enough for a wall of %.1f mm", s.thread, grip)
		}
		return l, nil
	}
	slot := s.p.Slot
	// The nut's thread lies behind the lip and holds over at least 0.6 diameters (common practice, no source).
	least, most := grip+slot.Lip+0.6*t.Nominal, grip+slot.Depth-0.5
	l, ok := standard.RoundDownLengthOf(s.head, s.thread, most)
	if !ok || l < least-1e-9 {
		return 0, fight(RuleScrew, "wall,slot.depth",
			"an %s screw through %.1f mm of plastic must be %.1f to %.1f mm long to hold in the slot's nut and miss its floor; no stock length of %s is",
			s.thread, grip, least, most, s.head)
	}
	return l, nil
}

// fitWall makes a wall that nobody asked for so much thicker, by whole lines, that a stock screw into a slot nut has the right
// length through it. sunk is the depth of the counterbore, more what lies under the wall.
func (m *model) fitWall(thread, head string, sunk, more float64) {
	if m.spec.Wall != 0 {
		return
	}
	for n := range 12 {
		wall := math.Round((m.wall+float64(n)*m.a.Line)*1e4) / 1e4
		fits := true
		for _, p := range []*geom.Profile{m.p, m.pb} {
			if _, e := m.screwLength(screwSpec{thread: thread, head: head, p: p}, wall+more-sunk); e != nil {
				fits = false
			}
		}
		if fits {
			m.wall = wall
			return
		}
	}
}

// slotThread returns the thread of the screws into a profile's slots: one size under the core's, as nuts have less
// room (common practice, no source).
func (m *model) slotThread() string {
	name := m.spec.Thread
	if name == "" {
		name = map[string]string{"M4": "M3", "M5": "M4", "M6": "M5", "M8": "M6", "M10": "M8", "M12": "M8"}[m.p.Thread]
	}
	t, ok := standard.ThreadByName(name)
	if !ok {
		m.fail(fight(RuleThread, "thread", "no thread %q is in the tables", name))
		return name
	}
	for _, p := range []*geom.Profile{m.p, m.pb} {
		if t.Nominal > p.Slot.Opening-0.4 {
			m.fail(fight(RuleThread, "thread,slot.opening", "an %s screw does not pass the slot's opening of %g mm", name, p.Slot.Opening))
		}
	}
	return name
}

// coreThread returns the thread of the screws into the core bores.
func (m *model) coreThread() string {
	name := m.spec.Thread
	if name == "" {
		name = m.p.Thread
	}
	t, ok := standard.ThreadByName(name)
	if !ok || !(t.Nominal > m.p.Core) {
		m.fail(fight(RuleThread, "thread,core.bore", "no thread %q can be cut into a core bore of %g mm", name, m.p.Core))
	}
	return name
}

// headRadius returns the radius that a head or its washer needs on its seat.
func (m *model) headRadius(head, thread string, washer bool) float64 {
	s, _ := standard.ScrewOf(head, thread)
	r := s.HeadDiameterMax / 2
	if w, ok := standard.Washer(thread); washer && ok {
		r = math.Max(r, w.Outer/2)
	}
	return r
}

// screwHole returns the widest hole that the print may get for a thread, a teardrop's tip included.
func (m *model) screwHole(thread string) float64 {
	h, _ := standard.ClearanceHole(thread)
	return (h.Medium + math.Max(m.a.HHole, m.a.VHole)) * 1.42
}

// checkDrivers fails where the head of a screw or a driver over it would meet the part itself.
func (m *model) checkDrivers() {
	if err := m.body.Err(); err != nil {
		m.err = fmt.Errorf("%s: %w", m.kind.Name, err)
		return
	}
	for i, s := range m.screws {
		place := axes(s.Seat, s.Dir.Scale(-1))
		free := func(radius, from, to float64) bool {
			for z := from; ; z = math.Min(z+2, to) {
				for k := range 16 {
					sn, cs := math.Sincos(2 * math.Pi * float64(k) / 16)
					for _, r := range []float64{radius, radius / 2} {
						if m.body.Inside(place.Apply(geom.Vec{X: r * cs, Y: r * sn, Z: z})) {
							return false
						}
					}
				}
				if z >= to {
					return true
				}
			}
		}
		if !free(s.HeadDiameter/2, 0.05, s.HeadHeight) {
			m.fail(fight(RuleDriver, "thread,wall", "the head of screw %d (%s, %.1f mm wide) has no room on its seat", i+1, s.Thread, s.HeadDiameter))
			return
		}
		if !free(s.DriverDiameter()/2, s.HeadHeight, s.HeadHeight+m.a.Reach) {
			m.fail(fight(RuleDriver, "thread,wall", "screw %d (%s) can't be driven: within %g mm over its head a driver %.1f mm wide meets the part",
				i+1, s.Thread, m.a.Reach, s.DriverDiameter()))
			return
		}
	}
}
