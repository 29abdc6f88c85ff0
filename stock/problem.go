package stock

import (
	"fmt"
	"time"
)

// Unlimited is the Quantity of a bar that can be had as often as needed.
const Unlimited = 0

// Limits of what Solve accepts. They keep every product inside the solver far
// from the ends of int64, and a mistyped list from eating the memory.
const (
	MaxLength = 1e6       // mm, the longest length accepted anywhere
	MaxPrice  = 1e6       // the highest price of one bar, in any currency
	MaxPieces = 2_000_000 // pieces in one problem
)

// DefaultTimeLimit is used where Options.TimeLimit is zero.
const DefaultTimeLimit = 5 * time.Second

// Piece asks for Quantity pieces of one length.
type Piece struct {
	Length   float64 // mm
	Quantity int
	Mark     string // the name of the part, printed on every list; may be empty
}

// Bar is a kind of bar that can be bought, or one on hand.
type Bar struct {
	Length   float64 // mm, as delivered, before the trim is taken off
	Price    float64 // of one bar; zero for an offcut that costs nothing
	Quantity int     // how many there are; Unlimited means as many as needed (for an offcut: one)
	Offcut   bool    // on hand already; may be free
}

// Problem is one profile's cutting job.
type Problem struct {
	Pieces []Piece
	Bars   []Bar
	Kerf   float64 // mm lost by one saw cut
	Trim   float64 // mm taken off every bar, both ends together, offcuts too
	Keep   float64 // mm, a leftover at least this long is worth keeping
}

// Options say how long the search may go on.
type Options struct {
	// TimeLimit bounds the search; zero means DefaultTimeLimit. The search
	// counts its own steps and normally stops by that count, so that the same
	// input gives the same plan on any machine that is not much slower than
	// the usual; the clock is only a safety net behind it.
	TimeLimit time.Duration
	// Progress, if set, is called with each better plan's cost and the bound.
	Progress func(cost, bound float64)
}

// Cut is one piece as it lies in a bar.
type Cut struct {
	Mark   string
	Length float64 // mm
}

// PlannedBar is one bar to saw, its pieces in the order of sawing.
type PlannedBar struct {
	Stock       int     // index in Problem.Bars
	StockLength float64 // mm
	Price       float64
	Offcut      bool
	Cuts        []Cut
	Left        float64 // mm left over: bar − trim − pieces − kerfs, never below zero
	Keep        bool    // Left is at least Problem.Keep, and not nothing
}

// Plan is the answer: which bars to take and what to saw from each.
type Plan struct {
	Bars []PlannedBar
	// Cost is the sum of the prices. Where no bar has a price it is the
	// length of the bars that are bought, in metres, and ByLength is set.
	Cost     float64
	ByLength bool
	// LowerBound is proven: no plan that places as much costs less.
	LowerBound float64
	// Optimal says that LowerBound equals Cost.
	Optimal bool
	// Unplaced lists the pieces for which the limited stock had no room.
	Unplaced []Piece
	// Patterns is the number of different ways a bar is cut in this plan.
	Patterns int
	// ClockStopped says that the clock ended the search rather than the
	// solver's own count, so that another machine may find another plan.
	ClockStopped bool
}

// Gap returns how far the plan may be above the best one, as a fraction of the bound.
func (p *Plan) Gap() float64 {
	if p.Optimal || p.Cost <= p.LowerBound {
		return 0
	}
	if p.LowerBound <= 0 {
		return 1
	}
	return (p.Cost - p.LowerBound) / p.LowerBound
}

// InputError is what Solve returns for a problem that cannot be meant.
type InputError struct {
	Part   string // "piece", "bar", "kerf", "trim", "keep", "pieces" or "bars"
	Index  int    // of the piece or bar in Problem, from 0; −1 for the others
	Field  string // "length", "price" or "quantity", empty for the others
	Reason string
	Remedy string
}

// Error names the part, what is wrong with it, and what to do.
func (e *InputError) Error() string {
	where := e.Part
	if e.Index >= 0 {
		where = fmt.Sprintf("%s %d", e.Part, e.Index+1)
	}
	if e.Remedy == "" {
		return where + ": " + e.Reason
	}
	return where + ": " + e.Reason + " (" + e.Remedy + ")"
}
