package job

import (
	"context"
	"fmt"
	"math"
	"slices"
	"time"

	"barwright/check"
	"barwright/frame"
	"barwright/stock"
)

// CutSaving is a length that, made a little shorter, makes the plan cheaper.
type CutSaving struct {
	Profile string
	stock.Saving
	ByLength bool      // CostSaved is in metres
	MovedBy  []MovedBy // parameters that set the length of every bar of it
}

// MovedBy is how a parameter moves a length: mm for each mm.
type MovedBy struct {
	Param  string
	Factor float64
}

// ParamSaving is another value of a parameter that makes the plan cheaper: the whole plan, worked out with all lengths
// that the parameter moves, and the frame as sound as before.
type ParamSaving struct {
	Param       string
	From, To    float64
	CostSaved   float64 // money
	MetresSaved float64 // of bars without a price
	BarsSaved   int
	Lengths     []LengthChange // what it makes of the parts
}

// LengthChange is what becomes of a part.
type LengthChange struct {
	Mark     string // as it is now
	From, To float64
}

// maxReloaded bounds how many frames are worked out to look for parameters, in bars.
const maxReloaded = 50_000

// whatIfLimit is how long lengths are tried for each profile, where nothing is said.
const whatIfLimit = 2 * time.Second

// findSavings finds the lengths that are a little too long, and the parameters that would shorten them.
func (j *Job) findSavings(ctx context.Context, p *CutPlan, o CutOptions) error {
	if p.Unplaced() != nil {
		return nil
	}
	limit := o.TimeLimit
	if limit <= 0 {
		limit = whatIfLimit
	}
	for i := range p.Profiles {
		c := &p.Profiles[i]
		found, err := stock.WhatIf(ctx, c.Problem, c.Plan, o.Shorten, stock.Options{TimeLimit: limit})
		if err != nil {
			return err
		}
		for _, s := range found {
			p.Savings = append(p.Savings, CutSaving{Profile: c.Profile, Saving: s, ByLength: c.Plan.ByLength})
		}
	}
	if j == nil {
		return nil
	}
	for _, m := range j.paramMoves() {
		for i := range p.Savings {
			if f := m.factorOf(j.Frame, p.Savings[i].Marks); f != 0 {
				p.Savings[i].MovedBy = append(p.Savings[i].MovedBy, MovedBy{m.param.Name, f})
			}
		}
		if s, ok := j.tryParam(ctx, p, m, o); ok {
			p.Params = append(p.Params, s)
		}
	}
	return nil
}

// paramMove is how a parameter moves lengths: mm of each member's length for each mm of the parameter.
type paramMove struct {
	param  frame.Param
	factor map[string]float64
}

// paramMoves works the frame out again with each parameter a millimetre smaller or larger.
func (j *Job) paramMoves() []paramMove {
	f := j.Frame
	if len(f.Params)*len(f.Members) > maxReloaded {
		return nil
	}
	now := memberLengths(f)
	var out []paramMove
	for _, p := range f.Params {
		for _, step := range []float64{-1, 1} {
			g, err := f.Again(settings(f, p.Name, p.Value+step))
			if err != nil {
				continue // out of its limits, or no frame
			}
			m := paramMove{param: p, factor: map[string]float64{}}
			for name, l := range memberLengths(g) { // fills a map, in any order
				if old, ok := now[name]; ok && math.Abs(l-old) > 1e-6 {
					m.factor[name] = (l - old) / step
				}
			}
			if len(m.factor) > 0 {
				out = append(out, m)
			}
			break
		}
	}
	return out
}

// factorOf returns by how much the parameter moves all bars of some marks alike, 0 where it does not.
func (m paramMove) factorOf(f *frame.Frame, marks []string) float64 {
	factor := 0.0
	for _, part := range f.Parts {
		if !slices.Contains(marks, part.Mark) {
			continue
		}
		for _, member := range part.Members {
			v := m.factor[member.Name]
			if v == 0 || factor != 0 && math.Abs(v-factor) > 1e-6 {
				return 0
			}
			factor = v
		}
	}
	return math.Round(factor*1e6) / 1e6
}

