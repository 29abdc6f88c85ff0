package job

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"barwright/drawing"
	"barwright/statics"
)

// SweepReport is what `stiffness --sweep … --json` prints.
type SweepReport struct {
	*statics.Sweep
	BestBy  string       `json:"best_by"` // "bar_cost" or "mass_kg"
	Limits  *LimitReport `json:"limits,omitempty"`
	Caution string       `json:"caution"`
}

// NewSweepReport returns the JSON of a sweep.
func NewSweepReport(r *SweepResult) *SweepReport {
	out := &SweepReport{Sweep: r.Sweep, BestBy: "mass_kg", Limits: limitReport(r.Limits), Caution: statics.Caution}
	if r.Priced {
		out.BestBy = "bar_cost"
	}
	return out
}

// WriteSweep prints the table of a sweep for a terminal, the best under the limits, and the caution.
func WriteSweep(w io.Writer, r *SweepResult) error {
	if err := WriteTable(w, r.table()); err != nil {
		return err
	}
	fmt.Fprintln(w)
	for _, l := range r.verdict() {
		fmt.Fprintln(w, l)
	}
	_, err := fmt.Fprintf(w, "\n%s\n", statics.Caution)
	return err
}

// table is one line a frame.
func (r *SweepResult) table() [][]string {
	var head []string
	for _, a := range r.Axes {
		head = append(head, ">"+a.Name)
	}
	head = append(head, ">shift mm", ">racking N/mm", ">frequency Hz", ">mass kg")
	if r.Priced {
		head = append(head, ">bar cost")
	}
	rows := [][]string{append(head, "limits")}
	for i, x := range r.Rows {
		row := append([]string(nil), x.Values...)
		figures := []string{Figure(x.Sag), Figure(x.Racking), Figure(x.Frequency), Figure(x.Mass)}
		if x.Mass == 0 {
			figures = []string{"-", "-", "-", "-"}
		}
		row = append(row, figures...)
		if r.Priced {
			row = append(row, Money(x.Cost))
		}
		rows = append(rows, append(row, r.word(i)))
	}
	return rows
}

// word says whether a frame keeps the limits.
func (r *SweepResult) word(i int) string {
	x := r.Rows[i]
	switch {
	case x.Failed != "":
		return x.Failed
	case r.Limits == (statics.Limits{}):
		return ""
	case i == r.Best:
		return "kept, the best"
	case x.Within:
		return "kept"
	}
	var out []string
	l := r.Limits
	if l.Sag > 0 && x.Sag > l.Sag {
		out = append(out, "shift")
	}
	if l.Racking > 0 && x.Racking < l.Racking {
		out = append(out, "racking")
	}
	if l.Frequency > 0 && x.Frequency < l.Frequency {
		out = append(out, "frequency")
	}
	if len(out) == 0 {
		out = append(out, "stress")
	}
	return "not kept: " + strings.Join(out, ", ")
}

// verdict names the best under the limits, or the best of each figure where there is no limit.
func (r *SweepResult) verdict() []string {
	least := "lightest"
	if r.Priced {
		least = "cheapest"
	}
	var out []string
	switch {
	case r.Limits == (statics.Limits{}):
		out = append(out, "no limit block says what must be kept; of each figure the best:", "  least shift        "+r.most(func(x *statics.SweepRow) float64 { return -x.Sag }),
			"  stiffest top       "+r.most(func(x *statics.SweepRow) float64 { return x.Racking }),
			"  highest frequency  "+r.most(func(x *statics.SweepRow) float64 { return x.Frequency }),
			"  lightest           "+r.most(func(x *statics.SweepRow) float64 { return -x.Mass }))
	case r.Best < 0:
		out = append(out, "none keeps the limits ("+limitWords(r.Limits)+")")
	default:
		out = append(out, fmt.Sprintf("best under the limits (%s): %s, the %s that keeps them", limitWords(r.Limits), r.label(r.Best), least))
	}
	if !r.Priced {
		out = append(out, "bars of some profile have no price: a stock block gives it; frames are compared by mass")
	}
	return out
}

// most names the row with the greatest figure.
func (r *SweepResult) most(f func(*statics.SweepRow) float64) string {
	best := -1
	for i := range r.Rows {
		if x := &r.Rows[i]; x.Mass > 0 && (best < 0 || f(x) > f(&r.Rows[best])) {
			best = i
		}
	}
	if best < 0 {
		return "none"
	}
	return r.label(best)
}

// limitWords lists limits.
func limitWords(l statics.Limits) string {
	var out []string
	add := func(v float64, format string) {
		if v > 0 {
			out = append(out, fmt.Sprintf(format, Number(v)))
		}
	}
	add(l.Sag, "shift at most %s mm")
	add(l.Frequency, "frequency at least %s Hz")
	add(l.Racking, "racking at least %s N/mm")
	add(100*l.Stress, "stress at most %s %% of yield")
	return strings.Join(out, ", ")
}

