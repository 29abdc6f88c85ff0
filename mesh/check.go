package mesh

import (
	"fmt"
	"math"

	"barwright/geom"
)

// Volume returns the volume enclosed by the mesh in mm³, by the divergence theorem.
func (m *Mesh) Volume() float64 {
	if len(m.Points) == 0 {
		return 0
	}
	o := m.Points[0]
	at := func(i uint32) geom.Vec {
		p := m.Points[i]
		return geom.Vec{X: float64(p[0]) - float64(o[0]), Y: float64(p[1]) - float64(o[1]), Z: float64(p[2]) - float64(o[2])}
	}
	var v float64
	for _, t := range m.Triangles {
		v += at(t[0]).Dot(at(t[1]).Cross(at(t[2])))
	}
	return v / 6
}

// Centroid returns the middle of the volume enclosed by the mesh, mm; the origin where it encloses none.
func (m *Mesh) Centroid() geom.Vec {
	if len(m.Points) == 0 {
		return geom.Vec{}
	}
	vec := func(i uint32) geom.Vec {
		p := m.Points[i]
		return geom.Vec{X: float64(p[0]), Y: float64(p[1]), Z: float64(p[2])}
	}
	o := vec(0)
	var v float64
	var sum geom.Vec
	for _, t := range m.Triangles {
		a, b, c := vec(t[0]).Sub(o), vec(t[1]).Sub(o), vec(t[2]).Sub(o)
		w := a.Dot(b.Cross(c)) // six times the volume of the tetrahedron from o
		v += w
		sum = sum.Add(a.Add(b).Add(c).Scale(w / 4))
	}
	if v == 0 {
		return geom.Vec{}
	}
	return o.Add(sum.Scale(1 / v))
}

// Box returns the box round the mesh's points.
func (m *Mesh) Box() geom.Box {
	b := geom.EmptyBox()
	for _, p := range m.Points {
		b = b.Extend(geom.Vec{X: float64(p[0]), Y: float64(p[1]), Z: float64(p[2])})
	}
	return b
}

// Check tells whether the mesh is a closed, oriented surface as a reader of its float32 coordinates sees it: every
// number finite, each triangle with three distinct points of which no two lie at the same place and not all
// on one line, each directed edge between two places used once and its opposite once, and the
// volume positive. The error names the first triangle that offends.
func (m *Mesh) Check() error {
	place, err := m.places()
	if err != nil {
		return err
	}
	if len(m.Surfaces) != len(m.Triangles) {
		return fmt.Errorf("%d surface tags for %d triangles", len(m.Surfaces), len(m.Triangles))
	}
	var edges table
	edges.reset(3 * len(m.Triangles))
	for i, t := range m.Triangles {
		for _, p := range t {
			if int(p) >= len(m.Points) {
				return fmt.Errorf("triangle %d names point %d of %d", i, p, len(m.Points))
			}
		}
		if m.flat(t) {
			return fmt.Errorf("triangle %d has no area: %v %v %v", i, m.Points[t[0]], m.Points[t[1]], m.Points[t[2]])
		}
		for k := range t {
			n := len(edges.keys)
			edges.number([3]int32{place[t[k]], place[t[(k+1)%3]], 0})
			if len(edges.keys) == n {
				return fmt.Errorf("triangle %d: a second triangle runs along the edge from %v to %v the same way", i, m.Points[t[k]], m.Points[t[(k+1)%3]])
			}
		}
	}
	for i, k := range edges.keys {
		if _, ok := edges.find([3]int32{k[1], k[0], 0}); !ok {
			t := m.Triangles[i/3]
			return fmt.Errorf("triangle %d: nothing adjoins the edge from %v to %v", i/3, m.Points[t[i%3]], m.Points[t[(i+1)%3]])
		}
	}
	if v := m.Volume(); len(m.Triangles) > 0 && !(v > 0) {
		return fmt.Errorf("the mesh encloses %g mm³: it is inside out", v)
	}
	return nil
}

// places numbers the points by their coordinates, so that points at one place get one number.
func (m *Mesh) places() ([]int32, error) {
	var t table
	t.reset(len(m.Points))
	out := make([]int32, len(m.Points))
	for i, p := range m.Points {
		var k [3]int32
		for j, v := range p {
			if math.IsNaN(float64(v)) || math.IsInf(float64(v), 0) {
				return nil, fmt.Errorf("point %d is no place: %v", i, p)
			}
			k[j] = int32(math.Float32bits(v + 0)) // + 0 makes -0 and 0 the same
		}
		out[i] = t.number(k)
	}
	return out, nil
}

// flat tells whether the points of a triangle lie on one line, as float64 sees the float32 coordinates.
func (m *Mesh) flat(t [3]uint32) bool { return m.normal(t) == [3]float64{} }
