package mesh

import "math"

// Most drills go right through the bar and come near no other tool. Their edges need no
// lines in space: seen along the drill, everything is an order of coordinates on one axis of the section, which whole numbers
// decide. The results are those that the lines would give, only sooner.

// span is what a plain tool takes from a line along the bar: between two of its planes.
type span struct {
	tool, low, high int32 // planes; low is -1 at end 0, high at end 1
}

// pass is a wall that a generator passes through.
type pass struct {
	wall int32
	at   float64
}

// lean finds which way each corner of a drill's polygon shifts on the section's axis when its sides shift outward, the side of lower rank the more. It
// returns false where the polygon has a side along the bar, which is left to the lines.
func (t *tool) lean() bool {
	n := int32(len(t.points))
	t.leaning = make([]int8, n)
	for k := range n {
		at, before, after := t.points[k], t.points[(k+n-1)%n], t.points[(k+1)%n]
		if at[0] == after[0] {
			return false
		}
		// The side before slides the corner along the side after, away from its end; the side after along the side before.
		byBefore, byAfter := sign(at[0]-after[0]), sign(at[0]-before[0])
		if k == 0 {
			byBefore, byAfter = byAfter, byBefore
		}
		if byBefore == 0 {
			byBefore = byAfter
		}
		t.leaning[k] = int8(byBefore)
	}
	return true
}

// cross returns on which side of corner k of a drill's polygon a coordinate of the section lies: -1 below, 1 above.
func (t *tool) cross(k int32, u int64) int {
	if d := sign(u - t.points[k][0]); d != 0 {
		return d
	}
	return -int(t.leaning[k])
}

// plainUpright finds the edges along a corner of the section, if only plain tools come near it.
func (e *engine) plainUpright(i int32) bool {
	c := e.corner[i]
	x, y := float64(c[0]), float64(c[1])
	e.spans = e.spans[:0]
	ends := 0
	for j := range e.tools {
		t := &e.tools[j]
		if x < t.box.low[0]-1 || x > t.box.high[0]+1 || y < t.box.low[1]-1 || y > t.box.high[1]+1 {
			continue
		}
		if !t.plain {
			return false
		}
		switch {
		case t.sides == 0 && math.IsInf(t.box.low[2], -1):
			e.spans = append(e.spans, span{int32(j), -1, t.first})
			ends++
		case t.sides == 0:
			e.spans = append(e.spans, span{int32(j), t.first, -1})
			ends++
		default:
			if low, high, ok := t.through(c[1-t.axis]); ok {
				e.spans = append(e.spans, span{int32(j), low, high})
			}
		}
	}
	if ends != 2 {
		return false
	}
	// Plain tools lie clear of each other, so the middles of their boxes give their order along the bar.
	s := e.spans
	for a := 1; a < len(s); a++ {
		for b := a; b > 0 && e.tools[s[b].tool].middle() < e.tools[s[b-1].tool].middle(); b-- {
			s[b], s[b-1] = s[b-1], s[b]
		}
	}
	l := line{p: e.prev[i], q: i}
	for k := 1; k < len(s); k++ {
		a, b := e.vertex(&l, s[k-1].high), e.vertex(&l, s[k].low)
		e.edges = append(e.edges, edge{e.prev[i], a, b}, edge{i, b, a})
	}
	return true
}

// middle returns a measure of a tool's place along the bar: infinite for ends.
func (t *tool) middle() float64 { return t.box.low[2] + t.box.high[2] }

// through returns the planes by which a line along the bar enters and leaves a drill, at a coordinate of the section.
func (t *tool) through(u int64) (low, high int32, ok bool) {
	low, high = -1, -1
	n := t.sides
	for k := range n {
		a, b := t.cross(k, u), t.cross((k+1)%n, u)
		if a == b {
			continue
		}
		// The polygon runs counter-clockwise: below, it goes up the axis.
		if a > b {
			low = t.first + k
		} else {
			high = t.first + k
		}
	}
	return low, high, low >= 0 && high >= 0
}

// plainTool finds the edges of a plain tool.
func (e *engine) plainTool(j int) {
	t := &e.tools[j]
	if t.sides == 0 {
		e.plainEnd(t)
		return
	}
	e.walls = e.walls[:0]
	for i := range e.wall {
		if e.wall[i].meets(&t.box) {
			e.walls = append(e.walls, int32(i))
		}
	}
	for _, i := range e.walls {
		e.plainMouth(t, i)
	}
	for k := range t.sides {
		e.plainGenerator(t, k)
	}
}

