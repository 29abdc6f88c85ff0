package stock

import (
	"cmp"
	"math"
	"slices"
	"strconv"
)

// Branch and price proves what diving and the root bound leave open. It
// branches first on how many bars of a kind are used, then, with the pieces of
// every pattern laid from the bar's start by falling size, on how many pieces
// of a size start at a place (the arc flow of Valério de Carvalho, "Exact
// solution of bin-packing problems using column generation and
// branch-and-bound", Annals of Operations Research 86 (1999) 629–659). Both
// kinds of row keep the knapsack a knapsack. When all of these numbers are
// whole, whole patterns with the same numbers exist and are read off.

// node is an open subproblem, its programme solved.
type node struct {
	l     *lp
	limit []int // bar limits that its rows set
	bound int64 // proven and raised
	depth int
	order int    // of creation
	bytes int    // held while open
	dived string // the numbers of bars for which a dive has been tried on this path
}

// tree is the set of open nodes, lowest bound first, then deepest, then newest.
type tree struct {
	s     *solver
	open  []*node
	made  int
	bytes int // held by open programmes
	lost  bool
	lostB int64 // the lowest bound of a node that could not be finished
}

// maxTreeBytes bounds the memory of the open programmes.
const maxTreeBytes = 256 << 20

// branch explores from a solved root until the best plan is proven or the
// budget is spent, raising the proven bound on the way.
func (s *solver) branch(l *lp) {
	t := &tree{s: s}
	t.push(l, s.in.limits(), 0, "")
	for s.work.left() && len(t.open) > 0 && !s.closed() {
		n := t.pop()
		low := n.bound
		if t.lost {
			low = min(low, t.lostB)
		}
		s.prove(low)
		if n.bound >= s.best.cost || s.closed() {
			continue
		}
		t.expand(n)
	}
	if len(t.open) == 0 && !s.closed() && s.work.left() {
		if t.lost {
			s.prove(t.lostB)
		} else {
			s.lb = s.best.cost
		}
	}
}

// push solves a programme and keeps it unless its bound reaches the best cost.
func (t *tree) push(l *lp, limit []int, depth int, dived string) {
	s := t.s
	out, bound := s.colgen(l, s.in.need, limit, 0, s.best.cost)
	bound = s.raise(bound)
	if out == cgPruned {
		return
	}
	n := &node{l: l, limit: limit, bound: max(bound, s.lb), depth: depth, order: t.made, dived: dived}
	t.made++
	if size := 8 * len(l.inv); out == cgFailed || t.bytes+size > maxTreeBytes {

		t.lose(n.bound)
		return
	} else {
		t.bytes += size
	}
	t.open = append(t.open, n)
	for k := len(t.open) - 1; k > 0 && t.less(k, (k-1)/2); k = (k - 1) / 2 {
		t.open[k], t.open[(k-1)/2] = t.open[(k-1)/2], t.open[k]
	}
}

// lose notes a subtree that stays unexplored.
func (t *tree) lose(bound int64) {
	if !t.lost || bound < t.lostB {
		t.lostB = bound
	}
	t.lost = true
}

// less orders the heap.
func (t *tree) less(i, j int) bool {
	a, b := t.open[i], t.open[j]
	return cmp.Or(cmp.Compare(a.bound, b.bound), cmp.Compare(b.depth, a.depth), cmp.Compare(b.order, a.order)) < 0
}

// pop takes the first node.
func (t *tree) pop() *node {
	n := t.open[0]
	last := len(t.open) - 1
	t.open[0] = t.open[last]
	t.open = t.open[:last]
	for k := 0; ; {
		c := 2*k + 1
		if c >= last {
			break
		}
		if c+1 < last && t.less(c+1, c) {
			c++
		}
		if !t.less(c, k) {
			break
		}
		t.open[k], t.open[c] = t.open[c], t.open[k]
		k = c
	}
	t.bytes -= n.bytes
	return n
}

