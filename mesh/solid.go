package mesh

import (
	"fmt"
	"math"

	"barwright/frame"
	"barwright/geom"
)

// DefaultTolerance is the chord tolerance in mm at which curves are split unless another is asked for.
const DefaultTolerance = 0.02

// MinTolerance and MaxTolerance bound the chord tolerance, mm. Below, a hole would have thousands of facets
// and coordinates of a long bar in float32 would not tell them apart; above, nothing is round any more.
const (
	MinTolerance = 0.0001
	MaxTolerance = 5
)

// maxBar is the greatest length of a bar in mm, maxDrills the most machinings on one.
const (
	maxBar    = 100_000
	maxDrills = 5_000
)

// Solid returns the mesh of a machined bar in its own coordinates: the section less its holes, counterbores and
// end bores, cut off by the planes of its ends. Curves are polygons with their corners on the curve, no chord farther
// from it than tolerance (mm), at least [geom.MinArcSegments] to a circle, a multiple of four for holes.
//
// The mesh is closed by construction: see the comments in solid_lines.go and predicates.go. Points are
// float32 on a grid of whole units, so that what is written is what was checked.
//
// The rule for places that coincide: coordinates closer than 0.001 mm (and a twentieth of the tolerance) are made the
// same; a hole that touches a wall opens it where there is area to open, a floor that
// just reaches a face goes through. Where a solid would touch itself along an edge, the
// holes are made wider and deeper by a few such steps.
//
// A core bore that is tapped as extruded keeps its section and is tagged Machined over the thread. It
// returns an error for a tolerance outside MinTolerance to MaxTolerance, for sizes that are no
// numbers or beyond reason, for a profile that fails [geom.Profile.Validate], and where nothing is left of the bar.
func Solid(b *frame.Bar, tolerance float64) (*Mesh, error) {
	if err := checkTolerance(tolerance); err != nil {
		return nil, err
	}
	m := makers.Get().(*maker)
	defer makers.Put(m)
	// Whoever calls may have changed the profile since.
	m.profile = nil
	return m.solid(b, tolerance)
}

func checkTolerance(t float64) error {
	if !(t >= MinTolerance && t <= MaxTolerance) {
		return fmt.Errorf("a chord tolerance of %g mm cannot be used: it must lie between %g and %g", t, float64(MinTolerance), float64(MaxTolerance))
	}
	return nil
}

// checkBar refuses sizes that are no numbers or beyond reason; the profile is looked at elsewhere.
func checkBar(b *frame.Bar) error {
	if b == nil || b.Profile == nil {
		return fmt.Errorf("a bar without a profile has no solid")
	}
	if !(b.Length > 0 && b.Length <= maxBar) {
		return fmt.Errorf("a bar %g mm long has no solid: the length must be positive and at most %d", b.Length, maxBar)
	}
	if len(b.Holes)+len(b.Taps) > maxDrills {
		return fmt.Errorf("%d holes and taps in one bar are more than %d", len(b.Holes)+len(b.Taps), maxDrills)
	}
	for _, c := range b.Cuts {
		if !(math.Abs(c.SlopeX) <= maxSlope && math.Abs(c.SlopeY) <= maxSlope) {
			return fmt.Errorf("an end cut at a slope of %g, %g is steeper than 80°", c.SlopeX, c.SlopeY)
		}
	}
	for i, h := range b.Holes {
		if !sane(h.Z, h.Offset, h.Diameter, h.Depth, h.Bore, h.BoreDepth) || h.Diameter <= 0 || h.Depth < 0 || h.Bore < 0 || h.Side < 0 || h.Side > 3 {
			return fmt.Errorf("hole %d of the bar (⌀%g at %g) has a size that no hole can have", i+1, h.Diameter, h.Z)
		}
	}
	for i, t := range b.Taps {
		if !sane(t.Core.X, t.Core.Y, t.Depth, t.Drill, t.DrillDepth) || t.End < 0 || t.End > 1 || t.Depth < 0 || t.Drill < 0 {
			return fmt.Errorf("tap %d of the bar (%s) has a size that no tap can have", i+1, t.Thread)
		}
	}
	return nil
}

// maxSlope is the steepest end cut, the tangent of 80°.
const maxSlope = 5.671282

// sane tells whether all values are numbers of a size that a bar can have.
func sane(values ...float64) bool {
	for _, v := range values {
		if !(math.Abs(v) <= maxBar) {
			return false
		}
	}
	return true
}

// shapeOf returns the shape of a bar, its curves split.
func shapeOf(b *frame.Bar, tolerance float64) *shape {
	return shapeOn(b, b.Profile.Region().Polygons(tolerance))
}

// shapeOn returns the shape of a bar over the split curves of its section.
func shapeOn(b *frame.Bar, section [][]geom.Vec2) *shape {
	s := &shape{section: section, drills: make([]drill, 0, 2*len(b.Holes)+len(b.Taps))}
	for e, c := range b.Cuts {
		s.ends[e] = endPlane{b.Plane(e), c.SlopeX, c.SlopeY}
	}
	for _, h := range b.Holes {
		s.drills = addHole(s.drills, b.Profile, h)
	}
	for _, t := range b.Taps {
		s.tap(b, t)
	}
	return s
}

// addHole adds the drills of a hole: the hole itself and its counterbore.
func addHole(out []drill, p *geom.Profile, h frame.Hole) []drill {
	n, face := h.Side.Normal(), p.Across(h.Side)/2
	at := p.Point(h.Side, h.Offset, 0)
	make1 := func(diameter, depth float64) drill {
		d := drill{radius: diameter / 2, low: math.Inf(-1), high: math.Inf(1)}
		if n.X != 0 {
			d.axis, d.centre = 0, [2]float64{at.Y, h.Z}
		} else {
			d.axis, d.centre = 1, [2]float64{at.X, h.Z}
		}
		switch {
		case depth == 0 || depth >= 2*face:
		case n.X+n.Y > 0:
			d.low = face - depth
		default:
			d.high = depth - face
		}
		return d
	}
	out = append(out, make1(h.Diameter, h.Depth))
	if h.Bore > 0 && h.BoreDepth > 0 {
		out = append(out, make1(h.Bore, h.BoreDepth))
	}
	return out
}

// tap adds a tap: a bore of its own where the drill is wider than the core bore, else the tag of a machined wall.
func (s *shape) tap(b *frame.Bar, t frame.Tap) {
	c := b.Cuts[t.End]
	z := b.Plane(t.End) + c.SlopeX*t.Core.X + c.SlopeY*t.Core.Y
	inward := 1.0
	if t.End == 1 {
		inward = -1
	}
	cores := b.Profile.Cores()
	core := -1
	for i, q := range cores {
		if q.Dist(t.Core) <= geom.Coincident {
			core = len(s.section) - len(cores) + i
		}
	}
	if core >= 0 && t.Drill <= b.Profile.Core+geom.Coincident {
		s.paints = append(s.paints, paint{core, t.End == 0, z + inward*t.Depth})
		return
	}
	if t.Drill <= 0 {
		return
	}
	d := drill{axis: 2, centre: [2]float64{t.Core.X, t.Core.Y}, radius: t.Drill / 2, low: math.Inf(-1), high: math.Inf(1)}
	depth := math.Max(t.DrillDepth, t.Depth)
	if t.End == 0 {
		d.high = z + depth
	} else {
		d.low = z - depth
	}
	s.drills = append(s.drills, d)
}
