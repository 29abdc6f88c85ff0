package stock

import (
	"math/rand"
	"testing"
)

// movesUnordered counts the stop's settings if bars and pieces are cut longest first.
func movesUnordered(pl *Plan) int {
	n := 0
	at := -1
	for _, b := range pl.Bars {
		left := map[int]bool{}
		for _, c := range b.Cuts {
			left[toUnits(c.Length)] = true
		}
		for len(left) > 0 {
			long := -1
			for l := range left {
				long = max(long, l)
			}
			delete(left, long)
			if long != at {
				n, at = n+1, long
			}
		}
	}
	return n
}

func TestStopMoves(t *testing.T) {
	// Four equal bars of two lengths, back and forth: set once at the start,
	// then once in each bar.
	p := Problem{Bars: []Bar{{Length: 1000, Price: 1}}, Pieces: []Piece{{600, 4, "A1"}, {400, 4, "A2"}}}
	if n := solve(t, p).StopMoves(); n != 5 {
		t.Errorf("%d settings of the stop, want 5", n)
	}
	// A chain 70+30, 30·2+40, 40+60 can pass each shared length on.
	p = Problem{Bars: []Bar{{Length: 100, Price: 1}}, Pieces: []Piece{{70, 1, ""}, {30, 3, ""}, {40, 2, ""}, {60, 1, ""}}}
	if n := solve(t, p).StopMoves(); n != 4 {
		t.Errorf("%d settings of the stop, want 4", n)
	}
	less, more := 0, 0
	for seed := range 60 {
		pl := solve(t, randomProblem(rand.New(rand.NewSource(int64(seed)))))
		a, b := pl.StopMoves(), movesUnordered(pl)
		less += a
		more += b
	}
	if less >= more {
		t.Errorf("%d settings in order, %d without", less, more)
	}
}
