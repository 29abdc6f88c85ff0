package check

import (
	"math"

	"barwright/frame"
	"barwright/geom"
)

// sectionTolerance is the chord tolerance in mm at which sections are compared.
const sectionTolerance = 0.05

// prism is a section swept along the z of its place, from one plane to another. Every solid thing that the
// rules know is made of prisms.
type prism struct {
	polygons [][]geom.Vec2
	half     geom.Vec2 // of the section's outer rectangle
	place    geom.Motion
	ends     [2]float64 // z on the axis
	cuts     [2]frame.Cut
	box      geom.Box
	parts    *sectionParts // of a bar's section, shared by bars of one profile; else nil
}

// barPrism returns the unmachined bar of a member.
func (m *model) barPrism(b *frame.Member) prism {
	section := m.section(b.Bar.Profile)
	p := prism{polygons: section, half: b.Bar.Profile.Size().Scale(0.5), place: b.Place,
		ends: [2]float64{b.Bar.Plane(0), b.Bar.Plane(1)}, cuts: b.Bar.Cuts, box: b.Box, parts: m.partsOf(b.Bar.Profile, section)}
	return p
}

// boxPrism returns a box square to the axes.
func boxPrism(b geom.Box) prism {
	s := b.Size()
	return rectPrism(geom.Shift(b.Centre().With(geom.Z, b.Low.Z)), geom.Vec2{X: s.X / 2, Y: s.Y / 2}, 0, s.Z)
}

// rectPrism returns a rectangle swept along z.
func rectPrism(place geom.Motion, half geom.Vec2, from, to float64) prism {
	poly := []geom.Vec2{{X: -half.X, Y: -half.Y}, {X: half.X, Y: -half.Y}, {X: half.X, Y: half.Y}, {X: -half.X, Y: half.Y}}
	return closedPrism(place, poly, half, from, to)
}

// roundSides is how many sides stand for a circle.
const roundSides = 24

// roundPrism returns a cylinder about z as a prism of roundSides sides that holds the circle.
func roundPrism(place geom.Motion, radius, from, to float64) prism {
	poly := make([]geom.Vec2, roundSides)
	r := radius / math.Cos(math.Pi/roundSides)
	for i := range poly {
		a := 2 * math.Pi * (float64(i) + 0.5) / roundSides
		poly[i] = geom.Vec2{X: r * math.Cos(a), Y: r * math.Sin(a)}
	}
	return closedPrism(place, poly, geom.Vec2{X: radius, Y: radius}, from, to)
}

func closedPrism(place geom.Motion, poly []geom.Vec2, half geom.Vec2, from, to float64) prism {
	p := prism{polygons: [][]geom.Vec2{poly}, half: half, place: place, ends: [2]float64{from, to}}
	p.box = place.ApplyBox(geom.Box{Low: geom.Vec{X: -half.X, Y: -half.Y, Z: from}, High: geom.Vec{X: half.X, Y: half.Y, Z: to}})
	return p
}

// move returns the prism moved by v.
func (p prism) move(v geom.Vec) prism {
	p.place.T = p.place.T.Add(v)
	p.box = p.box.Move(v)
	return p
}

// distance returns how far a point lies outside of the prism's outer rectangle swept between its ends, 0 inside.
func (p *prism) distance(at geom.Vec) float64 {
	q := p.place.Unapply(at)
	low := p.ends[0] + float64(p.cuts[0].SlopeX*q.X) + float64(p.cuts[0].SlopeY*q.Y)
	high := p.ends[1] + float64(p.cuts[1].SlopeX*q.X) + float64(p.cuts[1].SlopeY*q.Y)
	d := geom.Vec{X: math.Max(0, math.Abs(q.X)-p.half.X), Y: math.Max(0, math.Abs(q.Y)-p.half.Y), Z: math.Max(0, math.Max(low-q.Z, q.Z-high))}
	return d.Len()
}

// corners returns the corners of the prism's outer rectangle at both ends.
func (p *prism) corners() []geom.Vec {
	out := make([]geom.Vec, 0, 8)
	for end := range 2 {
		for k := range 4 {
			x, y := p.half.X, p.half.Y
			if k&1 != 0 {
				x = -x
			}
			if k&2 != 0 {
				y = -y
			}
			z := p.ends[end] + float64(p.cuts[end].SlopeX*x) + float64(p.cuts[end].SlopeY*y)
			out = append(out, p.place.Apply(geom.Vec{X: x, Y: y, Z: z}))
		}
	}
	return out
}
