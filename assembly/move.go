package assembly

import (
	"barwright/frame"
	"barwright/geom"
)

// motion is a straight way along which bars come off: without an end, or first by a short way along another direction.
type motion struct {
	dir   int
	first int     // direction of a short way before, -1 for none
	way   float64 // of the short way, mm
}

func straight(dir int) motion { return motion{dir: dir, first: -1} }

// closure returns the least set round t that can come off along a direction as far as bars and their joints go: whoever
// stands in the way comes along.
func (m *model) closure(t, r set, dir int) set {
	out := t.clone()
	open := t.list()
	for len(open) > 0 {
		i := open[len(open)-1]
		open = open[:len(open)-1]
		more := m.blocks[dir][i].and(r).minus(out)
		more.each(func(k int) bool { out.add(k); open = append(open, k); return true })
	}
	return out
}

// clear reports whether the bars of t come off r along a direction as far as bars and their joints go.
func (m *model) clear(t, r set, dir int) bool {
	ok := true
	t.each(func(i int) bool {
		for w, b := range m.blocks[dir][i] {
			if b&r[w]&^t[w] != 0 {
				ok = false
				return false
			}
		}
		return true
	})
	return ok
}

// obstacle returns a member of r outside of t in whose way heads, nuts and brackets stand when t comes off along d,
// or -1. The bars themselves were looked at before.
func (m *model) obstacle(t, r set, d geom.Vec) int {
	rest := r.minus(t)
	var moving, fixed []*piece
	var open []bool // of the moving ones: not buried in a bar that moves too
	seen := map[int]bool{}
	t.each(func(i int) bool {
		for _, k := range m.at[i] {
			if seen[k] {
				continue
			}
			seen[k] = true
			j := &m.joints[k]
			inA, inB := t.has(j.a), t.has(j.b)
			slides := j.With.Method == frame.EndScrew && m.along(k, d) && !m.freed[k]
			switch {
			case inA && inB:
				for x := range j.pieces {
					moving, open = append(moving, &j.pieces[x]), append(open, j.pieces[x].kind == bracketPiece)
				}
			case inA && rest.has(j.b) && slides:
				for x := range j.pieces {
					moving, open = append(moving, &j.pieces[x]), append(open, true)
				}
			case inB && rest.has(j.a) && slides:
				for x := range j.pieces {
					fixed = append(fixed, &j.pieces[x])
				}
			}
		}
		return true
	})
	found := -1
	rest.each(func(i int) bool {
		for x, p := range moving {
			if open[x] && p.in != i && hits(&p.body, &m.bodies[i], d, far) && !m.inSlotOf(i, p, d) {
				found = i
				return false
			}
		}
		for _, k := range m.at[i] {
			j := &m.joints[k]
			if j.a != i || !rest.has(j.b) {
				continue
			}
			if m.inWay(t, moving, j.pieces, d) {
				found = i
				return false
			}
		}
		return true
	})
	if found >= 0 {
		return found
	}
	for _, q := range fixed {
		for _, p := range moving {
			if hits(&p.body, &q.body, d, far) {
				return q.owner
			}
		}
	}
	return -1
}

// far is longer than any way in mm that matters: a sweep without end.
const far = 1e7

// inWay reports whether one of a standing joint's pieces is in the way of moving bars or of their pieces.
func (m *model) inWay(t set, moving []*piece, pieces []piece, d geom.Vec) bool {
	for x := range pieces {
		q := &pieces[x]
		for _, p := range moving {
			if hits(&p.body, &q.body, d, far) {
				return true
			}
		}
		if q.kind != bracketPiece {
			continue
		}
		hit := false
		t.each(func(i int) bool {
			hit = hits(&m.bodies[i], &q.body, d, far)
			return !hit
		})
		if hit {
			return true
		}
	}
	return false
}

// free reports whether t comes off r along a direction.
func (m *model) free(t, r set, dir int) bool {
	return m.clear(t, r, dir) && m.obstacle(t, r, m.dirs[dir]) < 0
}

// freeClosure returns the least set round t that comes off along a direction, heads and brackets included.
func (m *model) freeClosure(t, r set, dir int) set {
	for {
		t = m.closure(t, r, dir)
		k := m.obstacle(t, r, m.dirs[dir])
		if k < 0 {
			return t
		}
		t = t.clone()
		t.add(k)
	}
}

// shortWay is how far in mm a bar comes off its screws before it can turn away: the longest end screw's and a
// little more.
func (m *model) shortWay(t, r set) float64 {
	way := 0.0
	t.each(func(i int) bool {
		for _, k := range m.at[i] {
			j := &m.joints[k]
			if t.has(j.a) && t.has(j.b) || !r.has(j.a) || !r.has(j.b) {
				continue
			}
			for _, s := range j.Fasteners {
				if s.InSlot {
					way = max(way, s.Length+5)
				}
			}
		}
		return true
	})
	return way
}

// freeTwice reports whether t comes off r by a short way along one direction and then along another. Off its screws only
// bodies stand in the way.
func (m *model) freeTwice(t, r set, first, dir int, way float64) bool {
	rest := r.minus(t)
	d, e := m.dirs[first], m.dirs[dir]
	ok := true
	t.each(func(i int) bool {
		for _, k := range m.at[i] {
			j := &m.joints[k]
			if rest.has(j.a) || rest.has(j.b) {
				if m.holds(k, i, d) || j.With.Method == frame.EndScrew && m.along(k, d) && !m.freed[k] {
					ok = false
					return false
				}
			}
		}
		shifted := m.bodies[i].moved(d.Scale(way))
		rest.each(func(k int) bool {
			if hits(&m.bodies[i], &m.bodies[k], d, way) || hits(&shifted, &m.bodies[k], e, far) {
				ok = false
			}
			return ok
		})
		return ok
	})
	if !ok {
		return false
	}
	return !m.hitsBrackets(t, rest, d, way, e)
}

// hitsBrackets reports whether brackets on the standing or the moving bars are in the way of a double move.
func (m *model) hitsBrackets(t, rest set, d geom.Vec, way float64, e geom.Vec) bool {
	hit := func(p, q *body) bool {
		s := p.moved(d.Scale(way))
		return hits(p, q, d, way) || hits(&s, q, e, far)
	}
	// An end screw that stays loose in a standing slot sticks out, where a bar that turned aside would meet it: bars that leave
	// by a second direction must be clear of it, which the short way sees to.
	for _, j := range m.joints {
		for x := range j.pieces {
			p := &j.pieces[x]
			if p.kind != bracketPiece {
				continue
			}
			switch {
			case rest.has(j.a) && rest.has(j.b):
				bad := false
				t.each(func(i int) bool { bad = hit(&m.bodies[i], &p.body); return !bad })
				if bad {
					return true
				}
			case t.has(j.a) && t.has(j.b):
				bad := false
				rest.each(func(i int) bool { bad = hit(&p.body, &m.bodies[i]); return !bad })
				if bad {
					return true
				}
			}
		}
	}
	return false
}
