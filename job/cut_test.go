package job

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"errors"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"barwright/check"
	"barwright/frame"
	"barwright/stock"
)

// jobOf makes a job of a frame's text.
func jobOf(t *testing.T, src string, set ...string) *Job {
	t.Helper()
	f, err := frame.Parse("test.hcl", []byte(src), frame.Options{Set: set})
	if err != nil {
		t.Fatal(err)
	}
	return &Job{Frame: f, Findings: check.Run(f)}
}

// fourRails is four bars of equal length, which a parameter sets.
const fourRails = `
param "width" {
  value = 1500
  min   = 1000
}
param "height" { value = 300 }
frame { profile = "30x30-8" }
row "rail" {
  left   = 0
  right  = width
  front  = 0
  count  = 4
  first  = { mid_z = height }
  step   = 100
}
`

func planOf(t *testing.T, j *Job, o CutOptions) *CutPlan {
	t.Helper()
	p, err := j.Cut(context.Background(), o)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// Four bars of 1500 with three kerfs of 3 take 6009: nine more than one bar of 6000 has. A quarter of nine is 2.25, so 2.3
// (in tenths) off each length saves a bar, and width sets the length one to one.
func TestWhatIfNamesTheParameter(t *testing.T) {
	const src = fourRails + `stock "30x30-8" { bar = [{ length = 6000, price = 40 }] }`
	j := jobOf(t, src)
	p := planOf(t, j, CutOptions{Shorten: 5})
	if got := p.Total(); got.Cost != 80 || !got.Optimal || got.Bars != 2 {
		t.Fatalf("two bars for 80 are needed: %+v", got)
	}
	if len(p.Savings) != 1 {
		t.Fatalf("%d savings", len(p.Savings))
	}
	s := p.Savings[0]
	if s.Shorten != 2.3 || s.CostSaved != 40 || s.BarsSaved != 1 || len(s.MovedBy) != 1 || s.MovedBy[0] != (MovedBy{"width", 1}) {
		t.Errorf("saving %+v", s)
	}
	if len(p.Params) != 1 {
		t.Fatalf("%d parameters: %+v", len(p.Params), p.Params)
	}
	c := p.Params[0]
	if c.Param != "width" || c.From != 1500 || c.To != 1497.7 || c.CostSaved != 40 || c.BarsSaved != 1 {
		t.Errorf("parameter %+v", c)
	}
	if len(c.Lengths) != 1 || c.Lengths[0] != (LengthChange{"A1", 1500, 1497.7}) {
		t.Errorf("lengths %+v", c.Lengths)
	}
	// It is true: the frame so changed needs one bar.
	if got := planOf(t, jobOf(t, src, "width=1497.7"), CutOptions{}).Total(); got.Cost != 40 {
		t.Errorf("with the change the plan costs %g", got.Cost)
	}
	// Less than the nine mm in all saves nothing.
	if p := planOf(t, j, CutOptions{Shorten: 2}); len(p.Savings)+len(p.Params) != 0 {
		t.Errorf("2 mm off each length save nothing: %+v %+v", p.Savings, p.Params)
	}
}

// A parameter that moves the length the other way, by half, and stops at its limit.
func TestWhatIfFollowsTheFactor(t *testing.T) {
	src := strings.Replace(fourRails, "right  = width", "right  = 2250 - width / 2", 1) + `stock "30x30-8" { bar = [{ length = 6000, price = 40 }] }`
	p := planOf(t, jobOf(t, src), CutOptions{Shorten: 5})
	if len(p.Params) != 1 || p.Params[0].To != 1504.5 { // 2.25 mm off the length
		t.Errorf("parameters %+v", p.Params)
	}
	bound := strings.Replace(src, "min   = 1000", "max = 1504", 1)
	if p := planOf(t, jobOf(t, bound), CutOptions{Shorten: 5}); len(p.Params) != 0 {
		t.Errorf("beyond the limit of the parameter: %+v", p.Params)
	}
}

// Figures by hand: 6 m in 4 bars; taps and holes as drilled below.
func TestSupplierComparison(t *testing.T) {
	src := fourRails + `
drill "d" {
  on = rail
  face = "front"
  from = "left"
  distance = 100
  diameter = 7
}
stock "30x30-8" { bar = [{ length = 6000, price = 40 }] }
supplier "30x30-8" {
  per_metre = 8
  per_cut   = 1.5
  per_tap   = 2
  per_hole  = 2.5
}`
	p := planOf(t, jobOf(t, src), CutOptions{})
	if len(p.Offers) != 1 {
		t.Fatalf("%d offers", len(p.Offers))
	}
	o := p.Offers[0]
	if o.Metres != 6 || o.Cuts != 4 || o.Taps != 0 || o.Holes != 4 {
		t.Errorf("counted %+v", o)
	}
	// 6·8 + 4·1.5 = 54; and 4·2.5 = 10 for the holes; bars 2·40.
	if o.ToLength != 54 || o.Finished != 64 || o.Own != 80 || o.Best() != "to_length" {
		t.Errorf("offer %+v, best %q", o, o.Best())
	}
	// Too long to be sent: bars of one's own for all four.
	o = planOf(t, jobOf(t, strings.Replace(src, "per_cut ", "longest = 1400\n  per_cut ", 1)), CutOptions{}).Offers[0]
	if len(o.TooLong) != 1 || o.TooLong[0].Quantity != 4 || o.Metres != 0 || o.ToLength != 80 {
		t.Errorf("too long: %+v", o)
	}
	// Bars without a price: nothing to compare with.
	o = planOf(t, jobOf(t, strings.Replace(src, ", price = 40", "", 1)), CutOptions{}).Offers[0]
	if o.OwnKnown || o.Best() != "" || o.Finished != 64 {
		t.Errorf("without a price: %+v", o)
	}
}

// What was assumed is said, and money is not added to metres.
func TestProfilesWithAndWithoutPrice(t *testing.T) {
	src := fourRails + `
member "post" {
  profile = "40x40-10"
  left    = 0
  front   = 500
  bottom  = 0
  top     = 7000
}
member "short" {
  profile = "40x40-10"
  left    = 500
  front   = 500
  bottom  = 0
  top     = 2000
}
stock "30x30-8" { bar = [{ length = 6000, price = 40 }] }`
	p := planOf(t, jobOf(t, src), CutOptions{})
	total := p.Total()
	if total.Cost != 80 || total.Metres != 6 || !total.Priced {
		t.Errorf("total %+v", total)
	}
	var out bytes.Buffer
	if err := WriteCut(&out, p); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		"there is no stock block for 40x40-10: bars of 6000 mm without a price, kerf 3, trim 20 are assumed",
		"cost 80.00, proven to be the least", "6.0 m without a price", "without the pieces that have no bar",
	} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("%q is not said:\n%s", want, out.String())
		}
	}
	err := p.Unplaced()
	var un *UnplacedError
	if !errors.As(err, &un) || len(un.Pieces) != 1 || un.Pieces[0] != "1× B1 7000 of 40x40-10" || ExitStatus(err) != 1 {
		t.Errorf("unplaced: %v", err)
	}
	r := reportOf(t, p)
	if r.Cost != 80 || r.UnpricedM != 6 || len(r.Unplaced) != 1 || r.Unplaced[0].LengthMM != 7000 || len(r.Assumed) != 1 {
		t.Errorf("report %+v", r)
	}
}

