package stock

import (
	"cmp"
	"math"
	"slices"
)

// Diving turns the fractional optimum into whole plans: patterns are fixed a
// few at a time, the whole parts first and then the one nearest to one more,
// and after each the programme of the rest is solved again, with new columns.
// Where the rest's bound shows that the plan can't beat the best, the dive
// turns back and forbids the pattern that it chose last, at most a few times
// (limited discrepancy search, as in Sadykov, Vanderbeck et al., "Primal
// heuristics for branch and price", INFORMS Journal on Computing 31 (2019)
// 251–267).

// diver is one dive's state.
type diver struct {
	s     *solver
	turns int // wrong turns still allowed
	shift int // which candidate to prefer, for repeated dives
}

// rest is what a dive still has to place, and what it has fixed.
type rest struct {
	need, limit []int
	uses        []use
	fixed       int64
	tabu        []*pattern
}

// fix books n bars cut by p.
func (r *rest) fix(in *instance, p *pattern, n int) {
	p.take(r.need, n)
	r.limit[p.bin] -= n
	r.fixed += int64(n) * in.bins[p.bin].cost
	r.uses = append(r.uses, use{p, n})
}

// clone copies the state for a branch.
func (r *rest) clone() *rest {
	return &rest{slices.Clone(r.need), slices.Clone(r.limit), slices.Clone(r.uses), r.fixed, slices.Clone(r.tabu)}
}

// dive runs from a solved programme. It reports whether the best plan got better.
func (s *solver) dive(root *lp, turns, shift int) bool {
	before := s.best.cost
	d := &diver{s: s, turns: turns, shift: shift}
	d.run(root.clone(), &rest{need: slices.Clone(s.in.need), limit: s.in.limits()}, 0)
	return s.best.cost < before
}

// run continues a dive whose programme is at its optimum for r.
func (d *diver) run(l *lp, r *rest, depth int) {
	s := d.s
	for s.work.left() && !s.closed() {
		list := d.candidates(l, r)
		if len(list) == 0 {
			d.complete(r)
			return
		}
		before, saved := (*rest)(nil), (*lp)(nil)
		choice := list[0]
		if !d.fixWhole(list, r) {
			if d.turns > 0 {
				before, saved = r.clone(), l.clone()
			}
			r.fix(s.in, choice.pat, 1)
		}
		d.complete(r)
		if d.resolve(l, r) {
			depth++
			continue
		}
		if before == nil || d.turns == 0 || s.closed() {
			return
		}
		d.turns--
		before.tabu = append(before.tabu, choice.pat)
		l, r = saved, before
		if !d.resolve(l, r) {
			return
		}
	}
}

// cand is a basic pattern and its value in the programme.
type cand struct {
	pat *pattern
	x   float64
}

// candidates lists the patterns in use that still fit the rest, most used first.
func (d *diver) candidates(l *lp, r *rest) []cand {
	var out []cand
	for i, v := range l.basis {
		if v < 0 || l.x[i] < 1e-7 {
			continue
		}
		p := l.cols[v].pat
		if len(p.item) == 0 || r.limit[p.bin] == 0 || !p.fits(r.need) {
			continue
		}
		out = append(out, cand{p, l.x[i]})
	}
	slices.SortStableFunc(out, func(a, b cand) int {
		fa, fb := math.Floor(a.x+1e-6), math.Floor(b.x+1e-6)
		if fa != fb {
			return cmp.Compare(fb, fa)
		}
		ra, rb := math.Round(a.x*1e7), math.Round(b.x*1e7)
		return cmp.Or(cmp.Compare(rb, ra), cmp.Compare(b.pat.used, a.pat.used), cmp.Compare(a.pat.hash(), b.pat.hash()))
	})
	if d.shift > 0 && len(out) > 1 && out[0].x < 1-1e-6 {
		k := (d.shift * (len(r.uses) + 3)) % min(len(out), 2+d.shift%4)
		out[0], out[k] = out[k], out[0]
	}
	return out
}

// fixWhole fixes the whole parts; false if there are none.
func (d *diver) fixWhole(list []cand, r *rest) bool {
	any := false
	for _, c := range list {
		n := int(math.Floor(c.x + 1e-6))
		n = min(n, c.pat.times(r.need), r.limit[c.pat.bin])
		if n >= 1 {
			r.fix(d.s.in, c.pat, n)
			any = true
		}
	}
	return any
}

// complete offers the plan that fills up the rest by the quick method.
func (d *diver) complete(r *rest) {
	s := d.s
	for _, c := range []chooser{byPrice, byRate} {
		end, left := s.in.greedyUses(r.need, r.limit, c)
		if left == nil {
			continue
		}
		uses := append(slices.Clone(r.uses), end...)
		if s.in.costOf(uses, left) < s.best.cost+s.in.maxCost() {
			s.offer(s.in.finished(uses, left))
		}
		s.work.spend(64 * len(end))
		if len(s.in.bins) == 1 {
			return
		}
	}
}

// maxCost is the dearest bar.
func (in *instance) maxCost() int64 {
	var c int64
	for _, b := range in.bins {
		c = max(c, b.cost)
	}
	return c
}

// resolve solves the programme for what is left. It reports false when the
// rest can't beat the best plan.
func (d *diver) resolve(l *lp, r *rest) bool {
	s := d.s
	l.setRHS(func(row *lprow) float64 {
		switch row.kind {
		case needRow:
			return float64(r.need[row.key])
		case limitRow:
			return float64(r.limit[row.key])
		case floorRow:
			return 0 // it has served: the limits are tight now
		}
		return row.rhs
	})
	ok := l.dual()
	for k := range l.cols {
		p := l.cols[k].pat
		l.dear[k] = !p.fits(r.need) || slices.Contains(r.tabu, p)
	}
	if ok {
		l.computeY()
	} else {
		l.crash()
	}
	out, _ := s.generate(l, r.need, r.limit, r.fixed, s.best.cost, false)
	return out == cgSolved
}
