package assembly

import (
	"math"

	"barwright/geom"
)

// pair is two bars, the lower index first.
type pair struct{ a, b int }

func pairOf(a, b int) pair { return pair{min(a, b), max(a, b)} }

// findWaits notes between which bars nothing is made until a third bar is in: a printed part over three bars goes on only then.
func (m *model) findWaits() {
	m.needs = map[pair]set{}
	made := map[pair]bool{}
	for k := range m.joints {
		j := &m.joints[k]
		p := pairOf(j.a, j.b)
		t := m.f.UseOf(j.Joint)
		if !j.With.Printed || t == nil || len(t.On) < 3 {
			made[p] = true
			continue
		}
		if m.needs[p] == nil {
			m.needs[p] = newSet(m.n)
		}
		for _, b := range t.On {
			m.needs[p].add(m.index[b])
		}
	}
	for p := range made {
		delete(m.needs, p)
	}
}

// waits reports whether two bars that touch are not yet joined among the bars of a set.
func (m *model) waits(a, b int, s set) bool {
	need, ok := m.needs[pairOf(a, b)]
	return ok && !need.within(s)
}

// pieces returns the parts of a set that hold together by joints that can be made: as components, but for joints that wait for a third
// bar.
func (m *model) pieces(s set) []set {
	return m.split(s, func(a, b int) bool { return !m.waits(a, b, s) })
}

// parted reports whether joints that wait leave a set in more pieces than it has otherwise.
func (m *model) parted(s set) bool {
	return len(m.needs) > 0 && len(m.pieces(s)) > len(m.components(s))
}

// tipping is the tangent of the angle of 10° by which what stands alone may be pushed over and not fall (common practice, no source).
const tipping = 0.1763

// loose reports whether among bars on the table some piece would fall that a joint holds only once a third bar is in: one that neither
// stands firmly on the table nor lies across two bars.
func (m *model) loose(s set, down int) bool {
	if !m.parted(s) {
		return false
	}
	ground := m.groundOf(s).low[down]
	for _, p := range m.pieces(s) {
		own := m.groundOf(p)
		if own.low[down] > ground+standsOn {
			if m.carriers(p, s, own.low[down], down) < 2 {
				return true
			}
			continue
		}
		if !m.steadyOn(p, m.dirs[down], max(steady, tipping*m.middleOver(p, own.low[down], down))) {
			return true
		}
	}
	return false
}

// carriers counts the bars under a piece on which it lies.
func (m *model) carriers(p, s set, low float64, down int) int {
	under := newSet(m.n)
	p.each(func(i int) bool {
		for _, o := range m.touch[i] {
			if s.has(o) && !p.has(o) && math.Abs(m.heights[o][down][1]-low) < standsOn {
				under.add(o)
			}
		}
		return true
	})
	return under.count()
}

// middleOver returns how high the middle of mass of bars lies over a height.
func (m *model) middleOver(s set, low float64, down int) float64 {
	return -m.middle(s).Dot(m.dirs[down]) - low
}

// middle returns the middle of mass of bars.
func (m *model) middle(s set) geom.Vec {
	var sum geom.Vec
	mass := 0.0
	s.each(func(i int) bool {
		sum = sum.Add(m.bodies[i].box.Centre().Scale(m.mass[i]))
		mass += m.mass[i]
		return true
	})
	if mass == 0 {
		return sum
	}
	return sum.Scale(1 / mass)
}
