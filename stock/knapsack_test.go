package stock

import (
	"context"
	"math"
	"math/rand"
	"testing"
	"time"
)

// bestByHand finds the most valuable filling by trying all of them.
func bestByHand(in *instance, cap int, value []int64, need []int, bonus []arcBonus) int64 {
	best := int64(0)
	var try func(i, at, k int, v int64)
	try = func(i, at, k int, v int64) {
		best = max(best, v)
		for ; i < len(in.size); i, k = i+1, 0 {
			if k < need[i] && at+in.size[i] <= cap {
				g := value[i]
				for _, b := range bonus {
					if b.item == i && b.pos == at {
						g += b.value
					}
				}
				try(i, at+in.size[i], k+1, v+g)
			}
		}
	}
	try(0, 0, 0, 0)
	return best
}

// TestKnapsack compares all grids, with and without values that depend on the
// place, with trying everything.
func TestKnapsack(t *testing.T) {
	kinds := map[string]int{}
	for seed := range 400 {
		r := rand.New(rand.NewSource(int64(seed)))
		unit := []float64{1, 0.01}[seed%2]
		p := Problem{Bars: []Bar{{Length: 1000 * unit * (1 + float64(seed%2)*70), Price: 5}, {Length: 700 * unit * (1 + float64(seed%2)*70), Price: 4}}}
		for range 2 + r.Intn(6) {
			l := p.Bars[1].Length * (0.12 + 0.8*r.Float64())
			if seed%2 == 0 {
				l = math.Floor(l)
			}
			p.Pieces = append(p.Pieces, Piece{Length: l, Quantity: 1 + r.Intn(4)})
		}
		in := newInstance(&p)
		pr := newPricer(in, newBudget(context.Background(), time.Hour))
		value := make([]int64, len(in.size))
		for i := range value {
			value[i] = int64(in.size[i]/100 + r.Intn(in.size[i]/10+2) - 1)
		}
		need := make([]int, len(in.need))
		for i := range need {
			need[i] = r.Intn(in.need[i] + 1)
		}
		var bonus []arcBonus
		if seed%3 == 0 {
			at := 0
			for range 3 {
				i := r.Intn(len(in.size))
				bonus = append(bonus, arcBonus{i, at, int64(r.Intn(2*in.maxCap/10) - in.maxCap/10)})
				if at += in.size[r.Intn(len(in.size))]; at >= in.maxCap {
					break
				}
			}
			sortBonus(bonus)
		}
		kind := "dense"
		if pr.up.from != nil {
			kind = "sparse"
		}
		kinds[kind]++
		if !pr.exact {
			t.Fatalf("seed %d: so small an instance needs an exact grid", seed)
		}
		pr.run(pr.up, value, need, bonus)
		for j, b := range in.bins {
			got, at := pr.best(j)
			want := bestByHand(in, b.cap, value, need, bonus)
			if got != want {
				t.Fatalf("seed %d, %s, bonuses %d: value %d, by hand %d", seed, kind, len(bonus), got, want)
			}
			pat := pr.trace(j, at)
			if sum := patternValue(pat, in, value, bonus); sum != got || pat.used > b.cap || !pat.fits(need) {
				t.Fatalf("seed %d, %s: pattern %+v is worth %d of %d", seed, kind, pat, sum, got)
			}
		}
	}
	if kinds["dense"] < 50 || kinds["sparse"] < 50 {
		t.Errorf("grids tried: %v", kinds)
	}
}

// patternValue adds a pattern's values and bonuses.
func patternValue(p *pattern, in *instance, value []int64, bonus []arcBonus) int64 {
	v := int64(0)
	for k, it := range p.item {
		v += value[it] * int64(p.count[k])
	}
	for _, b := range bonus {
		if p.hasArc(b.pos, b.item, in.size) {
			v += b.value
		}
	}
	return v
}

// TestCoarseGrid bounds the true value from both sides.
func TestCoarseGrid(t *testing.T) {
	r := rand.New(rand.NewSource(5))
	p := Problem{Kerf: 3.21, Bars: []Bar{{Length: 6000, Price: 5}}}
	for range 60 {
		p.Pieces = append(p.Pieces, Piece{Length: 900 + float64(r.Intn(200000))/100, Quantity: 3})
	}
	in := newInstance(&p)
	pr := newPricer(in, newBudget(context.Background(), time.Hour))
	if pr.exact {
		t.Fatal("this needs a coarse grid")
	}
	value := make([]int64, len(in.size))
	for i := range value {
		value[i] = int64(in.size[i]) + int64(r.Intn(9000))
	}
	want := bestByHand(in, in.bins[0].cap, value, in.need, nil)
	pr.run(pr.up, value, in.need, nil)
	low, at := pr.best(0)
	if pat := pr.trace(0, at); pat.used > in.bins[0].cap {
		t.Errorf("the pattern over-fills the bar: %+v", pat)
	}
	pr.run(pr.down, value, in.need, nil)
	high, _ := pr.best(0)
	if low > want || high < want {
		t.Errorf("%d ≤ %d ≤ %d does not hold", low, want, high)
	}
	if float64(high-low) > 0.002*float64(want) {
		t.Errorf("the two sides %d and %d are far apart", low, high)
	}
}
