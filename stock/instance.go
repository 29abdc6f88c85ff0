package stock

import (
	"cmp"
	"math"
	"slices"
	"strconv"
)

// unitsPerMM is the solver's resolution: lengths are whole hundredths of a
// millimetre, a tenth of what the best saw can hold. Nothing is compared in floating point.
const unitsPerMM = 100

// pricePerUnit is the resolution of prices: a hundredth of a cent.
const pricePerUnit = 1e4

// bin is a kind of bar as the solver sees it. A bar of usable length U holds
// pieces l1…ln if Σl + kerf·(n−1) ≤ U, that is Σ(l+kerf) ≤ U+kerf: so every
// size carries one kerf, and cap is U+kerf.
type bin struct {
	cap   int
	cost  int64
	limit int // how many may be used
	src   []int
	whole int // hundredths of a millimetre, for bars equal but for a part of a unit
}

// instance is a problem in whole numbers: sizes strictly falling, with how
// many of each are needed, and the bins in which they go.
type instance struct {
	size []int
	need []int
	bins []bin
	// An instance whose limited stock may be too small allows pieces to stay
	// unplaced at a cost above that of any plan: skip[i] per piece, else nil.
	skip []int64

	total   int   // pieces in all
	maxCap  int   // the longest bin
	unit    int   // hundredths of a millimetre per size unit
	costGCD int64 // price units per cost unit
}

// toUnits rounds a length in mm to hundredths.
func toUnits(mm float64) int { return int(math.Round(mm * unitsPerMM)) }

// validate refuses what cannot be meant, naming the first offender.
func validate(p *Problem) error {
	for _, f := range []struct {
		name string
		v    float64
	}{{"kerf", p.Kerf}, {"trim", p.Trim}, {"keep", p.Keep}} {
		if !(f.v >= 0 && f.v <= MaxLength) {
			return &InputError{f.name, -1, "", "is " + number(f.v) + " mm", "give zero or a positive length in mm"}
		}
	}
	if len(p.Pieces) == 0 {
		return &InputError{"pieces", -1, "", "there are none", "name at least one piece to cut"}
	}
	if len(p.Bars) == 0 {
		return &InputError{"bars", -1, "", "there are none", "name at least one bar that can be had"}
	}
	longest, err := validateBars(p)
	if err != nil {
		return err
	}
	return validatePieces(p, longest)
}

// validateBars checks the bars and returns the longest usable length in units.
func validateBars(p *Problem) (int, error) {
	longest := -1
	priced, unpriced := -1, -1
	for i, b := range p.Bars {
		switch {
		case !(b.Length > 0 && b.Length <= MaxLength):
			return 0, &InputError{"bar", i, "length", "length is " + number(b.Length) + " mm", "a bar has a positive length up to 1 km"}
		case toUnits(b.Length) == 0:
			return 0, &InputError{"bar", i, "length", "length is " + number(b.Length) + " mm", "lengths are kept to 0.01 mm"}
		case !(b.Price >= 0 && b.Price <= MaxPrice):
			return 0, &InputError{"bar", i, "price", "price is " + number(b.Price), "a price is zero or positive, at most a million"}
		case b.Quantity < 0:
			return 0, &InputError{"bar", i, "quantity", "quantity is " + strconv.Itoa(b.Quantity), "leave it empty for as many as needed"}
		case p.Kerf > 0 && toUnits(p.Kerf) >= toUnits(b.Length):
			return 0, &InputError{"kerf", -1, "", "a kerf of " + number(p.Kerf) + " mm is as long as the bar of " + number(b.Length) + " mm", "give the width of the saw cut, usually 2 to 4 mm"}
		}
		if !b.Offcut {
			if b.Price > 0 {
				priced = i
			} else {
				unpriced = i
			}
		}
		longest = max(longest, toUnits(b.Length)-toUnits(p.Trim))
	}
	if priced >= 0 && unpriced >= 0 {
		return 0, &InputError{"bar", unpriced, "price", "has no price, but bar " + strconv.Itoa(priced+1) + " has", "give every bar to buy a price, or none"}
	}
	return longest, nil
}

// validatePieces checks the pieces against the longest usable length.
func validatePieces(p *Problem, longest int) error {
	total := 0
	for i, c := range p.Pieces {
		switch {
		case !(c.Length > 0 && c.Length <= MaxLength):
			return &InputError{"piece", i, "length", "length is " + number(c.Length) + " mm", "a piece has a positive length up to 1 km"}
		case toUnits(c.Length) == 0:
			return &InputError{"piece", i, "length", "length is " + number(c.Length) + " mm", "lengths are kept to 0.01 mm"}
		case c.Quantity <= 0:
			return &InputError{"piece", i, "quantity", "quantity is " + strconv.Itoa(c.Quantity), "ask for at least one, or leave the piece out"}
		case c.Quantity > MaxPieces || total+c.Quantity > MaxPieces:
			return &InputError{"piece", i, "quantity", "makes more than " + strconv.Itoa(MaxPieces) + " pieces in all", "split the list"}
		case toUnits(c.Length) > longest:
			if longest <= 0 {
				return &InputError{"trim", -1, "", "a trim of " + number(p.Trim) + " mm leaves nothing of the longest bar", "give what both ends lose together"}
			}
			what := "a length of " + number(c.Length) + " mm fits no bar: the longest gives " + number(float64(longest)/unitsPerMM) + " mm"
			if p.Trim > 0 {
				what += " after trimming"
			}
			return &InputError{"piece", i, "length", what, "add a longer bar or split the piece"}
		}
		total += c.Quantity
	}
	return nil
}

