package stock

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"
)

// solve solves a problem and runs the independent checker.
func solve(t testing.TB, p Problem) *Plan {
	t.Helper()
	pl, err := Solve(context.Background(), p, Options{TimeLimit: 10 * time.Second})
	if err != nil {
		t.Fatal(err)
	}
	mustCheck(t, p, pl)
	return pl
}

// fortyOffcuts has a piece for each of forty different offcuts, and bars that
// nobody needs.
func fortyOffcuts() Problem {
	p := Problem{Kerf: 3, Bars: []Bar{{Length: 6000, Price: 40}}}
	for k := range 40 {
		l := float64(500 + 37*k)
		p.Bars = append(p.Bars, Bar{Length: l, Offcut: true})
		p.Pieces = append(p.Pieces, Piece{Length: l, Quantity: 1, Mark: fmt.Sprint("A", k)})
	}
	return p
}

func TestHardCases(t *testing.T) {
	for _, c := range []struct {
		name string
		p    Problem
		cost float64
		bars int
		left float64 // the longest
	}{
		{"kerfs just fit n−1 times: 4·242.5 + 3·10 = 1000",
			Problem{Kerf: 10, Bars: []Bar{{Length: 1000, Price: 1}}, Pieces: []Piece{{Length: 242.5, Quantity: 4}}}, 1, 1, 0},
		{"a hundredth too long for that",
			Problem{Kerf: 10, Bars: []Bar{{Length: 1000, Price: 1}}, Pieces: []Piece{{Length: 242.51, Quantity: 4}}}, 2, 2, 1000 - 242.51 - 10},
		{"a remainder of 4 under a kerf of 10 goes to dust",
			Problem{Kerf: 10, Bars: []Bar{{Length: 1000, Price: 1}}, Pieces: []Piece{{Length: 493, Quantity: 2}}}, 1, 1, 0},
		{"one piece as long as the bar needs no cut",
			Problem{Kerf: 3, Trim: 20, Bars: []Bar{{Length: 6000, Price: 41.5}}, Pieces: []Piece{{Length: 5980, Quantity: 1}}}, 41.5, 1, 0},
		{"a tie in cost: one bar of 6 m rather than two of 3 m",
			Problem{Bars: []Bar{{Length: 3000, Price: 20}, {Length: 6000, Price: 40}}, Pieces: []Piece{{Length: 2900, Quantity: 2}}}, 40, 1, 200},
		{"one length at two prices: two at 30, then 40",
			Problem{Bars: []Bar{{Length: 6000, Price: 40}, {Length: 6000, Price: 30, Quantity: 2}}, Pieces: []Piece{{Length: 4000, Quantity: 3}}}, 100, 3, 2000},
		{"forty different offcuts, each just a piece", fortyOffcuts(), 0, 40, 0},
		{"6 m dearer than two of 3 m",
			Problem{Kerf: 5, Bars: []Bar{{Length: 6000, Price: 50}, {Length: 3000, Price: 20}}, Pieces: []Piece{{Length: 1400, Quantity: 4}}}, 40, 2, 190},
		{"6 m dearer than two of 3 m, but one piece needs it; the rest of it is worth a 3 m bar",
			Problem{Bars: []Bar{{Length: 6000, Price: 50}, {Length: 3000, Price: 20}}, Pieces: []Piece{{Length: 3500, Quantity: 1}, {Length: 1250, Quantity: 4}}}, 70, 2, 500},
		{"tenths: 3·333.3 = 999.9, which binary fractions miss",
			Problem{Bars: []Bar{{Length: 999.9, Price: 1}}, Pieces: []Piece{{Length: 333.3, Quantity: 3}}}, 1, 1, 0},
		{"tenths with a kerf of 0.1: 10·99.8 + 9·0.1 = 998.9",
			Problem{Kerf: 0.1, Bars: []Bar{{Length: 998.9, Price: 1}}, Pieces: []Piece{{Length: 99.8, Quantity: 10}}}, 1, 1, 0},
		{"the trim comes off the offcut too",
			Problem{Trim: 20, Bars: []Bar{{Length: 1000, Offcut: true}, {Length: 3000, Price: 20}}, Pieces: []Piece{{Length: 990, Quantity: 1}}}, 20, 1, 1990},
		{"an offcut with a price above a bar's is left alone",
			Problem{Bars: []Bar{{Length: 1000, Price: 30, Offcut: true}, {Length: 3000, Price: 20}}, Pieces: []Piece{{Length: 900, Quantity: 1}}}, 20, 1, 2100},
		{"two bars either way: the longest single leftover, 6 alone and 5+3+2",
			Problem{Bars: []Bar{{Length: 1000, Price: 1}}, Pieces: []Piece{{Length: 600, Quantity: 1}, {Length: 500, Quantity: 1}, {Length: 300, Quantity: 1}, {Length: 200, Quantity: 1}}}, 2, 2, 400},
		{"no prices: the length bought counts, 3 m rather than 6 m",
			Problem{Bars: []Bar{{Length: 6000}, {Length: 3000}}, Pieces: []Piece{{Length: 1000, Quantity: 3}}}, 3, 1, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			pl := solve(t, c.p)
			left := 0.0
			for _, b := range pl.Bars {
				left = max(left, b.Left)
			}
			if !pl.Optimal || math.Abs(pl.Cost-c.cost) > 1e-9 || len(pl.Bars) != c.bars || math.Abs(left-c.left) > 1e-9 {
				t.Errorf("cost %v, %d bars, longest left %v, optimal %v; want %v, %d, %v, proven", pl.Cost, len(pl.Bars), left, pl.Optimal, c.cost, c.bars, c.left)
			}
		})
	}
}

