package mesh

import "math"

// Edges returns the feature edges as pairs of points: where two triangles meet under more than the angle (radians
// between their normals), where the kind of surface changes, and where a surface ends. Each edge comes once, in the order of the
// triangles; the points are indices into m.Points.
func (m *Mesh) Edges(angle float64) [][2]uint32 {
	normals := make([][3]float64, len(m.Triangles))
	for i, t := range m.Triangles {
		normals[i] = m.normal(t)
	}
	// Each edge, the lower point first, with the first triangle that has it.
	var t table
	t.reset(3 * len(m.Triangles) / 2)
	first := make([]int32, 0, 3*len(m.Triangles)/2)
	state := make([]int8, 0, cap(first))
	limit := math.Cos(angle)
	for i, tri := range m.Triangles {
		for k := range tri {
			a, b := int32(tri[k]), int32(tri[(k+1)%3])
			n := t.number([3]int32{min(a, b), max(a, b), 0})
			if int(n) == len(first) {
				first, state = append(first, int32(i)), append(state, openEdge)
				continue
			}
			j := first[n]
			switch {
			case state[n] != openEdge:
				state[n] = sharpEdge // more than two triangles
			case m.Surfaces[i] != m.Surfaces[j] || dot3(normals[i], normals[j]) < limit:
				state[n] = sharpEdge
			default:
				state[n] = smoothEdge
			}
		}
	}
	var out [][2]uint32
	for n, k := range t.keys {
		if state[n] != smoothEdge {
			out = append(out, [2]uint32{uint32(k[0]), uint32(k[1])})
		}
	}
	return out
}

// What is known of an edge.
const (
	openEdge   int8 = iota // one triangle so far
	smoothEdge             // two triangles that go on smoothly
	sharpEdge
)

// normal returns the unit normal of a triangle, zero where it has no area.
func (m *Mesh) normal(t [3]uint32) [3]float64 {
	a, b, c := m.Points[t[0]], m.Points[t[1]], m.Points[t[2]]
	var u, v [3]float64
	for i := range u {
		u[i], v[i] = float64(b[i])-float64(a[i]), float64(c[i])-float64(a[i])
	}
	n := cross3(u, v)
	l := math.Sqrt(dot3(n, n))
	if l == 0 {
		return n
	}
	return [3]float64{n[0] / l, n[1] / l, n[2] / l}
}
