package mesh

import (
	"math"
	"slices"
)

// triangulator cuts faces with holes into triangles: each hole is joined to the outline by a bridge, then
// ears are cut off (Meisters, "Polygons have ears", 1975). The decisions are integers, so they are exact. Whatever the
// input, the triangles have the face's edges as their boundary, so no face can tear the solid open:
// where rounding has folded an outline over by a grid unit, the least bad corner is cut.
type triangulator struct {
	solid [][3]int32 // all points
	u, v  int        // the axes of space that the face is projected on, so that it runs counter-clockwise

	points [][2]int64 // of the face, in its own plane
	name   []int32    // number of each point in the solid
	local  []int32    // number in the face of each point of the solid, + 1

	out     []int32 // edges by start point: next edge of the same start
	first   []int32 // first edge of each point
	used    []bool
	round   []int32 // loops of points, one after the other
	walk    []int32 // room for round
	ordered []int32 // 0, 1, 2 …
	ends    []int   // where each ends
	nodes   []node
	reflex  shelves // corners of the ring under work that turned right, or still do
	outer   []rimLoop
	holes   []inlet
	lows    []int32
	seers   []candidate
	starts  []int32

	sweeper sweeper
}

// node is a corner of an outline under work.
type node struct {
	at         [2]int64
	p          int32
	prev, next int32
	reflex     bool
}

// face triangulates the face bounded by directed edges, in the projection on u and v, and calls emit for each triangle with the solid's point numbers; flat says that it has no area.
func (t *triangulator) face(edges []edge, emit func(a, b, c int32, flat bool)) {
	if len(edges) <= fewCorners && t.small(edges, emit) {
		return
	}
	if !t.trace(edges) {
		t.points, t.name = t.points[:0], t.name[:0]
		for i := range edges {
			t.take(edges[i].a)
		}
		t.follow(edges)
		for _, p := range t.name {
			t.local[p] = 0
		}
	}
	t.nodes = t.nodes[:0]
	if !t.holed() {
		for i := range t.ends {
			if l := t.loop(i); len(l) <= fewCorners {
				t.few(l, emit)
			} else if !t.convex(l, emit) && !t.sweep(i, i+1, emit) {
				t.ears(t.ring(i), emit)
			}
		}
		return
	}
	if t.sweep(0, len(t.ends), emit) {
		return
	}
	for _, l := range t.assign() {
		t.ears(l, emit)
	}
}

// holed tells whether a loop runs round a hole, or looks so.
func (t *triangulator) holed() bool {
	if len(t.ends) == 1 {
		return false
	}
	for i := range t.ends {
		if t.area(t.loop(i)) < 0 {
			return true
		}
	}
	return false
}

// convex does an outline that turns left at every corner, zigzag from one end to the other.
func (t *triangulator) convex(l []int32, emit func(a, b, c int32, flat bool)) bool {
	n := len(l)
	before := t.points[l[n-1]]
	for i, p := range l {
		after := l[0]
		if i+1 < n {
			after = l[i+1]
		}
		if orient(before, t.points[p], t.points[after]) <= 0 {
			return false
		}
		before = t.points[p]
	}
	for i, j := 0, n-1; j-i >= 2; {
		emit(t.name[l[i]], t.name[l[i+1]], t.name[l[j]], false)
		if i++; j-i >= 2 {
			emit(t.name[l[i]], t.name[l[j-1]], t.name[l[j]], false)
			j--
		}
	}
	return true
}

// small does a face of few corners that is a single loop and touches itself nowhere, without the lists that others need.
func (t *triangulator) small(edges []edge, emit func(a, b, c int32, flat bool)) bool {
	var at [fewCorners][2]int64
	var name [fewCorners]int32
	next := edges[0].a
	for i := range edges {
		if i > 0 && next == name[0] {
			return false
		}
		name[i] = next
		at[i] = t.flatten(next)
		found := 0
		for _, d := range edges {
			if d.a == name[i] {
				next = d.b
				found++
			}
		}
		if found != 1 {
			return false
		}
	}
	if next != name[0] {
		return false
	}
	if len(edges) != 4 || !quad(&at, &name, emit) {
		cutFew(&at, &name, len(edges), emit)
	}
	return true
}

