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
}

// step is 1/step mm, to which corners are rounded: float32 holds its multiples exactly up to 1024 mm.
const step = 1 << 14

// maxCoordinate bounds a corner in mm after the motion.
const maxCoordinate = 1000

// Build returns the body's surface after a motion, such as that into the position in which it is printed. Corners
// that the motion puts within a micrometre of z = 0 lie on it. It fails where the body is empty, where it
// touches itself along an edge ([EdgeError]), or where two corners are one after rounding.
func (b *Body) Build(m geom.Motion) (*Mesh, error) {
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
	grid, index, err := t.rounded(edges, m)
	if err != nil {
		return nil, err
	}
	out := &Mesh{Points: make([][3]float32, len(grid))}
	for i, g := range grid {
		for k, v := range g {
			out.Points[i][k] = float32(float64(v) / step)
		}
	}
	for i := 0; i < len(edges); {
		j := i
		for j < len(edges) && edges[j].face == edges[i].face {
			j++
		}
		f := face{grid: grid, normal: m.Turn(t.outward(edges[i].face))}
		for _, e := range edges[i:j] {
			f.edges = append(f.edges, [2]int32{index[e.from], index[e.to]})
		}
		out.Triangles, err = f.triangulate(out.Triangles)
		if err != nil {
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

// rounded returns the corners in use, moved and rounded, and the index of each in the result.
func (t *tracer) rounded(edges []halfEdge, m geom.Motion) ([][3]int64, []int32, error) {
	index := make([]int32, len(t.list))
	for i := range index {
		index[i] = -1
	}
	var grid [][3]int64
	seen := make(map[[3]int64]struct{}, len(t.list))
	for _, e := range edges {
		if index[e.from] >= 0 {
			continue
		}
		p := m.Apply(t.place(e.from))
		if math.Abs(p.Z) < 1e-3 {
			p.Z = 0
		}
		if !(math.Abs(p.X) <= maxCoordinate && math.Abs(p.Y) <= maxCoordinate && math.Abs(p.Z) <= maxCoordinate) {
			return nil, nil, fmt.Errorf("a corner at %.3f, %.3f, %.3f is out of reach", p.X, p.Y, p.Z)
		}
		g := [3]int64{int64(math.Round(p.X * step)), int64(math.Round(p.Y * step)), int64(math.Round(p.Z * step))}
		if _, ok := seen[g]; ok {
			return nil, nil, fmt.Errorf("two corners of the solid are one after rounding, at %.4f, %.4f, %.4f", p.X, p.Y, p.Z)
		}
		seen[g] = struct{}{}
		index[e.from] = int32(len(grid))
		grid = append(grid, g)
	}
	return grid, index, nil
}
