package geom

import "errors"

// errMesh says that a section could not be cut into triangles: its loops cross or touch.
var errMesh = errors.New("the outline of the section crosses or touches itself")

// triangle is one triangle of a trimesh. Edge i lies opposite corner i.
type triangle struct {
	v      [3]int32 // corners, counter-clockwise
	n      [3]int32 // neighbour over each edge, -1 none
	seg    [3]int32 // piece of the outline on each edge, -1 none
	inside bool     // lies in the material
}

// piece is a part of the outline between two corners of the mesh, material on its left.
type piece struct {
	a, b int32
	loop int32
	edge *Edge // the arc that it is part of; nil for a straight one
}

// trimesh is a Delaunay triangulation of a box round a section, in which the pieces of the outline
// are edges.
type trimesh struct {
	at     []Vec2
	of     []int32 // a triangle at each corner
	tri    []triangle
	pieces []piece
	last   int32 // where the next walk starts
	flips  []int32
	grown  []int32 // triangles changed by the last insertion
}

// boxCorners is how many corners the box round the section takes.
const boxCorners = 4

// newTrimesh returns the two triangles of a box well outside the given bounds.
func newTrimesh(low, high Vec2) *trimesh {
	d := high.Sub(low).Len()
	l, h := low.Sub(Vec2{2 * d, 2 * d}), high.Add(Vec2{2 * d, 2 * d})
	return &trimesh{
		at: []Vec2{l, {h.X, l.Y}, h, {l.X, h.Y}},
		of: []int32{0, 0, 0, 1},
		tri: []triangle{
			{v: [3]int32{0, 1, 2}, n: [3]int32{-1, 1, -1}, seg: [3]int32{-1, -1, -1}},
			{v: [3]int32{0, 2, 3}, n: [3]int32{-1, -1, 0}, seg: [3]int32{-1, -1, -1}},
		},
	}
}

// next and prev give the corner or edge after and before i.
func next(i int) int { return (i + 1) % 3 }
func prev(i int) int { return (i + 2) % 3 }

// edgeTo returns the edge of t whose neighbour is u.
func (m *trimesh) edgeTo(t, u int32) int {
	for i, n := range m.tri[t].n {
		if n == u {
			return i
		}
	}
	return -1
}

// locate walks from a triangle toward p. It returns the triangle that holds p and the edge on which p lies, or -1
// for the inside. With stop set the walk ends before a piece of the outline and returns that piece.
func (m *trimesh) locate(p Vec2, from int32, stop bool) (t int32, edge int, hit int32) {
	t = from
	for range 4*len(m.tri) + 16 {
		tr := &m.tri[t]
		on, moved := -1, false
		for i := range 3 {
			o := orient(m.at[tr.v[next(i)]], m.at[tr.v[prev(i)]], p)
			if o > 0 {
				continue
			}
			if o == 0 {
				on = i
				continue
			}
			if stop && tr.seg[i] >= 0 {
				return t, -1, tr.seg[i]
			}
			if tr.n[i] < 0 {
				return -1, -1, -1
			}
			t, moved = tr.n[i], true
			break
		}
		if !moved {
			return t, on, -1
		}
	}
	return -1, -1, -1
}

// insert adds p to the triangle t (on its edge, if edge is not -1), restores Delaunay, and returns the new corner; or
// -1 where p cannot be added without turning a triangle over.
func (m *trimesh) insert(p Vec2, t int32, edge int) int32 {
	if edge < 0 {
		return m.splitTriangle(p, t)
	}
	return m.splitEdge(p, t, edge)
}

func (m *trimesh) splitTriangle(p Vec2, t int32) int32 {
	k := int32(len(m.at))
	m.at, m.of = append(m.at, p), append(m.of, t)
	old := m.tri[t]
	ids := [3]int32{t, int32(len(m.tri)), int32(len(m.tri)) + 1}
	m.tri = append(m.tri, triangle{}, triangle{})
	for i := range 3 {
		// The new triangle on edge i of the old one; its corner 0 is the new point.
		m.tri[ids[i]] = triangle{
			v:      [3]int32{k, old.v[next(i)], old.v[prev(i)]},
			n:      [3]int32{old.n[i], ids[next(i)], ids[prev(i)]},
			seg:    [3]int32{old.seg[i], -1, -1},
			inside: old.inside,
		}
		if n := old.n[i]; n >= 0 {
			m.tri[n].n[m.edgeTo(n, t)] = ids[i]
		}
	}
	for i := range 3 {
		m.of[old.v[next(i)]] = ids[i]
	}
	m.legalise(ids[:])
	return k
}

