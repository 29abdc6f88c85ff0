package bracket

import (
	"fmt"
	"math"

	"barwright/geom"
	"barwright/mesh"
)

// facets is a mesh with what the checks of a print need.
type facets struct {
	m       *mesh.Mesh
	p       []geom.Vec
	n       []geom.Vec // unit normals
	area    []float64
	box     []geom.Box
	partner map[[2]uint32]int // directed edge → triangle
}

func facetsOf(m *mesh.Mesh) *facets {
	f := &facets{m: m, partner: map[[2]uint32]int{}}
	for _, q := range m.Points {
		f.p = append(f.p, geom.Vec{X: float64(q[0]), Y: float64(q[1]), Z: float64(q[2])})
	}
	for i, t := range m.Triangles {
		c := f.p[t[1]].Sub(f.p[t[0]]).Cross(f.p[t[2]].Sub(f.p[t[0]]))
		f.n = append(f.n, c.Unit())
		f.area = append(f.area, c.Len()/2)
		f.box = append(f.box, geom.EmptyBox().Extend(f.p[t[0]]).Extend(f.p[t[1]]).Extend(f.p[t[2]]))
		for k := range 3 {
			f.partner[[2]uint32{t[k], t[(k+1)%3]}] = i
		}
	}
	return f
}

// next returns the triangle over edge k of triangle i.
func (f *facets) next(i, k int) int {
	t := f.m.Triangles[i]
	return f.partner[[2]uint32{t[(k+1)%3], t[k]}]
}

// shells counts the pieces of the surface, and the fans round each point beyond the first.
func (f *facets) shells() (shells, pinched int) {
	seen := make([]bool, len(f.m.Triangles))
	for i := range seen {
		if seen[i] {
			continue
		}
		shells++
		stack := []int{i}
		seen[i] = true
		for len(stack) > 0 {
			t := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			for k := range 3 {
				if u := f.next(t, k); !seen[u] {
					seen[u] = true
					stack = append(stack, u)
				}
			}
		}
	}
	around := make([]int, len(f.p))
	first := make([]int, len(f.p))
	for i, t := range f.m.Triangles {
		for _, q := range t {
			around[q]++
			first[q] = i
		}
	}
	for q, n := range around {
		if n == 0 {
			pinched++
			continue
		}
		t, count := first[q], 0
		for {
			count++
			k := 0
			for f.m.Triangles[t][k] != uint32(q) {
				k++
			}
			t = f.next(t, k)
			if t == first[q] || count > n {
				break
			}
		}
		if count != n {
			pinched++
		}
	}
	return shells, pinched
}

// overhangs returns the first place where the print hangs over by more than 45° (and half a degree for rounding) without being a
// bridge of at most the given span.
func (f *facets) overhangs(bridge float64) error {
	limit := -math.Sin(45.5 * math.Pi / 180)
	ceiling := make([]int, len(f.m.Triangles)) // number of its ceiling
	ceilings := 0
	for i, n := range f.n {
		if n.Z > limit || f.low(i) && n.Z < -0.9999 || ceiling[i] != 0 {
			continue
		}
		if f.height(i) < 0.01 && n.Z > -0.999 { // rounding of corners to float32 turns such a sliver
			continue
		}
		if n.Z > -0.999 {
			return fmt.Errorf("a face of %.3f mm² leans %.1f° from the upright at %v", f.area[i], math.Asin(-n.Z)*180/math.Pi, f.centre(i))
		}
		ceilings++
		group := []int{i}
		ceiling[i] = ceilings
		for k := 0; k < len(group); k++ {
			for e := range 3 {
				if u := f.next(group[k], e); ceiling[u] == 0 && f.n[u].Z < -0.999 {
					ceiling[u] = ceilings
					group = append(group, u)
				}
			}
		}
		if err := f.bridged(group, bridge); err != nil {
			return err
		}
	}
	return nil
}

func (f *facets) low(i int) bool {
	for _, q := range f.m.Triangles[i] {
		if f.p[q].Z != 0 {
			return false
		}
	}
	return true
}

// height returns the least height of a triangle.
func (f *facets) height(i int) float64 {
	t := f.m.Triangles[i]
	return 2 * f.area[i] / math.Max(f.p[t[0]].Dist(f.p[t[1]]), math.Max(f.p[t[1]].Dist(f.p[t[2]]), f.p[t[2]].Dist(f.p[t[0]])))
}

