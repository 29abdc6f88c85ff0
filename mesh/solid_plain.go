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
	generator, wall int32
	at              float64
}

// chain is one of the two halves of a drill's polygon, between its highest and lowest corner on the section's axis.
type chain struct {
	first, sides int32 // its first corner, and how many sides follow
	down         bool  // it runs down the axis
}

// lean finds which way each corner of a drill's polygon shifts on the section's axis when its sides shift outward, the side of lower rank the more, and
// the polygon's two chains. It returns false where the polygon has a side along the bar, which is left to the lines.
func (e *engine) lean(t *tool) bool {
	n := int32(len(t.points))
	from := len(e.leanings)
	var top, bottom int32
	for k := range n {
		at, before, after := t.points[k], t.points[t.before(k)], t.points[t.after(k)]
		if at[0] == after[0] {
			return false
		}
		if at[0] > t.points[top][0] {
			top = k
		}
		if at[0] < t.points[bottom][0] {
			bottom = k
		}
		// The side before slides the corner along the side after, away from its end; the side after along the side before.
		byBefore, byAfter := sign(at[0]-after[0]), sign(at[0]-before[0])
		if k == 0 {
			byBefore, byAfter = byAfter, byBefore
		}
		if byBefore == 0 {
			byBefore = byAfter
		}
		e.leanings = append(e.leanings, int8(byBefore))
	}
	t.leaning = e.leanings[from:]
	if n > 0 {
		down := (bottom - top + n) % n
		t.chains = [2]chain{{top, down, true}, {bottom, n - down, false}}
	}
	return true
}

// before and after return the corners next to a corner of a drill's polygon, or the sides next to a side.
func (t *tool) before(k int32) int32 {
	if k == 0 {
		return t.sides - 1
	}
	return k - 1
}

func (t *tool) after(k int32) int32 {
	if k+1 == t.sides {
		return 0
	}
	return k + 1
}

// on returns the corner of a polygon that comes i after the first of a chain.
func (t *tool) on(c *chain, i int32) int32 {
	if k := c.first + i; k < t.sides {
		return k
	}
	return c.first + i - t.sides
}

// rank returns how many corners of a chain, from its first, come before a coordinate of the section.
func (t *tool) rank(c *chain, u int64) int32 {
	beyond := 1
	if c.down {
		beyond = -1
	}
	lo, hi := int32(0), c.sides+1
	for lo < hi {
		if m := (lo + hi) / 2; t.cross(t.on(c, m), u) == beyond {
			lo = m + 1
		} else {
			hi = m
		}
	}
	return lo
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
			e.spans = append(e.spans, span{int32(j), -1, e.floorOf(i, j)})
			ends++
		case t.sides == 0:
			e.spans = append(e.spans, span{int32(j), e.floorOf(i, j), -1})
			ends++
		case t.axis == 2:
			// An end bore is told of by its end.
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
	for k := 1; k < len(s); k++ {
		a, b := e.meeting(e.prev[i], i, s[k-1].high), e.meeting(e.prev[i], i, s[k].low)
		e.edges = append(e.edges, edge{e.prev[i], a, b}, edge{i, b, a})
	}
	return true
}

// middle returns a measure of a tool's place along the bar: infinite for ends.
func (t *tool) middle() float64 { return t.box.low[2] + t.box.high[2] }

// through returns the planes by which a line along the bar enters and leaves a drill, at a coordinate of the section.
func (t *tool) through(u int64) (low, high int32, ok bool) {
	low, high = -1, -1
	for i := range t.chains {
		c := &t.chains[i]
		r := t.rank(c, u)
		if r == 0 || r > c.sides {
			return -1, -1, false
		}
		// The polygon runs counter-clockwise: below, it goes up the axis.
		if c.down {
			high = t.first + t.on(c, r-1)
		} else {
			low = t.first + t.on(c, r-1)
		}
	}
	return low, high, true
}

// plainTool finds the edges of a plain tool.
func (e *engine) plainTool(j int) {
	t := &e.tools[j]
	if t.sides == 0 {
		e.plainEnd(j)
		return
	}
	if t.axis == 2 {
		e.plainBoreEdges(t)
		return
	}
	e.passes = e.passes[:0]
	for i := range e.wall {
		if e.wall[i].meets(&t.box) {
			e.plainMouth(t, int32(i))
		}
	}
	e.sortPasses(t.sides)
	for k := range t.sides {
		e.plainGenerator(t, k)
	}
}

// sortPasses puts the walls that generators pass through in the order of the generators.
func (e *engine) sortPasses(sides int32) {
	e.from = fill(e.from, int(sides)+2, 0)
	for i := range e.passes {
		e.from[e.passes[i].generator+2]++
	}
	for i := 2; i < len(e.from); i++ {
		e.from[i] += e.from[i-1]
	}
	e.sorted = append(e.sorted[:0], e.passes...)
	for i := range e.passes {
		k := e.passes[i].generator + 1
		e.sorted[e.from[k]] = e.passes[i]
		e.from[k]++
	}
}

