package stock

import (
	"context"
	"math"
	"math/rand"
	"testing"
	"time"
)

// TestBoundOfAnyDuals: the bound must hold for duals out of thin air as well;
// that is what makes it safe against rounding in the simplex method.
func TestBoundOfAnyDuals(t *testing.T) {
	positive := 0
	for seed := range 300 {
		r := rand.New(rand.NewSource(int64(seed)))
		p := tiny(r)
		in := newInstance(&p)
		if in.skip != nil {
			continue
		}
		cost, _, _ := exhaustive(p)
		best := int64(math.Round(cost * pricePerUnit / float64(in.costGCD)))
		first, start := in.firstAnswer()
		s := newSolver(in, first, newBudget(context.Background(), time.Hour))
		if s.lb > best {
			t.Fatalf("seed %d: simple bound %d above the optimum %d", seed, s.lb, best)
		}
		l := s.root(start)
		v := make([]int64, len(in.bins))
		for try := range 20 {
			for i := range l.y {
				rate := float64(in.bins[0].cost) / float64(in.bins[0].cap) * (0.5 + r.Float64())
				l.y[i] = rate * float64(in.size[i%len(in.size)])
			}
			d := s.roundDuals(l, l.y)
			s.newColumns(l, d, in.need, v, s.price.up)
			b := s.lagrange(l, d, in.limits(), v)
			if b > best {
				t.Fatalf("seed %d, try %d: bound %d above the optimum %d", seed, try, b, best)
			}
			if b > 0 {
				positive++
			}
		}
	}
	if positive < 1000 {
		t.Errorf("only %d bounds say anything", positive)
	}
}

// TestMartelloToth on cases small enough to count: c = 10.
func TestMartelloToth(t *testing.T) {
	for _, c := range []struct {
		name  string
		sizes []float64
		want  int
	}{
		{"all over half: one bar each", []float64{6, 6, 7, 9}, 4},
		{"7, 6 and 6 leave 3, 4 and 4; none takes a 5, which pair up", []float64{7, 6, 6, 5, 5, 5}, 5},
		{"length alone: 4·5 in two", []float64{5, 5, 5, 5}, 2},
		{"a 4 goes with each 6", []float64{6, 6, 4, 4}, 2},
	} {
		p := Problem{Bars: []Bar{{Length: 10, Price: 1}}}
		for _, v := range c.sizes {
			p.Pieces = append(p.Pieces, Piece{Length: v, Quantity: 1})
		}
		if got := newInstance(&p).martelloToth(); got != c.want {
			t.Errorf("%s: %d, want %d", c.name, got, c.want)
		}
	}
}

// TestRaise: bars at 3, and one at 7, make these sums.
func TestRaise(t *testing.T) {
	in := &instance{bins: []bin{{cost: 3, limit: 100}, {cost: 7, limit: 1}}, total: 100}
	s := &solver{in: in, best: &solution{cost: 30}}
	s.setReach()
	for _, c := range [][2]int64{{1, 3}, {4, 6}, {7, 7}, {8, 9}, {10, 10}, {11, 12}, {14, 15}, {16, 16}, {17, 18}} {
		if got := s.raise(c[0]); got != c[1] {
			t.Errorf("raise(%d) = %d, want %d", c[0], got, c[1])
		}
	}
}

// TestBranchAlone proves tiny problems without the help of a good first plan.
func TestBranchAlone(t *testing.T) {
	for seed := range 200 {
		p := tiny(rand.New(rand.NewSource(int64(seed))))
		in := newInstance(&p)
		if in.skip != nil {
			continue
		}
		poor, start := in.firstAnswer()
		worse := *poor
		worse.cost = poor.cost * 2
		s := newSolver(in, &worse, newBudget(context.Background(), time.Hour))
		l := s.root(start)
		s.branch(l)
		cost, _, _ := exhaustive(p)
		best := int64(math.Round(cost * pricePerUnit / float64(in.costGCD)))
		if worse.cost == 0 {
			continue // all from free offcuts: nothing to search for
		}
		if s.best.cost != best || !s.closed() {
			t.Errorf("seed %d: cost %d, bound %d, exhaustive search %d", seed, s.best.cost, s.lb, best)
		}
	}
}
