package drawing

import (
	"cmp"
	"slices"

	"barwright/geom"
)

// shader finds the visible stretches of edges in one view. Each worker has its own.
type shader struct {
	seen            []seen
	right, up, into geom.Vec
	dark            []span // scratch: stretches in shadow
	stack           []int32
	body            int     // the body that before belongs to, -1 for none
	before          []int32 // bodies that may hide it, itself first
}

// visible returns the stretches of an edge that no body hides, in order. Gaps and stretches shorter
// than least (mm) are dropped.
func (s *shader) visible(c candidate, least float64) []span {
	flat := geom.Vec2{X: c.b.X - c.a.X, Y: c.b.Y - c.a.Y}.Len()
	if c.dark || flat < 1e-6 {
		return nil
	}
	p, q := s.world(c.a), s.world(c.b)
	s.dark = s.dark[:0]
	low := geom.Vec{X: min(c.a.X, c.b.X), Y: min(c.a.Y, c.b.Y)}
	high := geom.Vec{X: max(c.a.X, c.b.X), Y: max(c.a.Y, c.b.Y), Z: max(c.a.Z, c.b.Z)}
	for _, j := range s.inFront(c.body) {
		b := &s.seen[j]
		if b.low.X > high.X+rimTolerance || b.high.X < low.X-rimTolerance ||
			b.low.Y > high.Y+rimTolerance || b.high.Y < low.Y-rimTolerance || b.low.Z > high.Z {
			continue
		}
		had := len(s.dark)
		s.shadow(c, b, b.place.Unapply(p), b.place.Unapply(q))
		if len(s.dark) > had {
			s.dark = joinSpans(s.dark, least/flat)
			if len(s.dark) == 1 && s.dark[0].from <= least/flat && s.dark[0].to >= 1-least/flat {
				return nil
			}
		}
	}
	return gaps(s.dark, least/flat)
}

// inFront returns the bodies that may hide a body, itself first.
func (s *shader) inFront(body int) []int32 {
	if s.body == body {
		return s.before
	}
	s.body, s.before = body, append(s.before[:0], int32(body))
	a := &s.seen[body]
	for j := range s.seen {
		b := &s.seen[j]
		if j != body && b.low.X <= a.high.X && a.low.X <= b.high.X &&
			b.low.Y <= a.high.Y && a.low.Y <= b.high.Y && b.low.Z < a.high.Z {
			s.before = append(s.before, int32(j))
		}
	}
	return s.before
}

// world returns the point of the frame of a point of the view.
func (s *shader) world(p geom.Vec) geom.Vec {
	return s.right.Scale(p.X).Add(s.up.Scale(p.Y)).Add(s.into.Scale(p.Z))
}

// shadow adds the stretches of an edge that lie behind a body; p and q are its ends in the body's coordinates.
func (s *shader) shadow(c candidate, b *seen, p, q geom.Vec) {
	nodes := b.tree.nodes
	if len(nodes) == 0 {
		return
	}
	cur := newCurtain(p, q, b.viewer)
	s.stack = append(s.stack[:0], 0)
	for len(s.stack) > 0 {
		n := &nodes[s.stack[len(s.stack)-1]]
		s.stack = s.stack[:len(s.stack)-1]
		if !cur.meets(n) {
			continue
		}
		if n.count == 0 {
			s.stack = append(s.stack, n.left, n.left+1)
			continue
		}
		for _, t := range b.tree.order[n.first : n.first+n.count] {
			if b.front[t] {
				s.behind(c, b, t, &cur)
			}
		}
	}
}

// behind adds the stretch of an edge that lies behind one triangle that looks to the viewer. Both the place inside the
// triangle's sides and the distance behind its plane are linear along the edge, so the stretch is exact.
func (s *shader) behind(c candidate, b *seen, t int32, cur *curtain) {
	n := b.normals[t]
	g0 := n.X*cur.p.X + n.Y*cur.p.Y + n.Z*cur.p.Z - b.offsets[t] + behindTolerance
	g1 := n.X*cur.q.X + n.Y*cur.q.Y + n.Z*cur.q.Z - b.offsets[t] + behindTolerance
	from, to, ok := clip(0, 1, -g0, -g1)
	if !ok {
		return
	}
	tri := b.triangles[t]
	p0, p1, p2 := &b.points[tri[0]], &b.points[tri[1]], &b.points[tri[2]]
	for range 3 {
		dx, dy := p1.X-p0.X, p1.Y-p0.Y
		grow := rimTolerance * (abs(dx) + abs(dy))
		f0 := dx*(c.a.Y-p0.Y) - dy*(c.a.X-p0.X) + grow
		f1 := dx*(c.b.Y-p0.Y) - dy*(c.b.X-p0.X) + grow
		if from, to, ok = clip(from, to, f0, f1); !ok {
			return
		}
		p0, p1, p2 = p1, p2, p0
	}
	s.dark = append(s.dark, span{from, to})
}

// clip cuts a stretch down to where a linear function that is f0 at 0 and f1 at 1 is not negative.
func clip(from, to, f0, f1 float64) (float64, float64, bool) {
	switch {
	case f0 < 0 && f1 < 0:
		return 0, 0, false
	case f0 < 0:
		from = max(from, f0/(f0-f1))
	case f1 < 0:
		to = min(to, f0/(f0-f1))
	}
	return from, to, from < to
}

func abs(v float64) float64 {
	if v < 0 {
		return -v
	}
	return v
}

// joinSpans sorts stretches and joins those that overlap or nearly touch.
func joinSpans(s []span, near float64) []span {
	slices.SortFunc(s, func(a, b span) int {
		return cmp.Or(cmp.Compare(a.from, b.from), cmp.Compare(a.to, b.to))
	})
	out := s[:0]
	for _, v := range s {
		if k := len(out) - 1; k >= 0 && v.from <= out[k].to+near {
			out[k].to = max(out[k].to, v.to)
		} else {
			out = append(out, v)
		}
	}
	return out
}

// gaps returns what joined stretches leave free between 0 and 1.
func gaps(dark []span, least float64) []span {
	var out []span
	at := 0.0
	for _, d := range dark {
		if d.from > at+least {
			out = append(out, span{at, d.from})
		}
		at = max(at, d.to)
	}
	if 1 > at+least || len(dark) == 0 {
		out = append(out, span{at, 1})
	}
	return out
}

// flat returns the point of the view of a point of the frame.
func (s *shader) flat(p geom.Vec) geom.Vec {
	return geom.Vec{X: s.right.Dot(p), Y: s.up.Dot(p), Z: s.into.Dot(p)}
}
