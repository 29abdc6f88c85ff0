package job

import (
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"barwright/stock"
)

// Money writes a sum of money with two decimals.
func Money(v float64) string { return fmt.Sprintf("%.2f", cents(v)+0) }

// metres writes a length of bars to buy.
func metres(v float64) string { return fmt.Sprintf("%.1f m", v) }

// WriteCut prints a plan for a terminal: what to buy, how to cut it, what it costs and what that is worth.
func WriteCut(w io.Writer, p *CutPlan) error {
	for i := range p.Profiles {
		c := &p.Profiles[i]
		if i > 0 {
			fmt.Fprintln(w)
		}
		if err := writeProfile(w, c); err != nil {
			return err
		}
	}
	if len(p.Profiles) > 1 {
		fmt.Fprintf(w, "\nin all: %s\n", p.verdict())
	}
	for _, o := range p.Offers {
		fmt.Fprintln(w)
		writeOffer(w, o)
	}
	if len(p.Savings) > 0 || len(p.Params) > 0 {
		fmt.Fprintln(w)
		writeSavings(w, p)
	}
	return nil
}

// writeProfile prints the bars of one profile.
func writeProfile(w io.Writer, c *CutProfile) error {
	name := c.Profile
	if name != "" {
		name += ": "
	}
	n, mm := 0, 0.0
	for _, b := range c.Plan.Bars {
		n += len(b.Cuts)
		for _, k := range b.Cuts {
			mm += k.Length
		}
	}
	fmt.Fprintf(w, "%s%s, %s, from %s; kerf %s, trim %s\n", name, plural(n, "piece"), metres(mm/1000), plural(len(c.Plan.Bars), "bar"),
		exactLength(c.Problem.Kerf), exactLength(c.Problem.Trim))
	for _, a := range c.Assumed {
		fmt.Fprintf(w, "assumed: %s\n", a)
	}
	if len(c.Plan.Bars) > 0 {
		if err := WriteTable(w, barRows(c)); err != nil {
			return err
		}
	}
	fmt.Fprintf(w, "buy: %s\n", strings.Join(buyWords(c), ", "))
	_, err := fmt.Fprintln(w, c.verdict())
	if c.Plan.ClockStopped {
		fmt.Fprintln(w, "the clock ended the search: another machine, or --time-limit with more, may find another plan")
	}
	return err
}

// barRun is neighbouring bars that are cut alike.
type barRun struct {
	first, n int
	bar      *stock.PlannedBar
}

// barRuns joins neighbouring bars with the same pieces, in whatever order they are sawn.
func barRuns(bars []stock.PlannedBar) []barRun {
	var out []barRun
	key := ""
	for i := range bars {
		k := barKey(&bars[i])
		if len(out) > 0 && k == key {
			out[len(out)-1].n++
			continue
		}
		key = k
		out = append(out, barRun{i + 1, 1, &bars[i]})
	}
	return out
}

// barKey names the bar and its pieces.
func barKey(b *stock.PlannedBar) string {
	var cuts []string
	for _, c := range b.Cuts {
		cuts = append(cuts, pieceName(c.Mark, c.Length))
	}
	slices.Sort(cuts)
	return fmt.Sprint(b.StockLength, b.Price, b.Offcut, cuts)
}

// cutWords lists the pieces of a bar in the order of sawing: "2× A1 1110".
func cutWords(b *stock.PlannedBar) []string {
	var out []string
	for i := 0; i < len(b.Cuts); {
		k := i
		for k < len(b.Cuts) && b.Cuts[k] == b.Cuts[i] {
			k++
		}
		s := pieceName(b.Cuts[i].Mark, b.Cuts[i].Length)
		if k-i > 1 {
			s = fmt.Sprintf("%d× %s", k-i, s)
		}
		out = append(out, s)
		i = k
	}
	return out
}