// quad does an outline of four corners that turns left at each, by the diagonal that leaves the fatter triangles.
func quad(at *[fewCorners][2]int64, n *[fewCorners]int32, emit func(a, b, c int32, flat bool)) bool {
	a, b, c, d := at[0], at[1], at[2], at[3]
	if orient(d, a, b) <= 0 || orient(a, b, c) <= 0 || orient(b, c, d) <= 0 || orient(c, d, a) <= 0 {
		return false
	}
	if squared(a, c) <= squared(b, d) {
		emit(n[0], n[1], n[2], false)
		emit(n[0], n[2], n[3], false)
	} else {
		emit(n[0], n[1], n[3], false)
		emit(n[1], n[2], n[3], false)
	}
	return true
}

func squared(a, b [2]int64) int64 {
	x, y := a[0]-b[0], a[1]-b[1]
	return x*x + y*y
}

// flatten returns a point of the solid in the projection.
func (t *triangulator) flatten(p int32) [2]int64 {
	k := &t.solid[p]
	return [2]int64{int64(k[t.u]), int64(k[t.v])}
}

// take gives a point of the solid a number in the face.
func (t *triangulator) take(p int32) {
	if t.local[p] == 0 {
		t.points = append(t.points, t.flatten(p))
		t.name = append(t.name, p)
		t.local[p] = int32(len(t.name))
	}
}

// trace is follow for a face that touches itself nowhere: from each point one edge goes on. It returns false for others. The points are
// numbered as they are met.
func (t *triangulator) trace(edges []edge) bool {
	for i := range edges {
		if t.local[edges[i].a] != 0 {
			t.forget(edges[:i])
			return false
		}
		t.local[edges[i].a] = int32(i) + 1
	}
	t.points, t.name, t.ends = t.points[:0], t.name[:0], t.ends[:0]
	for i := range edges {
		first := edges[i].a
		if t.local[first] == 0 {
			continue
		}
		next := int32(i) + 1
		for k := first; next > 0; next = t.local[k] {
			t.local[k] = 0
			t.points, t.name = append(t.points, t.flatten(k)), append(t.name, k)
			if k = edges[next-1].b; t.local[k] == 0 && k != first {
				t.forget(edges)
				return false
			}
		}
		t.ends = append(t.ends, len(t.name))
	}
	for n := int32(len(t.ordered)); int(n) < len(t.name); n++ {
		t.ordered = append(t.ordered, n)
	}
	t.round = t.ordered[:len(t.name)]
	return true
}

// forget clears the numbers of the points at which edges start.
func (t *triangulator) forget(edges []edge) {
	for i := range edges {
		t.local[edges[i].a] = 0
	}
}

// follow goes along the edges round and round: its loops are t.round, cut at t.ends. Where loops touch at a point, each edge goes on with the one that
// bounds the same wedge of the face.
func (t *triangulator) follow(edges []edge) {
	t.first = fill(t.first, len(t.name), -1)
	t.out = fill(t.out, len(edges), -1)
	for i := len(edges) - 1; i >= 0; i-- {
		a := t.local[edges[i].a] - 1
		t.out[i], t.first[a] = t.first[a], int32(i)
	}
	t.used = fill(t.used, len(edges), false)
	t.walk, t.ends = t.walk[:0], t.ends[:0]
	for i := range edges {
		if t.used[i] {
			continue
		}
		for k := int32(i); k >= 0 && !t.used[k]; k = t.after(edges, k) {
			t.used[k] = true
			t.walk = append(t.walk, t.local[edges[k].a]-1)
		}
		t.ends = append(t.ends, len(t.walk))
	}
	t.round = t.walk
}

// loop returns the points of a loop.
func (t *triangulator) loop(i int) []int32 {
	if i == 0 {
		return t.round[:t.ends[0]]
	}
	return t.round[t.ends[i-1]:t.ends[i]]
}

// fill returns n times v, in the room of s where it is enough.
func fill[T any](s []T, n int, v T) []T {
	s = slices.Grow(s[:0], n)[:n]
	for i := range s {
		s[i] = v
	}
	return s
}

