package stock

import (
	"context"
	"fmt"
	"math/rand"
	"testing"
	"time"
)

// workshop is a large job: n pieces of so many lengths, three bar lengths.
func workshop(n, lengths int, seed int64) Problem {
	r := rand.New(rand.NewSource(seed))
	p := Problem{Kerf: 3, Trim: 20, Bars: []Bar{{Length: 6000, Price: 41.5}, {Length: 3000, Price: 22.8}, {Length: 4000, Price: 28.9}}}
	quantity := make([]int, lengths)
	for range n {
		quantity[r.Intn(lengths)]++
	}
	for i := range lengths {
		p.Pieces = append(p.Pieces, Piece{Length: float64(200 + r.Intn(2300)), Quantity: max(quantity[i], 1), Mark: fmt.Sprint("A", i+1)})
	}
	return p
}

// BenchmarkWorkshop measures large jobs: first-ms until the first plan,
// close-ms until a plan within 0.05 % of the final bound, gap-ppm at the end.
// Growth with the number of pieces shows by comparing the rows.
func BenchmarkWorkshop(b *testing.B) {
	for _, n := range []int{2000, 20_000, 200_000, 1_000_000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			b.ReportAllocs()
			var first, within time.Duration
			gap := 0.0
			k := 0
			for b.Loop() {
				for seed := range int64(3) {
					var at []time.Duration
					var costs []float64
					start := time.Now()
					pl, err := Solve(context.Background(), workshop(n, 80, seed), Options{TimeLimit: 2 * time.Second, Progress: func(cost, _ float64) {
						at, costs = append(at, time.Since(start)), append(costs, cost)
					}})
					if err != nil {
						b.Fatal(err)
					}
					first = max(first, at[0])
					for i, c := range costs {
						if c <= pl.LowerBound*1.0005 {
							within = max(within, at[i])
							break
						}
					}
					gap = max(gap, pl.Gap())
					k++
				}
			}
			b.ReportMetric(float64(b.Elapsed().Milliseconds())/float64(k), "ms/job")
			b.ReportMetric(float64(first.Microseconds())/1000, "first-ms")
			b.ReportMetric(float64(within.Microseconds())/1000, "close-ms")
			b.ReportMetric(gap*1e6, "gap-ppm")
		})
	}
}

// BenchmarkSmallFrame is the size of job that a frame makes.
func BenchmarkSmallFrame(b *testing.B) {
	b.ReportAllocs()
	p := workshop(40, 10, 1)
	for b.Loop() {
		if _, err := Solve(context.Background(), p, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