// TestCuttingStockOfTheTextbook is the example of V. Chvátal, "Linear
// Programming" (1983), chapter 13: rolls of 100 in; the relaxation needs
// 452.25 of them and the best plan 453. (Figures from memory.)
func TestCuttingStockOfTheTextbook(t *testing.T) {
	p := Problem{Bars: []Bar{{Length: 100, Price: 1}}, Pieces: []Piece{
		{Length: 45, Quantity: 97}, {Length: 36, Quantity: 610}, {Length: 31, Quantity: 395}, {Length: 14, Quantity: 211}}}
	pl := solve(t, p)
	if pl.Cost != 453 || !pl.Optimal {
		t.Errorf("cost %v, optimal %v; want 453, proven", pl.Cost, pl.Optimal)
	}
	in := newInstance(&p)
	first, start := in.firstAnswer()
	s := newSolver(in, first, newBudget(context.Background(), time.Minute))
	s.best.cost = 1 << 20 // nothing to prune by
	l := s.root(start)
	if out, _ := s.colgen(l, in.need, in.limits(), 0, s.best.cost); out != cgSolved {
		t.Fatal("column generation did not end")
	}
	// It may end early, once the bound in whole bars cannot rise any more.
	if v := l.value(); v < 452.25-1e-6 || v > 453+1e-6 {
		t.Errorf("relaxation %v, want 452.25 (or up to 453 where it ends early)", v)
	}
}

// tiny draws a problem of at most seven pieces for the exhaustive check.
func tiny(r *rand.Rand) Problem {
	p := Problem{Kerf: []float64{0, 3, 2.5}[r.Intn(3)], Trim: []float64{0, 10}[r.Intn(2)]}
	for range 1 + r.Intn(3) {
		p.Bars = append(p.Bars, Bar{Length: float64(600 + 100*r.Intn(10)), Price: float64(5 + r.Intn(10)), Quantity: r.Intn(2) * (1 + r.Intn(3))})
	}
	p.Bars = append(p.Bars, Bar{Length: 1600, Price: float64(12 + r.Intn(9))})
	for range r.Intn(3) {
		p.Bars = append(p.Bars, Bar{Length: float64(200 + 50*r.Intn(12)), Quantity: 1, Offcut: true})
	}
	for n := 2 + r.Intn(6); n > 0; {
		q := 1 + r.Intn(min(n, 3))
		p.Pieces = append(p.Pieces, Piece{Length: float64(100+r.Intn(700)) + float64(r.Intn(2))/2, Quantity: q})
		n -= q
	}
	return p
}

