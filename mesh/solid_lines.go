package mesh

import "math"

// An edge of a machined bar lies where two planes meet, so the edges are found line by
// line: the stretch that both faces reach, less what the other tools take away. Both faces take the
// edge from that one computation, and a vertex is named by its three planes, whichever
// of its three lines found it. That closes the solid by construction.

// line is where two planes meet; it runs along n_p × n_q.
type line struct {
	p, q  int32
	x     [3]float64 // a point on it
	dir   [3]float64 // of unit length
	skew  float64    // 1/sin of the angle between the planes
	along [3]int64   // n_p × n_q
}

// cut is the place where a line meets a plane, at the distance t from the line's x.
type cut struct {
	plane  int32
	t, err float64 // err bounds the rounding of t
}

// stretch is a piece of a line.
type stretch struct{ a, b cut }

// edge is a directed edge of a face, by its vertices: the face lies on its left, seen from outside.
type edge struct{ face, a, b int32 }

// line sets l to where two planes meet; it returns false where they are parallel.
func (e *engine) line(l *line, p, q int32) bool {
	a, b := &e.planes[p], &e.planes[q]
	l.p, l.q = p, q
	l.along = [3]int64{
		a.n[1]*b.n[2] - a.n[2]*b.n[1],
		a.n[2]*b.n[0] - a.n[0]*b.n[2],
		a.n[0]*b.n[1] - a.n[1]*b.n[0],
	}
	if l.along == [3]int64{} {
		return false
	}
	d := [3]float64{float64(l.along[0]), float64(l.along[1]), float64(l.along[2])}
	dd := dot3(d, d)
	length := math.Sqrt(dd)
	u, v := cross3(b.f, d), cross3(d, a.f)
	for i := range d {
		l.x[i] = (float64(a.fd*u[i]) + float64(b.fd*v[i])) / dd
		l.dir[i] = d[i] / length
	}
	l.skew = a.size * b.size / length
	return true
}

// upright sets l to the line of a corner of the section, running along +z.
func (e *engine) upright(l *line, i int32) {
	p, q := e.prev[i], i
	a, b := &e.planes[p], &e.planes[q]
	z := a.n[0]*b.n[1] - a.n[1]*b.n[0]
	if z < 0 {
		p, q, z = q, p, -z
	}
	*l = line{p: p, q: q, skew: 1, along: [3]int64{0, 0, z}, dir: [3]float64{0, 0, 1}}
	l.x = [3]float64{float64(e.corner[i][0]), float64(e.corner[i][1]), 0}
}

// Bounds of rounding, in parts of the coordinates' size; about eight times what the arithmetic can lose.
const (
	pointError = 1e-14
	slopeError = 4e-15
	flat       = 1e-11 // a smaller cosine between line and plane is left to the integers
)

// cut returns where the line meets a plane, and whether the line leaves (1), enters (-1) or follows (0) its body there.
func (e *engine) cut(l *line, r int32) (cut, int) {
	p := &e.planes[r]
	c := float64(p.f[0]*l.dir[0]) + float64(p.f[1]*l.dir[1]) + float64(p.f[2]*l.dir[2])
	way := 1
	if c < 0 {
		way = -1
	}
	if math.Abs(c) <= flat*l.skew*p.size {
		way = det(&e.planes[l.p].n, &e.planes[l.q].n, &p.n).sign()
		if way == 0 {
			return cut{}, 0
		}
		if c == 0 {
			return cut{r, 0, math.Inf(1)}, way
		}
	}
	t := (p.fd - dot3(p.f, l.x)) / c
	return cut{r, t, l.skew * p.size / math.Abs(c) * (pointError*e.reach + slopeError*math.Abs(t))}, way
}

// compare orders two cuts of a line.
func (e *engine) compare(l *line, a, b *cut) int {
	if a.plane == b.plane {
		return 0
	}
	if d := a.t - b.t; math.Abs(d) > a.err+b.err {
		return sign(d)
	}
	p, q, r, s := &e.planes[l.p], &e.planes[l.q], &e.planes[a.plane], &e.planes[b.plane]
	v := fourth(p, q, r, s)
	if v == 0 {
		return 0
	}
	return v * det(&p.n, &q.n, &r.n).sign() * det(&p.n, &q.n, &s.n).sign()
}