// expand branches on a node, or reads its plan off.
func (t *tree) expand(n *node) {
	s := t.s
	y := s.barCounts(n.l)
	if j := fractionalBin(y); j >= 0 {
		t.branchBin(n, j, y[j])
		return
	}
	if key := countKey(y); key != n.dived {
		n.dived = key
		if s.diveWith(n.l, y); n.bound >= s.best.cost {
			return
		}
	}
	flow := s.arcFlow(n.l)
	if a, ok := fractionalArc(flow); ok {
		if !s.price.exact {
			t.lose(n.bound)
			return
		}
		t.branchArc(n, a)
		return
	}
	p := s.fromFlow(n.l, flow)
	if p == nil {

		t.lose(n.bound)
		return
	}
	s.offer(p)
}

// barCounts adds up the bars of each kind.
func (s *solver) barCounts(l *lp) []float64 {
	y := make([]float64, len(s.in.bins))
	for r, v := range l.basis {
		if v >= 0 {
			y[l.cols[v].pat.bin] += l.x[r]
		}
	}
	return y
}

// countKey names whole numbers of bars.
func countKey(y []float64) string {
	var b []byte
	for _, v := range y {
		b = strconv.AppendInt(append(b, ' '), int64(math.Round(v)), 10)
	}
	return string(b)
}

// fractionalBin returns the kind of bar whose number is farthest from whole, or −1.
func fractionalBin(y []float64) int {
	best, far := -1, 1e-6
	for j, x := range y {
		if f := math.Abs(x - math.Round(x)); f > far {
			best, far = j, f
		}
	}
	return best
}

// branchBin explores "at most ⌊x⌋" and "at least ⌈x⌉" bars of kind j.
func (t *tree) branchBin(n *node, j int, x float64) {
	s := t.s
	c := n.l.clone()
	lim := slices.Clone(n.limit)
	lim[j] = min(lim[j], int(math.Floor(x)))
	s.setRow(c, lprow{kind: limitRow, key: j, rhs: float64(lim[j])})
	t.child(c, lim, n)
	s.setRow(n.l, lprow{kind: floorRow, key: j, rhs: math.Ceil(x), big: float64(s.bigM)})
	t.child(n.l, n.limit, n)
}

// child repairs a programme that got a row, and pushes it.
func (t *tree) child(l *lp, limit []int, parent *node) {
	if !l.dual() {
		l.crash()
	}
	t.push(l, limit, parent.depth+1, parent.dived)
}

// diveWith looks for a plan with just these numbers of bars, whose cost is
// then that of the programme.
func (s *solver) diveWith(l *lp, y []float64) {
	c := l.clone()
	r := &rest{need: slices.Clone(s.in.need), limit: make([]int, len(y))}
	for j, v := range y {
		r.limit[j] = int(math.Round(v))
		s.setRow(c, lprow{kind: limitRow, key: j, rhs: float64(r.limit[j])})
	}
	for k := range 2 {
		d := &diver{s: s, turns: 2 + 4*k, shift: k}
		cost := s.best.cost
		rk, ck := r.clone(), c
		if k == 0 {
			ck = c.clone()
		}
		if !d.resolve(ck, rk) {
			return
		}
		if d.run(ck, rk, 0); s.best.cost < cost {
			return
		}
	}
}

// setRow tightens the row of that kind, key and place, or appends it.
func (s *solver) setRow(l *lp, row lprow) {
	for r := range l.rows {
		o := &l.rows[r]
		if o.kind == row.kind && o.key == row.key && o.pos == row.pos {
			o.rhs = row.rhs
			l.computeX()
			return
		}
	}
	l.addRow(row, s.in.size)
	if row.kind == floorRow { // an empty bar, so that the row can always be met
		s.add(l, &pattern{bin: row.key})
	}
}

// arc is a piece of size index item that starts at pos, with its flow.
type arc struct {
	pos, item int
	x         float64
}