// unpriced makes some of the tiny problems ones without prices, or with
// nothing but offcuts.
func unpriced(p Problem, seed int) Problem {
	for j := range p.Bars {
		b := &p.Bars[j]
		if seed%6 == 0 {
			b.Price = 0
		}
		if seed%7 == 0 {
			b.Price, b.Offcut, b.Quantity = 0, true, 2
		}
	}
	return p
}

// exhaustive finds the lowest cost over all ways to share the pieces out, bar
// by bar over all subsets; for that cost the fewest bars, and for those the
// longest single leftover.
func exhaustive(p Problem) (cost float64, bars int, left float64) {
	var l []float64
	for _, c := range p.Pieces {
		for range c.Quantity {
			l = append(l, c.Length)
		}
	}
	price := func(b Bar) float64 { return b.Price }
	if !slices.ContainsFunc(p.Bars, func(b Bar) bool { return b.Price > 0 }) {
		price = func(b Bar) float64 { // nothing has a price: the metres bought
			if b.Offcut {
				return 0
			}
			return b.Length / 1000
		}
	}
	full := 1<<len(l) - 1
	type val struct {
		cost float64
		bars int
		left float64
	}
	better := func(a, b val) bool {
		if math.Abs(a.cost-b.cost) > 1e-9 {
			return a.cost < b.cost
		}
		if a.bars != b.bars {
			return a.bars < b.bars
		}
		return a.left > b.left+1e-9
	}
	best := make([]val, full+1)
	for m := range best {
		best[m] = val{math.Inf(1), 0, 0}
	}
	best[0] = val{}
	for _, b := range p.Bars {
		n := b.Quantity
		if n == 0 {
			n = len(l)
		}
		fits, rest := make([]bool, full+1), make([]float64, full+1)
		for m := 1; m <= full; m++ {
			sum, k := 0.0, 0.0
			for i, v := range l {
				if m>>i&1 == 1 {
					sum += v
					k++
				}
			}
			fits[m] = sum+p.Kerf*(k-1) <= b.Length-p.Trim+1e-6
			rest[m] = max(0, b.Length-p.Trim-sum-p.Kerf*k)
		}
		for range n {
			for m := full; m > 0; m-- { // each bar once: larger sets first
				for s := m; s > 0; s = (s - 1) & m {
					v := best[m&^s]
					if v = (val{v.cost + price(b), v.bars + 1, max(v.left, rest[s])}); fits[s] && better(v, best[m]) {
						best[m] = v
					}
				}
			}
		}
	}
	return best[full].cost, best[full].bars, best[full].left
}

func TestAgainstExhaustiveSearch(t *testing.T) {
	n := 400
	if testing.Short() {
		n = 100
	}
	for seed := range n {
		p := unpriced(tiny(rand.New(rand.NewSource(int64(seed)))), seed)
		pl := solve(t, p)
		if len(pl.Unplaced) > 0 {
			if cost, _, _ := exhaustive(p); !math.IsInf(cost, 1) {
				t.Errorf("seed %d: pieces unplaced, exhaustive search costs %v", seed, cost)
			}
			continue
		}
		cost, bars, left := exhaustive(p)
		if !pl.Optimal || math.Abs(pl.Cost-cost) > 1e-9 {
			t.Errorf("seed %d: cost %v (optimal %v, bound %v), exhaustive search %v\n%+v", seed, pl.Cost, pl.Optimal, pl.LowerBound, cost, p)
		} else if len(pl.Bars) != bars {
			t.Errorf("seed %d: %d bars, exhaustive search %d at the same cost\n%+v", seed, len(pl.Bars), bars, p)
		} else {
			longest := 0.0
			for _, b := range pl.Bars {
				longest = max(longest, b.Left)
			}
			if longest < left-1e-6 {
				t.Errorf("seed %d: longest left %v, exhaustive search %v", seed, longest, left)
			}
		}
	}
}

