package mesh

import (
	"cmp"
	"math"
	"slices"
)

// at returns the place of a node.
func (t *triangulator) at(n int32) [2]int64 { return t.nodes[n].at }

// lower orders places by their first coordinate, then the second.
func lower(a, b [2]int64) bool { return a[0] < b[0] || a[0] == b[0] && a[1] < b[1] }

// bridge joins the holes of an outline, which begins at a node, to it: from low to high, each from its lowest corner to the nearest corner that sees it.
func (t *triangulator) bridge(start int32, outer int) {
	lows := t.lows[:0]
	for _, h := range t.holes {
		if h.within != outer {
			continue
		}
		s := t.ring(h.loop)
		low := s
		for n := t.nodes[s].next; n != s; n = t.nodes[n].next {
			if lower(t.at(n), t.at(low)) {
				low = n
			}
		}
		lows = append(lows, low)
	}
	t.lows = lows
	slices.SortStableFunc(lows, func(i, j int32) int {
		if a, b := t.at(i), t.at(j); a[0] != b[0] {
			return cmp.Compare(a[0], b[0])
		} else {
			return cmp.Compare(a[1], b[1])
		}
	})
	for _, h := range lows {
		t.splice(t.seer(start, h), h)
	}
}

// candidate is a node that may see a hole, at a squared distance.
type candidate struct {
	n int32
	d float64
}

// seer returns the node of the outline nearest to a hole's lowest node from which the way there is free.
func (t *triangulator) seer(outline, hole int32) int32 {
	m := t.at(hole)
	list := t.seers[:0]
	for n, first := outline, true; first || n != outline; n, first = t.nodes[n].next, false {
		if p := t.at(n); lower(p, m) {
			dx, dy := float64(p[0]-m[0]), float64(p[1]-m[1])
			list = append(list, candidate{n, float64(dx*dx) + float64(dy*dy)})
		}
	}
	t.seers = list
	// One after the other, as most often the first one sees it.
	for i := range list {
		best := i
		for k := i + 1; k < len(list); k++ {
			if list[k].d < list[best].d || list[k].d == list[best].d && list[k].n < list[best].n {
				best = k
			}
		}
		list[i], list[best] = list[best], list[i]
		if c := list[i]; t.opensTo(c.n, m) && t.free(outline, t.at(c.n), m) {
			return c.n
		}
	}
	if len(list) > 0 {
		return list[0].n
	}
	return outline
}

// opensTo tells whether the face lies, at a node, in the direction of a point.
func (t *triangulator) opensTo(n int32, m [2]int64) bool {
	a, b, c := t.at(t.nodes[n].prev), t.at(n), t.at(t.nodes[n].next)
	if orient(a, b, c) > 0 {
		return orient(b, c, m) > 0 && orient(a, b, m) > 0
	}
	return orient(b, c, m) > 0 || orient(a, b, m) > 0
}

// free tells whether the straight way between two places meets no edge of the outline.
func (t *triangulator) free(outline int32, p, q [2]int64) bool {
	for n, first := outline, true; first || n != outline; n, first = t.nodes[n].next, false {
		a, b := t.at(n), t.at(t.nodes[n].next)
		if between(p, q, a) {
			return false
		}
		if a == p || b == p || a == q || b == q {
			continue
		}
		if sign(orient(p, q, a))*sign(orient(p, q, b)) <= 0 && sign(orient(a, b, p))*sign(orient(a, b, q)) <= 0 {
			return false
		}
	}
	return true
}

// between tells whether a lies on the open segment p q.
func between(p, q, a [2]int64) bool {
	if a == p || a == q || orient(p, q, a) != 0 {
		return false
	}
	return (a[0]-p[0])*(a[0]-q[0])+(a[1]-p[1])*(a[1]-q[1]) < 0
}

