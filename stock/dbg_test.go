package stock

import (
	"context"
	"math/rand"
	"testing"
	"time"
)

func TestDbg(t *testing.T) {
	for seed := 0; seed < 10; seed++ {
		p := randomProblem(rand.New(rand.NewSource(int64(seed))))
		in := newInstance(&p)
		pl, _ := Solve(context.Background(), p, Options{TimeLimit: 10 * time.Second})
		if err := checkPlan(p, pl); err != nil {
			t.Logf("%d %v %+v\n%+v\n", seed, err, p, in)
			f, _ := in.firstAnswer()
			for _, u := range f.uses {
				t.Logf("%+v x %d", *u.pat, u.n)
			}
			for _, u := range pl.Bars {
				t.Logf("%+v", u)
			}
			break
		}
	}
}