// WriteSweepFiles writes the table as CSV and JSON and the plot as PDF and SVG into a folder, and returns the paths.
func (j *Job) WriteSweepFiles(out string, r *SweepResult) ([]string, error) {
	sheets, err := drawing.SweepSheets(r.plot(), drawing.Options{Projection: projection(r.frame), NotForManufacture: j.Failed()})
	if err != nil {
		return nil, fmt.Errorf("plot of the sweep: %w", err)
	}
	book := &drawing.Book{Title: r.frame.Title, Subject: "Sweep, input " + r.frame.Fingerprint, Author: r.frame.TitleBlock.Creator, Sheets: sheets}
	list := []output{{"sweep.csv", r.CSV}, {"sweep.json", func(w io.Writer) error { return WriteJSON(w, NewSweepReport(r)) }}}
	return j.writeAll(out, append(list, bookOutputs(book, "sweep", "", false)...), "sweep")
}

// plot arranges the rows as lines over one axis: the first with numbers of those with most values.
func (r *SweepResult) plot() drawing.SweepData {
	x := r.plotAxis()
	a := r.Axes[x]
	d := drawing.SweepData{Title: stiffnessTitle(r.frame, "Sweep over "+r.axisNames(), "-sweep"), XName: a.Name, Best: [2]int{-1, -1}, Caution: "CAUTION: " + statics.Caution}
	order := make([]int, len(a.Values)) // from value to place, so that numbers rise
	for i, v := range a.Values {
		n, err := strconv.ParseFloat(v, 64)
		if err != nil {
			d.X, d.XLabels = nil, a.Values
			break
		}
		d.X = append(d.X, n)
		order[i] = i
	}
	if d.X == nil {
		for i := range a.Values {
			d.X, order[i] = append(d.X, float64(i)), i
		}
	}
	if n := len(d.X); n > 1 && d.X[0] > d.X[n-1] { // a range that falls
		for i := range n / 2 {
			d.X[i], d.X[n-1-i] = d.X[n-1-i], d.X[i]
		}
		for i := range order {
			order[i] = n - 1 - i
		}
	}
	r.fillPlot(&d, x, order)
	d.Notes = append(d.Notes, r.verdict()...)
	if len(d.Series) > 24 {
		d.Notes = append(d.Notes, "Only the first 24 lines are drawn: sweep.csv has all.")
	}
	return d
}

// plotAxis chooses the axis to draw over.
func (r *SweepResult) plotAxis() int {
	best := 0
	numbers := func(a statics.SweepAxis) bool {
		last := math.Inf(-1)
		down, up := true, true
		for i, v := range a.Values {
			n, err := strconv.ParseFloat(v, 64)
			if err != nil {
				return false
			}
			up, down = up && (i == 0 || n > last), down && (i == 0 || n < last)
			last = n
		}
		return up || down
	}
	for i, a := range r.Axes {
		b := r.Axes[best]
		if na, nb := numbers(a), numbers(b); na != nb {
			if na {
				best = i
			}
		} else if len(a.Values) > len(b.Values) {
			best = i
		}
	}
	return best
}

func (r *SweepResult) axisNames() string {
	var out []string
	for _, a := range r.Axes {
		out = append(out, a.Name)
	}
	return strings.Join(out, ", ")
}

// fillPlot sorts the figures of the rows into panels and lines.
func (r *SweepResult) fillPlot(d *drawing.SweepData, x int, order []int) {
	type figure struct {
		name  string
		limit float64
		of    func(*statics.SweepRow) float64
	}
	figures := []figure{
		{"Largest shift, mm", r.Limits.Sag, func(w *statics.SweepRow) float64 { return w.Sag }},
		{"Racking, softer way, N/mm", r.Limits.Racking, func(w *statics.SweepRow) float64 { return w.Racking }},
		{"Lowest frequency, Hz", r.Limits.Frequency, func(w *statics.SweepRow) float64 { return w.Frequency }},
		{"Mass, kg", 0, func(w *statics.SweepRow) float64 { return w.Mass }},
	}
	if r.Priced {
		figures = append(figures, figure{"Cost of the bars", 0, func(w *statics.SweepRow) float64 { return w.Cost }})
	}
	for _, f := range figures {
		d.Panels = append(d.Panels, drawing.SweepPanel{Name: f.name, Limit: f.limit})
	}
	line := map[string]int{}
	value := map[string]int{}
	for i, v := range r.Axes[x].Values {
		value[v] = order[i]
	}
	for i := range r.Rows {
		w := &r.Rows[i]
		name := r.others(i, x)
		k, ok := line[name]
		if !ok {
			k = len(d.Series)
			line[name] = k
			d.Series = append(d.Series, name)
			for p := range d.Panels {
				none := make([]float64, len(d.X))
				for n := range none {
					none[n] = math.NaN()
				}
				d.Panels[p].Values = append(d.Panels[p].Values, none)
			}
		}
		at := value[w.Values[x]]
		if w.Mass > 0 {
			for p, f := range figures {
				d.Panels[p].Values[k][at] = f.of(w)
			}
		}
		if i == r.Best && r.Limits != (statics.Limits{}) {
			d.Best = [2]int{k, at}
		}
	}
}

// others names a row by the values of all axes but one.
func (r *SweepResult) others(i, x int) string {
	var out []string
	for k, a := range r.Axes {
		if k != x {
			out = append(out, a.Name+" = "+r.Rows[i].Values[k])
		}
	}
	if out == nil {
		return "all else as in the file"
	}
	return strings.Join(out, ", ")
}
