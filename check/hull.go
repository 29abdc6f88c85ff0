package check

import (
	"cmp"
	"math"
	"slices"

	"barwright/geom"
)

// hull2 returns the corners of the convex hull of points in a plane, counter-clockwise from the lowest x, without
// corners on straight edges (Andrew 1979).
func hull2(points []geom.Vec2) []geom.Vec2 {
	p := slices.Clone(points)
	slices.SortFunc(p, func(a, b geom.Vec2) int { return cmp.Or(cmp.Compare(a.X, b.X), cmp.Compare(a.Y, b.Y)) })
	p = slices.Compact(p)
	if len(p) < 3 {
		return p
	}
	half := func(list []geom.Vec2) []geom.Vec2 {
		var out []geom.Vec2
		for _, q := range list {
			for len(out) > 1 && out[len(out)-1].Sub(out[len(out)-2]).Cross(q.Sub(out[len(out)-2])) <= 1e-9 {
				out = out[:len(out)-1]
			}
			out = append(out, q)
		}
		return out[:len(out)-1]
	}
	low := half(p)
	slices.Reverse(p)
	return append(low, half(p)...)
}

// narrowest returns the least width of a convex polygon.
func narrowest(hull []geom.Vec2) float64 {
	best := math.Inf(1)
	for i, a := range hull {
		e := hull[(i+1)%len(hull)].Sub(a)
		n := geom.Vec2{X: -e.Y, Y: e.X}.Scale(1 / e.Len())
		far := 0.0
		for _, p := range hull {
			far = math.Max(far, n.Dot(p.Sub(a)))
		}
		best = math.Min(best, far)
	}
	return best
}

// cloud is points whose convex hull matters: corners of boxes square to the axes, and single points.
type cloud struct {
	boxes  []geom.Box
	points []geom.Vec
}

// farthest returns the point of the cloud farthest along a direction.
func (c *cloud) farthest(d geom.Vec) geom.Vec {
	best, at := math.Inf(-1), geom.Vec{}
	for i := range c.boxes {
		p := c.boxes[i].Low
		if d.X > 0 {
			p.X = c.boxes[i].High.X
		}
		if d.Y > 0 {
			p.Y = c.boxes[i].High.Y
		}
		if d.Z > 0 {
			p.Z = c.boxes[i].High.Z
		}
		if v := d.Dot(p); v > best+1e-9 {
			best, at = v, p
		}
	}
	for _, p := range c.points {
		if v := d.Dot(p); v > best+1e-9 {
			best, at = v, p
		}
	}
	return at
}

// box returns the outer box of the cloud.
func (c *cloud) box() geom.Box {
	b := geom.EmptyBox()
	for i := range c.boxes {
		b = b.Union(c.boxes[i])
	}
	for _, p := range c.points {
		b = b.Extend(p)
	}
	return b
}

// spiral is how many directions a hull's corners are sought in. A corner that is missed lies within half a
// thousandth of the cloud's size of the hull of the others.
const spiral = 3000

// corners returns the corners of the cloud's convex hull, sorted.
func (c *cloud) corners() []geom.Vec {
	kept := map[geom.Vec]bool{}
	var out []geom.Vec
	for _, d := range directions(spiral) {
		if p := c.farthest(d); !kept[p] {
			kept[p] = true
			out = append(out, p)
		}
	}
	slices.SortFunc(out, func(a, b geom.Vec) int {
		return cmp.Or(cmp.Compare(a.X, b.X), cmp.Compare(a.Y, b.Y), cmp.Compare(a.Z, b.Z))
	})
	return out
}

// directions returns n unit vectors spread evenly over the sphere on a spiral, and the 26 of a cube's faces, edges and
// corners.
func directions(n int) []geom.Vec {
	var out []geom.Vec
	for x := -1.0; x <= 1; x++ {
		for y := -1.0; y <= 1; y++ {
			for z := -1.0; z <= 1; z++ {
				if v := (geom.Vec{X: x, Y: y, Z: z}); v != (geom.Vec{}) {
					out = append(out, v.Unit())
				}
			}
		}
	}
	golden := math.Pi * (3 - math.Sqrt(5))
	for i := range n {
		z := 1 - 2*(float64(i)+0.5)/float64(n)
		r := math.Sqrt(1 - z*z)
		out = append(out, geom.Vec{X: r * math.Cos(golden*float64(i)), Y: r * math.Sin(golden*float64(i)), Z: z})
	}
	return out
}
