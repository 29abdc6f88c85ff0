package job

import (
	"context"
	"errors"
	"fmt"
	"math"
	"strings"
	"time"

	"barwright/frame"
	"barwright/stock"
)

// What is planned with where the frame file has no stock block for a profile: a length that most merchants keep, and
// what a mitre saw takes (common practice, no source).
const (
	assumedBar  = 6000.0
	assumedKerf = 3.0
	assumedTrim = 20.0
)

// CutOptions say how bars are planned.
type CutOptions struct {
	Kerf, Trim, Keep *float64 // mm, in place of what the stock says; nil: as it says
	TimeLimit        time.Duration
	// Shorten is by how many mm a length may be made shorter to save a bar; 0: don't ask.
	Shorten float64
}

// CutPlan is which bars to buy and how to cut them: for a frame profile by profile, or for a plain list.
type CutPlan struct {
	Name        string
	Title       string
	Fingerprint string
	Settings    []frame.Setting
	Profiles    []CutProfile
	Savings     []CutSaving
	Params      []ParamSaving
	Offers      []Offer

	frame *frame.Frame // nil for a plain list
}

// CutProfile is the plan for one profile.
type CutProfile struct {
	Profile string // "" for a plain list
	Problem stock.Problem
	Plan    *stock.Plan
	Assumed []string      // what was assumed since nothing was said
	TooLong []stock.Piece // pieces that no bar is long enough for

	parts []*frame.Part // in the order of the pieces as they were given
}

// StockError is a stock block that no plan can be made from.
type StockError struct {
	File    string
	Line    int
	Profile string
	Err     error
}

// Error returns the place of the block and the fault.
func (e *StockError) Error() string {
	if e.Line == 0 {
		return fmt.Sprintf("bars of %s: %v", e.Profile, e.Err)
	}
	return fmt.Sprintf("%s:%d: stock %q: %v", e.File, e.Line, e.Profile, e.Err)
}

// Unwrap returns the fault.
func (e *StockError) Unwrap() error { return e.Err }

// UnplacedError says that pieces found no bar.
type UnplacedError struct{ Pieces []string }

// Error names the pieces and the remedy.
func (e *UnplacedError) Error() string {
	return fmt.Sprintf("no bar is left for %s.\n  Give more or longer bars, or split the pieces.", strings.Join(e.Pieces, ", "))
}

// Cut plans the bars of the frame. It returns a *[StockError] where a stock block cannot be meant.
func (j *Job) Cut(ctx context.Context, o CutOptions) (*CutPlan, error) {
	p, err := planFrame(ctx, j.Frame, o)
	if err != nil {
		return nil, err
	}
	if p.Offers, err = offers(ctx, p, o); err != nil {
		return nil, err
	}
	if o.Shorten > 0 {
		if err := j.findSavings(ctx, p, o); err != nil {
			return nil, err
		}
	}
	return p, nil
}

// cutPlan returns the plan of the usual options, made once.
func (j *Job) cutPlan() (*CutPlan, error) {
	if j.cut == nil {
		p, err := j.Cut(context.Background(), CutOptions{})
		if err != nil {
			return nil, err
		}
		j.cut = p
	}
	return j.cut, nil
}

// Unplaced says which pieces of the plan of the usual options found no bar; nil where all did or nothing was planned yet.
func (j *Job) Unplaced() error {
	if j.cut == nil {
		return nil
	}
	return j.cut.Unplaced()
}

// planFrame plans each profile of a frame.
func planFrame(ctx context.Context, f *frame.Frame, o CutOptions) (*CutPlan, error) {
	p := &CutPlan{Name: f.Name, Title: f.Title, Fingerprint: f.Fingerprint, Settings: f.Settings, frame: f}
	for _, profile := range f.Profiles {
		c := CutProfile{Profile: profile.Name}
		var st *frame.Stock
		for _, part := range f.Parts {
			if q := part.Bar.Profile; q != profile && !q.Same(profile) {
				continue
			}
			c.parts = append(c.parts, part)
			c.Problem.Pieces = append(c.Problem.Pieces, stock.Piece{Length: part.Bar.Length, Quantity: part.Quantity(), Mark: part.Mark})
			for _, s := range f.Stocks {
				if st == nil && (s.Profile == profile.Name || s.Profile == part.Bar.Profile.Name) {
					st = s
				}
			}
		}
		if len(c.Problem.Pieces) == 0 {
			continue
		}
		c.useStock(st)
		if err := c.solve(ctx, o); err != nil {
			e := &StockError{File: f.File, Profile: profile.Name, Err: err}
			if st != nil {
				e.Line = st.Origin.Start.Line
			}
			return nil, e
		}
		p.Profiles = append(p.Profiles, c)
	}
	return p, nil
}

