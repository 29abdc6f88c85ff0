package mesh

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"barwright/frame"
	"barwright/geom"
	"barwright/standard"
)

// addFeet adds the feet of a frame. Feet that are alike share a shape.
func (s *Scene) addFeet(feet []*frame.Foot, tolerance float64) error {
	type kind struct {
		on, thread string
		height     float64
		side       float64
	}
	shapes := make(map[kind]int)
	counts := make(map[string]int)
	for _, f := range feet {
		name := footName(f, counts)
		k := kind{f.On, f.Thread, f.Height, 0}
		if f.On == "slot-plate" && f.Under != nil {
			size := f.Under.Profile.Size()
			k.side = math.Min(size.X, size.Y)
		}
		shape, ok := shapes[k]
		if !ok {
			m, err := footMesh(k.thread, k.height, k.side, tolerance)
			if err != nil {
				return fmt.Errorf("%s: %w", name, err)
			}
			shape = len(s.Shapes)
			shapes[k] = shape
			s.Shapes = append(s.Shapes, &Shape{Name: fmt.Sprintf("foot %s × %g", f.Thread, f.Height), Mesh: m})
		}
		place := geom.Shift(f.At.Sub(geom.Vec{Z: f.Height}))
		s.Items = append(s.Items, Item{Name: name, Shape: shape, Place: place, Kind: FittingItem})
	}
	return nil
}

// footName names a foot after the member it stands under; a second one gets a number.
func footName(f *frame.Foot, counts map[string]int) string {
	under := "frame"
	if f.Under != nil {
		under = f.Under.Name
	}
	counts[under]++
	if n := counts[under]; n > 1 {
		return fmt.Sprintf("%s foot %d", under, n)
	}
	return under + " foot"
}

// outline gives the radius of a ring's point at an angle.
type outline func(angle float64) float64

// circle is the outline of a round of radius r.
func circle(r float64) outline { return func(float64) float64 { return r } }

// polygon is the outline of a regular polygon of n sides whose sides lie at distance r from the middle, with a corner at angle start.
func polygon(n int, r, start float64) outline {
	step := 2 * math.Pi / float64(n)
	return func(angle float64) float64 {
		return r / math.Cos(math.Mod(angle-start+8*math.Pi, step)-step/2)
	}
}

// ring is one closed line of points round the axis.
type ring struct {
	z  float64
	at outline
}

// footMesh returns a levelling foot standing on z = 0 with its top at z = height: a pad, a stud of the thread's
// diameter, a hexagon nut; with plate > 0 a square plate of that side on top, which goes under a rail. It
// is a stand-in that shows where a foot is and how high, no maker's foot; sizes but the nut's are chosen by eye.
func footMesh(thread string, height, plate, tolerance float64) (*Mesh, error) {
	if !(height > 0 && height <= 1e4) {
		return nil, fmt.Errorf("a foot %g mm high cannot be", height)
	}
	d, ok := threadDiameter(thread)
	if !ok {
		return nil, fmt.Errorf("a foot's thread must be a metric one such as M8, not %q", thread)
	}
	flats := 1.6 * d
	if nut, ok := standard.HexNut(thread); ok {
		flats = nut.AcrossFlats
	}
	// All heights shrink together where the foot is low.
	unit := math.Min(d, height/5)
	stud, pad := circle(d/2), circle(2.2*d)
	nutTop := height
	var rings []ring
	rings = append(rings, ring{0, circle(2 * d)}, ring{0.2 * unit, pad}, ring{0.7 * unit, pad}, ring{1.5 * unit, circle(0.9 * d)}, ring{1.5 * unit, stud})
	if plate > 0 {
		nutTop = height - 0.7*unit
	}
	hexagon := polygon(6, flats/2, 0)
	rings = append(rings, ring{nutTop - 0.7*unit, stud}, ring{nutTop - 0.7*unit, hexagon}, ring{nutTop, hexagon})
	if plate > 0 {
		square := polygon(4, math.Max(plate, 1.2*flats)/2, math.Pi/4)
		rings = append(rings, ring{nutTop, square}, ring{height, square})
	}
	return ringsMesh(rings, footSegments(2.2*d, tolerance)), nil
}

// footSegments returns how many points a ring has: a multiple of 24, so that squares and hexagons keep their corners.
func footSegments(radius, tolerance float64) int {
	n := geom.ArcSegments(radius, 2*math.Pi, tolerance)
	return min(max(24, (n+23)/24*24), 240)
}

// threadDiameter returns the nominal diameter of a metric thread: 8 for "M8" and "M8x1".
func threadDiameter(thread string) (float64, bool) {
	digits, ok := strings.CutPrefix(thread, "M")
	digits, _, _ = strings.Cut(digits, "x")
	d, err := strconv.ParseFloat(digits, 64)
	return d, ok && err == nil && d >= 1 && d <= 100
}

// ringsMesh joins rings one above the other into a closed solid: each two by a strip, the
// first and last closed by a fan round a middle point. Points of all rings lie under the same n angles.
func ringsMesh(rings []ring, n int) *Mesh {
	m := &Mesh{}
	for _, r := range rings {
		for k := range n {
			angle := 2 * math.Pi * float64(k) / float64(n)
			radius := r.at(angle)
			m.Points = append(m.Points, [3]float32{float32(radius * math.Cos(angle)), float32(radius * math.Sin(angle)), float32(r.z)})
		}
	}
	low, high := uint32(len(m.Points)), uint32(len(m.Points)+1)
	m.Points = append(m.Points, [3]float32{0, 0, float32(rings[0].z)}, [3]float32{0, 0, float32(rings[len(rings)-1].z)})
	top := uint32((len(rings) - 1) * n)
	for k := range uint32(n) {
		next := (k + 1) % uint32(n)
		m.Triangles = append(m.Triangles, [3]uint32{low, next, k}, [3]uint32{high, top + k, top + next})
		for r := range uint32(len(rings) - 1) {
			a, b := r*uint32(n)+k, r*uint32(n)+next
			c, d := a+uint32(n), b+uint32(n)
			m.Triangles = append(m.Triangles, [3]uint32{a, b, d}, [3]uint32{a, d, c})
		}
	}
	m.Surfaces = make([]Surface, len(m.Triangles))
	for i := range m.Surfaces {
		m.Surfaces[i] = Fitting
	}
	return m
}
