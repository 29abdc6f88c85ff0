package stock

import (
	"context"
	"math"
	"math/rand"
	"testing"
	"time"
)

// lpLaws checks what must hold at an optimum over the pool, whatever the
// numbers: B·x = b, x ≥ 0, no negative reduced cost, and equal primal and dual values.
func lpLaws(t *testing.T, l *lp) {
	t.Helper()
	sum := make([]float64, len(l.rows))
	for i, v := range l.basis {
		if l.x[i] < -1e-7 {
			t.Errorf("basic value %v below zero", l.x[i])
		}
		if v < 0 {
			r, sign := (-1-v)/2, 1.0
			if v&1 != 0 && l.rows[r].atLeast() {
				sign = -1
			}
			sum[r] += sign * l.x[i]
			continue
		}
		for k, r := range l.cols[v].row {
			sum[r] += l.cols[v].val[k] * l.x[i]
		}
	}
	dual := 0.0
	for r := range l.rows {
		if math.Abs(sum[r]-l.rows[r].rhs) > 1e-6 {
			t.Errorf("row %d: %v, want %v", r, sum[r], l.rows[r].rhs)
		}
		dual += l.y[r] * l.rows[r].rhs
		if y := l.y[r]; (l.rows[r].atLeast() && y < -1e-6) || (!l.rows[r].atLeast() && y > 1e-6) {
			t.Errorf("row %d: dual %v of the wrong sign", r, y)
		}
	}
	if v := l.value(); math.Abs(v-dual) > 1e-6*(1+math.Abs(v)) {
		t.Errorf("primal value %v, dual value %v", v, dual)
	}
	for k := range l.cols {
		if rc := l.reduced(k); !l.dear[k] && rc < -1e-5 {
			t.Errorf("column %d: reduced cost %v", k, rc)
		}
	}
}

// TestSimplexLaws solves programmes, changes right-hand sides and adds rows,
// as diving and branching do, and checks the laws after each.
func TestSimplexLaws(t *testing.T) {
	for seed := range 60 {
		r := rand.New(rand.NewSource(int64(seed)))
		p := randomProblem(r)
		in := newInstance(&p)
		first, start := in.firstAnswer()
		s := newSolver(in, first, newBudget(context.Background(), time.Hour))
		l := s.root(start)
		limit := in.limits()
		check := func(step string) {
			if out, _ := s.colgen(l, in.need, limit, 0, 1<<50); out != cgSolved {
				t.Fatalf("seed %d, %s: outcome %v", seed, step, out)
			}
			lpLaws(t, l)
		}
		check("root")
		y := s.barCounts(l)
		j := r.Intn(len(in.bins))
		s.setRow(l, lprow{kind: floorRow, key: j, rhs: math.Ceil(y[j]), big: float64(s.bigM)})
		if !l.dual() {
			t.Fatalf("seed %d: the dual simplex gave up", seed)
		}
		check("floor")
		limit[j] = int(math.Ceil(y[j]))
		s.setRow(l, lprow{kind: limitRow, key: j, rhs: float64(limit[j])})
		if !l.dual() {
			t.Fatalf("seed %d: the dual simplex gave up", seed)
		}
		check("limit")
		flow := s.arcFlow(l)
		a := flow[r.Intn(len(flow))]
		s.setRow(l, lprow{kind: arcDnRow, key: a.item, pos: a.pos, rhs: math.Floor(a.x)})
		if !l.dual() {
			t.Fatalf("seed %d: the dual simplex gave up", seed)
		}
		check("place")
		before := l.value()
		if !l.refactor() || math.Abs(l.value()-before) > 1e-6*(1+before) {
			t.Errorf("seed %d: value %v before the inverse was made afresh, %v after", seed, before, l.value())
		}
		lpLaws(t, l)
	}
}
