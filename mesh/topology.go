package mesh

import "math"

// corners lists the triangles round each point: those of point p are list[start[p]:start[p+1]],
// each as 3·triangle + corner, in the order of the triangles.
type corners struct {
	start []uint32
	list  []uint32
}

// cornersOf gathers the corners by point.
func cornersOf(m *Mesh) corners {
	start := make([]uint32, len(m.Points)+1)
	for _, t := range m.Triangles {
		start[t[0]+1]++
		start[t[1]+1]++
		start[t[2]+1]++
	}
	for i := 1; i < len(start); i++ {
		start[i] += start[i-1]
	}
	next := append([]uint32(nil), start[:len(m.Points)]...)
	list := make([]uint32, 3*len(m.Triangles))
	for i, t := range m.Triangles {
		for k, p := range t {
			list[next[p]] = uint32(3*i + k)
			next[p]++
		}
	}
	return corners{start, list}
}

// around returns the corners at a point.
func (c corners) around(p uint32) []uint32 { return c.list[c.start[p]:c.start[p+1]] }

// smoothMesh is a mesh ready for shading: corners of a point whose normals differ are separate vertices.
type smoothMesh struct {
	point    []uint32     // of each vertex, the point of the mesh
	normal   [][3]float32 // of each vertex, of unit length
	triangle [][3]uint32  // vertices
}

// smoothAngle is the largest angle in radians between neighbouring facets that are shaded as one curved surface. A circle
// has at least 16 segments, 22.5° apart; the shallowest real crease of a bar is 45°.
const smoothAngle = 32 * math.Pi / 180

// smooth splits the points of a mesh at creases and gives each vertex the mean normal of the smooth faces round it. A
// flat face counts once, with the area of all its triangles: wide flats stay flat beside narrow facets of a
// round, and how a face happens to be cut into triangles doesn't show.
func smooth(m *Mesh) *smoothMesh {
	round := cornersOf(m)
	s := smoother{m: m, round: round, units: facetAreas(m)}
	s.flats()
	out := &smoothMesh{
		point:    make([]uint32, 0, len(m.Points)*2),
		normal:   make([][3]float32, 0, len(m.Points)*2),
		triangle: make([][3]uint32, len(m.Triangles)),
	}
	for p := range uint32(len(m.Points)) {
		first := len(out.point)
		for _, c := range round.around(p) {
			t := c / 3
			n := s.normal(round.around(p), t)
			v := first
			for v < len(out.point) && out.normal[v] != n {
				v++
			}
			if v == len(out.point) {
				out.point = append(out.point, p)
				out.normal = append(out.normal, n)
			}
			out.triangle[t][c%3] = uint32(v)
		}
	}
	return out
}

// smoother knows which triangles lie in one flat face.
type smoother struct {
	m     *Mesh
	round corners
	units [][3]float64 // direction of each triangle
	face  []uint32     // of each triangle: the first triangle of its face
	areas [][3]float64 // vector area of each face, under its first triangle
}

// coplanar is the cosine of the largest angle between triangles of one flat face, 0.1°.
const coplanar = 1 - 1.5e-6

// flats gathers triangles that go on flat over their edges into faces.
func (s *smoother) flats() {
	areas := s.units
	s.units = facetUnits(areas)
	s.face = make([]uint32, len(areas))
	for i := range s.face {
		s.face[i] = uint32(i)
	}
	for i, t := range s.m.Triangles {
		for k := range t {
			if j, ok := s.beyond(t[k], t[(k+1)%3]); ok && s.m.Surfaces[i] == s.m.Surfaces[j] && dot3(s.units[i], s.units[j]) > coplanar {
				a, b := s.first(uint32(i)), s.first(j)
				s.face[max(a, b)] = min(a, b)
			}
		}
	}
	s.areas = make([][3]float64, len(areas))
	for i := range s.face {
		f := s.first(uint32(i))
		s.face[i] = f
		for k := range 3 {
			s.areas[f][k] += areas[i][k]
		}
	}
}

// first returns the first triangle of a face, and shortens the way to it.
func (s *smoother) first(i uint32) uint32 {
	for s.face[i] != i {
		s.face[i] = s.face[s.face[i]]
		i = s.face[i]
	}
	return i
}

// beyond returns the triangle on the other side of the edge from a to b.
func (s *smoother) beyond(a, b uint32) (uint32, bool) {
	for _, c := range s.round.around(a) {
		if t := s.m.Triangles[c/3]; t[(c%3+2)%3] == b {
			return c / 3, true
		}
	}
	return 0, false
}

// normal returns the normal at a corner of triangle t, from the faces round the point that bend from t by less than smoothAngle.
func (s *smoother) normal(round []uint32, t uint32) [3]float32 {
	limit := math.Cos(smoothAngle)
	var sum [3]float64
	for i, c := range round {
		u := c / 3
		if s.m.Surfaces[u] != s.m.Surfaces[t] || dot3(s.units[t], s.units[u]) < limit || s.counted(round[:i], s.face[u]) {
			continue
		}
		for k := range sum {
			sum[k] += s.areas[s.face[u]][k]
		}
	}
	l := math.Sqrt(dot3(sum, sum))
	if l == 0 {
		// A triangle of no area: any direction will do, none of its pixels is drawn.
		return [3]float32{0, 0, 1}
	}
	return [3]float32{float32(sum[0]/l) + 0, float32(sum[1]/l) + 0, float32(sum[2]/l) + 0}
}

// counted tells whether a face is among those of some corners.
func (s *smoother) counted(round []uint32, face uint32) bool {
	for _, c := range round {
		if s.face[c/3] == face {
			return true
		}
	}
	return false
}

// facetAreas returns the vector area of each triangle: its normal, as long as twice its area.
func facetAreas(m *Mesh) [][3]float64 {
	out := make([][3]float64, len(m.Triangles))
	for i, t := range m.Triangles {
		a, b, c := m.Points[t[0]], m.Points[t[1]], m.Points[t[2]]
		var u, v [3]float64
		for k := range u {
			u[k] = float64(b[k]) - float64(a[k])
			v[k] = float64(c[k]) - float64(a[k])
		}
		out[i] = cross3(u, v)
	}
	return out
}

// facetUnits returns the directions of vectors, zero for those of no length.
func facetUnits(areas [][3]float64) [][3]float64 {
	out := make([][3]float64, len(areas))
	for i, a := range areas {
		if l := math.Sqrt(dot3(a, a)); l > 0 {
			out[i] = [3]float64{a[0] / l, a[1] / l, a[2] / l}
		}
	}
	return out
}

func dot3(a, b [3]float64) float64 {
	return float64(a[0]*b[0]) + float64(a[1]*b[1]) + float64(a[2]*b[2])
}

func cross3(a, b [3]float64) [3]float64 {
	return [3]float64{
		float64(a[1]*b[2]) - float64(a[2]*b[1]),
		float64(a[2]*b[0]) - float64(a[0]*b[2]),
		float64(a[0]*b[1]) - float64(a[1]*b[0]),
	}
}
