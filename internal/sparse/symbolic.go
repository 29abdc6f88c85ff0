package sparse

import (
	"cmp"
	"slices"
)

// Pattern is the analysis of a matrix's pattern: the order of elimination and the dense fronts. It
// serves every matrix with the same pattern.
type Pattern struct {
	n      int
	perm   []int32 // perm[new] = old unknown
	where  []int32 // where[old] = new unknown
	fronts []front
	nonzer int
}

// front is a run of columns that are eliminated together.
type front struct {
	first, cols int     // columns first … first+cols-1 in the new numbering
	rows        []int32 // all rows, rising, the columns' own first
	parent      int     // the front that takes what is left, or -1
	children    []int
	at          int // where its panel starts in the factor's values
}

// Analyse orders the unknowns of the matrix. blocks gives the first unknown of each block of
// unknowns that share their neighbours, rising from 0; nil means that each stands alone.
func Analyse(a *Sym, blocks []int) *Pattern {
	if blocks == nil {
		blocks = make([]int, a.N)
		for i := range blocks {
			blocks[i] = i
		}
	}
	nb := len(blocks)
	of, weights := make([]int32, a.N), make([]int, nb)
	for b := range nb {
		end := a.N
		if b+1 < nb {
			end = blocks[b+1]
		}
		weights[b] = end - blocks[b]
		for i := blocks[b]; i < end; i++ {
			of[i] = int32(b)
		}
	}
	g := a.blockGraph(of, nb)
	order := minimumDegree(g, weights)
	tree := eliminationTree(g, order)
	order = tree.postorder(order)
	tree = eliminationTree(g, order)
	t := tree.structure(g, order)
	nodes := t.supernodes(order, weights)
	return assemblePattern(a.N, order, blocks, weights, nodes)
}

// Size returns how many values the factor holds.
func (p *Pattern) Size() int { return p.nonzer }

// etree is an elimination tree over blocks in elimination order.
type etree struct {
	parent []int32
	pos    []int32   // pos[block] = place in the order
	rows   [][]int32 // places of a column's entries below it, rising
}

// eliminationTree follows Liu, "The role of elimination trees in sparse factorization" (1990), with path
// compression.
func eliminationTree(g graph, order []int32) *etree {
	n := len(order)
	t := &etree{parent: make([]int32, n), pos: make([]int32, n)}
	for k, b := range order {
		t.pos[b] = int32(k)
	}
	anc := make([]int32, n)
	for k := range n {
		t.parent[k], anc[k] = -1, -1
		for _, b := range g.of(int(order[k])) {
			for i := t.pos[b]; i < int32(k) && i >= 0; {
				next := anc[i]
				anc[i] = int32(k)
				if next < 0 {
					t.parent[i] = int32(k)
				}
				i = next
				if i == int32(k) {
					break
				}
			}
		}
	}
	return t
}

// postorder returns the order with each subtree contiguous, the child with the largest subtree last.
func (t *etree) postorder(order []int32) []int32 {
	n := len(order)
	size := make([]int, n)
	children := make([][]int32, n)
	var roots []int32
	for k := range n {
		size[k]++
		if p := t.parent[k]; p >= 0 {
			size[p] += size[k]
			children[p] = append(children[p], int32(k))
		} else {
			roots = append(roots, int32(k))
		}
	}
	for _, c := range children {
		slices.SortStableFunc(c, func(a, b int32) int { return cmp.Compare(size[a], size[b]) })
	}
	out := make([]int32, 0, n)
	type step struct{ node, child int32 }
	for _, r := range roots {
		stack := []step{{r, 0}}
		for len(stack) > 0 {
			s := &stack[len(stack)-1]
			if c := children[s.node]; int(s.child) < len(c) {
				s.child++
				stack = append(stack, step{c[s.child-1], 0})
				continue
			}
			out = append(out, order[s.node])
			stack = stack[:len(stack)-1]
		}
	}
	return out
}

