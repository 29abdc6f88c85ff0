package stock

import (
	"fmt"
	"math"
	"sort"
	"testing"
)

// checkPlan is an independent reading of what a plan must be, written from the
// rule and not from the solver: lengths in whole hundredths of a millimetre,
// n pieces need n−1 cuts at least, a remainder shorter than the kerf is dust.
func checkPlan(p Problem, pl *Plan) error {
	h := func(v float64) int64 { return int64(math.Round(v * 100)) }
	type key struct {
		mark string
		len  int64
	}
	want := map[key]int{}
	for _, c := range p.Pieces {
		want[key{c.Mark, h(c.Length)}] += c.Quantity
	}
	for _, c := range pl.Unplaced {
		want[key{c.Mark, h(c.Length)}] -= c.Quantity
	}
	used := map[int]int{}
	cost, bought := 0.0, int64(0)
	patterns := map[string]bool{}
	for i, b := range pl.Bars {
		if b.Stock < 0 || b.Stock >= len(p.Bars) {
			return fmt.Errorf("bar %d: no such stock", i)
		}
		s := p.Bars[b.Stock]
		if b.StockLength != s.Length || b.Price != s.Price || b.Offcut != s.Offcut {
			return fmt.Errorf("bar %d: not the stock it names", i)
		}
		used[b.Stock]++
		cost += s.Price
		if !s.Offcut {
			bought += h(s.Length)
		}
		if len(b.Cuts) == 0 {
			return fmt.Errorf("bar %d: empty", i)
		}
		var sum int64
		var lens []int64
		for _, c := range b.Cuts {
			want[key{c.Mark, h(c.Length)}]--
			sum += h(c.Length)
			lens = append(lens, h(c.Length))
		}
		room := h(s.Length) - h(p.Trim)
		if n := int64(len(b.Cuts)); sum+h(p.Kerf)*(n-1) > room {
			return fmt.Errorf("bar %d: over-full: %d pieces of %d in %d", i, n, sum, room)
		}
		left := max(0, room-sum-h(p.Kerf)*int64(len(b.Cuts)))
		if math.Abs(b.Left*100-float64(left)) > 1e-6 {
			return fmt.Errorf("bar %d: left %v, want %v", i, b.Left, float64(left)/100)
		}
		if b.Keep != (left > 0 && left >= h(p.Keep)) {
			return fmt.Errorf("bar %d: keep %v at %v", i, b.Keep, b.Left)
		}
		sort.Slice(lens, func(i, j int) bool { return lens[i] < lens[j] })
		patterns[fmt.Sprint(h(s.Length), s.Price, lens)] = true
	}
	for k, n := range want {
		if n != 0 {
			return fmt.Errorf("piece %q %d: %+d not cut", k.mark, k.len, n)
		}
	}
	for j, n := range used {
		q := p.Bars[j].Quantity
		if p.Bars[j].Offcut && q == 0 {
			q = 1
		}
		if q > 0 && n > q {
			return fmt.Errorf("stock %d: %d used of %d", j, n, q)
		}
	}
	if pl.ByLength {
		cost = float64(bought) / 1e5
	}
	if math.Abs(cost-pl.Cost) > 1e-6*(1+cost) {
		return fmt.Errorf("cost %v, want %v", pl.Cost, cost)
	}
	if len(pl.Unplaced) == 0 && pl.LowerBound > pl.Cost+1e-6 {
		return fmt.Errorf("bound %v above cost %v", pl.LowerBound, pl.Cost)
	}
	if pl.Optimal && len(pl.Unplaced) == 0 && math.Abs(pl.LowerBound-pl.Cost) > 1e-6*(1+cost) {
		return fmt.Errorf("optimal, but bound %v is not cost %v", pl.LowerBound, pl.Cost)
	}
	if pl.Patterns != len(patterns) {
		return fmt.Errorf("%d patterns, counted %d", pl.Patterns, len(patterns))
	}
	return nil
}

// mustCheck fails the test if the plan is wrong.
func mustCheck(t testing.TB, p Problem, pl *Plan) {
	t.Helper()
	if err := checkPlan(p, pl); err != nil {
		t.Fatal(err)
	}
}

// ffd is first-fit decreasing in the words of the textbook: pieces by falling
// length, each into the first open bar that has room, else into a new bar of
// the kind cheapest per millimetre that holds it and is left. It returns what
// the bars cost (or their bought length in metres, if none has a price), and
// false if the stock runs out.
func ffd(p Problem) (float64, bool) {
	type open struct{ room, sum, n float64 }
	var all []float64
	for _, c := range p.Pieces {
		for range c.Quantity {
			all = append(all, c.Length)
		}
	}
	sort.Sort(sort.Reverse(sort.Float64Slice(all)))
	priced := false
	for _, b := range p.Bars {
		priced = priced || b.Price > 0
	}
	price := func(b Bar) float64 {
		if priced {
			return b.Price
		}
		if b.Offcut {
			return 0
		}
		return b.Length / 1000
	}
	left := make([]int, len(p.Bars))
	for j, b := range p.Bars {
		left[j] = b.Quantity
		if b.Quantity == 0 {
			left[j] = len(all)
			if b.Offcut {
				left[j] = 1
			}
		}
	}
	var bars []open
	cost := 0.0
next:
	for _, l := range all {
		for k := range bars {
			if o := &bars[k]; o.sum+l+o.n*p.Kerf <= o.room+1e-6 {
				o.sum += l
				o.n++
				continue next
			}
		}
		best := -1
		for j, b := range p.Bars {
			if left[j] > 0 && b.Length-p.Trim >= l-1e-9 && (best < 0 || price(b)/b.Length < price(p.Bars[best])/p.Bars[best].Length) {
				best = j
			}
		}
		if best < 0 {
			return 0, false
		}
		left[best]--
		cost += price(p.Bars[best])
		bars = append(bars, open{p.Bars[best].Length - p.Trim, l, 1})
	}
	return cost, true
}
