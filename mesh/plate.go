package mesh

import (
	"fmt"
	"math"
	"slices"

	"barwright/geom"
)

// PlateHole is a round hole through a plate.
type PlateHole struct {
	At       geom.Vec2 // middle, mm
	Diameter float64   // mm
}

// Plate returns the solid of a flat plate: what lies within an outline, from z = 0 to the thickness (mm), less round holes. Circles
// are polygons as in [Solid], no chord farther from the circle than tolerance (mm). A hole that
// reaches over the outline or into another hole opens it. Walls of holes are tagged Machined, all else Fitting.
//
// The outline goes round once, either way, and must not meet itself. It returns an error for an outline that does, for sizes that are
// no numbers or beyond reason, for a tolerance outside MinTolerance to MaxTolerance, and where the holes leave nothing.
func Plate(outline []geom.Vec2, holes []PlateHole, thickness, tolerance float64) (*Mesh, error) {
	if err := checkTolerance(tolerance); err != nil {
		return nil, err
	}
	if err := checkPlate(outline, holes, thickness); err != nil {
		return nil, err
	}
	m, err := build(plateShape(outline, holes, thickness), tolerance)
	if err != nil {
		return nil, fmt.Errorf("a plate of %d corners and %d holes: %w", len(outline), len(holes), err)
	}
	for i, k := range m.Surfaces {
		if k != Machined {
			m.Surfaces[i] = Fitting
		}
	}
	return m, nil
}

// plateShape returns the shape of a plate that is in order.
func plateShape(outline []geom.Vec2, holes []PlateHole, thickness float64) *shape {
	outline = slices.Clone(outline)
	if geom.PolygonArea(outline) < 0 {
		slices.Reverse(outline)
	}
	s := &shape{section: [][]geom.Vec2{outline}, ends: [2]endPlane{{}, {at: thickness}}}
	for _, h := range holes {
		s.drills = append(s.drills, drill{axis: 2, centre: [2]float64{h.At.X, h.At.Y}, radius: h.Diameter / 2, low: math.Inf(-1), high: math.Inf(1)})
	}
	return s
}

// checkPlate refuses plates that can't be.
func checkPlate(outline []geom.Vec2, holes []PlateHole, thickness float64) error {
	if !(thickness > geom.Coincident && thickness <= maxBar) {
		return fmt.Errorf("a plate %g mm thick has no solid: the thickness must be more than %g and at most %d", thickness, geom.Coincident, maxBar)
	}
	if len(outline)+len(holes) > maxDrills {
		return fmt.Errorf("%d corners and holes in one plate are more than %d", len(outline)+len(holes), maxDrills)
	}
	for i, p := range outline {
		if !sane(p.X, p.Y) {
			return fmt.Errorf("corner %d of the plate lies at %g, %g, where no plate can reach", i+1, p.X, p.Y)
		}
	}
	for i, h := range holes {
		if !sane(h.At.X, h.At.Y, h.Diameter) || h.Diameter <= 0 {
			return fmt.Errorf("hole %d of the plate (⌀%g at %g, %g) has a size that no hole can have", i+1, h.Diameter, h.At.X, h.At.Y)
		}
	}
	if len(outline) < 3 {
		return fmt.Errorf("a plate of %d corners encloses nothing", len(outline))
	}
	if i, k, ok := meetsItself(outline); ok {
		return fmt.Errorf("the plate's outline meets itself: the side from corner %d and the side from corner %d", i+1, k+1)
	}
	return nil
}

// meetsItself returns two sides of an outline, by the corners that they start from, which come within a thousandth of a mm of each other
// and are no neighbours, or which lie on each other.
func meetsItself(outline []geom.Vec2) (i, k int, ok bool) {
	n := len(outline)
	side := func(i int) (a, b geom.Vec2) { return outline[i], outline[(i+1)%n] }
	for i := range n {
		a, b := side(i)
		for k := i + 1; k < n; k++ {
			c, d := side(k)
			switch {
			case k == i+1:
				if toSegment(d, a, b) <= geom.Coincident || toSegment(a, c, d) <= geom.Coincident {
					return i, k, true
				}
			case i == 0 && k == n-1:
				if toSegment(c, a, b) <= geom.Coincident || toSegment(b, c, d) <= geom.Coincident {
					return i, k, true
				}
			case segmentsMeet(a, b, c, d):
				return i, k, true
			}
		}
	}
	return 0, 0, false
}

// segmentsMeet reports whether two segments cross or come within a thousandth of a mm of each other.
func segmentsMeet(a, b, c, d geom.Vec2) bool {
	turn := func(p, q, r geom.Vec2) float64 { return float64((q.X-p.X)*(r.Y-p.Y)) - float64((q.Y-p.Y)*(r.X-p.X)) }
	if turn(a, b, c) > 0 != (turn(a, b, d) > 0) && turn(c, d, a) > 0 != (turn(c, d, b) > 0) {
		return true
	}
	return min(toSegment(a, c, d), toSegment(b, c, d), toSegment(c, a, b), toSegment(d, a, b)) <= geom.Coincident
}

// toSegment returns the distance of p from the segment a b.
func toSegment(p, a, b geom.Vec2) float64 {
	along := b.Sub(a)
	l := along.Dot(along)
	if l == 0 {
		return p.Dist(a)
	}
	k := math.Min(math.Max(p.Sub(a).Dot(along)/l, 0), 1)
	return p.Dist(a.Add(along.Scale(k)))
}
