package bracket

import (
	"math"

	"barwright/frame"
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
	// solid is the pieces of a part that is hollowed out of one, as Pieces gives them; nil for what body adds.
	solid []csg.Convex
	err   error

	// up is the way of the print's layers, right the print's x; the bed is the plane up·p = floor.
	up, right geom.Vec
	floor     float64
	bedFields string // what makes it large

	contacts []Contact
	ribs     []Rib
	screws   []Screw
	notes    []string
	extra    []frame.Hardware // nuts and inserts
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
