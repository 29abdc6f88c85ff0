package bracket

import (
	"fmt"
	"math"
	"slices"

	"barwright/geom"
	"barwright/mesh"
	"barwright/mesh/bracket/csg"
)

// MeasureKind says how a [Measure] is dimensioned.
type MeasureKind uint8

// The kinds of measures.
const (
	Length   MeasureKind = iota // between two planes square to Along
	Place                       // Length from a datum that several places share
	Angle                       // at From, between the directions Along and Out; Value is radians
	Diameter                    // of what is round about From; To lies on its surface
	Radius                      // of a corner about From; To lies on its surface
	Remark                      // a word about the point From: Text
)

// Measure is a size of a part as its model states it, in mounted coordinates.
type Measure struct {
	Kind     MeasureKind
	Name     string   // "wall", "leg", "rib width"
	From, To geom.Vec // points of the two planes
	// Along is the way of measuring, Out the way from the part toward the dimension line; both are unit vectors.
	Along, Out geom.Vec
	Face       geom.Vec   // unit vector from the part toward the viewer who sees it
	Value      float64    // mm, of an angle radians
	Count      int        // how many are alike, of what is round
	Also       []geom.Vec // where others that are alike may be pointed at as well: middles of diameters, points of arcs
	Deep       float64    // of what is round: how deep it goes or how high it stands, 0 where that is shown elsewhere
	Text       string     // follows the value; a remark without a value is its text alone
	Sharp      bool       // From is where two faces would meet if the corner were sharp
	Reference  bool       // follows from other measures
}

// Hole is a hole of a print, in mounted coordinates.
type Hole struct {
	At, Dir          geom.Vec // middle of its mouth and the way into the part
	Diameter         float64  // in the print, over the flats that stand for the circle
	Depth            float64  // of the whole hole
	Blind            bool     // it does not come out on the other side
	Bore, BoreDepth  float64  // counterbore at the mouth, 0 for none
	Flats, FlatDepth float64  // hexagonal pocket at the mouth over its flats, 0 for none
	Tip              geom.Vec // unit vector toward the tip of a teardrop, zero for a round hole
	For              string   // what goes through: "M6 × 12 ISO 7380-1"
}

// Cut is a view of a part that a plane cuts in two.
type Cut struct {
	At, Face geom.Vec // a point of the plane, and the way toward the viewer: what lies on that side is taken away
	Name     string   // where it is: "through the middle of the slot"
}

// Drawn says how a part is best drawn: its up and its right are directions of the mounted part.
type Drawn struct {
	Up, Right geom.Vec
	Measures  []Measure
	Cuts      []Cut
	Alike     []string // what is not dimensioned because it repeats
}

// Half returns the mesh of what a cut leaves, in mounted coordinates.
func (r *Result) Half(c Cut) (*mesh.Mesh, error) {
	b := r.model.body.Clone()
	const far = 700
	x := axes(c.At, c.Face)
	half := geom.Vec2{X: far, Y: far}
	// The plane through the cut is the least z of a box.
	b.Cut(csg.Prism(x, csg.Rectangle(half.Scale(-1), half), 0, far, 0, 0))
	solid, err := b.Build(geom.Identity(), false)
	if err != nil {
		return nil, fmt.Errorf("%s, cut %s: %w", r.Name, c.Name, err)
	}
	m := &mesh.Mesh{Points: solid.Points, Triangles: solid.Triangles, Surfaces: make([]mesh.Surface, len(solid.Triangles))}
	for i := range m.Surfaces {
		m.Surfaces[i] = mesh.Printed
	}
	return m, nil
}

// look sets how the part is drawn where that is not as it is printed.
func (m *model) look(up, right geom.Vec) { m.drawn.Up, m.drawn.Right = up, right }

// section asks for a view toward a cut.
func (m *model) section(face, at geom.Vec, name string) {
	m.drawn.Cuts = append(m.drawn.Cuts, Cut{At: at, Face: face, Name: name})
}

func (m *model) alike(text string) { m.drawn.Alike = append(m.drawn.Alike, text) }

// pen states measures of one face on one side of it.
type pen struct {
	m                *model
	face, along, out geom.Vec
}

