package bracket

import (
	"fmt"
	"math"
	"slices"

	"barwright/geom"
	"barwright/mesh/bracket/csg"
	"barwright/standard"
)

// model is a part in the making, in mounted coordinates.
type model struct {
	spec     Spec
	kind     Kind
	a        Allowances
	p, pb    *geom.Profile
	bed      geom.Vec
	values   map[string]float64
	wall     float64
	load     float64
	material standard.Material

	body csg.Body
	cuts []csg.Convex // holes, text: cut after all is added
	late []csg.Convex // added after the holes
	err  error

	// up is the way of the print's layers, right the print's x; the bed is the plane up·p = floor.
	up, right geom.Vec
	floor     float64
	bedFields string // what makes it large

	contacts []Contact
	ribs     []Rib
	screws   []Screw
	notes    []string
	strength *Strength
}

// v returns a parameter.
func (m *model) v(name string) float64 { return m.values[name] }

// on reports whether a choice is 1.
func (m *model) on(name string) bool { return m.values[name] == 1 }

func (m *model) add(c csg.Convex) { m.body.Add(c) }
func (m *model) cut(c csg.Convex) { m.cuts = append(m.cuts, c) }

// fail keeps the first error.
func (m *model) fail(e *Error) {
	if m.err == nil && e != nil {
		m.err = e
	}
}

// stand sets how the part is printed.
func (m *model) stand(up, right geom.Vec, floor float64, bedFields string) {
	m.up, m.right, m.floor, m.bedFields = up.Unit(), right.Unit(), floor, bedFields
}

// print returns the motion from mounted to printed coordinates, up to a shift in x and y.
func (m *model) print() geom.Motion {
	back := m.up.Cross(m.right)
	rows := geom.Motion{EX: m.right, EY: back, EZ: m.up}.Inverse()
	rows.T = geom.Vec{Z: -m.floor}
	return rows
}

// onBed is the half-space over the bed.
func (m *model) onBed() csg.Half { return csg.Half{N: m.up.Scale(-1), D: -m.floor} }

// bedBevel chamfers a side where it meets the bed, by the allowance for the first layer.
func (m *model) bedBevel(side csg.Half) csg.Half {
	bed := m.onBed()
	bed.D -= m.a.First
	return csg.Half{N: side.N, D: side.D, Bevel: &bed}
}

// axes returns a motion whose z runs along a direction through a point; its x is the first of the mounted z, y and x that is
// square to it, so that round things keep sides square to the axes.
func axes(at, z geom.Vec) geom.Motion {
	best := geom.Vec{X: 1}
	for _, u := range []geom.Vec{{Z: 1}, {Y: 1}, {X: 1}} {
		if math.Abs(u.Dot(z)) < 1e-9 {
			best = u
			break
		}
	}
	x := best.Sub(z.Scale(best.Dot(z))).Unit()
	return geom.Motion{EX: x, EY: z.Cross(x), EZ: z, T: at}
}

// round returns the outline of a hole along the z of a motion, with its allowance: a circle where the print allows it,
// else a teardrop. It returns the diameter too.
func (m *model) round(place geom.Motion, diameter float64) (csg.Outline, float64) {
	up := geom.Vec2{X: m.up.Dot(place.EX), Y: m.up.Dot(place.EY)}
	// The roof of a lying hole hangs over by more than 45° where the layers' way leans more than that from its axis.
	const lean = math.Sqrt2/2 + 1e-6
	switch l := up.Len(); {
	case l > lean:
		d := diameter + m.a.HHole
		return csg.Teardrop(geom.Vec2{}, d/2, up), d
	case l > 0.2:
		d := diameter + m.a.HHole
		return csg.Circle(geom.Vec2{}, d/2), d
	}
	d := diameter + m.a.VHole
	return csg.Circle(geom.Vec2{}, d/2), d
}

