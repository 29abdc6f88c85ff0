package csg

import (
	"math"
	"slices"

	"barwright/geom"
)

// face is one plane's part of the surface: a polygon with holes, or several.
type face struct {
	grid   [][3]int64
	points []geom.Vec // before rounding, for errors
	normal geom.Vec
	edges  [][2]int32 // sorted by their first corner
}

// pt is a corner of a face, projected along the main axis of the normal, with integer coordinates.
type pt struct {
	x, y int64
	at   int32 // corner
}

// orient returns the doubled area of the triangle a, b, c, positive where it runs counter-clockwise. Coordinates
// are below 2²⁶, so that nothing overflows.
func orient(a, b, c pt) int64 { return (b.x-a.x)*(c.y-a.y) - (b.y-a.y)*(c.x-a.x) }

// project returns a corner in the plane of the face, so that it is seen from outside.
func (f *face) project(c int32) pt {
	g := f.grid[c]
	n := [3]float64{f.normal.X, f.normal.Y, f.normal.Z}
	m := 0
	for k := 1; k < 3; k++ {
		// Ties go to the later axis whatever the last bits say.
		if math.Abs(n[k]) > math.Abs(n[m])-1e-9 {
			m = k
		}
	}
	x, y := g[(m+1)%3], g[(m+2)%3]
	if n[m] < 0 {
		x, y = y, x
	}
	return pt{x, y, c}
}

// triangulate appends the face's triangles.
func (f *face) triangulate(out [][3]uint32) ([][3]uint32, error) {
	loops, err := f.loops()
	if err != nil {
		return nil, err
	}
	type ring struct {
		outer []pt
		holes [][]pt
		area  int64
	}
	var rings []ring
	var holes [][]pt
	for _, l := range loops {
		switch a := area(l); {
		case a > 0:
			rings = append(rings, ring{outer: l, area: a})
		case a < 0:
			holes = append(holes, l)
		default:
			return nil, f.fail("a face has no area after rounding", l[0])
		}
	}
	for _, h := range holes {
		best := -1
		for i := range rings {
			if contains(rings[i].outer, h) && (best < 0 || rings[i].area < rings[best].area) {
				best = i
			}
		}
		if best < 0 {
			return nil, f.fail("a hole lies in no face", h[0])
		}
		rings[best].holes = append(rings[best].holes, h)
	}
	for _, r := range rings {
		poly := r.outer
		if len(r.holes) > 0 {
			if poly, err = f.bridge(poly, r.holes); err != nil {
				return nil, err
			}
		}
		if out, err = f.ears(poly, out); err != nil {
			return nil, err
		}
	}
	return out, nil
}

func (f *face) fail(what string, p pt) error { return &RoundError{what, f.points[p.at]} }

// loops links the edges to loops. Where loops touch in a corner they are kept apart on the side of the air.
func (f *face) loops() ([][]pt, error) {
	used := make([]bool, len(f.edges))
	var out [][]pt
	slices.SortFunc(f.edges, func(a, b [2]int32) int {
		if a[0] != b[0] {
			return int(a[0] - b[0])
		}
		return int(a[1] - b[1])
	})
	for i := range f.edges {
		if used[i] {
			continue
		}
		var loop []pt
		for e := i; !used[e]; {
			used[e] = true
			loop = append(loop, f.project(f.edges[e][0]))
			next := f.follow(e)
			if next < 0 {
				return nil, f.fail("a face is not closed", loop[len(loop)-1])
			}
			e = next
		}
		if len(loop) < 3 {
			return nil, f.fail("a face has only two corners", loop[0])
		}
		out = append(out, loop)
	}
	return out, nil
}

// follow returns the edge after e: of several the first one clockwise from where e came.
func (f *face) follow(e int) int {
	at := f.edges[e][1]
	i, ok := slices.BinarySearchFunc(f.edges, at, func(a [2]int32, c int32) int { return int(a[0] - c) })
	if !ok {
		return -1
	}
	if i+1 >= len(f.edges) || f.edges[i+1][0] != at {
		return i
	}
	o, back := f.project(at), f.project(f.edges[e][0])
	came := math.Atan2(float64(back.y-o.y), float64(back.x-o.x))
	best, least := -1, math.Inf(1)
	for ; i < len(f.edges) && f.edges[i][0] == at; i++ {
		p := f.project(f.edges[i][1])
		a := came - math.Atan2(float64(p.y-o.y), float64(p.x-o.x))
		if a <= 1e-12 {
			a += 2 * math.Pi
		}
		if a < least {
			best, least = i, a
		}
	}
	return best
}

// area returns the doubled area of a loop.
func area(l []pt) int64 {
	var a int64
	for i := 1; i+1 < len(l); i++ {
		a += orient(l[0], l[i], l[i+1])
	}
	return a
}

// contains reports whether a loop lies within another, told by a corner of it that is not on the other.
func contains(outer, l []pt) bool {
	for _, p := range l {
		in, on := false, false
		for i, a := range outer {
			b := outer[(i+1)%len(outer)]
			o := orient(a, b, p)
			if o == 0 && min(a.x, b.x) <= p.x && p.x <= max(a.x, b.x) && min(a.y, b.y) <= p.y && p.y <= max(a.y, b.y) {
				on = true
				break
			}
			if (a.y > p.y) != (b.y > p.y) && (o > 0) == (b.y > a.y) {
				in = !in
			}
		}
		if !on {
			return in
		}
	}
	return false
}