// arcFlow adds up where the pieces of the basic patterns start.
func (s *solver) arcFlow(l *lp) []arc {
	var all []arc
	for r, v := range l.basis {
		if v < 0 || l.x[r] < 1e-9 {
			continue
		}
		p, at := l.cols[v].pat, 0
		for k, it := range p.item {
			for range p.count[k] {
				all = append(all, arc{at, int(it), l.x[r]})
				at += s.in.size[it]
			}
		}
	}
	slices.SortStableFunc(all, func(a, b arc) int {
		return cmp.Or(cmp.Compare(a.item, b.item), cmp.Compare(a.pos, b.pos))
	})
	var out []arc
	for _, a := range all {
		if n := len(out); n > 0 && out[n-1].item == a.item && out[n-1].pos == a.pos {
			out[n-1].x += a.x
		} else {
			out = append(out, a)
		}
	}
	s.work.spend(16 * len(all))
	return out
}

// fractionalArc picks the arc to branch on: the longest pieces decide most, so
// the first size with a fractional arc, and of its arcs the one nearest one half.
func fractionalArc(flow []arc) (arc, bool) {
	best, far, found := arc{}, 1e-6, false
	for _, a := range flow {
		if found && a.item != best.item {
			break
		}
		if f := math.Abs(a.x - math.Round(a.x)); f > far {
			best, far, found = a, f, true
		}
	}
	return best, found
}

// branchArc explores "at least" and "at most".
func (t *tree) branchArc(n *node, a arc) {
	s := t.s
	c := n.l.clone()
	s.setRow(c, lprow{kind: arcDnRow, key: a.item, pos: a.pos, rhs: math.Floor(a.x)})
	t.child(c, n.limit, n)
	s.setRow(n.l, lprow{kind: arcUpRow, key: a.item, pos: a.pos, rhs: math.Ceil(a.x), big: float64(s.bigM)})
	t.child(n.l, n.limit, n)
}

// fromFlow reads whole patterns off a whole flow: paths from place 0, longest
// pieces first, ended where bars of the right length are to end.
func (s *solver) fromFlow(l *lp, flow []arc) *solution {
	in := s.in
	out := map[int][]arc{} // by start, items rising; only looked up, never ranged
	for _, a := range flow {
		a.x = math.Round(a.x)
		if a.x > 0 {
			out[a.pos] = append(out[a.pos], a)
		}
	}
	bars := make([]int, len(in.bins))
	for j, v := range s.barCounts(l) {
		bars[j] = int(math.Round(v))
	}
	var contents []*pattern
	for {
		count := make([]int, len(in.size))
		at, last, some := 0, 0, false
		for {
			k := slices.IndexFunc(out[at], func(a arc) bool { return a.x > 0 && a.item >= last })
			if k < 0 {
				break
			}
			a := &out[at][k]
			a.x--
			count[a.item]++
			last, some = a.item, true
			at += in.size[a.item]
		}
		if !some {
			break
		}
		contents = append(contents, in.newPattern(0, count))
	}
	return s.assign(contents, bars)
}

// assign puts bar contents into the given numbers of bars, longest content
// first into the longest bars; nil if they do not fit or do not make the need.
func (s *solver) assign(contents []*pattern, bars []int) *solution {
	in := s.in
	slices.SortStableFunc(contents, func(a, b *pattern) int { return cmp.Compare(b.used, a.used) })
	var uses []use
	j := 0 // bins are sorted by falling length
	for _, p := range contents {
		for j < len(bars) && bars[j] == 0 {
			j++
		}
		if j == len(bars) || in.bins[j].cap < p.used {
			return nil
		}
		bars[j]--
		p.bin = j
		uses = append(uses, use{p, 1})
	}
	return s.exactly(uses)
}

// exactly trims surplus and finishes the plan; nil if pieces are missing that may not be.
func (s *solver) exactly(uses []use) *solution {
	uses = s.in.trimmed(uses)
	left := slices.Clone(s.in.need)
	for _, u := range uses {
		u.pat.take(left, u.n)
	}
	if s.in.skip == nil && slices.Max(left) > 0 {
		return nil
	}
	return s.in.finished(uses, left)
}
