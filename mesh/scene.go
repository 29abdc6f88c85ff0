package mesh

import (
	"fmt"
	"math"
	"strings"

	"barwright/frame"
	"barwright/geom"
)

// Kind says what an item of a scene is.
type Kind uint8

// The kinds of items.
const (
	BarItem     Kind = iota // a machined bar
	FittingItem             // a bought foot or the like
	PrintedItem             // a printed bracket
)

// String returns the word used in files: "bar", "fitting", "printed".
func (k Kind) String() string { return [...]string{"bar", "fitting", "printed"}[k] }

// Shape is a mesh that a scene holds once, however often it is placed.
type Shape struct {
	Name string // "part A1", "foot M8 × 40"
	Mark string // of a part: "A1"; else ""
	Mesh *Mesh  // in the shape's own coordinates, mm
	// profile is that of a bar, whose shape is a prism along z apart from its machining; nil for others.
	profile *geom.Profile
	// dye is the colour of each point in place of that of the surfaces, or nil.
	dye []tint
}

// Item is a shape in its place.
type Item struct {
	Name   string // the member's name, "leg.front_left", or "leg.front_left foot"
	Mark   string // the part's mark, "" where it has none
	Shape  int    // index in Scene.Shapes
	Place  geom.Motion
	Kind   Kind
	Member *frame.Member // nil unless the item is a bar
}

// Note is a word that a picture shows at a place of the scene, on a leader.
type Note struct {
	Text string
	At   geom.Vec // where the leader ends, in scene coordinates
	Out  geom.Vec // unit direction in which the word stands off
}

// Scene is shapes and the places where they stand, in frame coordinates: mm, X left to
// right, Y front to back, Z up. The zero Scene is empty and legal.
type Scene struct {
	Title  string
	Shapes []*Shape
	Items  []Item
	Notes  []Note
}

// NewScene meshes each part of a frame once, with curves split to the chord tolerance in mm, and places it for
// each member; then come the feet. It returns the error of [Solid] with the part's mark, or that of a foot
// that cannot be.
func NewScene(f *frame.Frame, tolerance float64) (*Scene, error) {
	if err := checkTolerance(tolerance); err != nil {
		return nil, err
	}
	s := &Scene{Title: f.Title, Items: make([]Item, 0, len(f.Members)+len(f.Feet))}
	shapeOf := make(map[*frame.Part]int, len(f.Parts))
	bars := make([]*frame.Bar, len(f.Parts))
	for i, p := range f.Parts {
		bars[i] = &p.Bar
	}
	meshes, bad, err := Solids(bars, tolerance)
	if err != nil {
		return nil, fmt.Errorf("part %s: %w", f.Parts[bad].Mark, err)
	}
	for i, p := range f.Parts {
		shapeOf[p] = i
		s.Shapes = append(s.Shapes, &Shape{Name: "part " + p.Mark, Mark: p.Mark, Mesh: meshes[i], profile: p.Bar.Profile})
	}
	for _, m := range f.Members {
		shape, ok := shapeOf[m.Part]
		if !ok {
			return nil, fmt.Errorf("member %s belongs to no part of the frame", m.Name)
		}
		s.Items = append(s.Items, Item{Name: m.Name, Mark: m.Part.Mark, Shape: shape, Place: m.PartPlace(), Kind: BarItem, Member: m})
	}
	return s, s.addFeet(f.Feet, tolerance)
}

// NewPartScene shows one part lying with its datum end at the left, face 1 up and face 2 to the front, with notes
// that name the datum end and the four faces.
func NewPartScene(p *frame.Part, tolerance float64) (*Scene, error) {
	if err := checkTolerance(tolerance); err != nil {
		return nil, err
	}
	m, err := Solid(&p.Bar, tolerance)
	if err != nil {
		return nil, fmt.Errorf("part %s: %w", p.Mark, err)
	}
	lie := geom.Motion{EX: geom.Vec{Z: 1}, EY: geom.Vec{Y: -1}, EZ: geom.Vec{X: 1}}
	s := &Scene{Title: "Part " + p.Mark, Shapes: []*Shape{{Name: "part " + p.Mark, Mark: p.Mark, Mesh: m, profile: p.Bar.Profile}}}
	s.Items = []Item{{Name: p.Mark, Mark: p.Mark, Place: lie, Kind: BarItem}}
	s.Notes = partNotes(&p.Bar, lie)
	return s, nil
}

// partNotes names the datum end and the faces of a bar. The faces are named near the datum end, but clear of its mitre.
func partNotes(b *frame.Bar, place geom.Motion) []Note {
	size := b.Profile.Size()
	across := math.Max(size.X, size.Y)
	z := math.Min(0.9*across, 0.3*b.Length) + b.Plane(0)
	// In the corner of the section there is metal, whatever is bored and slotted.
	c := geom.Vec{X: -0.44 * size.X, Y: -0.44 * size.Y}
	c.Z = b.Plane(0) + float64(b.Cuts[0].SlopeX*c.X) + float64(b.Cuts[0].SlopeY*c.Y)
	notes := []Note{{Text: "end 1", At: place.Apply(c), Out: place.Turn(geom.Vec{Z: -1})}}
	for side := range geom.Side(4) {
		n := side.Normal()
		// Off the slot's centre line, where there is skin to point at.
		q := b.Profile.Point(side, 0.36*b.Profile.Along(side), 0)
		notes = append(notes, Note{
			Text: fmt.Sprint(int(side) + 1),
			At:   place.Apply(geom.Vec{X: q.X, Y: q.Y, Z: z}),
			Out:  place.Turn(geom.Vec{X: n.X, Y: n.Y}),
		})
	}
	return notes
}

