package mesh

import (
	"math"
	"slices"
)

// bounds is a box in grid units.
type bounds struct{ low, high [3]float64 }

func noBounds() bounds {
	inf := math.Inf(1)
	return bounds{[3]float64{inf, inf, inf}, [3]float64{-inf, -inf, -inf}}
}

// add makes the box hold a point.
func (b *bounds) add(p [3]float64) {
	for i, v := range p {
		if v < b.low[i] {
			b.low[i] = v
		}
		if v > b.high[i] {
			b.high[i] = v
		}
	}
}

// meets tells whether two boxes come within a grid unit of each other.
func (b *bounds) meets(c *bounds) bool {
	return b.low[0] <= c.high[0]+1 && c.low[0] <= b.high[0]+1 &&
		b.low[1] <= c.high[1]+1 && c.low[1] <= b.high[1]+1 &&
		b.low[2] <= c.high[2]+1 && c.low[2] <= b.high[2]+1
}

// tool is a convex body that is taken away: a drill, an end bore, or all that lies beyond an end's plane.
type tool struct {
	first, last int32 // its planes: first to last-1
	sides       int32 // how many of them stand round the axis, in order; the rest are floors
	axis        int   // of the drill
	points      [][2]int64
	box         bounds
	boxes       []bounds // of each plane's face
	surface     Surface
	near        []int // other tools whose boxes come near
	plain       bool  // a through drill across the bar or an end, near no other tool, or a bore as solid_bore.go has it
	chains      [2]chain
	leaning     []int8 // of each corner of a drill's polygon: the way it shifts on the section's axis where it just meets a corner of the section
}

// engine is the prism of a section, endless along z, less the tools.
type engine struct {
	planes     []plane
	corner     [][2]int64 // of the section; edge i runs from corner i and is plane i
	prev, next []int32
	tools      []tool  // the two ends, then the drills
	owner      []int32 // tool of each plane, -1 for the section's
	limit      int32   // six planes round everything: low and high x, y, z
	level      int32   // z = 0
	reach      float64 // size of the coordinates
	wall       []bounds

	edges   []edge
	corners table // vertices by their planes

	side      []bool
	crossings []cut
	list      []stretch
	spare     []stretch
	all       []int // every tool
	lineOnly  bool  // find all edges by lines, as tests do to compare
	nears     []int // of all tools, one after the other
	leanings  []int8
	core      [2][]int32 // for each end, of each corner of the section: the plain bore that it lies in, or -1
	spans     []span
	passes    []pass
	sorted    []pass
	from      []int32
}

// run finds all edges of the solid.
func (e *engine) run() {
	e.side = fill(e.side, len(e.corner), false)
	sides := 0
	for j := range e.tools {
		sides += int(e.tools[j].sides)
	}
	// What a bar with plain drills comes to; others grow.
	vertices := 2*len(e.corner) + 8*sides
	e.corners.reset(vertices)
	e.edges = slices.Grow(e.edges[:0], 3*vertices)
	e.findNear()
	for i := range e.corner {
		if !e.plainUpright(int32(i)) {
			e.uprightEdges(int32(i))
		}
	}
	for j := range e.tools {
		t := &e.tools[j]
		if t.plain {
			e.plainTool(j)
			continue
		}
		e.mouthEdges(j)
		e.ownEdges(j)
		for _, k := range t.near {
			if k < j {
				e.crossingEdges(j, k)
			}
		}
	}
}

// findNear finds which tools come near each other, and which are plain.
func (e *engine) findNear() {
	e.nears, e.leanings = e.nears[:0], e.leanings[:0]
	for j := range e.tools {
		t := &e.tools[j]
		from := len(e.nears)
		for k := range e.tools {
			if k != j && t.box.meets(&e.tools[k].box) {
				e.nears = append(e.nears, k)
			}
		}
		t.near = e.nears[from:]
		t.plain = !e.lineOnly && len(t.near) == 0 && t.last-t.first == max(1, t.sides) && t.axis != 2 && e.lean(t)
	}
	e.findBores()
	e.all = e.all[:0]
	for j := range e.tools {
		e.all = append(e.all, j)
	}
}