func (m *model) pen(face, along, out geom.Vec) pen {
	return pen{m, face.Unit(), along.Unit(), out.Unit()}
}

// add records a measure and returns it for what is special about it.
func (p pen) add(kind MeasureKind, name string, from, to geom.Vec) *Measure {
	p.m.drawn.Measures = append(p.m.drawn.Measures, Measure{Kind: kind, Name: name, From: from, To: to, Along: p.along, Out: p.out, Face: p.face, Value: to.Sub(from).Dot(p.along)})
	return &p.m.drawn.Measures[len(p.m.drawn.Measures)-1]
}

// size states a distance.
func (p pen) size(name string, from, to geom.Vec) *Measure { return p.add(Length, name, from, to) }

// places states distances from a datum.
func (p pen) places(name string, from geom.Vec, to ...geom.Vec) {
	for _, q := range to {
		p.add(Place, name, from, q)
	}
}

// around states a diameter or a radius: n alike, the axis toward the viewer.
func (p pen) around(kind MeasureKind, name string, centre, on geom.Vec, n int) *Measure {
	d := p.add(kind, name, centre, on)
	d.Value, d.Count = on.Dist(centre), n
	if kind == Diameter {
		d.Value *= 2
	}
	return d
}

// remark states a word about a point.
func (p pen) remark(at geom.Vec, text string) *Measure {
	d := p.add(Remark, text, at, at)
	d.Text = text
	return d
}

// hole records a hole along the z of a motion.
func (m *model) hole(place geom.Motion, diameter, depth float64, what string) *Hole {
	h := Hole{At: place.T, Dir: place.EZ, Diameter: diameter, Depth: depth, For: what}
	up := m.up.Sub(place.EZ.Scale(m.up.Dot(place.EZ)))
	if up.Len() > math.Sqrt2/2+1e-6 {
		h.Tip = up.Unit()
	}
	m.holes = append(m.holes, h)
	return &m.holes[len(m.holes)-1]
}

// ribsOf returns the ribs whose line runs through a point along a direction.
func (m *model) ribsOf(at, along geom.Vec) []Rib {
	var out []Rib
	for _, r := range m.ribs {
		if d := r.At.Sub(at); r.Along.Dot(along) > 0.999 && d.Sub(along.Scale(d.Dot(along))).Len() < 0.01 {
			out = append(out, r)
		}
	}
	return out
}

// ribEnds returns the points at which ribs begin and end, on their side toward a direction.
func ribEnds(ribs []Rib, side geom.Vec) []geom.Vec {
	var out []geom.Vec
	for _, r := range ribs {
		at := r.At.Add(side.Scale(r.Width / 2))
		out = append(out, at, at.Add(r.Along.Scale(r.Length)))
	}
	return out
}

// ribWidth states the width of a rib near its end, across being unit and square to it, and ribHeight how high it stands.
func (p pen) ribWidth(r Rib) {
	end := r.At.Add(r.Along.Scale(r.Length))
	p.size("rib width", end.Sub(p.along.Scale(r.Width/2)), end.Add(p.along.Scale(r.Width/2)))
}

func (p pen) ribHeight(r Rib) {
	foot := r.At.Add(r.Along.Scale(r.Length))
	top := foot.Sub(r.Along.Scale(r.Taper)).Add(r.Toward.Scale(r.Depth))
	if p.along.Dot(r.Toward) < 0 {
		foot, top = top, foot
	}
	p.size("rib height", foot, top)
}

// crossing returns where a ray from a point leaves an outline.
func crossing(o csg.Outline, from, dir geom.Vec2) geom.Vec2 {
	t := math.Inf(1)
	for _, h := range o {
		if d := h.N.Dot(dir); d > 1e-9 {
			t = math.Min(t, (h.D-h.N.Dot(from))/d)
		}
	}
	return from.Add(dir.Scale(t))
}

// finishDrawn sets what a kind left to the print's own position, and returns all.
func (m *model) finishDrawn() Drawn {
	d := m.drawn
	if d.Up == (geom.Vec{}) {
		d.Up, d.Right = m.up, m.right
	}
	d.Measures = slices.Clone(d.Measures)
	return d
}
