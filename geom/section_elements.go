package geom

import "math"

// quadMesh is the material of a mesh as triangles of six nodes: corners, then the middles of the edges 0-1, 1-2,
// 2-0. The middle of an edge on an arc lies on the arc.
type quadMesh struct {
	at   []Vec2
	loop []int32 // loop of the region that a node lies on, -1 inside
	el   [][6]int32
	tri  []int32 // the triangle of the mesh that an element is
}

// elements returns the six-node triangles of the material.
func (m *refiner) elements() *quadMesh {
	q := &quadMesh{}
	node := make([]int32, len(m.at))
	for i := range node {
		node[i] = -1
	}
	mids := make([][3]int32, len(m.tri))
	add := func(p Vec2, loop int32) int32 {
		q.at, q.loop = append(q.at, p), append(q.loop, loop)
		return int32(len(q.at) - 1)
	}
	for t := range m.tri {
		tr := &m.tri[t]
		if !tr.inside {
			continue
		}
		var e [6]int32
		for i, v := range tr.v {
			if node[v] < 0 {
				node[v] = add(m.at[v], -1)
			}
			e[i] = node[v]
		}
		for i := range 3 { // edge opposite corner prev(i) runs from i to next(i)
			k := prev(i)
			if n := tr.n[k]; tr.seg[k] < 0 && n < int32(t) {
				mids[t][k] = mids[n][m.edgeTo(n, int32(t))]
			} else {
				a, b := m.at[tr.v[i]], m.at[tr.v[next(i)]]
				p, loop := a.Add(b).Scale(0.5), int32(-1)
				if s := tr.seg[k]; s >= 0 {
					p, loop = m.middle(m.pieces[s]), m.pieces[s].loop
					q.loop[e[i]], q.loop[e[next(i)]] = loop, loop
				}
				mids[t][k] = add(p, loop)
			}
			e[3+i] = mids[t][k]
		}
		q.el, q.tri = append(q.el, e), append(q.tri, int32(t))
	}
	return q
}

// gaussTriangle is the six-point rule of degree 4 on a triangle: two barycentric coordinates and the weight (Dunavant
// 1985; Strang and Fix).
var gaussTriangle = [6][3]float64{
	{0.445948490915965, 0.445948490915965, 0.223381589678011},
	{0.108103018168070, 0.445948490915965, 0.223381589678011},
	{0.445948490915965, 0.108103018168070, 0.223381589678011},
	{0.091576213509771, 0.091576213509771, 0.109951743655322},
	{0.816847572980459, 0.091576213509771, 0.109951743655322},
	{0.091576213509771, 0.816847572980459, 0.109951743655322},
}

// shape is the shape functions of a six-node triangle at one point of its rule.
type shape struct {
	n    [6]float64
	grad [6]Vec2 // in the plane
	p    Vec2
	w    float64 // weight times area, mm²
}

// parent holds shape functions and their slopes in the parent triangle at the points of the rule.
type parent struct{ n, du, dv [6][6]float64 }

var parentShapes = makeParent()

func makeParent() (out parent) {
	for g, r := range gaussTriangle {
		u, v := r[0], r[1] // coordinates of corners 1 and 2
		w := 1 - u - v
		out.n[g] = [6]float64{w * (2*w - 1), u * (2*u - 1), v * (2*v - 1), 4 * w * u, 4 * u * v, 4 * v * w}
		out.du[g] = [6]float64{1 - 4*w, 4*u - 1, 0, 4 * (w - u), 4 * v, -4 * v}
		out.dv[g] = [6]float64{1 - 4*w, 0, 4*v - 1, -4 * u, 4 * u, 4 * (w - v)}
	}
	return out
}

// shapes fills the shape functions of an element at the points of the rule, positions from the point o. It reports
// whether the element is the right way round everywhere.
func (q *quadMesh) shapes(el int, o Vec2, out *[6]shape) bool {
	var at [6]Vec2
	for i, n := range q.el[el] {
		at[i] = q.at[n].Sub(o)
	}
	ok := true
	for g := range gaussTriangle {
		s := &out[g]
		s.n = parentShapes.n[g]
		du, dv := &parentShapes.du[g], &parentShapes.dv[g]
		var pu, pv, p Vec2
		for i, x := range at {
			pu.X += du[i] * x.X
			pu.Y += du[i] * x.Y
			pv.X += dv[i] * x.X
			pv.Y += dv[i] * x.Y
			p.X += s.n[i] * x.X
			p.Y += s.n[i] * x.Y
		}
		det := pu.Cross(pv)
		ok = ok && det > 0
		for i := range 6 {
			s.grad[i] = Vec2{(du[i]*pv.Y - dv[i]*pu.Y) / det, (dv[i]*pu.X - du[i]*pv.X) / det}
		}
		s.p, s.w = p, gaussTriangle[g][2]*det/2
	}
	return ok
}

// straighten moves the middles of an element's edges onto the chords.
func (q *quadMesh) straighten(el int) {
	e := q.el[el]
	for i := range 3 {
		q.at[e[3+i]] = q.at[e[i]].Add(q.at[e[next(i)]]).Scale(0.5)
	}
}

// unfold straightens elements that their arcs turned over.
func (q *quadMesh) unfold() {
	var s [6]shape
	for el := range q.el {
		if !q.shapes(el, Vec2{}, &s) {
			q.straighten(el)
		}
	}
}

// stiffness adds up ∫ grad Ni · grad Nj of an element.
func stiffness(s *[6]shape) (k [6][6]float64) {
	for g := range s {
		for i := range 6 {
			gi := s[g].grad[i].Scale(s[g].w)
			for j := 0; j <= i; j++ {
				k[i][j] += gi.Dot(s[g].grad[j])
			}
		}
	}
	return k
}

// gradient returns the slope of a field given at the nodes of an element.
func (q *quadMesh) gradient(el int, s *shape, field []float64) (g Vec2) {
	for i, n := range q.el[el] {
		v := field[n]
		g.X += v * s.grad[i].X
		g.Y += v * s.grad[i].Y
	}
	return g
}

// square returns the squared length.
func (a Vec2) square() float64 { return a.Dot(a) }

// relativeGap returns the half of the gap between two bounds over their mean.
func relativeGap(low, high float64) float64 { return math.Abs(high-low) / (high + low) }
