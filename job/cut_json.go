package job

import "barwright/stock"

// CutReport is what `cut --json` prints, and the field cut of report.json.
type CutReport struct {
	*stock.Report
	// UnpricedM is the metres to buy of profiles without a price, where others have one.
	UnpricedM   *Number        `json:"unpriced_m,omitempty"`
	Fingerprint string         `json:"fingerprint"`
	Assumed     []string       `json:"assumed,omitempty"`
	Savings     []SavingReport `json:"savings,omitempty"`
	Params      []ParamReport  `json:"param_savings,omitempty"`
	Supplier    []OfferReport  `json:"supplier,omitempty"`
}

// SavingReport is one length that is a little too long.
type SavingReport struct {
	Profile   string        `json:"profile,omitempty"`
	LengthMM  Number        `json:"length_mm"`
	Marks     []string      `json:"marks"`
	ShortenMM Number        `json:"shorten_mm"`
	CostSaved *Number       `json:"cost_saved,omitempty"`
	MSaved    *Number       `json:"saved_m,omitempty"`
	BarsSaved int           `json:"bars_saved"`
	MovedBy   []MovedReport `json:"moved_by,omitempty"`
}

// MovedReport is a parameter that sets a length, and mm of length for each mm of it.
type MovedReport struct {
	Param  string `json:"param"`
	Factor Number `json:"factor"`
}

// ParamReport is another value of a parameter that makes the plan cheaper.
type ParamReport struct {
	Param     string         `json:"param"`
	From      Number         `json:"from"`
	To        Number         `json:"to"`
	CostSaved *Number        `json:"cost_saved,omitempty"`
	MSaved    *Number        `json:"saved_m,omitempty"`
	BarsSaved int            `json:"bars_saved"`
	Lengths   []LengthReport `json:"lengths"`
}

// LengthReport is what becomes of a part.
type LengthReport struct {
	Mark   string `json:"mark"`
	FromMM Number `json:"from_mm"`
	ToMM   Number `json:"to_mm"`
}

// OfferReport compares buying bars with ordering to length.
type OfferReport struct {
	Profile  string      `json:"profile"`
	OrderedM Number      `json:"ordered_m"`
	Cuts     int         `json:"cuts"`
	Taps     int         `json:"taps"`
	Holes    int         `json:"holes"`
	Own      *Number     `json:"cost_own,omitempty"` // bars bought, all work one's own
	ToLength Number      `json:"cost_to_length"`     // ordered to length, tapped and drilled oneself
	Finished Number      `json:"cost_finished"`      // ordered to length, tapped and drilled
	Best     string      `json:"best,omitempty"`
	TooLong  []longPiece `json:"too_long,omitempty"`
}

type longPiece struct {
	Mark     string `json:"mark"`
	LengthMM Number `json:"length_mm"`
	Quantity int    `json:"quantity"`
}

// NewCutReport gives a plan the shape of its JSON. Where some profiles have prices and others have none, the costs are
// those of the priced ones.
func NewCutReport(p *CutPlan) *CutReport {
	t := p.Total()
	var plans []stock.ProfilePlan
	r := &CutReport{Fingerprint: p.Fingerprint}
	for i := range p.Profiles {
		c := &p.Profiles[i]
		plan := c.Plan
		if t.Priced && !c.priced() {
			free := *plan
			free.Cost, free.LowerBound, free.ByLength = 0, 0, false
			plan = &free
		}
		plans = append(plans, stock.ProfilePlan{Profile: c.Profile, Plan: plan})
		r.Assumed = append(r.Assumed, c.Assumed...)
	}
	r.Report = stock.NewReport(plans)
	if t.Priced && t.Metres > 0 {
		r.UnpricedM = num(t.Metres)
	}
	for _, s := range p.Savings {
		r.Savings = append(r.Savings, savingReport(s))
	}
	for _, s := range p.Params {
		r.Params = append(r.Params, paramReport(s))
	}
	for _, o := range p.Offers {
		v := OfferReport{Profile: o.Profile, OrderedM: Number(o.Metres), Cuts: o.Cuts, Taps: o.Taps, Holes: o.Holes,
			ToLength: Number(o.ToLength), Finished: Number(o.Finished), Best: o.Best()}
		if o.OwnKnown {
			v.Own = num(o.Own)
		}
		for _, l := range o.TooLong {
			v.TooLong = append(v.TooLong, longPiece{l.Mark, Number(l.Length), l.Quantity})
		}
		r.Supplier = append(r.Supplier, v)
	}
	return r
}

// some returns a figure, or nil for nothing.
func some(v float64) *Number {
	if v == 0 {
		return nil
	}
	return num(v)
}

func savingReport(s CutSaving) SavingReport {
	r := SavingReport{Profile: s.Profile, LengthMM: Number(s.Lengths[0]), Marks: append([]string{}, s.Marks...),
		ShortenMM: Number(s.Shorten), BarsSaved: s.BarsSaved}
	if s.ByLength {
		r.MSaved = num(s.CostSaved)
	} else {
		r.CostSaved = num(s.CostSaved)
	}
	for _, m := range s.MovedBy {
		r.MovedBy = append(r.MovedBy, MovedReport{m.Param, Number(m.Factor)})
	}
	return r
}

func paramReport(s ParamSaving) ParamReport {
	r := ParamReport{Param: s.Param, From: Number(s.From), To: Number(s.To), CostSaved: some(s.CostSaved), MSaved: some(s.MetresSaved),
		BarsSaved: s.BarsSaved, Lengths: []LengthReport{}}
	for _, l := range s.Lengths {
		r.Lengths = append(r.Lengths, LengthReport{l.Mark, Number(l.From), Number(l.To)})
	}
	return r
}