// structure fills rows: the pattern of each column of the factor.
func (t *etree) structure(g graph, order []int32) *etree {
	n := len(order)
	children := make([][]int32, n)
	for k := range n {
		if p := t.parent[k]; p >= 0 {
			children[p] = append(children[p], int32(k))
		}
	}
	t.rows = make([][]int32, n)
	seen := make([]int32, n)
	for i := range seen {
		seen[i] = -1
	}
	var rows []int32
	for k := range n {
		rows = rows[:0]
		add := func(i int32) {
			if i > int32(k) && seen[i] != int32(k) {
				seen[i] = int32(k)
				rows = append(rows, i)
			}
		}
		for _, b := range g.of(int(order[k])) {
			add(t.pos[b])
		}
		for _, c := range children[k] {
			for _, i := range t.rows[c] {
				add(i)
			}
		}
		slices.Sort(rows)
		t.rows[k] = slices.Clone(rows)
	}
	return t
}

// supernode is a run of block columns.
type supernode struct {
	first, last int32 // blocks in elimination order
	rows        []int32
	cols, below int // unknowns in the columns and in the rows below
	zeros       int
}

// supernodes joins columns of like pattern, and small ones where that adds few zeros.
func (t *etree) supernodes(order []int32, weights []int) []supernode {
	var out []supernode
	weigh := func(rows []int32) (w int) {
		for _, i := range rows {
			w += weights[order[i]]
		}
		return w
	}
	for k := range int32(len(order)) {
		s := supernode{first: k, last: k, rows: t.rows[k], cols: weights[order[k]]}
		s.below = weigh(s.rows)
		// The column just before is the last child where its parent is this one: try to take it in, and then
		// what lies before that.
		for len(out) > 0 {
			c := out[len(out)-1]
			if t.parent[c.last] != k {
				break
			}
			extra := c.cols * (s.cols + s.below - c.below)
			zeros := c.zeros + s.zeros + extra
			cols := c.cols + s.cols
			full := cols*(cols+1)/2 + cols*s.below
			if !worthJoining(cols, zeros, full) {
				break
			}
			s.first, s.cols, s.zeros = c.first, cols, zeros
			out = out[:len(out)-1]
		}
		out = append(out, s)
	}
	return out
}

// worthJoining allows more zeros in narrow fronts, whose cost is the handling rather than the sums.
func worthJoining(cols, zeros, full int) bool {
	share := float64(zeros) / float64(full)
	switch {
	case zeros == 0, cols <= 8:
		return true
	case cols <= 24:
		return share < 0.3
	case cols <= 64:
		return share < 0.1
	}
	return share < 0.03
}

// assemblePattern turns block columns into fronts of unknowns.
func assemblePattern(n int, order []int32, blocks, weights []int, nodes []supernode) *Pattern {
	p := &Pattern{n: n, perm: make([]int32, n), where: make([]int32, n), fronts: make([]front, len(nodes))}
	start := make([]int32, len(order)+1) // first new unknown of each block in the order
	for k, b := range order {
		start[k+1] = start[k] + int32(weights[b])
		for c := range weights[b] {
			old := int32(blocks[b] + c)
			p.perm[start[k]+int32(c)] = old
			p.where[old] = start[k] + int32(c)
		}
	}
	frontOf := make([]int32, len(order))
	for s, sn := range nodes {
		for k := sn.first; k <= sn.last; k++ {
			frontOf[k] = int32(s)
		}
	}
	for s, sn := range nodes {
		f := front{first: int(start[sn.first]), cols: sn.cols, parent: -1, at: p.nonzer}
		f.rows = make([]int32, 0, sn.cols+sn.below)
		for i := start[sn.first]; i < start[sn.last+1]; i++ {
			f.rows = append(f.rows, i)
		}
		for _, k := range sn.rows {
			for i := start[k]; i < start[k+1]; i++ {
				f.rows = append(f.rows, i)
			}
		}
		if len(sn.rows) > 0 {
			f.parent = int(frontOf[sn.rows[0]])
		}
		p.nonzer += len(f.rows) * f.cols
		p.fronts[s] = f
	}
	for s := range p.fronts {
		if q := p.fronts[s].parent; q >= 0 {
			p.fronts[q].children = append(p.fronts[q].children, s)
		}
	}
	return p
}