// splice joins a hole's ring into the outline by a bridge there and back between two nodes.
func (t *triangulator) splice(o, h int32) {
	o2, h2 := int32(len(t.nodes)), int32(len(t.nodes)+1)
	on, hp := t.nodes[o].next, t.nodes[h].prev
	t.nodes = append(t.nodes, node{at: t.nodes[o].at, p: t.nodes[o].p, prev: h2, next: on}, node{at: t.nodes[h].at, p: t.nodes[h].p, prev: hp, next: o2})
	t.nodes[on].prev, t.nodes[hp].next = o2, h2
	t.nodes[o].next, t.nodes[h].prev = h, o
}

// ears cuts a ring of nodes into triangles.
func (t *triangulator) ears(start int32, emit func(a, b, c int32, flat bool)) {
	n := t.shelve(start)
	stuck := 0
	for k := start; n > 3; {
		if stuck > n {
			k = t.leastBad(k)
		} else if t.nodes[k].reflex || !t.clear(k) {
			k = t.nodes[k].next
			stuck++
			continue
		}
		stuck = 0
		a, c := t.nodes[k].prev, t.nodes[k].next
		emit(t.name[t.nodes[a].p], t.name[t.nodes[k].p], t.name[t.nodes[c].p], t.turn(k) == 0)
		t.nodes[a].next, t.nodes[c].prev = c, a
		t.nodes[k].reflex = false
		t.mark(a)
		t.mark(c)
		n--
		k = t.nodes[c].next
		start = c
	}
	if n == 3 {
		b := t.nodes[start].next
		emit(t.name[t.nodes[start].p], t.name[t.nodes[b].p], t.name[t.nodes[t.nodes[b].next].p], t.turn(b) == 0)
	}
}

// mark finds whether the outline turns right, or not at all, at a node.
func (t *triangulator) mark(k int32) { t.nodes[k].reflex = t.turn(k) <= 0 }

// turn returns twice the signed area of the triangle at a node.
func (t *triangulator) turn(k int32) int64 {
	n := &t.nodes[k]
	return orient(t.at(n.prev), t.at(k), t.at(n.next))
}

// corner is a node where the outline turns right or not at all: only such can lie in an ear.
type corner struct {
	at [2]int64
	n  int32
}

// fewCorners is up to how many corners an outline is done by few.
const fewCorners = 8

// few cuts an outline of few corners into triangles.
func (t *triangulator) few(l []int32, emit func(a, b, c int32, flat bool)) {
	var at [fewCorners][2]int64
	var name [fewCorners]int32
	n := len(l)
	for i, p := range l {
		at[i], name[i] = t.points[p], t.name[p]
	}
	if n != 4 || !quad(&at, &name, emit) {
		cutFew(&at, &name, n, emit)
	}
}

// cutFew cuts an outline of n corners into triangles: always the ear with the shortest cut.
func cutFew(at *[fewCorners][2]int64, name *[fewCorners]int32, n int, emit func(a, b, c int32, flat bool)) {
	var turn [fewCorners]int64
	reflex := 0
	for i := range n {
		turn[i] = orient(at[before(i, n)], at[i], at[after(i, n)])
		if turn[i] <= 0 {
			reflex++
		}
	}
	for ; n > 3; n-- {
		best, size := 0, int64(math.MaxInt64)
		for i := range n {
			if turn[i] > 0 {
				a, c := at[before(i, n)], at[after(i, n)]
				if d := squared(a, c); d < size && (reflex == 0 || emptyEar(a, at[i], c, at[:n], turn[:n])) {
					best, size = i, d
				}
			}
		}
		a, c := before(best, n), after(best, n)
		emit(name[a], name[best], name[c], turn[best] == 0)
		for _, k := range [3]int{best, a, c} {
			if turn[k] <= 0 {
				reflex--
			}
		}
		copy(at[best:n-1], at[best+1:n])
		copy(name[best:n-1], name[best+1:n])
		copy(turn[best:n-1], turn[best+1:n])
		for _, k := range [2]int{before(best, n), best % (n - 1)} {
			k = min(k, n-2)
			turn[k] = orient(at[before(k, n-1)], at[k], at[after(k, n-1)])
			if turn[k] <= 0 {
				reflex++
			}
		}
	}
	if n == 3 {
		emit(name[0], name[1], name[2], orient(at[0], at[1], at[2]) == 0)
	}
}