// after returns the edge that follows another: the first one clockwise from the way back.
func (t *triangulator) after(edges []edge, k int32) int32 {
	a, b := t.local[edges[k].a]-1, t.local[edges[k].b]-1
	best := int32(-1)
	for i := t.first[b]; i >= 0; i = t.out[i] {
		if t.out[i] < 0 && best < 0 {
			return i
		}
		c := t.local[edges[i].b] - 1
		if best < 0 || clockwiseBefore(t.points[b], t.points[a], t.points[c], t.points[t.local[edges[best].b]-1]) {
			best = i
		}
	}
	return best
}

// clockwiseBefore tells whether, turning clockwise at o from the direction of a, one meets c before d.
func clockwiseBefore(o, a, c, d [2]int64) bool {
	hc, hd := clockwiseHalf(o, a, c), clockwiseHalf(o, a, d)
	if hc != hd {
		return hc < hd
	}
	return orient(o, c, d) < 0
}

// clockwiseHalf returns 0 for directions less than half a turn clockwise from that of a, 1 for half a turn or more, 2 for a's own.
func clockwiseHalf(o, a, c [2]int64) int {
	switch s := orient(o, a, c); {
	case s < 0:
		return 0
	case s == 0 && (a[0]-o[0])*(c[0]-o[0])+(a[1]-o[1])*(c[1]-o[1]) > 0:
		return 2
	}
	return 1
}

// area returns twice the signed area of a loop.
func (t *triangulator) area(l []int32) float64 {
	var a float64
	for i := 2; i < len(l); i++ {
		a += float64(orient(t.points[l[0]], t.points[l[i-1]], t.points[l[i]]))
	}
	return a
}

// assign gives each hole to the smallest outline round it and bridges it to it. It returns start nodes.
func (t *triangulator) assign() []int32 {
	outer, holes := t.outer[:0], t.holes[:0]
	for i := range t.ends {
		if a := t.area(t.loop(i)); a >= 0 {
			outer = append(outer, rimLoop{i, a})
		} else {
			holes = append(holes, inlet{i, -1})
		}
	}
	for k := range holes {
		size := math.Inf(1)
		for o := range outer {
			if outer[o].area < size && (len(outer) == 1 || t.holds(t.loop(outer[o].loop), t.loop(holes[k].loop))) {
				holes[k].within, size = o, outer[o].area
			}
		}
	}
	for _, h := range holes {
		if h.within < 0 {
			// Rounding has turned a thin loop inside out.
			outer = append(outer, rimLoop{h.loop, 0})
		}
	}
	t.outer, t.holes = outer, holes
	starts := t.starts[:0]
	for o := range outer {
		s := t.ring(outer[o].loop)
		t.bridge(s, o)
		starts = append(starts, s)
	}
	t.starts = starts
	return starts
}

// rimLoop is a loop round the face, with twice its area; inlet is a loop round a hole, with the outline it lies in.
type (
	rimLoop struct {
		loop int
		area float64
	}
	inlet struct{ loop, within int }
)

// holds tells whether an outline runs round a hole: by the first of the hole's corners that does not lie on it.
func (t *triangulator) holds(o, h []int32) bool {
	for _, p := range h {
		if s := t.inside(o, t.points[p]); s != 0 {
			return s > 0
		}
	}
	return true
}

// inside returns 1 for a point inside a loop, 0 on it, -1 outside.
func (t *triangulator) inside(o []int32, p [2]int64) int {
	in := -1
	for i := range o {
		a, b := t.points[o[i]], t.points[o[(i+1)%len(o)]]
		if a == p {
			return 0
		}
		if (a[1] > p[1]) == (b[1] > p[1]) {
			if a[1] == p[1] && b[1] == p[1] && (a[0] > p[0]) != (b[0] > p[0]) {
				return 0
			}
			continue
		}
		s := orient(a, b, p)
		if s == 0 {
			return 0
		}
		if (s > 0) == (b[1] > a[1]) {
			in = -in
		}
	}
	return in
}

// ring adds the nodes of a loop and returns the first.
func (t *triangulator) ring(loop int) int32 {
	l := t.loop(loop)
	start := int32(len(t.nodes))
	n := int32(len(l))
	for i, p := range l {
		k := int32(i)
		t.nodes = append(t.nodes, node{at: t.points[p], p: p, prev: start + (k+n-1)%n, next: start + (k+1)%n})
	}
	return start
}
