package drawing

import (
	"math"

	"barwright/geom"
)

// boxTree is a tree of boxes over the triangles of a mesh in the mesh's own coordinates. There the long faces of
// a bar have thin boxes, which a view at a slant would not have.
type boxTree struct {
	nodes []treeNode
	order []int32 // triangles, each leaf's together
}

// treeNode is a box with either two children (at left and left+1) or count triangles from first.
type treeNode struct {
	centre, half geom.Vec
	left         int32
	first, count int32
}

// leafSize is the largest number of triangles that are not split further.
const leafSize = 4

// newBoxTree builds the tree, splitting where the surface area heuristic says
// (J. D. MacDonald and K. S. Booth, "Heuristics for ray tracing using space
// subdivision", 1990), with the areas taken at a few places only.
func newBoxTree(at []geom.Vec, triangles [][3]uint32) boxTree {
	b := treeBuilder{boxes: make([]geom.Box, len(triangles)), tree: boxTree{order: make([]int32, len(triangles))}}
	for i, t := range triangles {
		b.tree.order[i] = int32(i)
		b.boxes[i] = geom.EmptyBox().Extend(at[t[0]]).Extend(at[t[1]]).Extend(at[t[2]])
	}
	if len(triangles) > 0 {
		b.tree.nodes = append(b.tree.nodes, treeNode{})
		b.split(0, 0, len(triangles))
	}
	return b.tree
}

type treeBuilder struct {
	boxes []geom.Box
	tree  boxTree
}

// split fills a node with the triangles order[from:to].
func (b *treeBuilder) split(node, from, to int) {
	order := b.tree.order[from:to]
	box, mids := geom.EmptyBox(), geom.EmptyBox()
	for _, i := range order {
		box = box.Union(b.boxes[i])
		mids = mids.Extend(b.boxes[i].Centre())
	}
	n := &b.tree.nodes[node]
	n.centre, n.half = box.Centre(), box.Size().Scale(0.5)
	axis, cut, ok := b.bestCut(order, mids)
	if len(order) <= leafSize || !ok {
		n.first, n.count = int32(from), int32(to-from)
		return
	}
	k := 0
	for i := range order {
		if b.boxes[order[i]].Centre().Along(axis) < cut {
			order[i], order[k] = order[k], order[i]
			k++
		}
	}
	left := len(b.tree.nodes)
	n.left = int32(left)
	b.tree.nodes = append(b.tree.nodes, treeNode{}, treeNode{})
	b.split(left, from, from+k)
	b.split(left+1, from+k, to)
}

// bestCut returns the axis and place of the cheapest cut, or false where all middles are in one place.
func (b *treeBuilder) bestCut(order []int32, mids geom.Box) (axis geom.Axis, cut float64, ok bool) {
	const bins = 12
	best := math.Inf(1)
	for _, ax := range []geom.Axis{geom.X, geom.Y, geom.Z} {
		low, size := mids.Low.Along(ax), mids.Size().Along(ax)
		if !(size > 1e-6) {
			continue
		}
		var boxes [bins]geom.Box
		var counts [bins]int
		for k := range boxes {
			boxes[k] = geom.EmptyBox()
		}
		for _, i := range order {
			k := min(bins-1, int((b.boxes[i].Centre().Along(ax)-low)/size*bins))
			boxes[k] = boxes[k].Union(b.boxes[i])
			counts[k]++
		}
		var right [bins]float64
		box, n := geom.EmptyBox(), 0
		for k := bins - 1; k > 0; k-- {
			box, n = box.Union(boxes[k]), n+counts[k]
			right[k] = halfArea(box) * float64(n)
		}
		box, n = geom.EmptyBox(), 0
		for k := 1; k < bins; k++ {
			box, n = box.Union(boxes[k-1]), n+counts[k-1]
			if cost := halfArea(box)*float64(n) + right[k]; n > 0 && n < len(order) && cost < best {
				best, axis, cut, ok = cost, ax, low+size*float64(k)/bins, true
			}
		}
	}
	return axis, cut, ok
}

// halfArea returns half the surface of a box, 0 where it is empty.
func halfArea(b geom.Box) float64 {
	if b.Empty() {
		return 0
	}
	s := b.Size()
	return s.X*s.Y + s.Y*s.Z + s.Z*s.X
}

// curtain is everything between an edge and the viewer: the half-plane strip that leaves the edge toward the viewer. It is given in the
// coordinates of the body that may hide the edge.
type curtain struct {
	p, q   geom.Vec // ends of the edge
	viewer geom.Vec
	normal geom.Vec // of the strip's plane
	offset float64
	along  geom.Vec // across the strip, square to the viewer
	from   float64  // along · p and q
	to     float64
	low    geom.Vec // bounds of the strip
	high   geom.Vec
}

func newCurtain(p, q, viewer geom.Vec) curtain {
	c := curtain{p: p, q: q, viewer: viewer}
	c.normal = q.Sub(p).Cross(viewer).Unit()
	c.offset = c.normal.Dot(p)
	c.along = viewer.Cross(c.normal)
	c.from, c.to = c.along.Dot(p), c.along.Dot(q)
	if c.from > c.to {
		c.from, c.to = c.to, c.from
	}
	bounds := func(a, b, v float64) (float64, float64) {
		low, high := min(a, b)-rimTolerance, max(a, b)+rimTolerance
		if v > 0 {
			high = math.Inf(1)
		}
		if v < 0 {
			low = math.Inf(-1)
		}
		return low, high
	}
	c.low.X, c.high.X = bounds(p.X, q.X, viewer.X)
	c.low.Y, c.high.Y = bounds(p.Y, q.Y, viewer.Y)
	c.low.Z, c.high.Z = bounds(p.Z, q.Z, viewer.Z)
	return c
}

// meets reports whether the strip may meet the box of a node. It never misses one that it meets.
func (c *curtain) meets(n *treeNode) bool {
	m, h := n.centre, n.half
	if m.X+h.X < c.low.X || m.X-h.X > c.high.X || m.Y+h.Y < c.low.Y || m.Y-h.Y > c.high.Y ||
		m.Z+h.Z < c.low.Z || m.Z-h.Z > c.high.Z {
		return false
	}
	d := c.normal.X*m.X + c.normal.Y*m.Y + c.normal.Z*m.Z - c.offset
	r := math.Abs(c.normal.X)*h.X + math.Abs(c.normal.Y)*h.Y + math.Abs(c.normal.Z)*h.Z + rimTolerance
	if d > r || d < -r {
		return false
	}
	d = c.along.X*m.X + c.along.Y*m.Y + c.along.Z*m.Z
	r = math.Abs(c.along.X)*h.X + math.Abs(c.along.Y)*h.Y + math.Abs(c.along.Z)*h.Z + rimTolerance
	return d+r >= c.from && d-r <= c.to
}