// flare breaks the edge of a hole where it opens on the bed.
func (m *model) flare(place geom.Motion, o csg.Outline) {
	if math.Abs(math.Abs(place.EZ.Dot(m.up))-1) > 1e-9 || m.a.First == 0 {
		return
	}
	toward := -1.0
	if place.EZ.Dot(m.up) < 0 {
		toward = 1
	}
	at := (m.floor - m.up.Dot(place.T)) * -toward
	m.cut(csg.Flare(place, o, at, m.a.First, toward))
}

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
	if s.sunk > 0 {
		bore, _ := standard.Counterbore(s.thread)
		m.counterbore(place, bore.Diameter, d, s.sunk)
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
// a slot, strips across the slot, and so on until a square is left round the hole.
func (m *model) counterbore(place geom.Motion, diameter, hole, depth float64) {
	o, bore := m.round(place, diameter)
	m.cut(csg.Prism(place, o, -1, depth, 0, 0))
	m.flare(place, o)
	if place.EZ.Dot(m.up) < 1-1e-9 {
		return
	}
	r, half := hole/2, hole/2
	if chord := 2 * math.Sqrt(math.Max(0, bore*bore/4-r*r)); chord > m.a.Bridge-0.5 {
		half = bore / 2 / math.Sqrt2 // the slot for which strips beside and across are equally long
	}
	if 2*half > m.a.Bridge-0.2 {
		m.fail(fight(RuleThin, "bridge,thread", "the ceiling of a counterbore %.1f mm wide needs bridges of %.1f mm; %g are allowed", bore, 2*half, m.a.Bridge))
		return
	}
	slot := append(slices.Clone(o), csg.HalfPlane{N: geom.Vec2{Y: 1}, D: half}, csg.HalfPlane{N: geom.Vec2{Y: -1}, D: half})
	m.cut(csg.Prism(place, slot, depth-1, depth+m.a.Layer, 0, 0))
	m.cut(csg.Prism(place, csg.Rectangle(geom.Vec2{X: -r, Y: -half}, geom.Vec2{X: r, Y: half}), depth-1, depth+2*m.a.Layer, 0, 0))
	if half > r {
		m.cut(csg.Prism(place, csg.Rectangle(geom.Vec2{X: -r, Y: -r}, geom.Vec2{X: r, Y: r}), depth-1, depth+3*m.a.Layer, 0, 0))
	}
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

// rib keys the part into a slot: along a line on the contact face from at, over the length, gaps left round the
// screws (distances along the line). A full taper slopes its flanks by 45° all the way, for a rib that lies in the print.
func (m *model) rib(p *geom.Profile, at, along, toward geom.Vec, length float64, gaps []float64, gap float64, full bool, bar int) {
	depth := ribDepth(p)
	width := p.Slot.Opening - 2*m.a.Fit
	taper := math.Min(0.4*depth, 0.25*width)
	if full {
		depth = math.Min(depth, (width-m.a.LeastTo)/2)
		taper = depth
	}
	if width-2*taper < m.a.LeastTo-1e-9 || depth < 0.3 {
		m.fail(fight(RuleWall, "fit,slot.opening", "a rib of %.2f mm in a slot of %g mm has no body left", width, p.Slot.Opening))
		return
	}
	side := toward.Cross(along)
	from := 0.0
	stops := append(slices.Clone(gaps), length+gap)
	for _, g := range stops {
		to := math.Min(g-gap, length)
		if to-from > 2*taper+2 {
			m.add(m.ribPiece(geom.Motion{EX: along, EY: side, EZ: toward, T: at}, from, to, width/2, depth, taper))
			m.ribs = append(m.ribs, Rib{At: at.Add(along.Scale(from)), Along: along, Toward: toward, Length: to - from, Width: width, Depth: depth,
				Clearance: m.a.Fit, Bar: bar})
		}
		from = math.Max(from, g+gap)
	}
}

// ribPiece returns a rib on the plane z = 0 of a motion. Its entry is tapered by 45° on all sides but those where the taper
// would hang over in the print.
func (m *model) ribPiece(place geom.Motion, from, to, half, depth, taper float64) csg.Convex {
	// The rib is rooted in the wall, and a taper over its whole height begins there, so that no plane ends in the wall's face.
	root, out0 := math.Min(0.4, m.wall/2), 0.0
	if taper >= depth {
		out0 = root / 2
	}
	o := csg.Rectangle(geom.Vec2{X: from - out0, Y: -half - out0}, geom.Vec2{X: to + out0, Y: half + out0})
	c := csg.Prism(place, o, -root, depth, 0, taper+out0)
	out := c[:0]
	for _, h := range c {
		if h.Bevel != nil && h.N.Add(place.EZ).Unit().Dot(m.up) < -math.Sqrt2/2-1e-6 {
			continue
		}
		out = append(out, h)
	}
	return out
}

// ribDepth returns how far a rib stands into a slot: it ends short of the lip's inner edge, so that a nut never meets it
// (common practice, no source).
func ribDepth(p *geom.Profile) float64 { return math.Min(p.Slot.Lip-0.3, math.Max(0.75*p.Slot.Lip, 1)) }

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

// Build makes a part that comes in one piece. It returns an *[Error] where the request can't be met.
func Build(s Spec) (*Result, error) {
	all, err := BuildAll(s)
	if err != nil {
		return nil, err
	}
	if len(all) != 1 {
		return nil, fight(RulePart, "part", "the %s comes in %d pieces: ask for all of them", s.Kind, len(all))
	}
	return all[0], nil
}

// BuildAll makes a part in all its pieces: several for a drill jig whose holes lie far from the bar's end, else one.
func BuildAll(s Spec) ([]*Result, error) {
	if s.Kind == "drill-jig" {
		return buildJig(s)
	}
	m, e := s.resolve()
	if e != nil {
		return nil, e
	}
	m.kind.make(m)
	r, err := m.finish(s.Kind)
	if err != nil {
		return nil, err
	}
	return []*Result{r}, nil
}

// screwHole returns the widest hole that the print may get for a thread, a teardrop's tip included.
func (m *model) screwHole(thread string) float64 {
	h, _ := standard.ClearanceHole(thread)
	return (h.Medium + math.Max(m.a.HHole, m.a.VHole)) * 1.42
}
