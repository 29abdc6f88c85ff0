package stock

import (
	"context"
	"errors"
	"reflect"
	"testing"
)

func TestWhatIf(t *testing.T) {
	for _, c := range []struct {
		name string
		p    Problem
		most float64
		want []Saving
	}{
		{"4·1500 + 3·3 = 6009: 2.3 mm each too much, 2.25 to the step",
			Problem{Kerf: 3, Bars: []Bar{{Length: 6000, Price: 40}}, Pieces: []Piece{{1500, 4, "A1"}}}, 5,
			[]Saving{{Group: "1500", Lengths: []float64{1500}, Marks: []string{"A1"}, Pieces: 4, Shorten: 2.3, CostSaved: 40, BarsSaved: 1}}},
		{"2 mm are not enough for that",
			Problem{Kerf: 3, Bars: []Bar{{Length: 6000, Price: 40}}, Pieces: []Piece{{1500, 4, "A1"}}}, 2, nil},
		{"a price step: 3 m would do if two pieces lost 1.5 mm each, or the other 3 mm",
			Problem{Kerf: 3, Bars: []Bar{{Length: 6000, Price: 40}, {Length: 3000, Price: 22}}, Pieces: []Piece{{1000, 2, "A1"}, {997, 1, "B1"}}}, 5,
			[]Saving{
				{Group: "1000", Lengths: []float64{1000}, Marks: []string{"A1"}, Pieces: 2, Shorten: 1.5, CostSaved: 18},
				{Group: "997", Lengths: []float64{997}, Marks: []string{"B1"}, Pieces: 1, Shorten: 3, CostSaved: 18}}},
		{"nothing to save", Problem{Bars: []Bar{{Length: 6000, Price: 40}}, Pieces: []Piece{{1500, 4, "A1"}}}, 10, nil},
	} {
		pl := solve(t, c.p)
		got, err := WhatIf(context.Background(), c.p, pl, c.most, Options{})
		if err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(got, c.want) {
			t.Errorf("%s:\n got %+v\nwant %+v", c.name, got, c.want)
		}
	}
	p := Problem{Bars: []Bar{{Length: 6000, Price: 40}}, Pieces: []Piece{{1500, 4, "A1"}}}
	var in *InputError
	if _, err := WhatIf(context.Background(), p, solve(t, p), 0, Options{}); !errors.As(err, &in) {
		t.Errorf("nothing to shorten by: %v", err)
	}
}

// TestWhatIfGroups: 2·1500 + 1490 + 1510 + 3·3 = 6009, so the rails that one
// parameter sets must all lose 2.25, to the step 2.3; the two of 1500 alone 4.5.
func TestWhatIfGroups(t *testing.T) {
	p := Problem{Kerf: 3, Bars: []Bar{{Length: 6000, Price: 40}}, Pieces: []Piece{{1500, 2, "A2"}, {1490, 1, "A3"}, {1510, 1, "A1"}}}
	groups := []Group{{"width", []int{0, 1, 2}}, {"depth", []int{0}}, {"none", nil}}
	got, err := WhatIfGroups(context.Background(), p, solve(t, p), groups, 5, Options{})
	if err != nil {
		t.Fatal(err)
	}
	want := []Saving{
		{Group: "width", Lengths: []float64{1510, 1500, 1490}, Marks: []string{"A2", "A3", "A1"}, Pieces: 4, Shorten: 2.3, CostSaved: 40, BarsSaved: 1},
		{Group: "depth", Lengths: []float64{1500}, Marks: []string{"A2"}, Pieces: 2, Shorten: 4.5, CostSaved: 40, BarsSaved: 1},
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("got %+v\nwant %+v", got, want)
	}
	var in *InputError
	if _, err := WhatIfGroups(context.Background(), p, solve(t, p), []Group{{"x", []int{3}}}, 5, Options{}); !errors.As(err, &in) {
		t.Errorf("a group of a piece that is not there: %v", err)
	}
}
