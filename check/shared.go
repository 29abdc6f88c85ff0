package check

import (
	"math"
	"slices"

	"barwright/geom"
)

// shared returns the volume in mm³ common to two prisms, and the middle of that piece.
//
// Both are cut by planes that hold both their axes' directions. In such a plane each prism is a set of strips along its
// axis, cut off by its ends, so that the common area is a sum over pairs of quadrilaterals. Between two corners
// of the sections the strips' edges are straight, so that Simpson's rule is exact for bars that cross; where an end
// or another bar's side cuts a strip off within such a step the error is a small part of that step.
func shared(a, b *prism) (float64, geom.Vec) {
	n := a.place.EZ.Cross(b.place.EZ)
	parallel := n.Len() < 1e-6
	if parallel {
		n = a.place.EX
	}
	n = n.Unit()
	sa, sb := newSlicer(a, n, a.place.EZ), newSlicer(b, n, a.place.EZ)
	cuts := sliceCuts(sa, sb, parallel)
	volume, middle := 0.0, geom.Vec{}
	var qa, qb []quad
	area := func(t float64) (float64, geom.Vec2) {
		qa, qb = sa.quads(t, qa[:0]), sb.quads(t, qb[:0])
		return commonArea(qa, qb)
	}
	for i := 0; i+1 < len(cuts); i++ {
		h := cuts[i+1] - cuts[i]
		if h < 1e-9 {
			continue
		}
		for _, w := range simpson {
			t := cuts[i] + w.at*h
			v, c := area(t)
			v *= w.weight * h
			volume += v
			p := n.Scale(t).Add(sa.side.Scale(c.X)).Add(sa.along.Scale(c.Y))
			middle = middle.Add(p.Scale(v))
		}
	}
	if volume <= 0 {
		return 0, geom.Vec{}
	}
	return volume, middle.Scale(1 / volume)
}

// simpson are the places and weights of Simpson's rule over the two halves of a step. The outermost places
// lie a hair inside, as a section may jump at its corners.
var simpson = [5]struct{ at, weight float64 }{
	{1e-7, 1.0 / 12}, {0.25, 4.0 / 12}, {0.5, 2.0 / 12}, {0.75, 4.0 / 12}, {1 - 1e-7, 1.0 / 12},
}

// slicer cuts a prism by planes n·p = t. Coordinates in the plane are along side and along.
type slicer struct {
	p           *prism
	n           geom.Vec
	side, along geom.Vec
	lines       []sectionLine
	axis, wide  geom.Vec2 // the prism's own axis and the way across it, in the plane
	low, high   float64
	tooMany     bool
}

// sectionLine is one edge of a prism's section: from (t1, s1) to (t2, s2), t along n and s across the axis.
type sectionLine struct{ t1, s1, t2, s2 float64 }

// quad is a strip cut off by the prism's ends, counter-clockwise or clockwise.
type quad [4]geom.Vec2

func newSlicer(p *prism, n, along geom.Vec) *slicer {
	s := &slicer{p: p, n: n, along: along, side: n.Cross(along).Unit(), low: math.Inf(1), high: math.Inf(-1)}
	across := n.Cross(p.place.EZ).Unit()
	s.axis = geom.Vec2{X: p.place.EZ.Dot(s.side), Y: p.place.EZ.Dot(s.along)}
	s.wide = geom.Vec2{X: across.Dot(s.side), Y: across.Dot(s.along)}
	for _, poly := range p.polygons {
		at := func(q geom.Vec2) (float64, float64) {
			v := p.place.Apply(geom.Vec{X: q.X, Y: q.Y})
			return v.Dot(n), v.Dot(across)
		}
		t1, s1 := at(poly[len(poly)-1])
		for _, q := range poly {
			t2, s2 := at(q)
			s.lines = append(s.lines, sectionLine{t1, s1, t2, s2})
			s.low, s.high = math.Min(s.low, t2), math.Max(s.high, t2)
			t1, s1 = t2, s2
		}
	}
	return s
}

// sliceCuts returns the places between which both sections are bounded by the same edges.
func sliceCuts(a, b *slicer, parallel bool) []float64 {
	low, high := math.Max(a.low, b.low), math.Min(a.high, b.high)
	cuts := []float64{low, high}
	add := func(t float64) {
		if t > low && t < high {
			cuts = append(cuts, t)
		}
	}
	for _, s := range []*slicer{a, b} {
		for _, l := range s.lines {
			add(l.t1)
		}
	}
	if parallel {
		for _, k := range a.lines {
			for _, l := range b.lines {
				if t, ok := crossing(k, l); ok {
					add(t)
				}
			}
		}
	}
	slices.Sort(cuts)
	if high <= low {
		return nil
	}
	return cuts
}

