package geom

import "math"

// The refinement follows Ruppert, "A Delaunay refinement algorithm for quality 2-dimensional mesh
// generation" (J. Algorithms 18, 1995): pieces of the outline with a corner inside their circle are halved, bad triangles
// get a corner at the middle of their circle. Floors on length and number end it on any input.

// refiner cuts a region into good triangles.
type refiner struct {
	*trimesh
	floor    float64 // pieces and edges shorter than this are left alone, mm
	limit    int     // most corners
	size     func(Vec2) float64
	segs     []int32
	bad      []badTriangle
	enforced bool // the outline is in place: outside and inside are known
}

// badTriangle is a triangle that was found bad; it is gone where its corners changed.
type badTriangle struct {
	t int32
	v [3]int32
}

// quality is the largest allowed ratio of the circle's radius to the shortest edge: no angle under about 25°.
const quality = 1.18

// meshRegion triangulates a region. Arcs are split so that no piece turns more than turn, and small convex
// ones into twice that. size gives the longest edge wanted at a place. Triangles outside the material are kept, marked.
func meshRegion(r Region, turn float64, size func(Vec2) float64, limit int) (*refiner, error) {
	low, high := r.bounds()
	span := high.Sub(low).Len()
	m := &refiner{trimesh: newTrimesh(low, high), floor: span * 1e-5, limit: limit, size: size}
	for i, l := range r {
		if !m.addLoop(l, int32(i), turn, span) {
			return nil, errMesh
		}
	}
	for len(m.segs) > 0 {
		s := m.segs[len(m.segs)-1]
		m.segs = m.segs[:len(m.segs)-1]
		if !m.enforce(s) {
			return nil, errMesh
		}
	}
	m.flood()
	m.enforced = true
	for i := range m.pieces {
		m.segs = append(m.segs, int32(i))
	}
	for t := range m.tri {
		m.judge(int32(t))
	}
	m.refine()
	return m, nil
}

// smallArc is the share of the section's size under which a convex arc counts as a mere rounding.
const smallArc = 0.08

// addLoop adds the corners of a loop and queues its pieces.
func (m *refiner) addLoop(l Loop, loop int32, turn, span float64) bool {
	var ids []int32
	var edges []*Edge
	for i := range l {
		e := &l[i]
		pts := []Vec2{e.From}
		if e.Turn != 0 {
			step := turn
			if e.Turn > 0 && e.Radius < smallArc*span {
				step *= 2
			}
			n := max(1, int(math.Ceil(math.Abs(e.Sweep())/step-1e-9)))
			for k := 1; k < n; k++ {
				pts = append(pts, e.along(float64(k)/float64(n)))
			}
		}
		for _, p := range pts {
			id := m.addPoint(p)
			if id < 0 {
				return false
			}
			ids = append(ids, id)
			if e.Turn == 0 {
				edges = append(edges, nil)
			} else {
				edges = append(edges, e)
			}
		}
	}
	for i, a := range ids {
		b := ids[(i+1)%len(ids)]
		if a == b {
			return false
		}
		m.pieces = append(m.pieces, piece{a, b, loop, edges[i]})
		m.segs = append(m.segs, int32(len(m.pieces)-1))
	}
	return true
}

// along returns the point at a share of the way along the edge.
func (e *Edge) along(share float64) Vec2 {
	if e.Turn == 0 {
		return e.From.Add(e.To.Sub(e.From).Scale(share))
	}
	a := e.From.Sub(e.Centre)
	s, c := math.Sincos(e.Sweep() * share)
	return e.Centre.Add(Vec2{float64(a.X*c) - float64(a.Y*s), float64(a.X*s) + float64(a.Y*c)})
}

// addPoint inserts a point of the outline, or returns the corner that is there already.
func (m *refiner) addPoint(p Vec2) int32 {
	t, edge, _ := m.locate(p, m.last, false)
	if t < 0 {
		return -1
	}
	for _, v := range m.tri[t].v {
		if m.at[v] == p {
			return v
		}
	}
	if edge >= 0 && m.tri[t].seg[edge] >= 0 {
		return -1
	}
	k := m.insert(p, t, edge)
	if k >= 0 {
		m.last = m.of[k]
	}
	return k
}