func (f *facets) centre(i int) geom.Vec {
	t := f.m.Triangles[i]
	return f.p[t[0]].Add(f.p[t[1]]).Add(f.p[t[2]]).Scale(1.0 / 3)
}

// bridged checks a flat ceiling: from each of many points some straight line of layers reaches supported edges both ways
// within the span. An edge is supported where the surface goes down beyond it.
func (f *facets) bridged(group []int, span float64) error {
	type rim struct {
		a, b geom.Vec
		held bool
	}
	in := map[int]bool{}
	for _, t := range group {
		in[t] = true
	}
	var rims []rim
	for _, t := range group {
		for k := range 3 {
			u := f.next(t, k)
			if in[u] {
				continue
			}
			tr := f.m.Triangles[t]
			a, b := f.p[tr[k]], f.p[tr[(k+1)%3]]
			// The neighbour's third corner tells whether it goes down.
			third := a
			for _, q := range f.m.Triangles[u] {
				if q != tr[k] && q != tr[(k+1)%3] {
					third = f.p[q]
				}
			}
			rims = append(rims, rim{a, b, third.Z < a.Z})
		}
	}
	for _, t := range group {
		tr := f.m.Triangles[t]
		for _, w := range [][3]float64{{1, 1, 1}, {4, 1, 1}, {1, 4, 1}, {1, 1, 4}} {
			sum := w[0] + w[1] + w[2]
			p := f.p[tr[0]].Scale(w[0] / sum).Add(f.p[tr[1]].Scale(w[1] / sum)).Add(f.p[tr[2]].Scale(w[2] / sum))
			ok := false
			for k := 0; k < 36 && !ok; k++ {
				s, c := math.Sincos((float64(k) + 1e-4) * math.Pi / 36)
				d := geom.Vec{X: c, Y: s}
				ahead, behind := math.Inf(1), math.Inf(1)
				heldA, heldB := false, false
				for _, r := range rims {
					e := r.b.Sub(r.a)
					den := d.X*e.Y - d.Y*e.X
					if den == 0 {
						continue
					}
					q := r.a.Sub(p)
					at, along := (q.X*e.Y-q.Y*e.X)/den, (q.X*d.Y-q.Y*d.X)/den
					if along < 0 || along > 1 {
						continue
					}
					if at > 0 && at < ahead {
						ahead, heldA = at, r.held
					}
					if at < 0 && -at < behind {
						behind, heldB = -at, r.held
					}
				}
				ok = heldA && heldB && ahead+behind <= span
			}
			if !ok {
				return fmt.Errorf("the ceiling at %.2f, %.2f, %.2f is no bridge of at most %g mm", p.X, p.Y, p.Z, span)
			}
		}
	}
	return nil
}

// islands returns the first place over the bed where a layer would begin in the air: a lowest point of material.
func (f *facets) islands() error {
	lowest := make([]bool, len(f.p))
	for i := range lowest {
		lowest[i] = f.p[i].Z > 0
	}
	for _, t := range f.m.Triangles {
		for k := range 3 {
			if f.p[t[k]].Z > f.p[t[(k+1)%3]].Z {
				lowest[t[k]] = false
			}
			if f.p[t[k]].Z > f.p[t[(k+2)%3]].Z {
				lowest[t[k]] = false
			}
		}
	}
	for i, l := range lowest {
		if !l {
			continue
		}
		// Of a lowest point with material above it the outside lies below: a point just under it is not inside.
		p := f.p[i]
		level := false // a level edge or face leaves it: those are judged as ceilings
		for _, t := range f.m.Triangles {
			for k := range 3 {
				if int(t[k]) == i && (f.p[t[(k+1)%3]].Z == p.Z || f.p[t[(k+2)%3]].Z == p.Z) {
					level = true
				}
			}
		}
		if !level && !f.inside(p.Sub(geom.Vec{Z: 1e-3})) {
			return fmt.Errorf("the print begins in the air at %v", p)
		}
	}
	return nil
}

