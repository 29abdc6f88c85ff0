package stock

import (
	"cmp"
	"math"
	"slices"
)

// Branch and price proves what diving and the root bound leave open. It
// branches first on how many bars of a kind are used, then, with the pieces of
// every pattern laid from the bar's start by falling size, on how many pieces
// of a size start at a place (the arc flow of Valério de Carvalho, "Exact
// solution of bin-packing problems using column generation and
// branch-and-bound", Annals of Operations Research 86 (1999) 629–659). Both
// kinds of row keep the knapsack a knapsack. When all of these numbers are
// whole, whole patterns with the same numbers exist and are read off.

// branch explores the subtree of a programme and reports whether it was
// finished. limit holds the bar limits that its rows set.
func (s *solver) branch(l *lp, limit []int, depth int) bool {
	if s.closed() {
		return true
	}
	out, _ := s.colgen(l, s.in.need, limit, 0, s.best.cost)
	switch out {
	case cgPruned:
		return true
	case cgFailed:
		return false
	}
	if j, x, ok := s.fractionalBin(l); ok {
		return s.branchBin(l, limit, depth, j, x)
	}
	flow := s.arcFlow(l)
	if a, ok := fractionalArc(flow); ok {
		if !s.price.exact {
			return false
		}
		return s.branchArc(l, limit, depth, a)
	}
	p := s.fromFlow(l, flow)
	if p == nil {
		return false
	}
	s.offer(p)
	return true
}

// fractionalBin returns the kind of bar whose number is farthest from whole.
func (s *solver) fractionalBin(l *lp) (int, float64, bool) {
	y := make([]float64, len(s.in.bins))
	for r, v := range l.basis {
		if v >= 0 {
			y[l.cols[v].pat.bin] += l.x[r]
		}
	}
	best, far := -1, 1e-6
	for j, x := range y {
		if f := math.Abs(x - math.Round(x)); f > far {
			best, far = j, f
		}
	}
	if best < 0 {
		return 0, 0, false
	}
	return best, y[best], true
}

// branchBin explores "at most ⌊x⌋" and "at least ⌈x⌉" bars of kind j, the nearer first.
func (s *solver) branchBin(l *lp, limit []int, depth, j int, x float64) bool {
	down := func() bool {
		c := l.clone()
		lim := slices.Clone(limit)
		lim[j] = int(math.Floor(x))
		s.setRow(c, lprow{kind: limitRow, key: j, rhs: float64(lim[j])})
		return s.child(c, lim, depth)
	}
	up := func() bool {
		c := l.clone()
		s.setRow(c, lprow{kind: floorRow, key: j, rhs: math.Ceil(x), big: float64(s.bigM)})
		return s.child(c, limit, depth)
	}
	if x-math.Floor(x) < 0.5 {
		a := down()
		return up() && a
	}
	a := up()
	return down() && a
}

// child repairs and explores a programme that got a row.
func (s *solver) child(l *lp, limit []int, depth int) bool {
	if !s.work.left() {
		return false
	}
	if !l.dual() {
		l.crash()
	}
	return s.branch(l, limit, depth+1)
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

// branchArc explores "at least" first, which fills bars, then "at most".
func (s *solver) branchArc(l *lp, limit []int, depth int, a arc) bool {
	c := l.clone()
	s.setRow(c, lprow{kind: arcUpRow, key: a.item, pos: a.pos, rhs: math.Ceil(a.x), big: float64(s.bigM)})
	done := s.child(c, limit, depth)
	if s.closed() {
		return done
	}
	s.setRow(l, lprow{kind: arcDnRow, key: a.item, pos: a.pos, rhs: math.Floor(a.x)})
	return s.child(l, limit, depth) && done
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
	y := make([]float64, len(in.bins))
	for r, v := range l.basis {
		if v >= 0 {
			y[l.cols[v].pat.bin] += l.x[r]
		}
	}
	for j := range bars {
		bars[j] = int(math.Round(y[j]))
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