// before and after return the corners next to one of n.
func before(i, n int) int {
	if i == 0 {
		return n - 1
	}
	return i - 1
}

func after(i, n int) int {
	if i+1 == n {
		return 0
	}
	return i + 1
}

// emptyEar tells whether none of the corners at which the outline turns right, or not at all, lies in or on the triangle a b c.
func emptyEar(a, b, c [2]int64, points [][2]int64, turn []int64) bool {
	for i, p := range points {
		if turn[i] <= 0 && p != a && p != b && p != c && orient(a, b, p) >= 0 && orient(b, c, p) >= 0 && orient(c, a, p) >= 0 {
			return false
		}
	}
	return true
}

// shelves holds corners sorted into strips across the longer way of an outline, so that an ear is only
// compared with corners level with it.
type shelves struct {
	corners []corner
	start   []int32 // of each strip in corners; one more at the end
	axis    int
	low     int64
	width   int64
	spare   []corner
}

// shelve marks the nodes of a ring, sorts the corners that don't turn left into strips, and returns how many nodes there are.
func (t *triangulator) shelve(start int32) int {
	s := &t.reflex
	s.spare = s.spare[:0]
	n := 0
	low, high := t.at(start), t.at(start)
	for k, first := start, true; first || k != start; k, first = t.nodes[k].next, false {
		t.mark(k)
		at := t.nodes[k].at
		for i, v := range at {
			low[i], high[i] = min(low[i], v), max(high[i], v)
		}
		if t.nodes[k].reflex {
			s.spare = append(s.spare, corner{at, k})
		}
		n++
	}
	s.axis = 0
	if high[1]-low[1] > high[0]-low[0] {
		s.axis = 1
	}
	strips := int64(2*len(s.spare) + 1)
	s.low, s.width = low[s.axis], (high[s.axis]-low[s.axis])/strips+1
	s.start = fill(s.start, int(strips)+2, 0)
	for i := range s.spare {
		s.start[s.strip(s.spare[i].at)+2]++
	}
	for i := 2; i < len(s.start); i++ {
		s.start[i] += s.start[i-1]
	}
	s.corners = append(s.corners[:0], s.spare...)
	for _, c := range s.spare {
		k := s.strip(c.at) + 1
		s.corners[s.start[k]] = c
		s.start[k]++
	}
	return n
}

// strip returns the strip of a place.
func (s *shelves) strip(p [2]int64) int64 { return (p[s.axis] - s.low) / s.width }

// clear tells whether no other corner lies in or on the triangle at a node.
func (t *triangulator) clear(k int32) bool {
	s := &t.reflex
	if len(s.corners) == 0 {
		return true
	}
	a, b, c := t.at(t.nodes[k].prev), t.at(k), t.at(t.nodes[k].next)
	low := [2]int64{min(a[0], b[0], c[0]), min(a[1], b[1], c[1])}
	high := [2]int64{max(a[0], b[0], c[0]), max(a[1], b[1], c[1])}
	from, to := s.start[s.strip(low)], s.start[s.strip(high)+1]
	for i := range s.corners[from:to] {
		r := &s.corners[int(from)+i]
		p := r.at
		if p[0] < low[0] || p[0] > high[0] || p[1] < low[1] || p[1] > high[1] {
			continue
		}
		// Most corners lie beyond the cut.
		if orient(c, a, p) < 0 || p == a || p == b || p == c || orient(a, b, p) < 0 || orient(b, c, p) < 0 {
			continue
		}
		// Cutting ears may have made the corner turn left since, or have cut it off: none turns back.
		if t.nodes[r.n].reflex {
			return false
		}
	}
	return true
}

// leastBad returns the corner to cut where none is an ear: the convex one of least area, else the first.
func (t *triangulator) leastBad(k int32) int32 {
	best, size := k, int64(math.MaxInt64)
	for n, first := k, true; first || n != k; n, first = t.nodes[n].next, false {
		if s := t.turn(n); s > 0 && s < size {
			best, size = n, s
		}
	}
	return best
}
