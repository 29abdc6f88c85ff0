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
			[]Saving{{Length: 1500, Marks: []string{"A1"}, Pieces: 4, Shorten: 2.3, CostSaved: 40, BarsSaved: 1}}},
		{"2 mm are not enough for that",
			Problem{Kerf: 3, Bars: []Bar{{Length: 6000, Price: 40}}, Pieces: []Piece{{1500, 4, "A1"}}}, 2, nil},
		{"a price step: 3 m would do if two pieces lost 1.5 mm each, or the other 3 mm",
			Problem{Kerf: 3, Bars: []Bar{{Length: 6000, Price: 40}, {Length: 3000, Price: 22}}, Pieces: []Piece{{1000, 2, "A1"}, {997, 1, "B1"}}}, 5,
			[]Saving{
				{Length: 1000, Marks: []string{"A1"}, Pieces: 2, Shorten: 1.5, CostSaved: 18},
				{Length: 997, Marks: []string{"B1"}, Pieces: 1, Shorten: 3, CostSaved: 18}}},
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
