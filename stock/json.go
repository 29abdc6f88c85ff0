package stock

import (
	"encoding/json"
	"io"
)

// ProfilePlan is the plan for one profile's bars; Profile is empty for a plain list.
type ProfilePlan struct {
	Profile string
	Plan    *Plan
}

type cutJSON struct {
	Mark     string  `json:"mark"`
	LengthMM float64 `json:"length_mm"`
}

type barJSON struct {
	Profile       string    `json:"profile,omitempty"`
	StockLengthMM float64   `json:"stock_length_mm"`
	Price         *float64  `json:"price,omitempty"`
	Offcut        bool      `json:"offcut,omitempty"`
	Cuts          []cutJSON `json:"cuts"`
	LeftMM        float64   `json:"left_mm"`
	Keep          bool      `json:"keep"`
}

type unplacedJSON struct {
	Profile  string  `json:"profile,omitempty"`
	Mark     string  `json:"mark"`
	LengthMM float64 `json:"length_mm"`
	Quantity int     `json:"quantity"`
}

// Report is the shape of `cut --json`: all profiles' bars in one list, their
// costs added. CostUnit is "m" where nothing has a price and the cost is the
// length to buy in metres.
type Report struct {
	Bars           []barJSON      `json:"bars"`
	Cost           float64        `json:"cost"`
	CostUnit       string         `json:"cost_unit,omitempty"`
	LowerBoundCost float64        `json:"lower_bound_cost"`
	Optimal        bool           `json:"optimal"`
	Unplaced       []unplacedJSON `json:"unplaced"`
}

// NewReport joins the plans. Bars of one profile and length that cost
// different prices in the plan carry their price.
func NewReport(plans []ProfilePlan) *Report {
	r := &Report{Bars: []barJSON{}, Unplaced: []unplacedJSON{}, Optimal: true}
	byLength := len(plans) > 0
	for _, pp := range plans {
		p := pp.Plan
		r.Cost = roundMoney(r.Cost + p.Cost)
		r.LowerBoundCost = roundMoney(r.LowerBoundCost + p.LowerBound)
		r.Optimal = r.Optimal && p.Optimal
		byLength = byLength && p.ByLength
		price, differs := map[float64]float64{}, map[float64]bool{}
		for _, b := range p.Bars {
			if v, ok := price[b.StockLength]; ok && v != b.Price {
				differs[b.StockLength] = true
			}
			price[b.StockLength] = b.Price
		}
		for _, b := range p.Bars {
			j := barJSON{Profile: pp.Profile, StockLengthMM: b.StockLength, Offcut: b.Offcut,
				Cuts: []cutJSON{}, LeftMM: b.Left, Keep: b.Keep}
			if differs[b.StockLength] {
				v := b.Price
				j.Price = &v
			}
			for _, c := range b.Cuts {
				j.Cuts = append(j.Cuts, cutJSON{c.Mark, c.Length})
			}
			r.Bars = append(r.Bars, j)
		}
		for _, u := range p.Unplaced {
			r.Unplaced = append(r.Unplaced, unplacedJSON{pp.Profile, u.Mark, u.Length, u.Quantity})
		}
	}
	if byLength {
		r.CostUnit = "m"
	}
	return r
}

// Write writes the report, two spaces a level, with a final newline.
func (r *Report) Write(w io.Writer) error {
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	return e.Encode(r)
}