// splitEdge puts p on an edge of t. A piece of the outline on that edge stays marked on both halves.
func (m *trimesh) splitEdge(p Vec2, t int32, e int) int32 {
	u := m.tri[t].n[e]
	if u < 0 {
		return -1
	}
	f := m.edgeTo(u, t)
	a, b := m.tri[t].v[next(e)], m.tri[t].v[prev(e)] // the edge runs a to b in t
	c, d := m.tri[t].v[e], m.tri[u].v[f]
	for _, q := range [4][2]int32{{b, c}, {c, a}, {a, d}, {d, b}} {
		if orient(m.at[q[0]], m.at[q[1]], p) <= 0 {
			return -1
		}
	}
	k := int32(len(m.at))
	m.at, m.of = append(m.at, p), append(m.of, t)
	ot, ou := m.tri[t], m.tri[u]
	seg := ot.seg[e]
	t2, u2 := int32(len(m.tri)), int32(len(m.tri))+1
	m.tri = append(m.tri, triangle{}, triangle{})
	// Corner 0 of each is p: t holds b c, t2 holds c a, u holds a d, u2 holds d b.
	set := func(id int32, x, y, out, outSeg, left, leftSeg, right, rightSeg, was int32, inside bool) {
		m.tri[id] = triangle{v: [3]int32{k, x, y}, n: [3]int32{out, left, right}, seg: [3]int32{outSeg, leftSeg, rightSeg}, inside: inside}
		if out >= 0 {
			m.tri[out].n[m.edgeTo(out, was)] = id
		}
	}
	bc, ca, ad, db := next(e), prev(e), next(f), prev(f)
	set(t, b, c, ot.n[bc], ot.seg[bc], t2, -1, u2, seg, t, ot.inside)
	set(t2, c, a, ot.n[ca], ot.seg[ca], u, seg, t, -1, t, ot.inside)
	set(u, a, d, ou.n[ad], ou.seg[ad], u2, -1, t2, seg, u, ou.inside)
	set(u2, d, b, ou.n[db], ou.seg[db], t, seg, u, -1, u, ou.inside)
	m.of[a], m.of[b], m.of[c], m.of[d] = t2, t, t, u
	m.legalise([]int32{t, t2, u, u2})
	return k
}

// legalise turns edges (Lawson 1977) until every triangle round the new point, corner 0 of each in around, has an
// empty circle. Pieces of the outline stay.
func (m *trimesh) legalise(around []int32) {
	m.grown = append(m.grown[:0], around...)
	m.flips = append(m.flips[:0], around...)
	for len(m.flips) > 0 {
		t := m.flips[len(m.flips)-1]
		m.flips = m.flips[:len(m.flips)-1]
		tr := &m.tri[t]
		u := tr.n[0]
		if u < 0 || tr.seg[0] >= 0 {
			continue
		}
		f := m.edgeTo(u, t)
		p, a, b, d := tr.v[0], tr.v[1], tr.v[2], m.tri[u].v[f]
		if !inCircle(m.at[p], m.at[a], m.at[b], m.at[d]) ||
			orient(m.at[p], m.at[a], m.at[d]) <= 0 || orient(m.at[p], m.at[d], m.at[b]) <= 0 {
			continue
		}
		ut := m.tri[u]
		ad, db := next(f), prev(f) // in u the edge runs b to a; opposite b is a d, opposite a is d b
		if ut.v[next(f)] != b {
			continue
		}
		old := *tr
		m.tri[t] = triangle{v: [3]int32{p, a, d}, n: [3]int32{ut.n[ad], u, old.n[2]}, seg: [3]int32{ut.seg[ad], -1, old.seg[2]}, inside: old.inside}
		m.tri[u] = triangle{v: [3]int32{p, d, b}, n: [3]int32{ut.n[db], old.n[1], t}, seg: [3]int32{ut.seg[db], old.seg[1], -1}, inside: old.inside}
		if n := ut.n[ad]; n >= 0 {
			m.tri[n].n[m.edgeTo(n, u)] = t
		}
		if n := old.n[1]; n >= 0 {
			m.tri[n].n[m.edgeTo(n, t)] = u
		}
		m.of[p], m.of[a], m.of[d], m.of[b] = t, t, t, u
		m.grown = append(m.grown, u)
		m.flips = append(m.flips, t, u)
	}
}

// find returns the triangle and edge that run from corner a to b, or -1 where there is no such edge.
func (m *trimesh) find(a, b int32) (int32, int) {
	start := m.of[a]
	t := start
	for {
		tr := &m.tri[t]
		i := 0
		for tr.v[i] != a {
			i++
		}
		if tr.v[next(i)] == b {
			return t, prev(i)
		}
		t = tr.n[next(i)] // over the edge from the third corner back to a: counter-clockwise round a
		if t < 0 || t == start {
			return -1, -1
		}
	}
}