// TestNeverWorseThanFirstFit also where the search has no time at all.
func TestNeverWorseThanFirstFit(t *testing.T) {
	compared := 0
	for seed := range 120 {
		r := rand.New(rand.NewSource(int64(seed)))
		p := randomProblem(r)
		if seed%3 == 0 {
			p.Pieces = p.Pieces[:1]
			for range 40 {
				p.Pieces = append(p.Pieces, Piece{Length: 100 + math.Round(r.Float64()*9000)/10, Quantity: 1 + r.Intn(20)})
			}
		}
		want, ok := ffd(p)
		if !ok {
			continue
		}
		compared++
		for _, limit := range []time.Duration{time.Nanosecond, 50 * time.Millisecond} {
			pl, err := Solve(context.Background(), p, Options{TimeLimit: limit})
			if err != nil {
				t.Fatal(err)
			}
			mustCheck(t, p, pl)
			if pl.Cost > want+1e-9 || len(pl.Unplaced) > 0 {
				t.Errorf("seed %d, limit %v: cost %v, first-fit decreasing %v", seed, limit, pl.Cost, want)
			}
		}
	}
	if compared < 100 {
		t.Errorf("only %d problems compared", compared)
	}
}

func TestSamePlanTwice(t *testing.T) {
	for seed := range 20 {
		p := randomProblem(rand.New(rand.NewSource(int64(seed))))
		a, b := solve(t, p), solve(t, p)
		if !reflect.DeepEqual(a, b) {
			t.Errorf("seed %d: two runs, two plans", seed)
		}
	}
}

func TestBadInput(t *testing.T) {
	ok := Problem{Kerf: 3, Trim: 10, Bars: []Bar{{Length: 6000, Price: 40}}, Pieces: []Piece{{Length: 1000, Quantity: 2}}}
	solve(t, ok)
	for _, c := range []struct {
		name   string
		change func(p *Problem)
		part   string
		index  int
		field  string
	}{
		{"longer than every bar", func(p *Problem) { p.Pieces[0].Length = 5990.01 }, "piece", 0, "length"},
		{"zero length", func(p *Problem) { p.Pieces[0].Length = 0 }, "piece", 0, "length"},
		{"negative length", func(p *Problem) { p.Pieces[0].Length = -5 }, "piece", 0, "length"},
		{"length is no number", func(p *Problem) { p.Pieces[0].Length = math.NaN() }, "piece", 0, "length"},
		{"endless length", func(p *Problem) { p.Pieces[0].Length = math.Inf(1) }, "piece", 0, "length"},
		{"less than a hundredth", func(p *Problem) { p.Pieces[0].Length = 0.001 }, "piece", 0, "length"},
		{"no quantity", func(p *Problem) { p.Pieces[0].Quantity = 0 }, "piece", 0, "quantity"},
		{"absurd quantity", func(p *Problem) { p.Pieces[0].Quantity = math.MaxInt }, "piece", 0, "quantity"},
		{"bar of zero length", func(p *Problem) { p.Bars[0].Length = 0 }, "bar", 0, "length"},
		{"bar of no number", func(p *Problem) { p.Bars[0].Length = math.NaN() }, "bar", 0, "length"},
		{"negative price", func(p *Problem) { p.Bars[0].Price = -1 }, "bar", 0, "price"},
		{"price is no number", func(p *Problem) { p.Bars[0].Price = math.NaN() }, "bar", 0, "price"},
		{"negative quantity", func(p *Problem) { p.Bars[0].Quantity = -1 }, "bar", 0, "quantity"},
		{"one bar with a price, one without", func(p *Problem) { p.Bars = append(p.Bars, Bar{Length: 3000}) }, "bar", 1, "price"},
		{"kerf larger than the bar", func(p *Problem) { p.Kerf = 7000 }, "kerf", -1, ""},
		{"negative kerf", func(p *Problem) { p.Kerf = -1 }, "kerf", -1, ""},
		{"kerf is no number", func(p *Problem) { p.Kerf = math.NaN() }, "kerf", -1, ""},
		{"trim larger than the bar", func(p *Problem) { p.Trim = 6000 }, "trim", -1, ""},
		{"no pieces", func(p *Problem) { p.Pieces = nil }, "pieces", -1, ""},
		{"no bars", func(p *Problem) { p.Bars = nil }, "bars", -1, ""},
	} {
		p := ok
		p.Bars, p.Pieces = append([]Bar(nil), ok.Bars...), append([]Piece(nil), ok.Pieces...)
		c.change(&p)
		_, err := Solve(context.Background(), p, Options{})
		var in *InputError
		if !errors.As(err, &in) {
			t.Errorf("%s: error %v, want an *InputError", c.name, err)
			continue
		}
		if in.Part != c.part || in.Index != c.index || in.Field != c.field || in.Remedy == "" || strings.Contains(in.Error(), "NaN)") {
			t.Errorf("%s: %+v, want %s %d %s with a remedy", c.name, in, c.part, c.index, c.field)
		}
	}
}