// enforce makes a piece an edge of the triangulation, halving it until it is.
func (m *refiner) enforce(s int32) bool {
	pc := m.pieces[s]
	if t, e := m.find(pc.a, pc.b); t >= 0 {
		m.setSeg(t, e, s)
		return true
	}
	if len(m.at) > m.limit {
		return false
	}
	p := m.middle(pc)
	k := m.addPoint(p)
	if k < 0 || k == pc.a || k == pc.b {
		return false
	}
	m.halve(s, k)
	m.segs = append(m.segs, s, int32(len(m.pieces)-1))
	return true
}

// setSeg marks both sides of an edge.
func (m *refiner) setSeg(t int32, e int, s int32) {
	m.tri[t].seg[e] = s
	if u := m.tri[t].n[e]; u >= 0 {
		m.tri[u].seg[m.edgeTo(u, t)] = s
	}
}

// halve makes two pieces of one at the corner k.
func (m *refiner) halve(s, k int32) {
	pc := m.pieces[s]
	m.pieces[s].b = k
	m.pieces = append(m.pieces, piece{k, pc.b, pc.loop, pc.edge})
}

// middle returns the middle of a piece, on its arc.
func (m *refiner) middle(pc piece) Vec2 {
	mid := m.at[pc.a].Add(m.at[pc.b]).Scale(0.5)
	if pc.edge == nil {
		return mid
	}
	d := mid.Sub(pc.edge.Centre)
	return pc.edge.Centre.Add(d.Scale(pc.edge.Radius / d.Len()))
}

// flood marks the triangles in the material: those reached from the left of a piece without crossing another.
func (m *refiner) flood() {
	var stack []int32
	for s := range m.pieces {
		if t, _ := m.find(m.pieces[s].a, m.pieces[s].b); t >= 0 && !m.tri[t].inside {
			m.tri[t].inside = true
			stack = append(stack, t)
		}
	}
	for len(stack) > 0 {
		t := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		for i, n := range m.tri[t].n {
			if n >= 0 && m.tri[t].seg[i] < 0 && !m.tri[n].inside {
				m.tri[n].inside = true
				stack = append(stack, n)
			}
		}
	}
}

// refine works off the queues.
func (m *refiner) refine() {
	for len(m.at) < m.limit {
		if n := len(m.segs); n > 0 {
			s := m.segs[n-1]
			m.segs = m.segs[:n-1]
			if m.encroached(s) {
				m.split(s)
			}
			continue
		}
		n := len(m.bad)
		if n == 0 {
			return
		}
		b := m.bad[n-1]
		m.bad = m.bad[:n-1]
		if m.tri[b.t].v == b.v {
			m.improve(b)
		}
	}
	m.segs, m.bad = m.segs[:0], m.bad[:0]
}

// encroached reports whether a corner of the material looks at the piece under more than a right
// angle, or the piece is longer than wanted.
func (m *refiner) encroached(s int32) bool {
	pc := m.pieces[s]
	t, e := m.find(pc.a, pc.b)
	if t < 0 {
		return false
	}
	a, b := m.at[pc.a], m.at[pc.b]
	p := m.at[m.tri[t].v[e]]
	l := a.Dist(b)
	if l < 2*m.floor {
		return false
	}
	return a.Sub(p).Dot(b.Sub(p)) < 0 || l > 1.5*m.size(a.Add(b).Scale(0.5))
}