// readCut is the JSON as the design gives it, typed by itself.
type readCut struct {
	Bars []struct {
		Profile       string  `json:"profile"`
		StockLengthMM float64 `json:"stock_length_mm"`
		Price         float64 `json:"price"`
		Cuts          []struct {
			Mark     string  `json:"mark"`
			LengthMM float64 `json:"length_mm"`
		} `json:"cuts"`
		LeftMM *float64 `json:"left_mm"`
	} `json:"bars"`
	Cost           float64 `json:"cost"`
	LowerBoundCost float64 `json:"lower_bound_cost"`
	Optimal        bool    `json:"optimal"`
	Unplaced       []struct {
		Mark     string  `json:"mark"`
		LengthMM float64 `json:"length_mm"`
		Quantity int     `json:"quantity"`
	} `json:"unplaced"`
	UnpricedM float64  `json:"unpriced_m"`
	Assumed   []string `json:"assumed"`
}

func reportOf(t *testing.T, p *CutPlan) readCut {
	t.Helper()
	var out bytes.Buffer
	if err := WriteJSON(&out, NewCutReport(p)); err != nil {
		t.Fatal(err)
	}
	var r readCut
	if err := json.Unmarshal(out.Bytes(), &r); err != nil {
		t.Fatal(err)
	}
	return r
}

