package stock

import (
	"cmp"
	"math"
	"math/bits"
	"slices"
)

// solver holds what one search shares: the instance, the best plan so far,
// the bound so far, the knapsack and the budget.
type solver struct {
	in       *instance
	price    *pricer
	work     *budget
	best     *solution
	lb       int64    // proven, in cost units
	reach    []uint64 // costs that bars can add up to; see instance.reachable
	scale    int64    // of rounded duals
	bigM     int64    // no dual need exceed it
	manyBars int      // a limit from which a bar counts as never short
	onBetter func()
	goal     func(*solution) bool // accept only plans with this, if set
}

// newSolver starts a search from a first plan.
func newSolver(in *instance, first *solution, work *budget) *solver {
	s := &solver{in: in, work: work, best: first, manyBars: in.total}
	s.lb = in.simpleBound()
	s.bigM = first.cost + 1
	for _, c := range in.skip {
		s.bigM = max(s.bigM, c)
	}
	// Σ rhs·dual stays below 2^61 with duals up to bigM.
	size := bits.Len64(uint64(s.bigM)) + bits.Len(uint(in.total))
	s.scale = 1 << max(0, min(40, 60-size))
	return s
}

// setReach prepares raising bounds to costs that bars can add up to.
func (s *solver) setReach() { s.reach = s.in.reachable(s.best.cost) }

// raise returns the lowest cost ≥ bound that bars can add up to.
func (s *solver) raise(bound int64) int64 {
	if s.reach == nil {
		return bound
	}
	for v := bound; v <= s.best.cost; v++ {
		if s.reach[v>>6]>>(uint(v)&63)&1 == 1 {
			return v
		}
	}
	return bound
}

// prove raises the proven bound.
func (s *solver) prove(bound int64) {
	s.lb = min(max(s.lb, s.raise(bound)), s.best.cost)
}

// offer takes a plan if it is better than the best so far.
func (s *solver) offer(c *solution) bool {
	if c == nil || c.cost >= s.best.cost {
		return false
	}
	if s.goal != nil && !s.goal(c) {
		return false
	}
	s.best = c
	if s.onBetter != nil {
		s.onBetter()
	}
	return true
}

// closed reports whether the best plan is proven.
func (s *solver) closed() bool { return s.lb >= s.best.cost }

// prepare makes the knapsack's grid, once.
func (s *solver) prepare() {
	if s.price == nil {
		s.price = newPricer(s.in, s.work)
	}
}

// root makes the programme of the whole instance with starting columns.
func (s *solver) root(start []use) *lp {
	s.prepare()
	var rows []lprow
	for i, n := range s.in.need {
		big := float64(s.best.cost + 1)
		if s.in.skip != nil {
			big = float64(s.in.skip[i])
		}
		rows = append(rows, lprow{kind: needRow, key: i, rhs: float64(n), big: big})
	}
	high := 1.0
	for j, b := range s.in.bins {
		if b.limit < s.in.total {
			rows = append(rows, lprow{kind: limitRow, key: j, rhs: float64(b.limit)})
		}
		high = max(high, float64(b.cost))
	}
	l := newLP(rows, 1e-9*high, 4*float64(s.bigM), s.work)
	for _, u := range merged(start) {
		s.add(l, u.pat)
	}
	for i, w := range s.in.size { // one size alone, in the bar it fills at the lowest price
		best, rank := -1, math.Inf(1)
		for j, b := range s.in.bins {
			n := min(b.cap/w, s.in.need[i])
			if n == 0 {
				continue
			}
			if r := float64(b.cost) / float64(n); r < rank {
				best, rank = j, r
			}
		}
		if best >= 0 {
			n := min(s.in.bins[best].cap/w, s.in.need[i])
			s.add(l, &pattern{bin: best, item: []int32{int32(i)}, count: []int32{int32(n)}, used: n * w})
		}
	}
	return l
}

// add puts a pattern into a programme's pool.
func (s *solver) add(l *lp, p *pattern) {
	l.addColumn(p, float64(s.in.bins[p.bin].cost), s.in.size)
}

// smoothing is how much of the duals of the best bound goes into pricing, so
// that they swing less (Wentges, "Weighted Dantzig–Wolfe decomposition for
// linear mixed-integer programming", International Transactions in Operational
// Research 4 (1997) 151–162).
const smoothing = 0.5

// outcome of column generation at one node.
type outcome uint8

const (
	cgSolved outcome = iota // the programme is at its optimum
	cgPruned                // its bound reaches the cutoff
	cgFailed                // out of budget, or the numbers went bad
)

// colgen solves a programme to its optimum over all patterns that need
// allows. fixed is the cost already spent outside it. It stops early where
// the bound, fixed included, reaches cutoff. The bound returned is proven.
func (s *solver) colgen(l *lp, need, limit []int, fixed, cutoff int64) (outcome, int64) {
	return s.generate(l, need, limit, fixed, cutoff, true)
}

// generate is colgen, or without proof a quicker way that may miss some
// patterns, judges by the programme's value and returns no bound.
func (s *solver) generate(l *lp, need, limit []int, fixed, cutoff int64, proof bool) (outcome, int64) {
	c := &generation{s: s, l: l, need: need, v: make([]int64, len(s.in.bins)), limit: slices.Clone(limit), y: make([]float64, len(l.rows))}
	pieces := 0
	for _, n := range need {
		pieces += n
	}
	for j := range c.limit {
		c.limit[j] = min(c.limit[j], pieces)
	}
	again := false
	for {
		if !l.primal() {
			if again || !s.work.left() {
				return cgFailed, c.bound
			}
			again = true // the basis went bad: once from the start
			l.crash()
			continue
		}
		var found []*pattern
		if s.price.quick != nil {
			found = s.newColumns(l, s.roundDuals(l, l.y), need, c.v, s.price.quick)
		}
		if len(found) == 0 {
			if s.price.quick != nil && !proof {
				if s.raise(fixed+int64(math.Ceil(l.value()-1e-4))) >= cutoff {
					return cgPruned, 0
				}
				return cgSolved, 0
			}
			found = c.exactly()
			if s.raise(fixed+c.bound) >= cutoff {
				return cgPruned, c.bound
			}
			if len(found) == 0 || c.enough(l.value()) {
				return cgSolved, c.bound
			}
		}
		for _, p := range found {
			s.add(l, p)
		}
	}
}

