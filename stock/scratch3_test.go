package stock

import (
	"context"
	"testing"
	"time"
)

func TestDbg(t *testing.T) {
	p := big(1, 2000, 80, false, 3)
	t0 := time.Now()
	pl, _ := Solve(context.Background(), p, Options{TimeLimit: 5 * time.Second})
	t.Log(pl.Cost, pl.LowerBound, time.Since(t0))
	p = big(0, 2000, 500, false, 3)
	t0 = time.Now()
	pl, _ = Solve(context.Background(), p, Options{TimeLimit: 20 * time.Second})
	t.Log(pl.Cost, pl.LowerBound, time.Since(t0))
}
