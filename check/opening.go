package check

import (
	"container/heap"
	"math"

	"barwright/geom"
)

// A body passes a rectangular opening by a push along one direction if its convex hull, seen along the push, fits into
// the rectangle in some turn. With u the direction of the body that lies across the opening and v the one that
// lies along its height, that asks for width(u) ≤ W and width(v) ≤ H, where width is the body's extent. The search goes
// over all pairs u ⟂ v by branch and bound: the directions are cut into cells, and a cell whose best conceivable
// misfit is no better than the best one found is dropped.

// pass is how a body best goes through an opening.
type pass struct {
	across, up    geom.Vec // of the body, unit
	width, height float64  // that it needs so
	over          float64  // by how much the worse of the two is too big; 0 or less where it fits
	bound         float64  // no orientation does better than this
}

// push returns the direction of the body in which it is pushed.
func (p *pass) push() geom.Vec { return p.across.Cross(p.up) }

// spans is the differences between the corners of a hull, of which each width is one's projection.
type spans struct {
	e  []geom.Vec
	l2 []float64
}

func newSpans(corners []geom.Vec) *spans {
	s := &spans{}
	seen := map[geom.Vec]bool{}
	round := func(v geom.Vec) geom.Vec {
		return geom.Vec{X: math.Round(v.X*1e6) / 1e6, Y: math.Round(v.Y*1e6) / 1e6, Z: math.Round(v.Z*1e6) / 1e6}
	}
	var c cloud
	for i, a := range corners {
		for _, b := range corners[i+1:] {
			c.points = append(c.points, round(a.Sub(b)), round(b.Sub(a)))
		}
	}
	list := c.points
	if len(list) > 200 {
		list = c.corners()
	}
	for _, v := range list {
		if seen[v] || seen[v.Scale(-1)] {
			continue
		}
		seen[v] = true
		s.e = append(s.e, v)
		s.l2 = append(s.l2, v.Dot(v))
	}
	return s
}

// width returns the extent along a unit direction, and the least extent along any direction within an angle of it.
func (s *spans) width(u geom.Vec, angle float64) (width, least float64) {
	c, n := math.Cos(angle), math.Sin(angle)
	if angle > math.Pi/2 {
		c, n = 0, 1
	}
	for i, e := range s.e {
		d := math.Abs(e.Dot(u))
		width = math.Max(width, d)
		if angle > 0 && d*c > least {
			least = math.Max(least, d*c-n*math.Sqrt(math.Max(0, s.l2[i]-d*d)))
		}
	}
	return width, least
}

// cell is a patch of directions u on a face of a cube and a range of turns about them.
type cell struct {
	face           int
	a, b, half     float64 // middle and half side on the face, −1 to 1
	turn, halfTurn float64
	bound          float64
}

// direction returns the unit direction at a place of a cube's face.
func direction(face int, a, b float64) geom.Vec {
	v := [3]geom.Vec{{X: 1, Y: a, Z: b}, {X: a, Y: 1, Z: b}, {X: a, Y: b, Z: 1}}[face]
	return v.Unit()
}

// basis returns two unit directions square to a direction u on a face and to each other.
func basis(face int, u geom.Vec) (geom.Vec, geom.Vec) {
	other := geom.Vec{Z: 1}
	if face == 2 {
		other = geom.Vec{X: 1}
	}
	v := other.Sub(u.Scale(other.Dot(u))).Unit()
	return v, u.Cross(v)
}

// middle returns the pair of directions in the middle of a cell and the angle within which its directions u lie.
func (c *cell) middle() (u, v geom.Vec, angle float64) {
	u = direction(c.face, c.a, c.b)
	for _, da := range []float64{-c.half, c.half} {
		for _, db := range []float64{-c.half, c.half} {
			w := direction(c.face, c.a+da, c.b+db)
			angle = math.Max(angle, math.Atan2(u.Cross(w).Len(), u.Dot(w)))
		}
	}
	e, f := basis(c.face, u)
	return u, e.Scale(math.Cos(c.turn)).Add(f.Scale(math.Sin(c.turn))), angle
}

type cellHeap []cell

func (h cellHeap) Len() int           { return len(h) }
func (h cellHeap) Less(i, j int) bool { return h[i].bound < h[j].bound }
func (h cellHeap) Swap(i, j int)      { h[i], h[j] = h[j], h[i] }
func (h *cellHeap) Push(x any)        { *h = append(*h, x.(cell)) }
func (h *cellHeap) Pop() any {
	old := *h
	c := old[len(old)-1]
	*h = old[:len(old)-1]
	return c
}

