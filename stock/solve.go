package stock

import (
	"context"
	"slices"
)

// Solve plans the bars for a problem. The plan is there at once by quick
// methods and is improved until it is proven or the budget is spent; it is
// never worse than first-fit decreasing. It returns an *InputError for a
// problem that cannot be meant, and ctx's error only if ctx was done at the start.
func Solve(ctx context.Context, p Problem, opt Options) (*Plan, error) {
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	if err := validate(&p); err != nil {
		return nil, err
	}
	limit := opt.TimeLimit
	if limit <= 0 {
		limit = DefaultTimeLimit
	}
	work := newBudget(ctx, limit)
	in := newInstance(&p)
	s := search(in, work, func(s *solver) {
		if opt.Progress != nil {
			opt.Progress(in.money(&p, s.best.cost), in.money(&p, s.lb))
		}
	})
	return in.plan(&p, s, work), nil
}

// money turns cost units into currency, or metres.
func (in *instance) money(p *Problem, cost int64) float64 {
	_, byLength := barPrices(p)
	if byLength {
		return float64(cost*in.costGCD) / (unitsPerMM * 1000)
	}
	return float64(cost*in.costGCD) / pricePerUnit
}

// maxRows is the most sizes for which the linear programme is worth starting.
const maxRows = 1200

// search improves the first answer until it is proven or the budget is spent.
func search(in *instance, work *budget, onBetter func(*solver)) *solver {
	first, start := in.firstAnswer()
	s := newSolver(in, first, work)
	s.onBetter = func() { onBetter(s) }
	s.setReach()
	s.prove(s.lb)
	onBetter(s)
	if len(in.size)+len(in.bins) > maxRows {
		return s
	}
	if s.closed() {
		s.finish(start)
		return s
	}
	work.within(work.limit/20*17, func() { s.improve(start) }) // the rest for the lesser aims
	s.finish(start)
	return s
}

// improve runs the linear programme, the dives and the tree, from the
// patterns of pool and the best plan.
func (s *solver) improve(pool []use) {
	l := s.root(append(slices.Clone(s.best.uses), pool...))
	if s.price.quick != nil { // a good plan before a long proof
		if out, _ := s.generate(l, s.in.need, s.in.limits(), 0, s.best.cost+1, false); out == cgSolved {
			s.dive(l, 0, 0)
		}
	}
	out, bound := s.colgen(l, s.in.need, s.in.limits(), 0, s.best.cost)
	s.prove(bound)
	if out == cgPruned || s.closed() {
		s.lb = s.best.cost
		return
	}
	if out == cgFailed {
		return
	}
	for k := range 3 {
		if s.closed() || !s.work.left() {
			break
		}
		s.dive(l, 2*k, k)
		if len(s.in.bins) > 1 {
			break
		}
	}
	if !s.closed() {
		s.branch(l)
	}
}