// useStock takes the bars of a stock block, or the usual ones where there is none.
func (c *CutProfile) useStock(s *frame.Stock) {
	p := &c.Problem
	if s == nil {
		p.Bars = []stock.Bar{{Length: assumedBar}}
		p.Kerf, p.Trim = assumedKerf, assumedTrim
		c.Assumed = []string{fmt.Sprintf("there is no stock block for %s: bars of %s mm without a price, kerf %s, trim %s are assumed",
			c.Profile, Length(assumedBar), Length(assumedKerf), Length(assumedTrim))}
		return
	}
	for _, b := range s.Bars {
		p.Bars = append(p.Bars, stock.Bar{Length: b.Length, Price: b.Price, Quantity: b.Quantity})
	}
	for _, l := range s.Offcuts {
		p.Bars = append(p.Bars, stock.Bar{Length: l, Quantity: 1, Offcut: true})
	}
	p.Kerf, p.Trim, p.Keep = s.Kerf, s.Trim, s.Keep
}

// solve plans the bars. What fits no bar at all is set aside first.
func (c *CutProfile) solve(ctx context.Context, o CutOptions) error {
	for _, v := range []struct{ given, into *float64 }{{o.Kerf, &c.Problem.Kerf}, {o.Trim, &c.Problem.Trim}, {o.Keep, &c.Problem.Keep}} {
		if v.given != nil {
			*v.into = *v.given
		}
	}
	longest := 0.0
	for _, b := range c.Problem.Bars {
		longest = math.Max(longest, b.Length-c.Problem.Trim)
	}
	all := c.Problem.Pieces
	c.Problem.Pieces = nil
	for _, p := range all {
		if hundredths(p.Length) > hundredths(longest) {
			c.TooLong = append(c.TooLong, p)
		} else {
			c.Problem.Pieces = append(c.Problem.Pieces, p)
		}
	}
	if len(c.Problem.Pieces) == 0 {
		c.Plan = &stock.Plan{Optimal: true, Unplaced: c.TooLong}
		return nil
	}
	plan, err := stock.Solve(ctx, c.Problem, stock.Options{TimeLimit: o.TimeLimit})
	if err != nil {
		return err
	}
	c.Plan = plan
	c.Plan.Unplaced = append(c.Plan.Unplaced, c.TooLong...)
	return nil
}

// hundredths turns a length in mm into whole hundredths, the step at which the planner compares.
func hundredths(mm float64) int64 { return int64(math.Round(mm * 100)) }

// Unplaced returns an *[UnplacedError] where pieces found no bar, else nil.
func (p *CutPlan) Unplaced() error {
	var out []string
	for _, c := range p.Profiles {
		for _, u := range c.Plan.Unplaced {
			s := fmt.Sprintf("%d× %s", u.Quantity, pieceName(u.Mark, u.Length))
			if c.Profile != "" {
				s += " of " + c.Profile
			}
			out = append(out, s)
		}
	}
	if out == nil {
		return nil
	}
	const most = 20
	if len(out) > most {
		out = append(out[:most], fmt.Sprintf("%d more", len(out)-most))
	}
	return &UnplacedError{out}
}

// pieceName is how lists name a piece: mark and length, or the length alone.
func pieceName(mark string, length float64) string {
	if mark == "" {
		return exactLength(length)
	}
	return mark + " " + exactLength(length)
}

// exactLength writes a length in mm with at most two decimals, as plain lists give them.
func exactLength(mm float64) string { return Number(math.Round(mm*100) / 100).String() }

// priced reports whether the plan's cost is money.
func (c *CutProfile) priced() bool {
	return !c.Plan.ByLength && (len(c.Plan.Bars) == 0 || c.hasPrice())
}

func (c *CutProfile) hasPrice() bool {
	for _, b := range c.Problem.Bars {
		if b.Price > 0 {
			return true
		}
	}
	return false
}

// Total is what a plan costs in all. Profiles whose bars have no price count in Metres.
type Total struct {
	Cost, Bound float64 // money
	Metres      float64 // to buy, of bars without a price
	Optimal     bool
	Priced      bool // something has a price
	Bars        int
}

// Total adds up the profiles.
func (p *CutPlan) Total() Total {
	t := Total{Optimal: true}
	for i := range p.Profiles {
		c := &p.Profiles[i]
		t.Optimal = t.Optimal && c.Plan.Optimal
		t.Bars += len(c.Plan.Bars)
		if c.priced() {
			t.Priced = t.Priced || c.hasPrice()
			t.Cost += c.Plan.Cost
			t.Bound += c.Plan.LowerBound
		} else {
			t.Metres += c.Plan.Cost
		}
	}
	t.Cost, t.Bound = cents(t.Cost), cents(t.Bound)
	return t
}

// cents rounds money to a hundredth of a cent, so that sums leave no dust.
func cents(v float64) float64 { return math.Round(v*1e4) / 1e4 }

// cheaper reports whether a plan costs less than another, and how much less: money first, then metres of bars without a
// price. A plan with pieces left over is never cheaper.
func cheaper(a, b *CutPlan) (money, metres float64, ok bool) {
	if a.Unplaced() != nil {
		return 0, 0, false
	}
	x, y := a.Total(), b.Total()
	money, metres = cents(y.Cost-x.Cost), cents(y.Metres-x.Metres)
	return money, metres, money >= 0 && metres >= 0 && money+metres > 0
}

// asInput returns the planner's own error of a list or stock, or nil.
func asInput(err error) *stock.InputError {
	var in *stock.InputError
	if errors.As(err, &in) {
		return in
	}
	return nil
}
