package stock

import (
	"cmp"
	"context"
	"math"
	"slices"
	"time"
)

// Group is a set of pieces that change their length together, because one
// parameter of the frame sets them all, or because they are equal.
type Group struct {
	Name   string
	Pieces []int // indices in Problem.Pieces
}

// Saving is a group of pieces that, made a little shorter, make the whole job cheaper.
type Saving struct {
	Group   string    // its name
	Lengths []float64 // mm, as asked for now, longest first
	Marks   []string  // of the pieces, in list order
	Pieces  int       // how many would be shortened
	Shorten float64   // mm, the least that saves, in tenths; every piece of the group by as much
	// CostSaved is in the plan's currency, or in metres where Plan.ByLength;
	// BarsSaved may be negative where shorter bars do.
	CostSaved float64
	BarsSaved int
}

// shortenSteps is how many steps of shortening there are in a millimetre.
const shortenSteps = 10

// WhatIf finds the lengths that, shortened by at most most millimetres, would
// save a bar or a price step against the plan: all pieces of that length alike,
// the others unchanged. It is WhatIfGroups with a group for each length, named by it.
func WhatIf(ctx context.Context, p Problem, plan *Plan, most float64, opt Options) ([]Saving, error) {
	at := map[int]int{}
	var groups []Group
	for i, c := range p.Pieces {
		l := toUnits(c.Length)
		k, ok := at[l]
		if !ok {
			k = len(groups)
			at[l] = k
			groups = append(groups, Group{Name: number(c.Length)})
		}
		groups[k].Pieces = append(groups[k].Pieces, i)
	}
	return WhatIfGroups(ctx, p, plan, groups, most, opt)
}

// WhatIfGroups finds the groups of pieces that, shortened together by at most
// most millimetres, would make the job cheaper than the plan, and the least
// shortening that does. The greatest saving comes first. Savings are real, each
// shown by a plan; where time is short some may be missed. It returns an
// *InputError for a problem that Solve refuses, or a group that names no piece.
func WhatIfGroups(ctx context.Context, p Problem, plan *Plan, groups []Group, most float64, opt Options) ([]Saving, error) {
	if err := validate(&p); err != nil {
		return nil, err
	}
	if !(most > 0 && most <= MaxLength) {
		return nil, &InputError{"shorten", -1, "", "is " + number(most) + " mm", "give the millimetres that a length may lose"}
	}
	for _, g := range groups {
		for _, i := range g.Pieces {
			if i < 0 || i >= len(p.Pieces) {
				return nil, &InputError{"piece", i, "", "group " + g.Name + " names it, but there is none", ""}
			}
		}
	}
	limit := opt.TimeLimit
	if limit <= 0 {
		limit = DefaultTimeLimit
	}
	each := max(limit/time.Duration(2*len(groups)+1), time.Millisecond)
	var out []Saving
	end := time.Now().Add(limit) // a safety net behind the counted steps
	for _, g := range groups {
		if ctx.Err() != nil || time.Now().After(end) {
			break
		}
		if s, ok := shortenGroup(ctx, &p, plan, g, most, each); ok {
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

// shortenGroup looks for the least shortening of one group that saves.
func shortenGroup(ctx context.Context, p *Problem, plan *Plan, g Group, most float64, each time.Duration) (Saving, bool) {
	if len(g.Pieces) == 0 || len(plan.Unplaced) > 0 {
		return Saving{}, false
	}
	top := int(math.Floor(most*shortenSteps + 1e-9))
	for _, i := range g.Pieces { // something must be left of each
		top = min(top, (toUnits(p.Pieces[i].Length)-1)*shortenSteps/unitsPerMM)
	}
	found := (*Plan)(nil)
	try := func(steps int) bool {
		q := shortened(p, g, steps)
		in := newInstance(&q)
		if in.money(&q, in.simpleBound()) >= plan.Cost-1e-9 {
			return false
		}
		a, err := Solve(ctx, q, Options{TimeLimit: each})
		if err != nil || len(a.Unplaced) > 0 || a.Cost >= plan.Cost-1e-9 {
			return false
		}
		found = a
		return true
	}
	if top < 1 || !try(top) {
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
	s := Saving{Group: g.Name, Shorten: float64(hi) / shortenSteps,
		CostSaved: roundMoney(plan.Cost - best.Cost), BarsSaved: len(plan.Bars) - len(best.Bars)}
	for _, i := range g.Pieces {
		c := p.Pieces[i]
		s.Pieces += c.Quantity
		if !slices.Contains(s.Lengths, c.Length) {
			s.Lengths = append(s.Lengths, c.Length)
		}
		if c.Mark != "" && !slices.Contains(s.Marks, c.Mark) {
			s.Marks = append(s.Marks, c.Mark)
		}
	}
	slices.SortFunc(s.Lengths, func(a, b float64) int { return cmp.Compare(b, a) })
	return s, true
}

// shortened is the problem with a group's pieces less by some steps.
func shortened(p *Problem, g Group, steps int) Problem {
	q := *p
	q.Pieces = slices.Clone(p.Pieces)
	for _, i := range g.Pieces {
		q.Pieces[i].Length = float64(toUnits(p.Pieces[i].Length)-steps*unitsPerMM/shortenSteps) / unitsPerMM
	}
	return q
}