// newInstance turns a validated problem into whole numbers.
func newInstance(p *Problem) *instance {
	in := &instance{}
	kerf, trim := toUnits(p.Kerf), toUnits(p.Trim)

	count := map[int]int{}
	for _, c := range p.Pieces {
		count[toUnits(c.Length)+kerf] += c.Quantity
		in.total += c.Quantity
	}
	g := 0
	for w := range count { // gcd and collection only; sorted below
		in.size = append(in.size, w)
		g = gcd(g, w)
	}
	slices.SortFunc(in.size, func(a, b int) int { return cmp.Compare(b, a) })
	in.unit = g
	in.need = make([]int, len(in.size))
	for i, w := range in.size {
		in.need[i] = count[w]
		in.size[i] = w / g
	}

	prices, byLength := barPrices(p)
	_ = byLength
	for j, b := range p.Bars {
		c := (toUnits(b.Length) - trim + kerf) / g
		if toUnits(b.Length) <= trim || c < in.size[len(in.size)-1] {
			continue // too short for anything
		}
		limit := b.Quantity
		if limit == Unlimited || limit > in.total {
			limit = in.total
			if b.Offcut && b.Quantity == Unlimited {
				limit = 1
			}
		}
		in.bins = append(in.bins, bin{cap: c, cost: prices[j], limit: limit, src: []int{j}, whole: toUnits(b.Length)})
	}
	in.tidyBins()
	in.allowSkipping()
	return in
}

// barPrices returns what each bar costs in price units, and whether that is
// its length because no bar to buy has a price.
func barPrices(p *Problem) ([]int64, bool) {
	byLength := true
	for _, b := range p.Bars {
		if !b.Offcut && b.Price > 0 {
			byLength = false
		}
	}
	// Offcuts alone, some with a price: the prices count.
	onlyOffcuts := !slices.ContainsFunc(p.Bars, func(b Bar) bool { return !b.Offcut })
	if onlyOffcuts && slices.ContainsFunc(p.Bars, func(b Bar) bool { return b.Price > 0 }) {
		byLength = false
	}
	out := make([]int64, len(p.Bars))
	for j, b := range p.Bars {
		switch {
		case !byLength:
			out[j] = int64(math.Round(b.Price * pricePerUnit))
		case !b.Offcut:
			out[j] = int64(toUnits(b.Length))
		}
	}
	return out, byLength
}

// tidyBins merges equal bins, drops unlimited ones that another beats in both
// length and cost, sorts by falling length, and divides the costs by their gcd.
func (in *instance) tidyBins() {
	slices.SortStableFunc(in.bins, func(a, b bin) int {
		return cmp.Or(cmp.Compare(b.cap, a.cap), cmp.Compare(a.cost, b.cost), cmp.Compare(b.whole, a.whole))
	})
	var out []bin
	for _, b := range in.bins {
		if n := len(out); n > 0 && out[n-1].cap == b.cap && out[n-1].cost == b.cost {
			out[n-1].limit = min(in.total, out[n-1].limit+b.limit)
			out[n-1].src = append(out[n-1].src, b.src...)
			continue
		}
		// Something at least as long, at most as dear and never short of supply.
		if slices.ContainsFunc(out, func(o bin) bool { return o.limit >= in.total && o.cost <= b.cost }) {
			continue
		}
		out = append(out, b)
	}
	in.bins = out
	var g int64
	for _, b := range out {
		g = gcd(g, b.cost)
	}
	if g == 0 {
		g = 1
	}
	in.costGCD = g
	in.maxCap = 0
	for j := range out {
		out[j].cost /= g
		in.maxCap = max(in.maxCap, out[j].cap)
	}
}

// allowSkipping sets skip where the limited stock might not hold everything.
func (in *instance) allowSkipping() {
	longest := 0
	var all int64
	for _, b := range in.bins {
		if b.limit >= in.total {
			longest = max(longest, b.cap)
		}
		all += b.cost * int64(b.limit)
	}
	if len(in.size) > 0 && longest >= in.size[0] {
		return
	}
	// A skipped piece costs more than all the stock together, and more the
	// longer it is, in steps of a hundredth of the longest bar.
	in.skip = make([]int64, len(in.size))
	for i, w := range in.size {
		in.skip[i] = (all + 1) * int64(1+99*w/in.maxCap)
	}
}

func gcd[T int | int64](a, b T) T {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// number prints a figure with no more decimals than it has.
func number(v float64) string {
	s := strconv.FormatFloat(math.Round(v*1000)/1000, 'f', -1, 64)
	if s == "-0" {
		return "0"
	}
	return s
}