// plainEnd finds the edges of an end: the whole outline of the section, on the floors of bores where it lies in them.
func (e *engine) plainEnd(end int) {
	t := &e.tools[end]
	up := e.planes[t.first].n[2] > 0
	for i, k := range e.next {
		w := int32(i)
		face := e.floorOf(w, end)
		a := e.meeting(e.prev[i], w, face)
		b := e.meeting(w, k, face)
		if !up {
			// The bar lies below the plane: the wall comes back along it.
			a, b = b, a
		}
		e.edges = append(e.edges, edge{face, b, a}, edge{w, a, b})
	}
}

// plainMouth finds the edges between a wall and a plain drill, and which generators pass through the wall.
func (e *engine) plainMouth(t *tool, i int32) {
	axis := 1 - t.axis
	p, q := e.corner[i][axis], e.corner[e.next[i]][axis]
	last := stop{generator: -1}
	for h := range t.chains {
		c := &t.chains[h]
		lo, hi := t.rank(c, p), t.rank(c, q)
		if lo > hi {
			lo, hi = hi, lo
		}
		// The wall passes the facets before and after on one side.
		for k := max(lo-1, 0); k < min(hi, c.sides); k++ {
			e.mouthEdge(t, i, t.on(c, k), &last)
		}
		for k := lo; k < min(hi, c.sides); k++ {
			e.pass(t, i, t.on(c, k))
		}
	}
}

// mouthEdge finds the edge between a wall and facet k of a plain drill.
func (e *engine) mouthEdge(t *tool, i, k int32, last *stop) {
	axis := 1 - t.axis
	p, q := e.corner[i][axis], e.corner[e.next[i]][axis]
	g := t.after(k)
	cp, dp, cq, dq := t.cross(k, p), t.cross(k, q), t.cross(g, p), t.cross(g, q)
	r := t.first + k
	// a is the end of the edge toward the wall's first corner, b toward its second.
	var a, b int32
	if cp != cq {
		a = e.meeting(e.prev[i], i, r)
	} else if a = e.stop(t, i, k, cp, dp, dq, last); a < 0 {
		return
	}
	if dp != dq {
		b = e.meeting(i, e.next[i], r)
	} else if b = e.stop(t, i, k, dp, cp, cq, last); b < 0 {
		return
	}
	if e.planes[r].n[2] > 0 {
		a, b = b, a
	}
	e.edges = append(e.edges, edge{r, a, b}, edge{i, b, a})
}

// pass notes that generator k of a plain drill passes through a wall.
func (e *engine) pass(t *tool, w, k int32) {
	u := 1 - t.axis
	a, b := e.corner[w], e.corner[e.next[w]]
	at := float64(a[t.axis])
	if d := b[u] - a[u]; d != 0 {
		at += float64(b[t.axis]-a[t.axis]) * (float64(t.points[k][0]-a[u]) / float64(d))
	}
	e.passes = append(e.passes, pass{k, w, at})
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
	g, after := k, t.after(k)
	if up := t.points[after][0] > t.points[k][0]; up == (side > 0) {
		g = after
	}
	if g != last.generator {
		*last = stop{g, e.meeting(t.first+t.before(g), t.first+g, i)}
	}
	return last.vertex
}

// plainGenerator finds what is left of a generator of a plain drill: what lies in the material.
func (e *engine) plainGenerator(t *tool, k int32) {
	p, q := t.first+t.before(k), t.first+k
	list := e.sorted[e.from[k]:e.from[k+1]]
	sure := true
	for i := 1; i < len(list); i++ {
		for j := i; j > 0 && list[j].at <= list[j-1].at+1; j-- {
			if list[j].at > list[j-1].at-1 {
				sure = false
				break
			}
			list[j], list[j-1] = list[j-1], list[j]
		}
	}
	if !sure {
		e.ownEdge(int(e.owner[p]), p, q)
		return
	}
	// The line of p and q runs along n_p × n_q, which for a convex polygon is one way round for all corners.
	forth, back := q, p
	if e.alongLow(p, q, t.axis) {
		forth, back = p, q
	}
	for j := 0; j+1 < len(list); j += 2 {
		a, b := e.meeting(p, q, list[j].wall), e.meeting(p, q, list[j+1].wall)
		e.edges = append(e.edges, edge{forth, a, b}, edge{back, b, a})
	}
}

// alongLow tells whether n_p × n_q points down an axis.
func (e *engine) alongLow(p, q int32, axis int) bool {
	u, v := (axis+1)%3, (axis+2)%3
	a, b := &e.planes[p].n, &e.planes[q].n
	return a[u]*b[v]-a[v]*b[u] < 0
}
