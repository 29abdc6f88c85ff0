package drawing

import (
	"math"

	"barwright/geom"
)

// quad is a convex quadrilateral, such as the box of a turned text.
type quad [4]geom.Vec2

// grown returns the quad of a text with every side moved outward by d.
func (q quad) grown(d float64) quad {
	u := q[1].Sub(q[0])
	v := q[3].Sub(q[0])
	if l := u.Len(); l > 0 {
		u = u.Scale(d / l)
	}
	if l := v.Len(); l > 0 {
		v = v.Scale(d / l)
	}
	return quad{q[0].Sub(u).Sub(v), q[1].Add(u).Sub(v), q[2].Add(u).Add(v), q[3].Sub(u).Add(v)}
}

// span returns the interval that points cover along an axis.
func span2(axis geom.Vec2, pts []geom.Vec2) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, p := range pts {
		d := p.Dot(axis)
		lo, hi = math.Min(lo, d), math.Max(hi, d)
	}
	return lo, hi
}

// apart reports whether an axis separates two sets of points.
func apart(axis geom.Vec2, a, b []geom.Vec2) bool {
	al, ah := span2(axis, a)
	bl, bh := span2(axis, b)
	const slack = 1e-9
	return ah <= bl+slack || bh <= al+slack
}

// overlaps reports whether two quads share an area (separating axes).
func (q quad) overlaps(r quad) bool {
	for _, s := range [2]quad{q, r} {
		if apart(s[1].Sub(s[0]), q[:], r[:]) || apart(s[3].Sub(s[0]), q[:], r[:]) {
			return false
		}
	}
	return true
}

// hit reports whether a segment passes through the quad.
func (q quad) hit(a, b geom.Vec2) bool {
	seg := []geom.Vec2{a, b}
	d := b.Sub(a)
	return !apart(q[1].Sub(q[0]), q[:], seg) && !apart(q[3].Sub(q[0]), q[:], seg) &&
		!apart(geom.Vec2{X: -d.Y, Y: d.X}, q[:], seg)
}

// segment is a piece of a drawn line.
type segment struct {
	a, b geom.Vec2
	role Role
	op   int  // index of its operation
	arc  bool // a chord of a curve
}

// cross reports whether two segments cross in the inside of both.
func cross(a, b, c, d geom.Vec2) bool {
	const slack = 1e-9
	s1, s2 := b.Sub(a).Cross(c.Sub(a)), b.Sub(a).Cross(d.Sub(a))
	s3, s4 := d.Sub(c).Cross(a.Sub(c)), d.Sub(c).Cross(b.Sub(c))
	return s1*s2 < -slack && s3*s4 < -slack
}

// nearSegment reports whether a point lies nearer to a segment than a distance. Item references ask it most often, so
// that it spares roots and divisions.
func nearSegment(p, a, b geom.Vec2, distance float64) bool {
	dx, dy, qx, qy := b.X-a.X, b.Y-a.Y, p.X-a.X, p.Y-a.Y
	l, t := dx*dx+dy*dy, qx*dx+qy*dy
	switch {
	case t <= 0:
		return qx*qx+qy*qy < distance*distance
	case t >= l:
		qx, qy = qx-dx, qy-dy
		return qx*qx+qy*qy < distance*distance
	}
	c := qx*dy - qy*dx
	return c*c < distance*distance*l
}

// arcPieces is how many chords stand for a full circle when looking for clashes.
const arcPieces = 32

// segments returns the lines of an operation as segments, curves as chords; none for a text.
func segments(op Op, index int) []segment {
	var out []segment
	switch op := op.(type) {
	case *Stroke:
		for i := 1; i < len(op.Points); i++ {
			out = append(out, segment{op.Points[i-1], op.Points[i], op.Role, index, false})
		}
		if n := len(op.Points); op.Closed && n > 2 {
			out = append(out, segment{op.Points[n-1], op.Points[0], op.Role, index, false})
		}
	case *Arc:
		n := max(4, int(math.Ceil(arcPieces*op.Sweep/(2*math.Pi))))
		last := op.point(op.Start)
		for i := 1; i <= n; i++ {
			next := op.point(op.Start + op.Sweep*float64(i)/float64(n))
			out = append(out, segment{last, next, op.Role, index, true})
			last = next
		}
	}
	return out
}

// scene is what lies on the paper, for asking whether more fits.
type scene struct {
	texts []quad
	lines []segment
}

// add takes in operations.
func (s *scene) add(ops ...Op) {
	for _, op := range ops {
		if t, ok := op.(*Text); ok {
			s.texts = append(s.texts, quad(t.Corners()))
			continue
		}
		s.lines = append(s.lines, segments(op, 0)...)
	}
}

// Clear distances on the paper in mm.
const (
	textGap = 1.0 // between two texts
	lineGap = 0.5 // between a text and a line
)

// fits reports whether a text would stand clear.
func (s *scene) fits(t *Text) bool {
	q := quad(t.Corners())
	wide, near := q.grown(textGap), q.grown(lineGap)
	for _, o := range s.texts {
		if wide.overlaps(o) {
			return false
		}
	}
	low, high := boundsOf(near[:])
	for _, l := range s.lines {
		if math.Max(l.a.X, l.b.X) < low.X || math.Min(l.a.X, l.b.X) > high.X ||
			math.Max(l.a.Y, l.b.Y) < low.Y || math.Min(l.a.Y, l.b.Y) > high.Y {
			continue
		}
		if near.hit(l.a, l.b) {
			return false
		}
	}
	return true
}

// clear reports whether a line from a to b keeps off all texts and crosses no line of the given roles.
func (s *scene) clear(a, b geom.Vec2, roles ...Role) bool {
	for _, o := range s.texts {
		if o.grown(lineGap).hit(a, b) {
			return false
		}
	}
	for _, l := range s.lines {
		for _, r := range roles {
			if l.role == r && cross(a, b, l.a, l.b) {
				return false
			}
		}
	}
	return true
}

// move shifts operations by v.
func move(ops []Op, v geom.Vec2) {
	for _, op := range ops {
		switch op := op.(type) {
		case *Stroke:
			for i := range op.Points {
				op.Points[i] = op.Points[i].Add(v)
			}
		case *Arc:
			op.Centre = op.Centre.Add(v)
		case *Text:
			op.At = op.At.Add(v)
		}
	}
}

// boundsOfOps returns the box round operations.
func boundsOfOps(ops []Op) (low, high geom.Vec2) {
	var pts []geom.Vec2
	for _, op := range ops {
		l, h := op.Bounds()
		pts = append(pts, l, h)
	}
	return boundsOf(pts)
}