// outside tells whether a line lies outside a plane that it runs parallel to. The cut is any place on the line.
func (e *engine) outside(l *line, at *cut, s int32) bool {
	p := &e.planes[s]
	if d := (dot3(p.f, l.x) - p.fd) / p.size; math.Abs(d) > l.skew*pointError*e.reach {
		return d > 0
	}
	r := &e.planes[at.plane]
	a, b := &e.planes[l.p], &e.planes[l.q]
	return fourth(a, b, r, p)*det(&a.n, &b.n, &r.n).sign() > 0
}

// clip shortens a stretch to what lies inside a tool and returns false where nothing does.
func (e *engine) clip(l *line, t *tool, s *stretch) bool {
	for r := t.first; r < t.last; r++ {
		if !e.clipPlane(l, r, s) {
			return false
		}
	}
	return true
}

// clipFace shortens a stretch of a line in the plane r of a tool to the face that the tool has there. Only
// the faces next to it can bound it.
func (e *engine) clipFace(l *line, t *tool, r int32, s *stretch) bool {
	if r-t.first >= t.sides {
		return e.clipBut(l, t.first, t.first+t.sides, s)
	}
	if t.sides > 0 {
		k := r - t.first
		before, after := t.first+(k+t.sides-1)%t.sides, t.first+(k+1)%t.sides
		if !e.clipBut(l, before, before+1, s) || !e.clipBut(l, after, after+1, s) {
			return false
		}
	}
	return e.clipBut(l, t.first+t.sides, t.last, s)
}

// clipBut clips to planes, but for those that the line lies in.
func (e *engine) clipBut(l *line, first, last int32, s *stretch) bool {
	for r := first; r < last; r++ {
		if r != l.p && r != l.q && !e.clipPlane(l, r, s) {
			return false
		}
	}
	return true
}

// clipPlane shortens a stretch to what lies inside a plane and returns false where nothing does.
func (e *engine) clipPlane(l *line, r int32, s *stretch) bool {
	c, way := e.cut(l, r)
	switch {
	case way == 0:
		return !e.outside(l, &s.a, r)
	case way > 0:
		if e.compare(l, &c, &s.b) >= 0 {
			return true
		}
		s.b = c
	default:
		if e.compare(l, &c, &s.a) <= 0 {
			return true
		}
		s.a = c
	}
	return e.compare(l, &s.a, &s.b) < 0
}

// near tells whether a stretch comes near a box.
func (l *line) near(s *stretch, b *bounds) bool {
	slack := 1 + math.Max(s.a.err, s.b.err)
	for i := range 3 {
		u, v := l.x[i]+l.dir[i]*s.a.t, l.x[i]+l.dir[i]*s.b.t
		if u > v {
			u, v = v, u
		}
		if u > b.high[i]+slack || v < b.low[i]-slack {
			return false
		}
	}
	return true
}

// cutAway takes from the stretches what lies inside some tools, but for one that owns the line.
func (e *engine) cutAway(l *line, list []stretch, tools []int, own int) []stretch {
	for _, j := range tools {
		if len(list) == 0 {
			return list
		}
		if j == own {
			continue
		}
		t := &e.tools[j]
		whole := stretch{list[0].a, list[len(list)-1].b}
		if l.near(&whole, &t.box) && e.clip(l, t, &whole) {
			list = e.remove(l, list, &whole)
		}
	}
	return list
}

// remove takes the stretch r from the list, which is in order along the line.
func (e *engine) remove(l *line, list []stretch, r *stretch) []stretch {
	out := e.spare[:0]
	for i := range list {
		s := &list[i]
		if e.compare(l, &r.b, &s.a) <= 0 || e.compare(l, &r.a, &s.b) >= 0 {
			out = append(out, *s)
			continue
		}
		if e.compare(l, &s.a, &r.a) < 0 {
			out = append(out, stretch{s.a, r.a})
		}
		if e.compare(l, &r.b, &s.b) < 0 {
			out = append(out, stretch{r.b, s.b})
		}
	}
	e.spare, e.list = list, out
	return out
}

