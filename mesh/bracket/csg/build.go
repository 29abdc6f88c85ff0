package csg

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"barwright/geom"
)

// Mesh is a closed, oriented triangle mesh: counter-clockwise seen from outside, mm.
type Mesh struct {
	Points    [][3]float32
	Triangles [][3]uint32
	// Shift is what was added to the corners after the motion.
	Shift geom.Vec
}

// Corners are rounded to a grid of 2⁻¹⁶ mm where the solid lies within 256 mm of the origin, and to one twice as
// coarse for each doubling of that, so that float32 holds every coordinate exactly.
const (
	fineStep = 1 << 16
	fineSpan = 256
	maxSpan  = 1024
)

// tries is how many offsets of the grid are tried where rounding spoils a face that is narrower than the grid.
const tries = 12

// RoundError says that the solid has a detail so small that it can't be told apart after rounding.
type RoundError struct {
	What string
	At   geom.Vec
}

// Error returns what is wrong and the place in mm.
func (e *RoundError) Error() string {
	return fmt.Sprintf("%s, at %.4f, %.4f, %.4f", e.What, e.At.X, e.At.Y, e.At.Z)
}

// Build returns the body's surface after a motion, such as that into the position in which it is printed. Corners
// that the motion puts within a micrometre of z = 0 lie on it. With settle the solid is then shifted so that its
// least x and y are 0. It fails where the body is empty, where it
// touches itself along an edge ([EdgeError]), or where rounding spoils it ([RoundError]).
func (b *Body) Build(m geom.Motion, settle bool) (*Mesh, error) {
	if b.err != nil {
		return nil, b.err
	}
	t, err := b.edges()
	if err != nil {
		return nil, err
	}
	if len(t.runs) == 0 {
		return nil, errors.New("the body is empty")
	}
	edges := t.halfEdges()
	used, index := t.used(edges)
	points := make([]geom.Vec, len(used))
	box := geom.EmptyBox()
	for i, c := range used {
		p := m.Apply(t.place(c))
		if math.Abs(p.Z) < 1e-3 {
			p.Z = 0
		}
		points[i] = p
		box = box.Extend(p)
	}
	shift := geom.Vec{}
	if settle {
		shift.X, shift.Y = -box.Low.X, -box.Low.Y
	}
	box = box.Move(shift)
	span := 0.0
	for _, v := range []float64{box.Low.X, box.Low.Y, box.Low.Z, box.High.X, box.High.Y, box.High.Z} {
		span = math.Max(span, math.Abs(v))
	}
	if !(span < maxSpan-1) {
		return nil, fmt.Errorf("the solid reaches %.0f mm from the origin; %d are allowed", span, maxSpan)
	}
	step := float64(fineStep)
	for s := float64(fineSpan - 1); s < span; s *= 2 {
		step /= 2
	}
	for k := range tries {
		var out *Mesh
		// The offset moves the solid by less than a step; settled solids still begin at 0 exactly.
		off := geom.Vec{X: math.Mod(float64(k)*0.2711, 1) / step, Y: math.Mod(float64(k)*0.6133, 1) / step}
		if out, err = t.mesh(edges, index, points, shift.Add(off), step, settle, m); err == nil {
			return out, nil
		}
	}
	return nil, err
}

// used returns the corners in use in the order of first use, and the index of each corner among them.
func (t *tracer) used(edges []halfEdge) (list, index []int32) {
	index = make([]int32, len(t.list))
	for i := range index {
		index[i] = -1
	}
	for _, e := range edges {
		if index[e.from] < 0 {
			index[e.from] = int32(len(list))
			list = append(list, e.from)
		}
	}
	return list, index
}

// mesh rounds the points after a shift and cuts the faces into triangles.
func (t *tracer) mesh(edges []halfEdge, index []int32, points []geom.Vec, shift geom.Vec, step float64, settle bool, m geom.Motion) (*Mesh, error) {
	grid := make([][3]int64, len(points))
	seen := make(map[[3]int64]struct{}, len(points))
	low := [3]int64{math.MaxInt64, math.MaxInt64, 0}
	for i, p := range points {
		q := p.Add(shift)
		g := [3]int64{int64(math.Round(q.X * step)), int64(math.Round(q.Y * step)), int64(math.Round(q.Z * step))}
		if _, ok := seen[g]; ok {
			return nil, &RoundError{"two corners of the solid are one after rounding", p}
		}
		seen[g] = struct{}{}
		grid[i] = g
		low[0], low[1] = min(low[0], g[0]), min(low[1], g[1])
	}
	if settle {
		for i := range grid {
			grid[i][0] -= low[0]
			grid[i][1] -= low[1]
		}
		shift.X -= float64(low[0]) / step
		shift.Y -= float64(low[1]) / step
	}
	out := &Mesh{Points: make([][3]float32, len(grid)), Triangles: make([][3]uint32, 0, 2*len(grid)), Shift: shift}
	for i, g := range grid {
		for k, v := range g {
			out.Points[i][k] = float32(float64(v) / step)
		}
	}
	var err error
	for i := 0; i < len(edges); {
		j := i
		for j < len(edges) && edges[j].face == edges[i].face {
			j++
		}
		f := face{grid: grid, points: points, normal: m.Turn(t.outward(edges[i].face))}
		for _, e := range edges[i:j] {
			f.edges = append(f.edges, [2]int32{index[e.from], index[e.to]})
		}
		if out.Triangles, err = f.triangulate(out.Triangles); err != nil {
			return nil, err
		}
		i = j
	}
	return out, nil
}

// outward returns the outward normal of a face.
func (t *tracer) outward(face int32) geom.Vec {
	n := t.planes[face/2].n.float().Unit()
	if face%2 == 1 {
		n = n.Scale(-1)
	}
	return n
}

// halfEdges splits the runs at the corners that other edges need, and returns the edges of all faces in order.
func (t *tracer) halfEdges() []halfEdge {
	// A corner inside a run is needed where another run ends or passes.
	uses := make([]uint8, len(t.list))
	for _, r := range t.runs {
		for i, c := range r.corners {
			switch {
			case i == 0 || i == len(r.corners)-1:
				uses[c] = 2
			case uses[c] < 2:
				uses[c]++
			}
		}
	}
	var out []halfEdge
	for _, r := range t.runs {
		from := r.corners[0]
		for _, c := range r.corners[1:] {
			if uses[c] < 2 {
				continue
			}
			for k, f := range r.faces {
				e := halfEdge{f, from, c}
				if r.back[k] {
					e.from, e.to = c, from
				}
				out = append(out, e)
			}
			from = c
		}
	}
	slices.SortFunc(out, func(a, b halfEdge) int {
		if a.face != b.face {
			return int(a.face - b.face)
		}
		if a.from != b.from {
			return int(a.from - b.from)
		}
		return int(a.to - b.to)
	})
	return out
}
