package stock

import "slices"

// The longest single leftover, searched for with the planner itself: is there
// a plan of the same cost and as many bars in which one bar of kind j could be
// shorter by so much? That bar is added as a kind of its own, one of it, a
// trifle cheaper, so that a plan that uses it costs less than the best; the
// length is found by halving.

// leftoverSearch holds what its questions share.
type leftoverSearch struct {
	s    *solver
	pool []use
	k    int64 // cost of a bar = k·price + 1, doubled
	goal int64 // the cost of a plan that uses the shorter bar
	top  int   // the longest slack so far
	best []use
}

// longerLeft improves the plan's longest leftover as far as its budget goes.
func (s *solver) longerLeft(pool []use) {
	in := s.in
	bars := s.best.bars()
	if s.best.skip != nil || bars == 0 || s.best.cost > 1<<40/int64(bars+1) {
		return
	}
	if in.skip != nil && slices.Max(in.skip) > 1<<40/int64(bars+1) {
		return
	}
	q := &leftoverSearch{s: s, pool: pool, k: int64(bars + 1), best: s.best.uses}
	q.goal = 2*(s.best.cost*q.k+int64(bars)) - 1
	for _, u := range q.best {
		q.top = max(q.top, in.slack(u.pat))
	}
	n := min((s.work.limit-s.work.used)/4, s.work.used/2+20e6)
	s.work.within(n, func() {
		for j := range in.bins {
			q.halve(j, n/8)
		}
	})
	s.best = &solution{uses: q.best, cost: in.costOf(q.best, nil)}
}

// halve looks for the longest slack of a bar of kind j above top.
func (q *leftoverSearch) halve(j int, each int64) {
	in := q.s.in
	hi := in.bins[j].cap - in.size[len(in.size)-1]
	if hi <= q.top || !q.ask(j, q.top+1, each) {
		return
	}
	for q.top < hi && q.s.work.left() {
		if mid := (q.top + hi + 1) / 2; !q.ask(j, mid, each) {
			hi = mid - 1
		}
	}
}

// ask reports whether a bar of kind j can keep a slack of at least want, and
// takes the plan if so.
func (q *leftoverSearch) ask(j, want int, each int64) bool {
	in := q.s.in
	two := *in
	two.bins = nil
	two.skip = slices.Clone(in.skip)
	for i := range two.skip {
		two.skip[i] *= 2 * (q.k + 1)
	}
	var old []int // kinds of the new instance → of the old one
	shortCap := in.bins[j].cap - want
	add := func(cap int, cost int64, limit, from int) {
		two.bins = append(two.bins, bin{cap: cap, cost: cost, limit: limit})
		old = append(old, from)
	}
	placed, short := false, -1
	place := func() {
		if placed = true; shortCap >= in.size[len(in.size)-1] {
			short = len(old)
			add(shortCap, 2*(in.bins[j].cost*q.k+1)-1, 1, j)
		}
	}
	for b := range in.bins {
		if !placed && in.bins[b].cap <= shortCap {
			place()
		}
		limit := in.bins[b].limit
		if b == j && limit < in.total {
			limit--
		}
		add(in.bins[b].cap, 2*(in.bins[b].cost*q.k+1), limit, b)
	}
	if !placed {
		place()
	}
	t := newSolver(&two, &solution{uses: mapped(q.best, old, short), cost: q.goal + 1}, q.s.work)
	t.lb = q.goal
	q.s.work.within(each, func() { t.improve(mapped(q.pool, old, short)) })
	if t.best.cost > q.goal {
		return false
	}
	var uses []use
	for _, u := range t.best.uses {
		p := *u.pat
		p.bin = old[p.bin]
		uses = append(uses, use{&p, u.n})
		if old[u.pat.bin] == j {
			q.top = max(q.top, in.slack(&p))
		}
	}
	q.best = merged(uses)
	return true
}

// mapped renumbers the bins of uses for the new instance; short is the number
// of the shorter bar there, which none of them uses.
func mapped(uses []use, old []int, short int) []use {
	out := slices.Clone(uses)
	for k, u := range out {
		p := *u.pat
		for b, o := range old {
			if o == u.pat.bin && b != short {
				p.bin = b
			}
		}
		out[k].pat = &p
	}
	return out
}