// plainEnd finds the edges of an end: the whole outline of the section.
func (e *engine) plainEnd(t *tool) {
	up := e.planes[t.first].n[2] > 0
	for i, k := range e.next {
		w := int32(i)
		a := e.vertex(&line{p: e.prev[i], q: w}, t.first)
		b := e.vertex(&line{p: w, q: k}, t.first)
		if !up {
			// The bar lies below the plane: the wall comes back along it.
			a, b = b, a
		}
		e.edges = append(e.edges, edge{t.first, b, a}, edge{w, a, b})
	}
}

// plainMouth finds the edges between a wall and a plain drill.
func (e *engine) plainMouth(t *tool, i int32) {
	axis := 1 - t.axis
	p, q := e.corner[i][axis], e.corner[e.next[i]][axis]
	before, after := line{p: e.prev[i], q: i}, line{p: i, q: e.next[i]}
	n := t.sides
	cq, dq := t.cross(0, p), t.cross(0, q)
	last := stop{generator: -1}
	for k := range n {
		cp, dp, g := cq, dq, k+1
		if g == n {
			g = 0
		}
		cq, dq = t.cross(g, p), t.cross(g, q)
		if cp == dp && cq == dq && cp == cq {
			continue // the wall passes the facet on one side
		}
		r := t.first + k
		// a is the end of the edge toward the wall's first corner, b toward its second.
		var a, b int32
		if cp != cq {
			a = e.vertex(&before, r)
		} else if a = e.stop(t, i, k, cp, dp, dq, &last); a < 0 {
			continue
		}
		if dp != dq {
			b = e.vertex(&after, r)
		} else if b = e.stop(t, i, k, dp, cp, cq, &last); b < 0 {
			continue
		}
		if e.planes[r].n[2] > 0 {
			a, b = b, a
		}
		e.edges = append(e.edges, edge{r, a, b}, edge{i, b, a})
	}
}

// stop is the vertex of a generator on a wall.
type stop struct{ generator, vertex int32 }

// stop returns the vertex of the generator at which an edge across wall i on facet k stops toward a corner of the wall that
// lies beyond the facet on the given side, or -1 where the wall does not reach the facet from there. It remembers the last one, which the next
// facet asks for again.
func (e *engine) stop(t *tool, i, k int32, side, otherA, otherB int, last *stop) int32 {
	if otherA == otherB && otherA == side {
		return -1
	}
	// The facet runs up the axis below the drill's middle, down above it: its lower end is corner k or the next.
	g := k
	after := k + 1
	if after == t.sides {
		after = 0
	}
	if up := t.points[after][0] > t.points[k][0]; up == (side > 0) {
		g = after
	}
	if g != last.generator {
		before := g - 1
		if g == 0 {
			before = t.sides - 1
		}
		*last = stop{g, e.vertex(&line{p: t.first + before, q: t.first + g}, i)}
	}
	return last.vertex
}

// plainGenerator finds what is left of a generator of a plain drill: what lies in the material.
func (e *engine) plainGenerator(t *tool, k int32) {
	u := 1 - t.axis
	p, q := t.first+(k+t.sides-1)%t.sides, t.first+k
	list := e.passes[:0]
	sure := true
	for _, w := range e.walls {
		a, b := e.corner[w], e.corner[e.next[w]]
		if t.cross(k, a[u]) == t.cross(k, b[u]) {
			continue
		}
		at := float64(a[t.axis])
		if d := b[u] - a[u]; d != 0 {
			at += float64(b[t.axis]-a[t.axis]) * (float64(t.points[k][0]-a[u]) / float64(d))
		}
		list = append(list, pass{w, at})
		for j := len(list) - 1; j > 0 && list[j].at <= list[j-1].at+1; j-- {
			if list[j].at > list[j-1].at-1 {
				sure = false
				break
			}
			list[j], list[j-1] = list[j-1], list[j]
		}
	}
	e.passes = list
	if !sure {
		e.ownEdge(int(e.owner[p]), p, q)
		return
	}
	// The line of p and q runs along n_p × n_q, which for a convex polygon is one way round for all corners.
	l := line{p: p, q: q}
	forth, back := q, p
	if e.alongLow(p, q, t.axis) {
		forth, back = p, q
	}
	for j := 0; j+1 < len(list); j += 2 {
		a, b := e.vertex(&l, list[j].wall), e.vertex(&l, list[j+1].wall)
		e.edges = append(e.edges, edge{forth, a, b}, edge{back, b, a})
	}
}

// alongLow tells whether n_p × n_q points down an axis.
func (e *engine) alongLow(p, q int32, axis int) bool {
	u, v := (axis+1)%3, (axis+2)%3
	a, b := &e.planes[p].n, &e.planes[q].n
	return a[u]*b[v]-a[v]*b[u] < 0
}