// barRows is the table of bars. A long list of pieces goes on in the next line.
func barRows(c *CutProfile) [][]string {
	const wide = 60
	rows := [][]string{{">bar", ">length", ">price", "pieces in the order of sawing", ">left", ""}}
	for _, r := range barRuns(c.Plan.Bars) {
		name := strconv.Itoa(r.first)
		if r.n > 1 {
			name = fmt.Sprintf("%d–%d", r.first, r.first+r.n-1)
		}
		row := []string{name, exactLength(r.bar.StockLength), "", "", exactLength(r.bar.Left), ""}
		switch {
		case r.bar.Price > 0:
			row[2] = Money(r.bar.Price)
		case r.bar.Offcut:
			row[2] = "offcut"
		}
		if r.bar.Keep && c.Problem.Keep > 0 {
			row[5] = "keep"
		}
		for _, s := range cutWords(r.bar) {
			switch {
			case row[3] == "":
				row[3] = s
			case len(row[3])+len(s) > wide:
				row[3] += ","
				rows = append(rows, row)
				row = []string{"", "", "", s, "", ""}
			default:
				row[3] += ", " + s
			}
		}
		rows = append(rows, row)
	}
	return rows
}

// Purchase is bars of one kind to buy, or offcuts to take.
type Purchase struct {
	Profile  string
	Length   float64
	Price    float64 // of one
	Quantity int
	Offcut   bool
}

// purchases counts the bars of a profile by kind, in the order in which the stock lists them.
func (c *CutProfile) purchases() []Purchase {
	var out []Purchase
	for _, b := range c.Problem.Bars {
		n := 0
		for _, p := range c.Plan.Bars {
			if p.StockLength == b.Length && p.Price == b.Price && p.Offcut == b.Offcut {
				n++
			}
		}
		same := slices.ContainsFunc(out, func(q Purchase) bool { return q.Length == b.Length && q.Price == b.Price && q.Offcut == b.Offcut })
		if n > 0 && !same {
			out = append(out, Purchase{c.Profile, b.Length, b.Price, n, b.Offcut})
		}
	}
	return out
}

// Purchases counts the bars of the whole plan by kind.
func (p *CutPlan) Purchases() []Purchase {
	var out []Purchase
	for i := range p.Profiles {
		out = append(out, p.Profiles[i].purchases()...)
	}
	return out
}

func buyWords(c *CutProfile) []string {
	var out, hand []string
	for _, p := range c.purchases() {
		s := fmt.Sprintf("%d × %s", p.Quantity, exactLength(p.Length))
		if p.Price > 0 {
			s += " at " + Money(p.Price)
		}
		if p.Offcut {
			hand = append(hand, s)
		} else {
			out = append(out, s)
		}
	}
	if len(out) == 0 {
		out = []string{"nothing"}
	}
	if len(hand) > 0 {
		out[len(out)-1] += "; from the offcuts: " + strings.Join(hand, ", ")
	}
	return out
}

// verdict says what a profile's bars cost and whether less is possible.
func (c *CutProfile) verdict() string {
	return verdict(c.priced() && c.hasPrice(), c.Plan.Cost, c.Plan.LowerBound, c.Plan.Optimal, c.Plan.Gap(), len(c.Plan.Unplaced))
}

func verdict(priced bool, cost, bound float64, optimal bool, gap float64, unplaced int) string {
	show, what := metres, "bars to buy "
	if priced {
		show, what = Money, "cost "
	}
	s := what + show(cost)
	if optimal {
		s += ", proven to be the least"
	} else {
		s += fmt.Sprintf("; it may be up to %.2f %% above the least, which is %s or more", 100*gap, show(bound))
	}
	if unplaced > 0 {
		s += "; without the pieces that have no bar"
	}
	return s
}

// verdict says what all bars cost.
func (p *CutPlan) verdict() string {
	t := p.Total()
	unplaced := 0
	for i := range p.Profiles {
		unplaced += len(p.Profiles[i].Plan.Unplaced)
	}
	if !t.Priced {
		bound := 0.0
		for i := range p.Profiles {
			bound += p.Profiles[i].Plan.LowerBound
		}
		return verdict(false, t.Metres, bound, t.Optimal, gap(t.Metres, bound), unplaced)
	}
	s := verdict(true, t.Cost, t.Bound, t.Optimal, gap(t.Cost, t.Bound), unplaced)
	if t.Metres > 0 {
		s += fmt.Sprintf("; and %s without a price", metres(t.Metres))
	}
	return s
}

// gap is how far a cost lies above its bound, as a fraction of it.
func gap(cost, bound float64) float64 {
	if bound <= 0 {
		return 0
	}
	return max(0, cost/bound-1)
}