// search looks for the best way through an opening.
type search struct {
	s    *spans
	w, h float64
	best pass
}

// Limits of the search.
const (
	searchCells     = 60000 // spent before it gives up
	searchTolerance = 0.5   // mm, within which the best misfit is found
)

// through returns the best way of a body's hull through an opening of a width and a height. Where it fits, the search ends
// with the first way found; ways square to the body's axes come first.
func through(corners []geom.Vec, w, h float64) pass {
	s := &search{s: newSpans(corners), w: w, h: h, best: pass{over: math.Inf(1)}}
	axes := [3]geom.Vec{{X: 1}, {Y: 1}, {Z: 1}}
	for k := range 3 {
		s.try(axes[k], axes[(k+2)%3])
		s.try(axes[k], axes[(k+1)%3])
	}
	if s.best.over > 0 {
		s.run()
	}
	return s.best
}

// try looks at one pair of directions.
func (s *search) try(u, v geom.Vec) bool {
	wu, _ := s.s.width(u, 0)
	wv, _ := s.s.width(v, 0)
	over := math.Max(wu-s.w, wv-s.h)
	if over >= s.best.over-1e-9 && (over > s.best.over+1e-9 || wu+wv >= s.best.width+s.best.height-1e-9) {
		return false
	}
	s.best.across, s.best.up, s.best.width, s.best.height, s.best.over = u, v, wu, wv, over
	return true
}

// refine improves the best pair by small turns until none helps.
func (s *search) refine() {
	for step := 0.05; step > 1e-5; step /= 2 {
		for moved := true; moved; {
			moved = false
			u, v := s.best.across, s.best.up
			d := u.Cross(v)
			for _, k := range [3]geom.Vec{u, v, d} {
				for _, sign := range [2]float64{-step, step} {
					moved = s.try(turned(u, k, sign), turned(v, k, sign)) || moved
				}
			}
		}
	}
}

// turned returns a unit vector turned about a unit axis.
func turned(p, axis geom.Vec, angle float64) geom.Vec {
	c, n := math.Cos(angle), math.Sin(angle)
	return p.Scale(c).Add(axis.Cross(p).Scale(n)).Add(axis.Scale(axis.Dot(p) * (1 - c))).Unit()
}

// run searches all directions.
func (s *search) run() {
	var open cellHeap
	for face := range 3 {
		for _, a := range []float64{-0.5, 0.5} {
			for _, b := range []float64{-0.5, 0.5} {
				for k := range 4 {
					s.add(&open, cell{face: face, a: a, b: b, half: 0.5, turn: math.Pi * (float64(k) + 0.5) / 4, halfTurn: math.Pi / 8})
				}
			}
		}
	}
	s.refine()
	for spent := 0; len(open) > 0 && spent < searchCells && s.best.over > 0; spent++ {
		c := heap.Pop(&open).(cell)
		if c.bound > s.best.over-searchTolerance {
			s.best.bound = c.bound
			return
		}
		_, _, angle := c.middle()
		if angle > c.halfTurn {
			for _, da := range []float64{-0.5, 0.5} {
				for _, db := range []float64{-0.5, 0.5} {
					d := c
					d.half /= 2
					d.a, d.b = c.a+da*c.half, c.b+db*c.half
					s.add(&open, d)
				}
			}
			continue
		}
		for _, dt := range []float64{-0.5, 0.5} {
			d := c
			d.halfTurn /= 2
			d.turn = c.turn + dt*c.halfTurn
			s.add(&open, d)
		}
	}
	s.best.bound = s.best.over
	if len(open) > 0 {
		s.best.bound = math.Min(s.best.over, open[0].bound)
	}
}

// add works out a cell's bound, tries its middle and keeps it if it may hold something better.
func (s *search) add(open *cellHeap, c cell) {
	u, v, angle := c.middle()
	_, lu := s.s.width(u, angle)
	_, lv := s.s.width(v, angle*turnSpread+c.halfTurn)
	c.bound = math.Max(lu-s.w, lv-s.h)
	if s.try(u, v) && s.best.over > 0 {
		s.refine()
	}
	if c.bound < s.best.over-searchTolerance/2 {
		heap.Push(open, c)
	}
}

// turnSpread bounds how far the second direction of a cell moves with the first, in parts of its angle. It is the
// direction square to u nearest to a fixed axis that lies at least 45° from u on the whole face: it turns with u, and about the axis by
// the tangent of at most 45° of what u moves sideways, together √2.
const turnSpread = 1.4143