// generation is one run of column generation.
type generation struct {
	s           *solver
	l           *lp
	need, limit []int
	v           []int64   // knapsack values, per bin
	y           []float64 // duals priced with
	centre      []float64 // duals of the best bound
	bound       int64
}

// enough reports whether more columns can't raise the bound, or on a coarse
// grid not by more than its coarseness takes anyway.
func (c *generation) enough(value float64) bool {
	if !c.s.price.exact && float64(c.bound) >= value*(1-1e-5) {
		return true
	}
	return float64(c.bound) >= value-1e-6 || c.s.raise(c.bound) >= c.s.raise(int64(math.Ceil(value-1e-6)))
}

// exactly prices on the exact grid, with smoothed duals first, and raises the bound.
func (c *generation) exactly() []*pattern {
	s := c.s
	for _, keep := range []float64{smoothing, 0} {
		if keep > 0 && (c.centre == nil || s.price.quick != nil) {
			continue
		}
		for r := range c.y {
			if c.y[r] = c.l.y[r]; keep > 0 {
				c.y[r] = keep*c.centre[r] + (1-keep)*c.l.y[r]
			}
		}
		d := s.roundDuals(c.l, c.y)
		found := s.newColumns(c.l, d, c.need, c.v, s.price.up)
		if !s.price.exact {
			if len(found) > 0 || len(d.bonus) > 0 {
				return found
			}
			s.price.run(s.price.down, d.value, c.need, nil)
			for j := range c.v {
				c.v[j], _ = s.price.best(j)
			}
		}
		if b := s.lagrange(c.l, d, c.limit, c.v); c.centre == nil || b > c.bound {
			c.bound = max(b, c.bound)
			c.centre = append(c.centre[:0], c.y...)
		}
		if len(found) > 0 || s.raise(c.bound) >= s.best.cost {
			return found
		}
	}
	return nil
}

// newColumns runs the knapsack and returns patterns of negative reduced cost,
// the best per kind of bar; v receives the knapsack values.
func (s *solver) newColumns(l *lp, d *dualInts, need []int, v []int64, g *grid) []*pattern {
	bonus := d.bonus
	if g == s.price.quick || !s.price.exact {
		bonus = nil // places are not exact there; the reduced cost below is
	}
	s.price.run(g, d.value, need, bonus)
	var list []priced
	for j := range s.in.bins {
		var at int
		v[j], at = s.price.best(j)
		c := s.in.bins[j].cost*s.scale - d.limit[j] - d.floor[j]
		if v[j] <= c || v[j] <= 0 {
			continue
		}
		list = s.keepIfCheap(list, l, s.price.trace(j, at))
		if len(d.bonus) == 0 {
			for _, p := range s.forced(j, d, need, c) {
				list = s.keepIfCheap(list, l, p)
			}
		}
	}
	slices.SortStableFunc(list, func(a, b priced) int { return cmp.Compare(a.rc, b.rc) })
	var out []*pattern
	for k := range min(len(list), 8+len(s.in.size)/10) {
		out = append(out, list[k].p)
	}
	return out
}

// priced is a pattern with its reduced cost.
type priced struct {
	p  *pattern
	rc float64
}

// keepIfCheap appends a pattern if the programme's own duals want it and it is new.
func (s *solver) keepIfCheap(list []priced, l *lp, p *pattern) []priced {
	col := lp{rows: l.rows, y: l.y}
	col.addColumn(p, float64(s.in.bins[p.bin].cost), s.in.size)
	rc := col.reduced(0)
	if rc >= -l.tol || slices.ContainsFunc(list, func(o priced) bool { return o.rc == rc && o.p.equal(p) }) {
		return list
	}
	return append(list, priced{p, rc})
}

// forced returns, for the sizes where it pays most, the best pattern of bin j
// that holds one piece of that size: all from the one table, so that the
// programme gets many different columns for one run of the knapsack.
func (s *solver) forced(j int, d *dualInts, need []int, c int64) []*pattern {
	g := s.price.g
	if g.from != nil {
		return nil
	}
	type want struct {
		i    int
		gain int64
	}
	var list []want
	for i, w := range g.size {
		if need[i] == 0 || d.value[i] <= 0 || w > g.caps[j] {
			continue
		}
		if gain := s.price.f[g.caps[j]-w] + d.value[i] - c; gain > 0 {
			list = append(list, want{i, gain})
		}
	}
	slices.SortStableFunc(list, func(a, b want) int { return cmp.Compare(b.gain, a.gain) })
	var out []*pattern
	for k := 0; k < len(list) && len(out) < 2+len(g.size)/10; k++ {
		i := list[k].i
		p := s.price.trace(j, g.caps[j]-g.size[i])
		if p.plus(i, s.in.size[i]); p.countOf(i) <= need[i] {
			out = append(out, p)
		}
	}
	return out
}

// sortBonus orders bonuses by size index, then place.
func sortBonus(b []arcBonus) {
	slices.SortFunc(b, func(x, y arcBonus) int {
		return cmp.Or(cmp.Compare(x.item, y.item), cmp.Compare(x.pos, y.pos))
	})
}
