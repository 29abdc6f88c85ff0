package check

import (
	"cmp"
	"slices"

	"barwright/geom"
)

// tree finds the boxes near a place. It halves the boxes again and again at the middle of the longer
// way, so that a question costs the logarithm of their number and what it finds.
type tree struct {
	boxes []geom.Box
	order []int32
	nodes []treeNode
}

type treeNode struct {
	box         geom.Box
	from, to    int32 // of order
	left, right int32 // 0 for a leaf
}

// treeLeaf is how many boxes a leaf holds.
const treeLeaf = 8

func newTree(boxes []geom.Box) *tree {
	t := &tree{boxes: boxes, order: make([]int32, len(boxes))}
	for i := range t.order {
		t.order[i] = int32(i)
	}
	if len(boxes) > 0 {
		t.split(0, int32(len(boxes)))
	}
	return t
}

func (t *tree) split(from, to int32) int32 {
	box, mid := geom.EmptyBox(), geom.EmptyBox()
	for _, i := range t.order[from:to] {
		box = box.Union(t.boxes[i])
		mid = mid.Extend(t.boxes[i].Centre())
	}
	n := int32(len(t.nodes))
	t.nodes = append(t.nodes, treeNode{box: box, from: from, to: to})
	if to-from <= treeLeaf {
		return n
	}
	axis, size := geom.X, mid.Size()
	for _, ax := range []geom.Axis{geom.Y, geom.Z} {
		if size.Along(ax) > size.Along(axis) {
			axis = ax
		}
	}
	slices.SortFunc(t.order[from:to], func(i, j int32) int {
		return cmp.Or(cmp.Compare(t.boxes[i].Centre().Along(axis), t.boxes[j].Centre().Along(axis)), cmp.Compare(i, j))
	})
	half := (from + to) / 2
	left := t.split(from, half)
	right := t.split(half, to)
	t.nodes[n].left, t.nodes[n].right = left, right
	return n
}

// near returns the indices of the boxes that share a point with a box, rising.
func (t *tree) near(box geom.Box) []int {
	var out []int
	t.each(box, func(i int) bool { out = append(out, i); return true })
	slices.Sort(out)
	return out
}

// each calls fn for the boxes that share a point with a box, in no order that means anything but always the
// same, until fn returns false.
func (t *tree) each(box geom.Box, fn func(int) bool) {
	if len(t.nodes) == 0 {
		return
	}
	var stack [64]int32
	n := 1
	for n > 0 {
		n--
		node := &t.nodes[stack[n]]
		if !meet(node.box, box) {
			continue
		}
		if node.left > 0 && n+2 <= len(stack) {
			stack[n], stack[n+1] = node.left, node.right
			n += 2
			continue
		}
		for _, i := range t.order[node.from:node.to] {
			if meet(t.boxes[i], box) && !fn(int(i)) {
				return
			}
		}
	}
}

// meet reports whether two boxes share a point.
func meet(a, b geom.Box) bool {
	return a.Low.X <= b.High.X && b.Low.X <= a.High.X && a.Low.Y <= b.High.Y && b.Low.Y <= a.High.Y &&
		a.Low.Z <= b.High.Z && b.Low.Z <= a.High.Z
}

// mostPairs is how many pairs are looked at. Only a frame whose bars lie all in one place has so many.
const mostPairs = 2_000_000

// pairs calls fn for every two boxes that share a point once one of them has grown by a distance, in
// rising order, until fn returns false or there are more than mostPairs.
func (t *tree) pairs(grow float64, fn func(i, j int) bool) {
	left := mostPairs
	for i, b := range t.boxes {
		for _, j := range t.near(b.Grow(grow)) {
			if left--; left < 0 {
				return
			}
			if j > i && !fn(i, j) {
				return
			}
		}
	}
}
