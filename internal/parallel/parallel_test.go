package parallel

import (
	"errors"
	"testing"
)

func TestDo(t *testing.T) {
	for _, n := range []int{0, 1, 2, 1000} {
		done := make([]int, n)
		Do(n, func(i int) { done[i]++ })
		for i, k := range done {
			if k != 1 {
				t.Errorf("%d of %d was done %d times", i, n, k)
			}
		}
	}
}

func TestFirstError(t *testing.T) {
	a, b := errors.New("a"), errors.New("b")
	if got := FirstError([]error{nil, a, b}); got != a {
		t.Errorf("%v; want the first", got)
	}
	if got := FirstError([]error{nil, nil}); got != nil {
		t.Errorf("%v; want none", got)
	}
}
