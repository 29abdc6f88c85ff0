package stock

import (
	"context"
	"errors"
	"math"
	"math/rand"
	"testing"
	"time"
)

// TestWildProblems throws extreme but allowed problems at the solver: it must
// neither panic nor take long, and its plans must pass the checker.
func TestWildProblems(t *testing.T) {
	n := 300
	if testing.Short() {
		n = 60
	}
	solved := 0
	for seed := range n {
		p := wild(rand.New(rand.NewSource(int64(seed))))
		pl, err := Solve(context.Background(), p, Options{TimeLimit: 30 * time.Millisecond})
		var in *InputError
		if errors.As(err, &in) {
			continue
		}
		if err != nil {
			t.Fatal(err)
		}
		solved++
		if err := checkPlan(p, pl); err != nil {
			t.Errorf("seed %d: %v", seed, err)
		}
	}
	if solved < n/3 {
		t.Errorf("only %d of %d problems could be meant", solved, n)
	}
}

// wild draws a problem from the corners of what is allowed.
func wild(r *rand.Rand) Problem {
	pick := func(v ...float64) float64 { return v[r.Intn(len(v))] }
	p := Problem{Kerf: pick(0, 0, 0.01, 3, 3.2, 50, 999), Trim: pick(0, 0, 0.01, 20, 500), Keep: pick(0, 300)}
	top := pick(1, 50, 1000, 6000, 6000, 1e6)
	for range 1 + r.Intn(5) {
		p.Bars = append(p.Bars, Bar{
			Length:   math.Ceil(top*(0.2+0.8*r.Float64())*100) / 100,
			Price:    pick(0.0001, 1, 41.5, 1e6, math.Round(r.Float64()*1e4)/100+0.01),
			Quantity: int(pick(0, 0, 1, 2, 50, 2e6)),
		})
	}
	if r.Intn(2) == 0 {
		for range r.Intn(45) {
			p.Bars = append(p.Bars, Bar{Length: math.Ceil(top * r.Float64()), Quantity: r.Intn(3), Offcut: true})
		}
	}
	if r.Intn(5) == 0 {
		for j := range p.Bars {
			p.Bars[j].Price = 0
		}
	}
	long := 0.0
	for _, b := range p.Bars {
		long = max(long, b.Length-p.Trim)
	}
	for range 1 + r.Intn(int(pick(2, 10, 60, 300))) {
		p.Pieces = append(p.Pieces, Piece{
			Length:   max(0.01, math.Floor(long*pick(r.Float64(), r.Float64()/10, 0.5, 1, r.Float64()/1000)*100)/100),
			Quantity: 1 + r.Intn(int(pick(1, 3, 30, 1000))),
		})
	}
	return p
}

// TestUnplacedIsLeast compares with the exhaustive search where stock is short:
// no plan may leave out less when weighed as the solver weighs.
func TestUnplacedIsLeast(t *testing.T) {
	short := 0
	for seed := range 200 {
		r := rand.New(rand.NewSource(int64(seed)))
		p := tiny(r)
		for j := range p.Bars {
			if p.Bars[j].Quantity == Unlimited {
				p.Bars[j].Quantity = 1
			}
		}
		pl := solve(t, p)
		cost, _, _ := exhaustive(p)
		if math.IsInf(cost, 1) != (len(pl.Unplaced) > 0) {
			t.Errorf("seed %d: %d unplaced, exhaustive search costs %v", seed, len(pl.Unplaced), cost)
		}
		if len(pl.Unplaced) > 0 {
			short++
		} else if math.Abs(cost-pl.Cost) > 1e-9 {
			t.Errorf("seed %d: cost %v, exhaustive search %v", seed, pl.Cost, cost)
		}
	}
	if short < 5 || short > 190 {
		t.Errorf("stock short in %d of 200", short)
	}
}
