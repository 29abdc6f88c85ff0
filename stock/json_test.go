package stock

import (
	"bytes"
	"testing"
)

func TestReport(t *testing.T) {
	a := solve(t, Problem{Kerf: 3, Trim: 20, Keep: 300, Bars: []Bar{{6000, 41.5, 1, false}, {6000, 50, 0, false}}, Pieces: []Piece{{2800, 3, "A1"}}})
	b := solve(t, Problem{Kerf: 3, Bars: []Bar{{1000, 0, 1, true}}, Pieces: []Piece{{700, 2, "B1"}}})
	var buf bytes.Buffer
	if err := NewReport([]ProfilePlan{{"30x30-8", a}, {"20x20-6", b}}).Write(&buf); err != nil {
		t.Fatal(err)
	}
	const want = `{
  "bars": [
    {
      "profile": "30x30-8",
      "stock_length_mm": 6000,
      "price": 41.5,
      "cuts": [
        {
          "mark": "A1",
          "length_mm": 2800
        },
        {
          "mark": "A1",
          "length_mm": 2800
        }
      ],
      "left_mm": 374,
      "keep": true
    },
    {
      "profile": "30x30-8",
      "stock_length_mm": 6000,
      "price": 50,
      "cuts": [
        {
          "mark": "A1",
          "length_mm": 2800
        }
      ],
      "left_mm": 3177,
      "keep": true
    },
    {
      "profile": "20x20-6",
      "stock_length_mm": 1000,
      "offcut": true,
      "cuts": [
        {
          "mark": "B1",
          "length_mm": 700
        }
      ],
      "left_mm": 297,
      "keep": true
    }
  ],
  "cost": 91.5,
  "lower_bound_cost": 91.5,
  "optimal": true,
  "unplaced": [
    {
      "profile": "20x20-6",
      "mark": "B1",
      "length_mm": 700,
      "quantity": 1
    }
  ]
}
`
	if buf.String() != want {
		t.Errorf("got\n%s\nwant\n%s", buf.String(), want)
	}
}
