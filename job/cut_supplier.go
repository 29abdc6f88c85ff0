package job

import (
	"context"

	"barwright/frame"
	"barwright/stock"
)

// Offer compares buying bars with ordering them to length from a supplier. One's own work is not counted.
type Offer struct {
	Profile           string
	Metres            float64 // ordered to length
	Cuts, Taps, Holes int
	ByMetre, ByCut    float64 // what the lengths and their cuts cost
	ByTap, ByHole     float64
	TooLong           []stock.Piece // longer than the supplier sends: cut from bars of one's own
	BarsForLong       float64       // what those bars cost
	Own               float64       // buying bars, sawing, tapping and drilling oneself
	ToLength          float64       // ordered to length, tapped and drilled oneself
	Finished          float64       // ordered to length, tapped and drilled
	OwnKnown          bool          // the bars to buy have prices
}

// Best names the cheapest of the three ways; "" where the bars have no price to compare with.
func (o Offer) Best() string {
	switch {
	case !o.OwnKnown:
		return ""
	case o.Finished <= o.Own && o.Finished <= o.ToLength:
		return "finished"
	case o.ToLength < o.Own:
		return "to_length"
	}
	return "own"
}

// offers compares each profile that a supplier block names.
func offers(ctx context.Context, p *CutPlan, o CutOptions) ([]Offer, error) {
	var out []Offer
	for i := range p.Profiles {
		c := &p.Profiles[i]
		for _, s := range p.frame.Suppliers {
			if s.Profile != c.Profile {
				continue
			}
			offer, err := newOffer(ctx, c, s, o)
			if err != nil {
				return nil, err
			}
			out = append(out, offer)
		}
	}
	return out, nil
}

// newOffer works out one comparison.
func newOffer(ctx context.Context, c *CutProfile, s *frame.Supplier, o CutOptions) (Offer, error) {
	out := Offer{Profile: c.Profile, Own: c.Plan.Cost, OwnKnown: c.hasPrice() && len(c.Plan.Unplaced) == 0}
	for _, part := range c.parts {
		n := part.Quantity()
		if s.Longest > 0 && hundredths(part.Bar.Length) > hundredths(s.Longest) {
			out.TooLong = append(out.TooLong, stock.Piece{Length: part.Bar.Length, Quantity: n, Mark: part.Mark})
			continue
		}
		out.Metres += part.Bar.Length * float64(n) / 1000
		out.Cuts += n
		out.Taps += n * len(part.Bar.Taps)
		out.Holes += n * len(part.Bar.Holes)
	}
	if len(out.TooLong) > 0 {
		long := CutProfile{Profile: c.Profile, Problem: c.Problem}
		long.Problem.Pieces = out.TooLong
		if err := long.solve(ctx, o); err != nil {
			return out, err
		}
		if c.hasPrice() {
			out.BarsForLong = long.Plan.Cost
		}
	}
	out.Metres = cents(out.Metres)
	out.ByMetre, out.ByCut = cents(out.Metres*s.PerMetre), cents(float64(out.Cuts)*s.PerCut)
	out.ByTap, out.ByHole = cents(float64(out.Taps)*s.PerTap), cents(float64(out.Holes)*s.PerHole)
	out.ToLength = cents(out.ByMetre + out.ByCut + out.BarsForLong)
	out.Finished = cents(out.ToLength + out.ByTap + out.ByHole)
	return out, nil
}