// material returns the pieces of a stretch that lie inside the section.
func (e *engine) material(l *line, s stretch) []stretch {
	if l.along[0] == 0 && l.along[1] == 0 {
		return e.upMaterial(l, s)
	}
	e.sides(l)
	list := e.crossings[:0]
	for i, k := range e.next {
		if e.side[i] != e.side[k] {
			c, _ := e.cut(l, int32(i))
			list = append(list, c)
			for j := len(list) - 1; j > 0 && e.compare(l, &list[j], &list[j-1]) < 0; j-- {
				list[j], list[j-1] = list[j-1], list[j]
			}
		}
	}
	e.crossings = list
	out := e.list[:0]
	for i := 0; i+1 < len(list); i += 2 {
		a, b := list[i], list[i+1]
		if e.compare(l, &a, &s.a) < 0 {
			a = s.a
		}
		if e.compare(l, &b, &s.b) > 0 {
			b = s.b
		}
		if e.compare(l, &a, &b) < 0 {
			out = append(out, stretch{a, b})
		}
	}
	e.list = out
	return out
}

// upMaterial is material for a line along the bar: all or nothing, as its point in the
// section lies inside or not. It is looked up on the line of its first plane in a cross section.
func (e *engine) upMaterial(l *line, s stretch) []stretch {
	var m line
	e.line(&m, l.p, e.level)
	at, _ := e.cut(&m, l.q)
	whole := e.throughBox(&m)
	inside := false
	for _, w := range e.material(&m, whole) {
		if e.compare(&m, &w.a, &at) < 0 && e.compare(&m, &at, &w.b) < 0 {
			inside = true
		}
	}
	out := e.list[:0]
	if inside {
		out = append(out, s)
	}
	e.list = out
	return out
}

// sides finds on which side of the line, seen along z, each corner of the section lies.
func (e *engine) sides(l *line) {
	p, q := &e.planes[l.p], &e.planes[l.q]
	pz, qz := p.n[2], q.n[2]
	mx, my := qz*p.n[0]-pz*q.n[0], qz*p.n[1]-pz*q.n[1]
	fx, fy := float64(mx), float64(my)
	d1, d2 := float64(qz)*p.fd, float64(pz)*q.fd
	fd := d1 - d2
	base := math.Abs(d1) + math.Abs(d2)
	for i, c := range e.corner {
		x, y := fx*float64(c[0]), fy*float64(c[1])
		v := x + y - fd
		if math.Abs(v) > 1e-15*(math.Abs(x)+math.Abs(y)+base) {
			e.side[i] = v > 0
			continue
		}
		w := product(mx, c[0]).plus(product(my, c[1])).minus(product(1, p.d).times(qz)).plus(product(1, q.d).times(pz))
		k := w.sign()
		if k == 0 {
			k = shifted(p.rank, -sign(qz), q.rank, sign(pz))
		}
		e.side[i] = k > 0
	}
}

// shifted returns the sign that counts when planes of two ranks shift: the lower rank's unless it is 0.
func shifted(rankA int32, a int, rankB int32, b int) int {
	if rankA == 0 || a == 0 {
		if rankB == 0 {
			return 0
		}
		return b
	}
	if rankB == 0 || b == 0 || rankA < rankB {
		return a
	}
	return b
}

// throughBox returns the stretch of a line between two opposite planes of the box round everything.
func (e *engine) throughBox(l *line) stretch {
	axis := 0
	for i := 1; i < 3; i++ {
		if math.Abs(l.dir[i]) > math.Abs(l.dir[axis]) {
			axis = i
		}
	}
	lo, hi := e.limit+int32(2*axis), e.limit+int32(2*axis)+1
	if l.dir[axis] < 0 {
		lo, hi = hi, lo
	}
	a, _ := e.cut(l, lo)
	b, _ := e.cut(l, hi)
	return stretch{a, b}
}