func TestStockTooSmall(t *testing.T) {
	// Two offcuts of 1000 for three pieces of 600 and one of 300: one 600 stays
	// out. 600+300 goes in one, 600 in the other.
	p := Problem{Kerf: 3, Bars: []Bar{{Length: 1000, Quantity: 2, Offcut: true}},
		Pieces: []Piece{{Length: 600, Quantity: 3, Mark: "A1"}, {Length: 300, Quantity: 1, Mark: "A2"}}}
	pl := solve(t, p)
	want := []Piece{{Length: 600, Quantity: 1, Mark: "A1"}}
	if !reflect.DeepEqual(pl.Unplaced, want) {
		t.Errorf("unplaced %+v, want %+v", pl.Unplaced, want)
	}
	// The long bar is dear and there is one of it only.
	p = Problem{Bars: []Bar{{Length: 3000, Price: 90, Quantity: 1}, {Length: 1000, Price: 10}},
		Pieces: []Piece{{Length: 1500, Quantity: 3, Mark: "A1"}, {Length: 900, Quantity: 1, Mark: "A2"}}}
	pl = solve(t, p)
	want = []Piece{{Length: 1500, Quantity: 1, Mark: "A1"}}
	if !reflect.DeepEqual(pl.Unplaced, want) || pl.Cost != 100 {
		t.Errorf("unplaced %+v at cost %v, want %+v at 100", pl.Unplaced, pl.Cost, want)
	}
}

// TestManyPieces has answers in the time limit however many pieces there are.
func TestManyPieces(t *testing.T) {
	r := rand.New(rand.NewSource(1))
	equal := Problem{Kerf: 3, Bars: []Bar{{Length: 6000, Price: 40}}, Pieces: []Piece{{Length: 700, Quantity: 1_000_000}}}
	few := workshop(1_000_000, 80, 1)
	distinct := Problem{Kerf: 3, Bars: []Bar{{Length: 6000, Price: 40}, {Length: 3000, Price: 21}}}
	n := 1_000_000
	if testing.Short() {
		n = 100_000
	}
	for range n {
		distinct.Pieces = append(distinct.Pieces, Piece{Length: 100 + float64(r.Intn(200000))/100, Quantity: 1})
	}
	for _, c := range []struct {
		name string
		p    Problem
		gap  float64
	}{{"one length", equal, 0}, {"eighty lengths", few, 0.0005}, {"every length different", distinct, 0.02}} {
		pl, err := Solve(context.Background(), c.p, Options{TimeLimit: 2 * time.Second})
		if err != nil {
			t.Fatal(err)
		}
		mustCheck(t, c.p, pl)
		if pl.Gap() > c.gap {
			t.Errorf("%s: gap %v, want at most %v", c.name, pl.Gap(), c.gap)
		}
	}
}

func TestStoppedByTheCaller(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	p := workshop(2000, 80, 3)
	first := 0
	pl, err := Solve(ctx, p, Options{Progress: func(cost, bound float64) {
		first++
		cancel()
	}})
	if err != nil {
		t.Fatal(err)
	}
	mustCheck(t, p, pl)
	if first == 0 || !pl.ClockStopped {
		t.Errorf("progress called %d times, ClockStopped %v", first, pl.ClockStopped)
	}
	if _, err := Solve(ctx, p, Options{}); !errors.Is(err, context.Canceled) {
		t.Errorf("error %v, want context.Canceled", err)
	}
}