// split halves a piece.
func (m *refiner) split(s int32) bool {
	pc := m.pieces[s]
	t, e := m.find(pc.a, pc.b)
	if t < 0 || m.at[pc.a].Dist(m.at[pc.b]) < 2*m.floor {
		return false
	}
	k := m.insert(m.middle(pc), t, e)
	if k < 0 && pc.edge != nil { // the arc bulges over a corner: stay on the chord
		m.pieces[s].edge = nil
		k = m.insert(m.middle(m.pieces[s]), t, e)
	}
	if k < 0 {
		return false
	}
	m.halve(s, k)
	second := int32(len(m.pieces) - 1)
	if t, e := m.find(pc.a, k); t >= 0 {
		m.setSeg(t, e, s)
	}
	if t, e := m.find(k, pc.b); t >= 0 {
		m.setSeg(t, e, second)
	}
	m.segs = append(m.segs, s, second)
	m.review()
	return true
}

// review queues what the last insertion may have spoilt.
func (m *refiner) review() {
	for _, t := range m.grown {
		for _, s := range m.tri[t].seg {
			if s >= 0 && m.tri[t].inside && m.encroached(s) {
				m.segs = append(m.segs, s)
			}
		}
		m.judge(t)
	}
}

// judge queues the triangle if it is bad.
func (m *refiner) judge(t int32) {
	tr := &m.tri[t]
	if !tr.inside {
		return
	}
	a, b, c := m.at[tr.v[0]], m.at[tr.v[1]], m.at[tr.v[2]]
	x, y, z := a.Dist(b), b.Dist(c), c.Dist(a)
	short, long := math.Min(x, math.Min(y, z)), math.Max(x, math.Max(y, z))
	if short < m.floor {
		return
	}
	area := b.Sub(a).Cross(c.Sub(a)) / 2
	if x*y*z > 4*area*quality*short || long > m.size(a.Add(b).Add(c).Scale(1.0/3)) {
		m.bad = append(m.bad, badTriangle{t, tr.v})
	}
}

// improve puts a corner at the middle of a bad triangle's circle, or halves the pieces that stand in the way.
func (m *refiner) improve(b badTriangle) {
	p := circumcentre(m.at[b.v[0]], m.at[b.v[1]], m.at[b.v[2]])
	t, edge, hit := m.locate(p, b.t, true)
	if hit >= 0 {
		if m.split(hit) {
			m.bad = append(m.bad, b)
		}
		return
	}
	if t < 0 || !m.tri[t].inside {
		return
	}
	if in := m.inWay(p, t); len(in) > 0 {
		again := false
		for _, s := range in {
			again = m.split(s) || again
		}
		if again {
			m.bad = append(m.bad, b)
		}
		return
	}
	for _, v := range m.tri[t].v {
		if m.at[v].Dist(p) < m.floor {
			return
		}
	}
	if m.insert(p, t, edge) >= 0 {
		m.review()
	}
}

// inWay returns the pieces round the cavity of p (the triangles whose circle holds it) that p would look at under more
// than a right angle.
func (m *refiner) inWay(p Vec2, t int32) []int32 {
	var out []int32
	seen := []int32{t}
	for k := 0; k < len(seen); k++ {
		tr := &m.tri[seen[k]]
		for i := range 3 {
			a, b := tr.v[next(i)], tr.v[prev(i)]
			if s := tr.seg[i]; s >= 0 {
				if m.at[a].Sub(p).Dot(m.at[b].Sub(p)) < 0 {
					out = append(out, s)
				}
				continue
			}
			u := tr.n[i]
			if u < 0 || has(seen, u) {
				continue
			}
			v := m.tri[u].v
			if inCircle(m.at[v[0]], m.at[v[1]], m.at[v[2]], p) {
				seen = append(seen, u)
			}
		}
	}
	return out
}

func has(list []int32, v int32) bool {
	for _, x := range list {
		if x == v {
			return true
		}
	}
	return false
}

// circumcentre returns the middle of the circle through three points.
func circumcentre(a, b, c Vec2) Vec2 {
	u, v := b.Sub(a), c.Sub(a)
	d := 2 * u.Cross(v)
	uu, vv := u.Dot(u), v.Dot(v)
	return a.Add(Vec2{(float64(v.Y*uu) - float64(u.Y*vv)) / d, (float64(u.X*vv) - float64(v.X*uu)) / d})
}