// Every bar of the examples is cut once and no stock bar holds more than it has, by the rule of the saw: pieces, a kerf between
// two, and the trim.
func TestExamplesAreCutWhole(t *testing.T) {
	for _, file := range examples(t) {
		j, err := Open(file, nil)
		if err != nil {
			t.Fatal(err)
		}
		p := planOf(t, j, CutOptions{})
		r := reportOf(t, p)
		left := map[string]int{}
		for _, part := range j.Frame.Parts {
			left[part.Mark] = part.Quantity()
		}
		for i, b := range r.Bars {
			const kerf, trim = 3, 20 // no example has a stock block
			sum := float64(trim)
			for k, c := range b.Cuts {
				if k > 0 {
					sum += kerf
				}
				sum += c.LengthMM
				left[c.Mark]--
			}
			want := math.Max(0, b.StockLengthMM-sum-kerf)
			if sum > b.StockLengthMM || b.LeftMM == nil || math.Abs(*b.LeftMM-want) > 0.005*float64(len(b.Cuts)) {
				// The planner counts in hundredths of a millimetre: a brace's length is rounded to one.
				t.Errorf("%s: bar %d: %g of %g, left %v, want %g", file, i+1, sum, b.StockLengthMM, b.LeftMM, want)
			}
		}
		for mark, n := range left {
			if n != 0 {
				t.Errorf("%s: %d of %s are not cut", file, n, mark)
			}
		}
		if !r.Optimal || r.Cost != r.LowerBoundCost || len(r.Unplaced) != 0 || len(r.Assumed) != 1 {
			t.Errorf("%s: %+v", file, r)
		}
	}
}

// A fault of a stock block is told with its line.
func TestStockFaultHasItsLine(t *testing.T) {
	_, err := jobOf(t, fourRails+"stock \"30x30-8\" {\n  bar = [{ length = 6000, price = 40 }, { length = 3000 }]\n}\n").Cut(context.Background(), CutOptions{})
	var bad *StockError
	if !errors.As(err, &bad) || bad.Line != 16 || !strings.HasPrefix(err.Error(), "test.hcl:16: ") || asInput(err) == nil {
		t.Errorf("error %v", err)
	}
}

// The list has a line for each piece; read back it is the plan.
func TestCutCSVReadBack(t *testing.T) {
	j, err := Open("../examples/foam-cutter/frame.hcl", nil)
	if err != nil {
		t.Fatal(err)
	}
	p := planOf(t, j, CutOptions{})
	var out bytes.Buffer
	if err := WriteCutCSV(&out, p); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&out).ReadAll()
	if err != nil || len(rows) != 1+len(j.Frame.Members) {
		t.Fatalf("%d rows (%v) for %d members", len(rows), err, len(j.Frame.Members))
	}
	if got := strings.Join(rows[0], ","); got != "profile,bar,stock_length_mm,price,offcut,cut,mark,length_mm,left_mm,keep,fingerprint" {
		t.Errorf("heading %s", got)
	}
	for _, r := range rows[1:] {
		if r[len(r)-1] != j.Frame.Fingerprint {
			t.Errorf("row without the fingerprint: %v", r)
		}
	}
	for _, write := range []func(io.Writer, *frame.Frame) error{WritePartsCSV, WriteHardwareCSV} {
		out.Reset()
		if err := write(&out, j.Frame); err != nil {
			t.Fatal(err)
		}
		if rows, err := csv.NewReader(&out).ReadAll(); err != nil || rows[1][len(rows[1])-1] != j.Frame.Fingerprint {
			t.Errorf("%v %v", err, rows)
		}
	}
}

func TestCutListFaults(t *testing.T) {
	dir := t.TempDir()
	write := func(name, text string) string {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		return path
	}
	bars := write("bars.csv", "length,price,quantity\n6000,40,\n")
	for _, c := range []struct {
		name, text  string
		row, column int
	}{
		{"longer than every bar", "length,quantity,mark\n900,1,A\n7000,2,B\n", 3, 1},
		{"zero", "length,quantity,mark\n0,1,A\n", 2, 1},
		{"negative", "length,quantity,mark\n-5,1,A\n", 2, 1},
		{"half a piece", "length,quantity,mark\n5,0.5,A\n", 2, 2},
		{"ragged", "length,quantity,mark\n5,1\n", 2, 3},
		{"too many pieces", "length,quantity,mark\n5,2000001,A\n", 2, 2},
		{"no column of lengths", "size,quantity\n5,1\n", 1, 1},
		{"a picture", "\x89PNG\r\n\x1a\n", 1, 1},
	} {
		_, err := CutList(context.Background(), write("pieces.csv", c.text), bars, CutOptions{})
		var bad *stock.ListError
		if !errors.As(err, &bad) || bad.Row != c.row || bad.Column != c.column || ExitStatus(err) != 1 {
			t.Errorf("%s: %v; want row %d, column %d", c.name, err, c.row, c.column)
		}
	}
	_, err := CutList(context.Background(), filepath.Join(dir, "nothing.csv"), bars, CutOptions{})
	if ExitStatus(err) != 3 {
		t.Errorf("a missing list: %v", err)
	}
}
