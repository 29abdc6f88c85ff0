package stock

import (
	"context"
	"math/rand"
	"testing"
	"time"
)

func big(seed int64, n, m int, frac bool, kerf float64) Problem {
	r := rand.New(rand.NewSource(seed))
	p := Problem{Kerf: kerf, Trim: 20, Bars: []Bar{{Length: 6000, Price: 41.5}, {Length: 3000, Price: 22.8}, {Length: 4000, Price: 28.9}}}
	q := make([]int, m)
	for range n {
		q[r.Intn(m)]++
	}
	for i := range m {
		l := float64(200 + r.Intn(2300))
		if frac {
			l += float64(r.Intn(100)) / 100
		}
		p.Pieces = append(p.Pieces, Piece{Length: l, Quantity: max(q[i], 1)})
	}
	return p
}

func TestBig(t *testing.T) {
	for _, c := range []struct {
		n, m int
		frac bool
		kerf float64
	}{{2000, 80, false, 3}, {2000, 80, false, 3.2}, {2000, 80, true, 3.2}, {20000, 80, false, 3}, {1000000, 80, false, 3}, {200, 80, false, 3}, {200, 30, true, 3}, {60, 20, true, 3}, {2000, 500, false, 3}, {2000, 1900, true, 3}} {
		for seed := range 3 {
			t0 := time.Now()
			first := time.Duration(0)
			var tight time.Duration
			pl, err := Solve(context.Background(), big(int64(seed), c.n, c.m, c.frac, c.kerf), Options{TimeLimit: 5 * time.Second, Progress: func(a, b float64) {
				if first == 0 {
					first = time.Since(t0)
				}
				if tight == 0 && a-b < 0.0005*b {
					tight = time.Since(t0)
				}
			}})
			if err != nil {
				t.Fatal(err)
			}
			t.Logf("%v seed %d: bars %d cost %.2f lb %.2f gap %.4f%% opt %v first %v tight %v total %v clock %v", c, seed, len(pl.Bars), pl.Cost, pl.LowerBound, 100*pl.Gap(), pl.Optimal, first, tight, time.Since(t0), pl.ClockStopped)
		}
	}
}
