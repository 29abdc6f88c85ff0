package stock

import (
	"context"
	"math"
	"slices"
	"time"
)

// Saving is a length that, made a little shorter, makes the whole job cheaper.
type Saving struct {
	Length  float64  // mm, as asked for now
	Marks   []string // of the pieces that have it, in list order
	Pieces  int
	Shorten float64 // mm, the least that saves, to a tenth
	// CostSaved is in the plan's currency, or in metres where Plan.ByLength;
	// BarsSaved may be negative where shorter bars do.
	CostSaved float64
	BarsSaved int
}

// shortenSteps is how many steps of shortening there are in a millimetre.
const shortenSteps = 10

// WhatIf finds the lengths that, shortened by at most most millimetres, all
// pieces of that length alike and the others unchanged, would save a bar or a
// price step against the plan. The list is sorted by the saving, the greatest
// first. Savings are real, each shown by a plan; where time is short some may
// be missed. It returns an *InputError for a problem that Solve refuses.
func WhatIf(ctx context.Context, p Problem, plan *Plan, most float64, opt Options) ([]Saving, error) {
	if err := validate(&p); err != nil {
		return nil, err
	}
	if !(most > 0 && most <= MaxLength) {
		return nil, &InputError{"shorten", -1, "", "is " + number(most) + " mm", "give the millimetres that a length may lose"}
	}
	limit := opt.TimeLimit
	if limit <= 0 {
		limit = DefaultTimeLimit
	}
	var lengths []int
	for _, c := range p.Pieces {
		lengths = append(lengths, toUnits(c.Length))
	}
	slices.Sort(lengths)
	lengths = slices.Compact(lengths)
	slices.Reverse(lengths)
	each := max(limit/time.Duration(2*len(lengths)), time.Millisecond)
	var out []Saving
	end := time.Now().Add(limit) // a safety net behind the counted steps
	for _, l := range lengths {
		if ctx.Err() != nil || time.Now().After(end) {
			break
		}
		if s, ok := shortenOne(ctx, &p, plan, l, most, each); ok {
			out = append(out, s)
		}
	}
	slices.SortStableFunc(out, func(a, b Saving) int {
		switch {
		case a.CostSaved > b.CostSaved+1e-9:
			return -1
		case b.CostSaved > a.CostSaved+1e-9:
			return 1
		}
		return 0
	})
	return out, nil
}

// shortenOne looks for the least shortening of one length that saves.
func shortenOne(ctx context.Context, p *Problem, plan *Plan, l int, most float64, each time.Duration) (Saving, bool) {
	top := int(math.Floor(most*shortenSteps + 1e-9))
	top = min(top, (l-1)*shortenSteps/unitsPerMM)
	found := (*Plan)(nil)
	try := func(steps int) bool {
		q := shortened(p, l, steps)
		in := newInstance(&q)
		if in.money(&q, in.simpleBound()) >= plan.Cost-1e-9 {
			return false
		}
		a, err := Solve(ctx, q, Options{TimeLimit: each})
		if err != nil || len(a.Unplaced) > len(plan.Unplaced) || a.Cost >= plan.Cost-1e-9 {
			return false
		}
		found = a
		return true
	}
	if top < 1 || len(plan.Unplaced) > 0 || !try(top) {
		return Saving{}, false
	}
	lo, hi := 0, top // lo does not save, hi does
	best := found
	for hi-lo > 1 {
		mid := (lo + hi) / 2
		if try(mid) {
			hi, best = mid, found
		} else {
			lo = mid
		}
	}
	s := Saving{Length: float64(l) / unitsPerMM, Shorten: float64(hi) / shortenSteps,
		CostSaved: roundMoney(plan.Cost - best.Cost), BarsSaved: len(plan.Bars) - len(best.Bars)}
	for _, c := range p.Pieces {
		if toUnits(c.Length) == l {
			s.Pieces += c.Quantity
			if c.Mark != "" && !slices.Contains(s.Marks, c.Mark) {
				s.Marks = append(s.Marks, c.Mark)
			}
		}
	}
	return s, true
}

// shortened is the problem with one length less by some steps.
func shortened(p *Problem, l, steps int) Problem {
	q := *p
	q.Pieces = slices.Clone(p.Pieces)
	for i, c := range q.Pieces {
		if toUnits(c.Length) == l {
			q.Pieces[i].Length = float64(l-steps*unitsPerMM/shortenSteps) / unitsPerMM
		}
	}
	return q
}