// inside reports whether a point lies in the mesh, by the crossings of a slanting ray.
func (f *facets) inside(p geom.Vec) bool {
	n := 0
	for i := range f.m.Triangles {
		if t, ok := f.ray(i, p, geom.Vec{X: 0.0137, Y: 0.0071, Z: 1}); ok && t > 0 {
			n++
		}
	}
	return n%2 == 1
}

// ray returns where a ray meets a triangle (Möller and Trumbore 1997).
func (f *facets) ray(i int, o, d geom.Vec) (float64, bool) {
	t := f.m.Triangles[i]
	a := f.p[t[0]]
	e1, e2 := f.p[t[1]].Sub(a), f.p[t[2]].Sub(a)
	h := d.Cross(e2)
	det := e1.Dot(h)
	if det == 0 {
		return 0, false
	}
	s := o.Sub(a)
	u := s.Dot(h) / det
	q := s.Cross(e1)
	v := d.Dot(q) / det
	if u < 0 || v < 0 || u+v > 1 {
		return 0, false
	}
	return e2.Dot(q) / det, true
}

// thinnest returns the least distance through the material between two faces that look away from each other (within
// 25°), from the middle and near the corners of each triangle.
func (f *facets) thinnest() (float64, geom.Vec) {
	least, where := math.Inf(1), geom.Vec{}
	for i, n := range f.n {
		if f.height(i) < 0.01 && n.Z > -0.999 { // rounding of corners to float32 turns such a sliver
			continue
		}
		tr := f.m.Triangles[i]
		for _, w := range [][3]float64{{1, 1, 1}, {6, 1, 1}, {1, 6, 1}, {1, 1, 6}} {
			sum := w[0] + w[1] + w[2]
			p := f.p[tr[0]].Scale(w[0] / sum).Add(f.p[tr[1]].Scale(w[1] / sum)).Add(f.p[tr[2]].Scale(w[2] / sum))
			d := n.Scale(-1)
			way := geom.EmptyBox().Extend(p).Extend(p.Add(d.Scale(2))) // thicker walls are of no interest
			at, hit := math.Inf(1), -1
			for j := range f.m.Triangles {
				if b := &f.box[j]; b.Low.X > way.High.X || b.High.X < way.Low.X || b.Low.Y > way.High.Y || b.High.Y < way.Low.Y ||
					b.Low.Z > way.High.Z || b.High.Z < way.Low.Z {
					continue
				}
				if j == i || f.n[j].Dot(n) > 0.5 {
					continue
				}
				if t, ok := f.ray(j, p, d); ok && t > 1e-6 && t < at {
					at, hit = t, j
				}
			}
			if hit >= 0 && f.n[hit].Dot(n) < -math.Cos(25*math.Pi/180) && at < least {
				least, where = at, p
			}
		}
	}
	return least, where
}

// printable returns the first thing that keeps a result from being printed as promised.
func printable(r *Result, a Allowances, bed geom.Vec) error {
	if err := r.Mesh.Check(); err != nil {
		return err
	}
	f := facetsOf(r.Mesh)
	if shells, pinched := f.shells(); shells != 1 || pinched != 0 {
		return fmt.Errorf("%d shells, %d pinched points", shells, pinched)
	}
	box := r.Mesh.Box()
	if box.Low != (geom.Vec{}) {
		return fmt.Errorf("the print's low corner is %v", box.Low)
	}
	if s := box.High; s.Z > bed.Z+1e-3 || math.Max(s.X, s.Y) > math.Max(bed.X, bed.Y)+1e-3 || math.Min(s.X, s.Y) > math.Min(bed.X, bed.Y)+1e-3 {
		return fmt.Errorf("the print of %v does not fit on the bed", s)
	}
	rests := 0.0
	for i := range f.n {
		if f.low(i) && f.n[i].Z < -0.9999 {
			rests += f.area[i]
		}
	}
	if rests < 12 {
		return fmt.Errorf("it rests on %.1f mm² only", rests)
	}
	if err := f.overhangs(a.Bridge); err != nil {
		return err
	}
	if err := f.islands(); err != nil {
		return err
	}
	if t, p := f.thinnest(); t < a.LeastTo-2e-3 {
		return fmt.Errorf("a wall is only %.3f mm thick at %.2f, %.2f, %.2f", t, p.X, p.Y, p.Z)
	}
	return nil
}