// uprightEdges finds the edges along one corner of the section.
func (e *engine) uprightEdges(i int32) {
	var l line
	e.upright(&l, i)
	e.list = append(e.list[:0], e.throughBox(&l))
	e.emit(&l, e.cutAway(&l, e.list, e.all, -1), e.prev[i], i)
}

// emit adds the edges of stretches: forth to one face, back to the other.
func (e *engine) emit(l *line, list []stretch, forth, back int32) {
	for i := range list {
		a, b := e.vertex(l, list[i].a.plane), e.vertex(l, list[i].b.plane)
		e.edges = append(e.edges, edge{forth, a, b}, edge{back, b, a})
	}
}

// vertex returns the number of the vertex at a plane on a line.
func (e *engine) vertex(l *line, r int32) int32 { return e.meeting(l.p, l.q, r) }

// meeting returns the number of the vertex at which three planes meet.
func (e *engine) meeting(a, b, c int32) int32 {
	if a > b {
		a, b = b, a
	}
	if b > c {
		b, c = c, b
	}
	if a > b {
		a, b = b, a
	}
	return e.corners.number([3]int32{a, b, c})
}

// mouthEdges finds the edges between the section's faces and a tool.
func (e *engine) mouthEdges(j int) {
	t := &e.tools[j]
	var l line
	for i := range e.wall {
		if !e.wall[i].meets(&t.box) {
			continue
		}
		for r := t.first; r < t.last; r++ {
			if !e.wall[i].meets(&t.boxes[r-t.first]) || !e.line(&l, int32(i), r) {
				continue
			}
			s, ok := e.acrossWall(&l, int32(i), r)
			if !ok || !e.clipFace(&l, t, r, &s) {
				continue
			}
			e.list = append(e.list[:0], s)
			e.emit(&l, e.cutAway(&l, e.list, t.near, -1), r, int32(i))
		}
	}
}

// acrossWall returns the stretch of the line of a wall and a tool's plane between the wall's two corners.
func (e *engine) acrossWall(l *line, i, r int32) (stretch, bool) {
	if e.planes[r].n[2] == 0 {
		if sideOf(&e.planes[r], e.corner[i]) == sideOf(&e.planes[r], e.corner[e.next[i]]) {
			return stretch{}, false
		}
		return e.throughBox(l), true
	}
	lo, hi := e.next[i], e.prev[i]
	if e.planes[r].n[2] < 0 {
		lo, hi = hi, lo
	}
	a, _ := e.cut(l, lo)
	b, _ := e.cut(l, hi)
	return stretch{a, b}, true
}

// ownEdges finds what is left of a tool's own edges: the generators of its walls and the rims of its floors.
func (e *engine) ownEdges(j int) {
	t := &e.tools[j]
	if t.sides == 0 {
		return
	}
	for k := range t.sides {
		e.ownEdge(j, t.first+k, t.first+(k+1)%t.sides)
		for f := t.first + t.sides; f < t.last; f++ {
			e.ownEdge(j, t.first+k, f)
		}
	}
}

func (e *engine) ownEdge(j int, p, q int32) {
	var l line
	if !e.line(&l, p, q) {
		return
	}
	s := e.throughBox(&l)
	if t := &e.tools[j]; e.clipFace(&l, t, p, &s) && e.clipFace(&l, t, q, &s) {
		e.emit(&l, e.cutAway(&l, e.material(&l, s), t.near, -1), q, p)
	}
}

// crossingEdges finds the edges where two tools run into each other.
func (e *engine) crossingEdges(j, k int) {
	t, u := &e.tools[j], &e.tools[k]
	var l line
	for p := t.first; p < t.last; p++ {
		if !t.boxes[p-t.first].meets(&u.box) {
			continue
		}
		for q := u.first; q < u.last; q++ {
			if !t.boxes[p-t.first].meets(&u.boxes[q-u.first]) || !e.line(&l, p, q) {
				continue
			}
			s := e.throughBox(&l)
			if e.clipFace(&l, t, p, &s) && e.clipFace(&l, u, q, &s) {
				e.emit(&l, e.cutAway(&l, e.material(&l, s), t.near, k), p, q)
			}
		}
	}
}
