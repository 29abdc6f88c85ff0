package csg

import (
	"math"

	"barwright/geom"
)

// Outline is a convex figure of a plane as the common part of half-planes.
type Outline []HalfPlane

// HalfPlane is the half-plane N·p ≤ D; N is a unit vector, D is mm.
type HalfPlane struct {
	N geom.Vec2
	D float64
}

// Polygon returns the outline of a convex polygon whose corners run counter-clockwise.
func Polygon(corners ...geom.Vec2) Outline {
	out := make(Outline, len(corners))
	for i, a := range corners {
		d := corners[(i+1)%len(corners)].Sub(a)
		n := geom.Vec2{X: d.Y, Y: -d.X}.Scale(1 / d.Len())
		out[i] = HalfPlane{n, n.Dot(a)}
	}
	return out
}

// Rectangle returns the rectangle between two corners.
func Rectangle(low, high geom.Vec2) Outline {
	return Outline{{geom.Vec2{X: 1}, high.X}, {geom.Vec2{Y: 1}, high.Y}, {geom.Vec2{X: -1}, -low.X}, {geom.Vec2{Y: -1}, -low.Y}}
}

// Facets returns how many flats stand for a full circle of a radius: a multiple of 8, more for larger ones.
func Facets(radius float64) int {
	switch {
	case radius < 3:
		return 16
	case radius < 8:
		return 24
	}
	return 32
}

// direction returns the unit vector at k/n of a full turn, with exact zeros and ones at the quarters.
func direction(k, n int) geom.Vec2 {
	q := 4 * k / n
	s, c := math.Sincos(2 * math.Pi * (float64(k)/float64(n) - float64(q)/4))
	return geom.Vec2{X: c, Y: s}.Quarter(q)
}

// Circle returns the regular polygon whose sides touch a circle from outside, so that a hole of that outline passes
// what the circle passes.
func Circle(centre geom.Vec2, radius float64) Outline {
	n := Facets(radius)
	out := make(Outline, n)
	for k := range out {
		d := direction(k, n)
		out[k] = HalfPlane{d, d.Dot(centre) + radius}
	}
	return out
}

// Teardrop returns a circle that is closed toward up by two tangents 45° to either side of up, which meet √2
// radii above the centre.
func Teardrop(centre geom.Vec2, radius float64, up geom.Vec2) Outline {
	up = up.Scale(1 / up.Len())
	side := up.Quarter(1)
	left, right := up.Add(side).Scale(math.Sqrt2/2), up.Sub(side).Scale(math.Sqrt2/2)
	out := Outline{{left, left.Dot(centre) + radius}, {right, right.Dot(centre) + radius}}
	for _, h := range Circle(centre, radius) {
		// Sides steeper than the tangents stay; one that nearly is a tangent would leave a sliver.
		if h.N.Dot(up) < math.Sqrt2/2-0.02 {
			out = append(out, h)
		}
	}
	return out
}

// Hexagon returns the regular hexagon with a width across flats, one of whose corners points along to.
func Hexagon(centre geom.Vec2, flats float64, to geom.Vec2) Outline {
	to = to.Scale(1 / to.Len())
	out := make(Outline, 6)
	for k := range out {
		s, c := math.Sincos(math.Pi/6 + float64(k)*math.Pi/3)
		n := to.Scale(c).Add(to.Quarter(1).Scale(s))
		out[k] = HalfPlane{n, n.Dot(centre) + flats/2}
	}
	return out
}

// Rounded returns a rectangle whose corners are rounded with a radius.
func Rounded(low, high geom.Vec2, radius float64) Outline {
	out := Rectangle(low, high)
	if radius <= 0 {
		return out
	}
	n := Facets(radius)
	inner := [2]geom.Vec2{low.Add(geom.Vec2{X: radius, Y: radius}), high.Sub(geom.Vec2{X: radius, Y: radius})}
	for k := range n {
		if 4*k%n == 0 {
			continue
		}
		d := direction(k, n)
		c := inner[0]
		if d.X > 0 {
			c.X = inner[1].X
		}
		if d.Y > 0 {
			c.Y = inner[1].Y
		}
		out = append(out, HalfPlane{d, d.Dot(c) + radius})
	}
	return out
}

// place returns a half-space given in the coordinates of a motion.
func place(m geom.Motion, n geom.Vec, d float64) Half {
	w := m.Turn(n)
	at := m.T.Add(w.Scale(d))
	return Half{N: w, D: w.Dot(m.T) + d, At: &at}
}

// Prism stands an outline on the plane z = low of a motion's own coordinates and ends it at z = high. The edges of the
// two ends are broken by 45° chamfers of the given sizes, 0 for none.
func Prism(m geom.Motion, o Outline, low, high, chamferLow, chamferHigh float64) Convex {
	up, down := geom.Vec{Z: 1}, geom.Vec{Z: -1}
	out := make(Convex, 0, 3*len(o)+2)
	out = append(out, place(m, up, high), place(m, down, -low))
	for _, h := range o {
		s := place(m, geom.Vec{X: h.N.X, Y: h.N.Y}, h.D)
		out = append(out, s)
		if chamferLow > 0 {
			c := place(m, down, -low-chamferLow)
			out = append(out, Half{N: s.N, D: s.D, At: s.At, Bevel: &c})
		}
		if chamferHigh > 0 {
			c := place(m, up, high-chamferHigh)
			out = append(out, Half{N: s.N, D: s.D, At: s.At, Bevel: &c})
		}
	}
	return out
}

// Flare returns what to cut beside a prism so that it widens by 45° over the last stretch before an end: the broken edge of a
// hole. The end lies at z = at of the motion's coordinates; toward is 1 where the material lies below it, -1 where
// it lies above.
func Flare(m geom.Motion, o Outline, at, size, toward float64) Convex {
	out := Convex{place(m, geom.Vec{Z: toward}, toward*at+size), place(m, geom.Vec{Z: -toward}, -toward*at+size)}
	for _, h := range o {
		s := place(m, geom.Vec{X: h.N.X, Y: h.N.Y}, h.D)
		c := place(m, geom.Vec{Z: -toward}, -(toward*at - size))
		out = append(out, Half{N: s.N, D: s.D, At: s.At, Bevel: &c})
	}
	return out
}

// Box returns the box between two corners.
func Box(low, high geom.Vec) Convex {
	return Prism(geom.Identity(), Rectangle(geom.Vec2{X: low.X, Y: low.Y}, geom.Vec2{X: high.X, Y: high.Y}), low.Z, high.Z, 0, 0)
}