// writeOffer prints the comparison with ordering to length.
func writeOffer(w io.Writer, o Offer) {
	fmt.Fprintf(w, "%s ordered to length: %.3f m, %s, %s, %s\n", o.Profile, o.Metres, plural(o.Cuts, "cut"), plural(o.Taps, "tap"), plural(o.Holes, "hole"))
	own := "unknown: the bars to buy have no price"
	if o.OwnKnown {
		own = Money(o.Own)
	}
	mark := func(way string) string {
		if o.Best() == way {
			return "the cheapest"
		}
		return ""
	}
	long := ""
	if len(o.TooLong) > 0 {
		long = "with " + Money(o.BarsForLong) + " of bars for what is too long to be sent"
		if !o.OwnKnown {
			long = "without the bars for what is too long to be sent"
		}
	}
	WriteTable(w, [][]string{
		{"  bars bought, sawn, tapped and drilled oneself", ">" + own, mark("own"), ""},
		{"  lengths ordered, tapped and drilled oneself", Money(o.ToLength), mark("to_length"), long},
		{"  lengths ordered, tapped and drilled", Money(o.Finished), mark("finished"), long},
	})
	for _, l := range o.TooLong {
		fmt.Fprintf(w, "  too long to be sent: %d× %s\n", l.Quantity, pieceName(l.Mark, l.Length))
	}
	fmt.Fprintln(w, "  One's own work and the carriage are not counted.")
}

// writeSavings prints what a little shorter would save.
func writeSavings(w io.Writer, p *CutPlan) {
	saved := func(cost, m float64, bars int) string {
		s := ""
		switch {
		case cost > 0 && m > 0:
			s = Money(cost) + " and " + metres(m)
		case cost > 0:
			s = Money(cost)
		default:
			s = metres(m)
		}
		if bars > 0 {
			s += " and " + plural(bars, "bar")
		}
		return s
	}
	if len(p.Savings) > 0 {
		fmt.Fprintln(w, "a little shorter would be cheaper, the other lengths unchanged:")
	}
	for _, s := range p.Savings {
		cost, m := s.CostSaved, 0.0
		if s.ByLength {
			cost, m = 0, s.CostSaved
		}
		name := strings.Join(s.Marks, ", ")
		if name != "" {
			name += " "
		}
		fmt.Fprintf(w, "  %s%s → %s saves %s", name, exactLength(s.Lengths[0]), exactLength(s.Lengths[0]-s.Shorten), saved(cost, m, s.BarsSaved))
		for i, v := range s.MovedBy {
			word := ", "
			if i == 0 {
				word = "; set by "
			}
			fmt.Fprintf(w, "%s%s", word, v.Param)
			if v.Factor != 1 {
				fmt.Fprintf(w, " (%s mm for each mm)", Number(v.Factor))
			}
		}
		fmt.Fprintln(w)
	}
	if len(p.Params) > 0 {
		fmt.Fprintln(w, "parameters that would save, all lengths counted:")
	}
	for _, s := range p.Params {
		var lengths []string
		for _, l := range s.Lengths {
			lengths = append(lengths, fmt.Sprintf("%s %s → %s", l.Mark, exactLength(l.From), exactLength(l.To)))
		}
		fmt.Fprintf(w, "  --set %s=%s (now %s) saves %s: %s\n", s.Param, Number(s.To), Number(s.From), saved(s.CostSaved, s.MetresSaved, s.BarsSaved),
			strings.Join(lengths, ", "))
	}
}

// WriteCutCSV writes the plan with one line for each piece, in the order of sawing. A bar's leftover stands in all its lines.
func WriteCutCSV(w io.Writer, p *CutPlan) error {
	rows := [][]string{{"profile", "bar", "stock_length_mm", "price", "offcut", "cut", "mark", "length_mm", "left_mm", "keep", "fingerprint"}}
	yes := map[bool]string{true: "yes", false: "no"}
	for _, c := range p.Profiles {
		for i, b := range c.Plan.Bars {
			price := ""
			if b.Price > 0 {
				price = Number(b.Price).String()
			}
			for k, cut := range b.Cuts {
				rows = append(rows, []string{c.Profile, strconv.Itoa(i + 1), Number(b.StockLength).String(), price, yes[b.Offcut],
					strconv.Itoa(k + 1), cut.Mark, Number(cut.Length).String(), Number(b.Left).String(), yes[b.Keep && c.Problem.Keep > 0], p.Fingerprint})
			}
		}
	}
	return writeCSV(w, rows)
}