// Filter returns the scene of the items whose member name or mark is the given one; shapes
// that none of them uses are left out. Where nothing fits, the error names the nearest name.
func (s *Scene) Filter(name string) (*Scene, error) {
	out := &Scene{Title: s.Title}
	moved := make([]int, len(s.Shapes))
	for _, it := range s.Items {
		if it.Name != name && it.Mark != name {
			continue
		}
		if moved[it.Shape] == 0 {
			out.Shapes = append(out.Shapes, s.Shapes[it.Shape])
			moved[it.Shape] = len(out.Shapes)
		}
		it.Shape = moved[it.Shape] - 1
		out.Items = append(out.Items, it)
	}
	if len(out.Items) == 0 || name == "" {
		return nil, s.unknown(name)
	}
	return out, nil
}

// unknown returns the error for a name that no item bears.
func (s *Scene) unknown(name string) error {
	best, distance := "", 4
	for _, it := range s.Items {
		for _, n := range []string{it.Name, it.Mark} {
			if d := frame.EditDistance(name, n, distance); n != "" && d < distance {
				best, distance = n, d
			}
		}
	}
	if best == "" {
		return fmt.Errorf("no member or part is called %q", name)
	}
	return fmt.Errorf("no member or part is called %q; did you mean %q?", name, best)
}

// Box returns the box round all items: exact for quarter turns, else the box round their turned boxes.
func (s *Scene) Box() geom.Box {
	boxes := s.shapeBoxes()
	b := geom.EmptyBox()
	for _, it := range s.Items {
		if !boxes[it.Shape].Empty() {
			b = b.Union(it.Place.ApplyBox(boxes[it.Shape]))
		}
	}
	return b
}

// shapeBoxes returns the box of each shape in its own coordinates.
func (s *Scene) shapeBoxes() []geom.Box {
	boxes := make([]geom.Box, len(s.Shapes))
	for i, sh := range s.Shapes {
		boxes[i] = sh.Mesh.Box()
	}
	return boxes
}

// Triangles returns how many triangles the placed items have together.
func (s *Scene) Triangles() int {
	n := 0
	for _, it := range s.Items {
		n += len(s.Shapes[it.Shape].Mesh.Triangles)
	}
	return n
}

// MaxExplode is the largest factor of [Scene.Explode].
const MaxExplode = 10

// Explode returns the scene with its items moved apart, away from the middle of the scene's box: on each axis
// by factor times their distance from it. An item that lies on the middle of an axis keeps its place
// there, so that what is symmetric stays so. The factor runs from 0 (as built) to [MaxExplode]. Notes are left out.
func (s *Scene) Explode(factor float64) (*Scene, error) {
	if !(factor >= 0 && factor <= MaxExplode) {
		return nil, fmt.Errorf("an explode factor of %g is out of range: it must be 0 to %d", factor, MaxExplode)
	}
	if factor == 0 {
		return s, nil
	}
	boxes, middle := s.shapeBoxes(), s.Box().Centre()
	out := &Scene{Title: s.Title, Shapes: s.Shapes, Items: make([]Item, len(s.Items))}
	for i, it := range s.Items {
		if b := boxes[it.Shape]; !b.Empty() {
			away := it.Place.ApplyBox(b).Centre().Sub(middle)
			for ax := geom.X; ax <= geom.Z; ax++ {
				if math.Abs(away.Along(ax)) < offMiddle {
					away = away.With(ax, 0)
				}
			}
			it.Place.T = it.Place.T.Add(away.Scale(factor))
		}
		out.Items[i] = it
	}
	return out, nil
}

// offMiddle is how far in mm an item lies from the middle before exploding moves it.
const offMiddle = 0.5

// shapeKinds returns the kind of the items that use each shape, and whether any does.
func shapeKinds(s *Scene) ([]Kind, []bool) {
	kinds, used := make([]Kind, len(s.Shapes)), make([]bool, len(s.Shapes))
	for _, it := range s.Items {
		kinds[it.Shape], used[it.Shape] = it.Kind, true
	}
	return kinds, used
}

// placed returns the points of a mesh in the place of an item, rounded to float32, in buf grown as needed. A motion
// that moves nothing keeps the very bits.
func placed(m *Mesh, place geom.Motion, buf [][3]float32) [][3]float32 {
	if place == geom.Identity() {
		return append(buf[:0], m.Points...)
	}
	if cap(buf) < len(m.Points) {
		buf = make([][3]float32, len(m.Points))
	}
	buf = buf[:len(m.Points)]
	for i, p := range m.Points {
		q := place.Apply(geom.Vec{X: float64(p[0]), Y: float64(p[1]), Z: float64(p[2])})
		buf[i] = [3]float32{float32(q.X), float32(q.Y), float32(q.Z)}
	}
	return buf
}

// oneLine returns text without control characters and line breaks, for headers and comments.
func oneLine(text string) string {
	return strings.Join(strings.Fields(strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7f || r == 0x2028 || r == 0x2029 || r == 0xfffd {
			return ' '
		}
		return r
	}, text)), " ")
}
