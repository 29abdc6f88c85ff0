package stock

import (
	"context"
	"math/rand"
	"testing"
	"time"
)

// longestSlack is the longest slack of a solution's bars.
func longestSlack(in *instance, s *solution) int {
	n := 0
	for _, u := range s.uses {
		n = max(n, in.slack(u.pat))
	}
	return n
}

// TestFinishKeepsWhatWasWon: each step may only improve its own aim and leave
// those before it alone.
func TestFinishKeepsWhatWasWon(t *testing.T) {
	longer, fewer := 0, 0
	for seed := range 150 {
		p := randomProblem(rand.New(rand.NewSource(int64(seed))))
		in := newInstance(&p)
		if in.skip != nil {
			continue
		}
		first, _ := in.firstAnswer()
		s := *first
		work := newBudget(context.Background(), time.Minute)
		before := longestSlack(in, &s)
		special := in.longestLeft(&s, work)
		after := longestSlack(in, &s)
		if after < before || after != in.slack(special) || in.costOf(s.uses, nil) != first.cost || s.bars() > first.bars() {
			t.Errorf("seed %d: slack %d → %d, bars %d → %d", seed, before, after, first.bars(), s.bars())
		}
		patterns := len(s.uses)
		in.fewerPatterns(&s, special, work)
		if longestSlack(in, &s) < after || len(s.uses) > patterns || in.costOf(s.uses, nil) != first.cost {
			t.Errorf("seed %d: patterns %d → %d, slack %d → %d", seed, patterns, len(s.uses), after, longestSlack(in, &s))
		}
		left := append([]int(nil), in.need...)
		for _, u := range s.uses {
			if u.pat.used > in.bins[u.pat.bin].cap {
				t.Errorf("seed %d: over-full bar", seed)
			}
			u.pat.take(left, u.n)
		}
		for i, n := range left {
			if n != 0 {
				t.Errorf("seed %d: size %d: %+d", seed, i, n)
			}
		}
		if after > before {
			longer++
		}
		if len(s.uses) < patterns {
			fewer++
		}
	}
	if longer < 10 || fewer < 10 {
		t.Errorf("leftover longer in %d, patterns fewer in %d of 150", longer, fewer)
	}
}

// TestFewestPatterns on cases with an answer that can be seen.
func TestFewestPatterns(t *testing.T) {
	for _, c := range []struct {
		name   string
		pieces []Piece
		want   int
	}{
		{"6+4, four times", []Piece{{600, 4, ""}, {400, 4, ""}}, 1},
		{"5+3+2, six times", []Piece{{500, 6, ""}, {300, 6, ""}, {200, 6, ""}}, 1},
		{"four bars of 7+3, three of 5+5", []Piece{{700, 4, ""}, {300, 4, ""}, {500, 6, ""}}, 2},
	} {
		p := Problem{Bars: []Bar{{Length: 1000, Price: 1}}, Pieces: c.pieces}
		if pl := solve(t, p); pl.Patterns != c.want {
			t.Errorf("%s: %d patterns, want %d", c.name, pl.Patterns, c.want)
		}
	}
}
