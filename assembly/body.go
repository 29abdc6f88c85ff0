package assembly

import (
	"math"

	"barwright/frame"
	"barwright/geom"
)

// touching is how deep in mm two bodies may lie in one another and still only touch: placed bars meet within
// geom.Coincident, the mitred ends of braces within 0.01 mm.
const touching = 0.05

// body is a convex solid: the outer shape of a bar, the head of a screw, a nut, the leg of a bracket.
type body struct {
	points []geom.Vec
	axes   []geom.Vec // normals of its faces, one of each opposite pair
	edges  []geom.Vec // directions of its edges
	box    geom.Box
	square bool // a box square to the axes: box says all
}

// boxBody returns a box as a body.
func boxBody(b geom.Box) body {
	c := b.Corners()
	return body{points: c[:], box: b, square: true, axes: unitAxes(), edges: unitAxes()}
}

func unitAxes() []geom.Vec { return []geom.Vec{{X: 1}, {Y: 1}, {Z: 1}} }

// turnedBox returns the box from low to high in the coordinates of a motion.
func turnedBox(low, high geom.Vec, m geom.Motion) body {
	b := body{box: geom.EmptyBox(), axes: []geom.Vec{m.EX, m.EY, m.EZ}}
	b.edges = b.axes
	for _, c := range (geom.Box{Low: low, High: high}).Corners() {
		p := m.Apply(c)
		b.points = append(b.points, p)
		b.box = b.box.Extend(p)
	}
	b.square = true
	for _, a := range b.axes {
		b.square = b.square && max(math.Abs(a.X), math.Abs(a.Y), math.Abs(a.Z)) > 1-1e-12
	}
	return b
}

// memberBody returns the outer shape of a bar: the rectangle round its section between its two cuts.
func memberBody(m *frame.Member) body {
	if !m.Brace {
		return boxBody(m.Box)
	}
	half := m.Bar.Profile.Size().Scale(0.5)
	b := body{box: geom.EmptyBox(), edges: []geom.Vec{m.Place.EZ},
		axes: []geom.Vec{m.Place.EX, m.Place.EY, m.EndNormal(0), m.EndNormal(1)}}
	for end, c := range m.Bar.Cuts {
		for _, q := range [4]geom.Vec2{{X: -1, Y: -1}, {X: 1, Y: -1}, {X: -1, Y: 1}, {X: 1, Y: 1}} {
			x, y := q.X*half.X, q.Y*half.Y
			p := m.Place.Apply(geom.Vec{X: x, Y: y, Z: m.Bar.Plane(end) + float64(c.SlopeX*x) + float64(c.SlopeY*y)})
			b.points = append(b.points, p)
			b.box = b.box.Extend(p)
		}
		b.edges = append(b.edges, m.Place.Turn(geom.Vec{X: 1, Z: c.SlopeX}).Unit(), m.Place.Turn(geom.Vec{Y: 1, Z: c.SlopeY}).Unit())
	}
	return b
}

// span returns the least and greatest coordinate of the body along a direction.
func (b *body) span(n geom.Vec) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, p := range b.points {
		v := n.Dot(p)
		low, high = min(low, v), max(high, v)
	}
	return low, high
}

// sweep returns the stretch of the way of p along the unit vector d, mm, on which p lies in q deeper than touching: exact for
// convex bodies, as the sum of p turned inside out and q has no faces but those of the two and those that an
// edge of each spans. ok is false where they never meet ahead.
func sweep(p, q *body, d geom.Vec) (from, to float64, ok bool) {
	from, to = 0, math.Inf(1)
	if p.square && q.square {
		for _, ax := range []geom.Axis{geom.X, geom.Y, geom.Z} {
			v := d.Along(ax)
			if from, to, ok = clipSpan(from, to, v, p.box.Low.Along(ax), p.box.High.Along(ax), q.box.Low.Along(ax), q.box.High.Along(ax)); !ok {
				return 0, 0, false
			}
		}
		return from, to, true
	}
	clip := func(n geom.Vec) bool {
		pl, ph := p.span(n)
		ql, qh := q.span(n)
		from, to, ok = clipSpan(from, to, n.Dot(d), pl, ph, ql, qh)
		return ok
	}
	for _, n := range p.axes {
		if !clip(n) {
			return 0, 0, false
		}
	}
	for _, n := range q.axes {
		if !clip(n) {
			return 0, 0, false
		}
	}
	for _, a := range p.edges {
		for _, b := range q.edges {
			n := a.Cross(b)
			if l := n.Len(); l > 1e-6 && !clip(n.Scale(1/l)) {
				return 0, 0, false
			}
		}
	}
	return from, to, true
}

// clipSpan cuts a stretch of the way down to where p, from pl to ph and moving with v, lies in the span from ql to qh.
func clipSpan(from, to, v, pl, ph, ql, qh float64) (float64, float64, bool) {
	// Deep enough: ph + v·t > ql + touching and pl + v·t < qh - touching.
	a, b := ql+touching-ph, qh-touching-pl
	if math.Abs(v) < 1e-9 {
		return from, to, a < 0 && b > 0
	}
	a, b = a/v, b/v
	if a > b {
		a, b = b, a
	}
	from, to = max(from, a), min(to, b)
	return from, to, from < to
}

// hits reports whether p, moved along d by up to way mm, runs into q.
func hits(p, q *body, d geom.Vec, way float64) bool {
	from, _, ok := sweep(p, q, d)
	return ok && from < way
}

// moved returns the body shifted.
func (b *body) moved(v geom.Vec) body {
	out := *b
	out.points = make([]geom.Vec, len(b.points))
	for i, p := range b.points {
		out.points[i] = p.Add(v)
	}
	out.box = b.box.Move(v)
	return out
}
