package stock

import (
	"context"
	"testing"
	"time"
)

func TestDbg(t *testing.T) {
	p := big(0, 2000, 500, false, 3)
	in := newInstance(&p)
	w := newBudget(context.Background(), 5*time.Second)
	first, start := in.firstAnswer()
	s := newSolver(in, first, w)
	l := s.root(start)
	t0 := time.Now()
	for i := 0; i < 3; i++ {
		out, b := s.colgen(l, in.need, in.limits(), 0, s.best.cost)
		t.Log(out, b, l.value(), len(l.cols), l.since, w.used, w.limit, time.Since(t0))
		w.limit += 1e9
	}
}
