package csg

import (
	"fmt"
	"math"
	"slices"

	"barwright/geom"
)

// Convex is the common part of half-spaces. It must be bounded and must hold a point well inside.
type Convex []Half

// With returns the convex cut by more half-spaces.
func (c Convex) With(more ...Half) Convex {
	return append(append(make(Convex, 0, len(c)+len(more)), c...), more...)
}

// side is a plane of a piece: the piece lies where sign·(n·p − d) ≤ 0.
type side struct {
	plane int32
	sign  int8
}

// facet is the polygon in which a piece meets one of its planes, as a box for culling.
type facet struct {
	piece, plane int32
	box          geom.Box // grid steps, grown a little
}

// piece is a convex of a body on rounded planes.
type piece struct {
	add   bool
	sides []side
	// floats are the sides as half-spaces, in grid steps: for culling.
	floats []flat3
	box    geom.Box // grid steps, grown a little
}

// flat3 is the half-space N·p ≤ D with a unit normal, in grid steps.
type flat3 struct {
	N geom.Vec
	D float64
}

// Body is a solid made of convex pieces that are added and cut in turn. The zero Body is empty. It is not safe for
// concurrent use.
type Body struct {
	planes []plane
	index  map[plane]int32
	pieces []piece
	facets []facet
	err    error
}

// Add adds a convex to the body.
func (b *Body) Add(c Convex) { b.put(c, true) }

// Cut takes a convex away from what the body holds so far.
func (b *Body) Cut(c Convex) { b.put(c, false) }

// Err returns the first error of Add or Cut: a piece that is empty, unbounded or out of reach.
func (b *Body) Err() error { return b.err }

func (b *Body) put(c Convex, add bool) {
	if b.err != nil {
		return
	}
	p := piece{add: add, sides: make([]side, 0, len(c))}
	for _, h := range c {
		pl, sign := h.round()
		if sign == 0 {
			b.err = fmt.Errorf("piece %d: a plane at %.3f mm is out of reach", len(b.pieces), h.D)
			return
		}
		s := side{b.planeIndex(pl), int8(sign)}
		if !p.has(s) {
			p.sides = append(p.sides, s)
			n := pl.n.float().Scale(float64(sign))
			l := n.Len()
			p.floats = append(p.floats, flat3{n.Scale(1 / l), float64(pl.d) * float64(sign) / l})
		}
	}
	if !b.outline(&p) {
		b.err = fmt.Errorf("piece %d of the body is empty or not bounded", len(b.pieces))
		return
	}
	b.pieces = append(b.pieces, p)
}

func (p *piece) has(s side) bool {
	for _, t := range p.sides {
		if t == s {
			return true
		}
	}
	return false
}

func (b *Body) planeIndex(p plane) int32 {
	if b.index == nil {
		b.index = map[plane]int32{}
	}
	i, ok := b.index[p]
	if !ok {
		i = int32(len(b.planes))
		b.planes = append(b.planes, p)
		b.index[p] = i
	}
	return i
}

// slack grows the boxes used for culling, in grid steps: far more than floats can be wrong, far less than any feature.
const slack = 1

// outline finds the box of each face of the piece by clipping a large square, in floats: culling only.
func (b *Body) outline(p *piece) bool {
	p.box = geom.EmptyBox()
	at := int32(len(b.pieces))
	first := len(b.facets)
	for i, s := range p.sides {
		poly := square(b.planes[s.plane])
		for j := range p.sides {
			if i != j {
				poly = clip(poly, p.floats[j])
			}
		}
		if len(poly) < 3 {
			continue
		}
		box := geom.EmptyBox()
		for _, q := range poly {
			box = box.Extend(q)
		}
		p.box = p.box.Union(box)
		b.facets = append(b.facets, facet{at, s.plane, box.Grow(slack)})
	}
	size := p.box.Size()
	p.box = p.box.Grow(slack)
	ok := len(b.facets)-first >= 4 && size.X > 1 && size.Y > 1 && size.Z > 1
	return ok && math.Max(size.X, math.Max(size.Y, size.Z)) < 2*reach*unit
}

// square returns a large square in a plane, in grid steps.
func square(p plane) []geom.Vec {
	n := p.n.float()
	l := n.Len()
	o := n.Scale(float64(p.d) / l / l)
	n = n.Scale(1 / l)
	u := geom.Vec{X: 1}
	if math.Abs(n.X) > 0.7 {
		u = geom.Vec{Y: 1}
	}
	u = u.Sub(n.Scale(u.Dot(n))).Unit().Scale(8 * reach * unit)
	v := n.Cross(u)
	return []geom.Vec{o.Sub(u).Sub(v), o.Add(u).Sub(v), o.Add(u).Add(v), o.Sub(u).Add(v)}
}

// clip cuts a convex polygon by a half-space.
func clip(poly []geom.Vec, f flat3) []geom.Vec {
	n, d := f.N, f.D
	out := make([]geom.Vec, 0, len(poly)+1)
	for i, a := range poly {
		c := poly[(i+1)%len(poly)]
		sa, sc := n.Dot(a)-d, n.Dot(c)-d
		if sa <= 0 {
			out = append(out, a)
		}
		if sa < 0 && sc > 0 || sa > 0 && sc < 0 {
			out = append(out, a.Add(c.Sub(a).Scale(sa/(sa-sc))))
		}
	}
	return out
}

// Inside reports whether the body holds a point (mm); on the surface either answer may come.
func (b *Body) Inside(p geom.Vec) bool {
	p = p.Scale(unit)
	for i := len(b.pieces) - 1; i >= 0; i-- {
		if b.pieces[i].holds(p) {
			return b.pieces[i].add
		}
	}
	return false
}

func (p *piece) holds(q geom.Vec) bool {
	if q.X < p.box.Low.X || q.Y < p.box.Low.Y || q.Z < p.box.Low.Z ||
		q.X > p.box.High.X || q.Y > p.box.High.Y || q.Z > p.box.High.Z {
		return false
	}
	for _, f := range p.floats {
		if f.N.Dot(q) > f.D {
			return false
		}
	}
	return true
}

// Faces returns the pieces that were added, each as the corners of its faces in mm, counter-clockwise seen from outside. What was
// cut from them is not taken off.
func (b *Body) Faces() [][][]geom.Vec {
	var out [][][]geom.Vec
	for _, p := range b.pieces {
		if !p.add {
			continue
		}
		var faces [][]geom.Vec
		for i, s := range p.sides {
			poly := square(b.planes[s.plane])
			if s.sign < 0 {
				slices.Reverse(poly)
			}
			for j := range p.sides {
				if i != j {
					poly = clip(poly, p.floats[j])
				}
			}
			if len(poly) < 3 {
				continue
			}
			for k := range poly {
				poly[k] = poly[k].Scale(1.0 / unit)
			}
			faces = append(faces, poly)
		}
		out = append(out, faces)
	}
	return out
}