// crossing returns where two edges of parallel prisms cross.
func crossing(k, l sectionLine) (float64, bool) {
	dk, dl := k.t2-k.t1, l.t2-l.t1
	if math.Abs(dk) < 1e-12 || math.Abs(dl) < 1e-12 {
		return 0, false
	}
	mk, ml := (k.s2-k.s1)/dk, (l.s2-l.s1)/dl
	if math.Abs(mk-ml) < 1e-12 {
		return 0, false
	}
	t := (l.s1 - float64(ml*l.t1) - k.s1 + float64(mk*k.t1)) / (mk - ml)
	return t, (t-k.t1)*(t-k.t2) <= 0 && (t-l.t1)*(t-l.t2) <= 0
}

// quads returns the strips of the prism in the plane at t.
func (s *slicer) quads(t float64, out []quad) []quad {
	var buffer [32]float64
	cross := buffer[:0]
	for _, l := range s.lines {
		if (l.t1 < t) != (l.t2 < t) {
			cross = append(cross, l.s1+(l.s2-l.s1)*(t-l.t1)/(l.t2-l.t1))
		}
	}
	slices.Sort(cross)
	for i := 0; i+1 < len(cross); i += 2 {
		if cross[i+1]-cross[i] > 1e-9 {
			out = append(out, s.quad(t, cross[i], cross[i+1]))
		}
	}
	return out
}

// quad returns the strip between two places across the axis.
func (s *slicer) quad(t, s0, s1 float64) quad {
	p := s.p
	across := s.n.Cross(p.place.EZ).Unit()
	base := p.place.T.Dot(p.place.EZ)
	end := func(e int, at float64) geom.Vec2 {
		z := p.ends[e]
		if c := p.cuts[e]; !c.Square() {
			v := p.place.Unturn(s.n.Scale(t).Add(across.Scale(at)).Sub(p.place.T))
			z += float64(c.SlopeX*v.X) + float64(c.SlopeY*v.Y)
		}
		return s.wide.Scale(at).Add(s.axis.Scale(base + z))
	}
	return quad{end(0, s0), end(0, s1), end(1, s1), end(1, s0)}
}

// commonArea returns the area common to two sets of quadrilaterals, and its middle.
func commonArea(a, b []quad) (float64, geom.Vec2) {
	sum, middle := 0.0, geom.Vec2{}
	for i := range a {
		for j := range b {
			if apart(&a[i], &b[j]) {
				continue
			}
			v, c := clip(&a[i], &b[j])
			sum += v
			middle = middle.Add(c.Scale(v))
		}
	}
	if sum > 0 {
		middle = middle.Scale(1 / sum)
	}
	return sum, middle
}

// apart reports whether the boxes of two quadrilaterals share no area.
func apart(a, b *quad) bool {
	lo := func(q *quad) (geom.Vec2, geom.Vec2) {
		l, h := q[0], q[0]
		for _, p := range q[1:] {
			l = geom.Vec2{X: math.Min(l.X, p.X), Y: math.Min(l.Y, p.Y)}
			h = geom.Vec2{X: math.Max(h.X, p.X), Y: math.Max(h.Y, p.Y)}
		}
		return l, h
	}
	al, ah := lo(a)
	bl, bh := lo(b)
	return al.X >= bh.X || bl.X >= ah.X || al.Y >= bh.Y || bl.Y >= ah.Y
}

// clip returns the area and the middle of what two quadrilaterals share.
func clip(a, b *quad) (float64, geom.Vec2) {
	var one, two [16]geom.Vec2
	poly := append(one[:0], a[:]...)
	turn := 1.0
	if geom.PolygonArea(b[:]) < 0 {
		turn = -1
	}
	other := two[:0]
	for i := range b {
		p, d := b[i], b[(i+1)%4].Sub(b[i]).Scale(turn)
		other = other[:0]
		for k := range poly {
			v, w := poly[k], poly[(k+1)%len(poly)]
			dv, dw := d.Cross(v.Sub(p)), d.Cross(w.Sub(p))
			if dv >= 0 {
				other = append(other, v)
			}
			if (dv >= 0) != (dw >= 0) {
				other = append(other, v.Add(w.Sub(v).Scale(dv/(dv-dw))))
			}
		}
		poly, other = other, poly
		if len(poly) < 3 {
			return 0, geom.Vec2{}
		}
	}
	middle := geom.Vec2{}
	for _, p := range poly {
		middle = middle.Add(p.Scale(1 / float64(len(poly))))
	}
	return math.Abs(geom.PolygonArea(poly)), middle
}
