package geom

import (
	"cmp"
	"math"
	"slices"
)

// Polyhedron is a bounded convex solid by its faces, each a convex polygon whose corners run counter-clockwise seen from outside.
// The zero Polyhedron is empty.
type Polyhedron struct{ Faces [][]Vec }

// Empty reports whether nothing is left of the solid.
func (p *Polyhedron) Empty() bool { return len(p.Faces) < 4 }

// Box returns the outer box.
func (p *Polyhedron) Box() Box {
	b := EmptyBox()
	for _, f := range p.Faces {
		for _, q := range f {
			b = b.Extend(q)
		}
	}
	return b
}

// Move returns the solid after a motion.
func (p *Polyhedron) Move(m Motion) Polyhedron {
	out := Polyhedron{Faces: make([][]Vec, len(p.Faces))}
	for i, f := range p.Faces {
		g := make([]Vec, len(f))
		for k, q := range f {
			g[k] = m.Apply(q)
		}
		out.Faces[i] = g
	}
	return out
}

// Plane returns the outward unit normal n of a face and the d of its plane n·p = d. The normal is that of the polygon's area, so that
// corners that nearly coincide do not turn it.
func (p *Polyhedron) Plane(face int) (n Vec, d float64) {
	f := p.Faces[face]
	for i := 1; i+1 < len(f); i++ {
		n = n.Add(f[i].Sub(f[0]).Cross(f[i+1].Sub(f[0])))
	}
	n = n.Unit()
	d = math.Inf(-1)
	for _, q := range f {
		d = math.Max(d, n.Dot(q))
	}
	return n, d
}

// clipSlack is how near to a plane in mm a corner counts as lying on it.
const clipSlack = 1e-9

// Clip returns the part of the solid where n·p ≤ d; n is a unit vector.
func (p *Polyhedron) Clip(n Vec, d float64) Polyhedron {
	in, out := false, false
	for _, f := range p.Faces {
		for _, q := range f {
			v := n.Dot(q) - d
			in, out = in || v < -clipSlack, out || v > clipSlack
		}
	}
	switch {
	case !out:
		return *p
	case !in:
		return Polyhedron{}
	}
	var rest Polyhedron
	var rim []Vec
	for _, f := range p.Faces {
		var g []Vec
		for i, a := range f {
			b := f[(i+1)%len(f)]
			va, vb := n.Dot(a)-d, n.Dot(b)-d
			if va <= clipSlack {
				g = append(g, a)
				if va >= -clipSlack {
					rim = append(rim, a)
				}
			}
			if va < -clipSlack && vb > clipSlack || va > clipSlack && vb < -clipSlack {
				c := a.Add(b.Sub(a).Scale(va / (va - vb)))
				g = append(g, c)
				rim = append(rim, c)
			}
		}
		if len(g) >= 3 {
			rest.Faces = append(rest.Faces, g)
		}
	}
	if lid := around(rim, n); len(lid) >= 3 {
		rest.Faces = append(rest.Faces, lid)
	}
	return rest
}

// around returns points of a plane that are the corners of a convex polygon in their order, counter-clockwise about n.
func around(points []Vec, n Vec) []Vec {
	if len(points) < 3 {
		return nil
	}
	middle := Vec{}
	for _, q := range points {
		middle = middle.Add(q.Scale(1 / float64(len(points))))
	}
	u := Vec{X: 1}
	if math.Abs(n.X) > 0.7 {
		u = Vec{Y: 1}
	}
	u = u.Sub(n.Scale(u.Dot(n))).Unit()
	v := n.Cross(u)
	type corner struct {
		at    Vec
		angle float64
	}
	list := make([]corner, len(points))
	for i, q := range points {
		w := q.Sub(middle)
		list[i] = corner{q, math.Atan2(w.Dot(v), w.Dot(u))}
	}
	slices.SortFunc(list, func(a, b corner) int {
		return cmp.Or(cmp.Compare(a.angle, b.angle), cmp.Compare(a.at.X, b.at.X), cmp.Compare(a.at.Y, b.at.Y), cmp.Compare(a.at.Z, b.at.Z))
	})
	var out []Vec
	for _, c := range list {
		if len(out) == 0 || out[len(out)-1].Dist(c.at) > clipSlack {
			out = append(out, c.at)
		}
	}
	for len(out) > 1 && out[0].Dist(out[len(out)-1]) <= clipSlack {
		out = out[:len(out)-1]
	}
	return out
}

// Volume returns the volume in mm³ and the centre of mass. Faces that run clockwise, as after a mirror, give the same.
func (p *Polyhedron) Volume() (float64, Vec) {
	if p.Empty() {
		return 0, Vec{}
	}
	o := p.Faces[0][0]
	volume, middle := 0.0, Vec{}
	for _, f := range p.Faces {
		for i := 1; i+1 < len(f); i++ {
			a, b, c := f[0].Sub(o), f[i].Sub(o), f[i+1].Sub(o)
			v := a.Dot(b.Cross(c)) / 6
			volume += v
			middle = middle.Add(a.Add(b).Add(c).Scale(v / 4))
		}
	}
	if volume == 0 {
		return 0, Vec{}
	}
	return math.Abs(volume), o.Add(middle.Scale(1 / volume))
}

// Distance returns how far a point lies outside of the solid, 0 inside.
func (p *Polyhedron) Distance(at Vec) float64 {
	inside, best := true, math.Inf(1)
	for i, f := range p.Faces {
		n, d := p.Plane(i)
		h := n.Dot(at) - d
		if h <= 0 {
			continue
		}
		inside = false
		best = math.Min(best, polygonDistance(f, n, h, at))
	}
	if inside {
		return 0
	}
	return best
}

// polygonDistance returns the distance of a point from a convex polygon over whose plane it lies h high.
func polygonDistance(f []Vec, n Vec, h float64, at Vec) float64 {
	over, best := true, math.Inf(1)
	for i, a := range f {
		e := f[(i+1)%len(f)].Sub(a)
		l2 := e.Dot(e)
		if l2 == 0 {
			continue
		}
		w := at.Sub(a)
		if n.Cross(e).Dot(w) < 0 {
			over = false
		}
		best = math.Min(best, w.Sub(e.Scale(math.Max(0, math.Min(1, w.Dot(e)/l2)))).Len())
	}
	if over {
		return h
	}
	return best
}

// PrismPolyhedron stands a convex polygon, counter-clockwise, on z = low of a motion and ends it at z = high.
func PrismPolyhedron(place Motion, polygon []Vec2, low, high float64) Polyhedron {
	n := len(polygon)
	bottom, top := make([]Vec, n), make([]Vec, n)
	var out Polyhedron
	for i, q := range polygon {
		bottom[n-1-i] = place.Apply(Vec{X: q.X, Y: q.Y, Z: low})
		top[i] = place.Apply(Vec{X: q.X, Y: q.Y, Z: high})
	}
	out.Faces = append(out.Faces, bottom, top)
	for i := range n {
		k := (i + 1) % n
		out.Faces = append(out.Faces, []Vec{bottom[n-1-i], bottom[n-1-k], top[k], top[i]})
	}
	return out
}