// settings returns the settings of a frame with one replaced.
func settings(f *frame.Frame, name string, value float64) []string {
	var out []string
	for _, s := range f.Settings {
		if s.Name != name {
			out = append(out, fmt.Sprintf("%s=%s", s.Name, Number(s.Value)))
		}
	}
	return append(out, fmt.Sprintf("%s=%s", name, Number(value)))
}

func memberLengths(f *frame.Frame) map[string]float64 {
	out := map[string]float64{}
	for _, m := range f.Members {
		out[m.Name] = m.Length()
	}
	return out
}

// tryParam looks for the least change of a parameter, up to the shortening of the options on the length that moves most, that
// makes the plan cheaper. Every answer is a frame that was worked out, checked and planned.
func (j *Job) tryParam(ctx context.Context, p *CutPlan, m paramMove, o CutOptions) (ParamSaving, bool) {
	most, sum := 0.0, 0.0
	for _, member := range j.Frame.Members { // in their order, so that the sum is the same on every run
		v := m.factor[member.Name]
		most, sum = math.Max(most, math.Abs(v)), sum+v
	}
	way := -1.0 // the one that shortens more than it lengthens
	if sum < 0 {
		way = 1
	}
	at := func(tenths int) float64 { return math.Round((m.param.Value+way*float64(tenths)/10)*1e6) / 1e6 }
	best := ParamSaving{}
	saves := func(tenths int) bool {
		s, ok := j.tryValue(ctx, p, m.param, at(tenths), o)
		if ok {
			best = s
		}
		return ok
	}
	lo, hi := 0, int(math.Floor(o.Shorten/most*10+1e-6))
	for hi > 0 && m.param.Min != nil && at(hi) < *m.param.Min || m.param.Max != nil && at(hi) > *m.param.Max {
		hi--
	}
	if hi < 1 || !saves(hi) {
		return best, false
	}
	for hi-lo > 1 {
		if mid := (lo + hi) / 2; saves(mid) {
			hi = mid
		} else {
			lo = mid
		}
	}
	return best, j.printable(m.param, best.To)
}

// printable reports whether the printed parts of the frame find their places with another value of a parameter, and run into nothing
// there. They take long to make, so that only the answer is looked at.
func (j *Job) printable(param frame.Param, to float64) bool {
	if len(j.Printed) == 0 {
		return true
	}
	g, err := j.Frame.Again(settings(j.Frame, param.Name, to))
	if err != nil {
		return false
	}
	if _, err := printParts(g); err != nil {
		return false
	}
	return !check.Worst(check.Run(g)) || j.Failed()
}

// tryValue plans the frame with another value of a parameter.
func (j *Job) tryValue(ctx context.Context, p *CutPlan, param frame.Param, to float64, o CutOptions) (ParamSaving, bool) {
	g, err := j.Frame.Again(settings(j.Frame, param.Name, to))
	if err != nil {
		return ParamSaving{}, false
	}
	q, err := planFrame(ctx, g, o)
	if err != nil {
		return ParamSaving{}, false
	}
	money, metres, ok := cheaper(q, p)
	if !ok || check.Worst(check.Run(g)) && !j.Failed() {
		return ParamSaving{}, false
	}
	return ParamSaving{Param: param.Name, From: param.Value, To: to, CostSaved: money, MetresSaved: metres,
		BarsSaved: p.Total().Bars - q.Total().Bars, Lengths: lengthChanges(j.Frame, g)}, true
}

// lengthChanges lists the parts that are longer or shorter in another frame of the same file.
func lengthChanges(f, g *frame.Frame) []LengthChange {
	then := memberLengths(g)
	var out []LengthChange
	for _, p := range f.Parts {
		var seen []float64
		for _, m := range p.Members {
			l, ok := then[m.Name]
			if !ok || hundredths(l) == hundredths(p.Bar.Length) || slices.Contains(seen, l) {
				continue
			}
			seen = append(seen, l)
			out = append(out, LengthChange{p.Mark, p.Bar.Length, l})
		}
	}
	return out
}
