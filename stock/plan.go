package stock

import (
	"cmp"
	"encoding/binary"
	"math"
	"slices"
)

// plan turns the best solution into bars with marks.
func (in *instance) plan(p *Problem, s *solver, work *budget) *Plan {
	out := &Plan{
		Cost:         0,
		Optimal:      s.closed(),
		ClockStopped: work.stopped,
	}
	prices, byLength := barPrices(p)
	out.ByLength = byLength
	queue := in.marks(p)
	sources := in.sources(p, s.best.uses)
	var cost int64
	for _, w := range in.sawOrder(s.best.uses) {
		for k := range w.u.n {
			j := sources[w.u.pat][k]
			cost += prices[j]
			out.Bars = append(out.Bars, in.bar(p, j, w, k%2 == 1, queue))
		}
	}
	out.Patterns = countPatterns(out.Bars)
	var skipped int64
	for i, n := range s.best.skip {
		skipped += int64(n) * in.skip[i]
		for range n {
			out.Unplaced = append(out.Unplaced, queue[i].next())
		}
	}
	out.Unplaced = gather(out.Unplaced)
	out.Cost = in.money(p, cost/in.costGCD)
	out.LowerBound = in.money(p, max(0, s.lb-skipped))
	return out
}

// countPatterns counts the different ways in which the bars are cut.
func countPatterns(bars []PlannedBar) int {
	seen := map[string]bool{}
	var key []byte
	var lengths []int
	for i := range bars {
		b := &bars[i]
		lengths = lengths[:0]
		for _, c := range b.Cuts {
			lengths = append(lengths, toUnits(c.Length))
		}
		slices.Sort(lengths)
		key = binary.AppendVarint(key[:0], int64(toUnits(b.StockLength)))
		key = binary.AppendVarint(key, int64(math.Round(b.Price*pricePerUnit)))
		for _, l := range lengths {
			key = binary.AppendVarint(key, int64(l))
		}
		seen[string(key)] = true
	}
	return len(seen)
}

// gather joins neighbouring equal pieces.
func gather(list []Piece) []Piece {
	var out []Piece
	for _, c := range list {
		if n := len(out); n > 0 && out[n-1].Length == c.Length && out[n-1].Mark == c.Mark {
			out[n-1].Quantity++
		} else {
			out = append(out, c)
		}
	}
	return out
}

// sources says which bar of the problem each bar of a use is. Kinds that the
// solver holds for equal may differ by a part of its unit: the longest go
// where most is left over.
func (in *instance) sources(p *Problem, uses []use) map[*pattern][]int {
	order := slices.Clone(uses)
	slices.SortStableFunc(order, func(a, b use) int { return cmp.Compare(in.slack(b.pat), in.slack(a.pat)) })
	used := make([]int, len(p.Bars))
	out := map[*pattern][]int{}
	for _, u := range order {
		for range u.n {
			j := in.source(p, u.pat.bin, used)
			used[j]++
			out[u.pat] = append(out[u.pat], j)
		}
	}
	return out
}

// source picks the longest of the bars of a kind that is not used up.
func (in *instance) source(p *Problem, bin int, used []int) int {
	for _, j := range in.bins[bin].src {
		q := p.Bars[j].Quantity
		if q == Unlimited && p.Bars[j].Offcut {
			q = 1
		}
		if q == Unlimited || used[j] < q {
			return j
		}
	}
	return in.bins[bin].src[0] // not reached: the limit is the sum of these
}

// markQueue hands out the pieces of one length in the order of the list.
type markQueue struct {
	pieces []Piece
	at     int
}

// next returns one piece.
func (q *markQueue) next() Piece {
	c := q.pieces[0]
	c.Quantity = 1
	if q.at++; q.at == q.pieces[0].Quantity {
		q.pieces, q.at = q.pieces[1:], 0
	}
	return c
}

// marks lines up the pieces of each size.
func (in *instance) marks(p *Problem) []*markQueue {
	kerf := toUnits(p.Kerf)
	out := make([]*markQueue, len(in.size))
	for i := range out {
		out[i] = &markQueue{}
	}
	for _, c := range p.Pieces {
		w := (toUnits(c.Length) + kerf) / in.unit
		i, _ := slices.BinarySearchFunc(in.size, w, func(a, b int) int { return cmp.Compare(b, a) })
		out[i].pieces = append(out[i].pieces, c)
	}
	return out
}

// bar fills one bar of kind j in the order of sawing, or in the reverse order.
func (in *instance) bar(p *Problem, j int, w sawing, reverse bool, queue []*markQueue) PlannedBar {
	b := PlannedBar{Stock: j, StockLength: p.Bars[j].Length, Price: p.Bars[j].Price, Offcut: p.Bars[j].Offcut}
	left := toUnits(p.Bars[j].Length) - toUnits(p.Trim)
	order := w.order
	if reverse {
		order = slices.Clone(order)
		slices.Reverse(order)
	}
	for _, it := range order {
		for range w.u.pat.countOf(int(it)) {
			c := queue[it].next()
			b.Cuts = append(b.Cuts, Cut{Mark: c.Mark, Length: c.Length})
			left -= toUnits(c.Length) + toUnits(p.Kerf)
		}
	}
	b.Left = float64(max(0, left)) / unitsPerMM
	b.Keep = left > 0 && left >= toUnits(p.Keep)
	return b
}

// roundMoney rounds a sum of prices to their resolution, so that adding up
// leaves no dust in the last digits.
func roundMoney(v float64) float64 { return math.Round(v*pricePerUnit*10) / (pricePerUnit * 10) }
