package drawing

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"

	"barwright/stock"
)

// planned solves a problem and draws it.
func planned(t *testing.T, p stock.Problem) (CutPlan, []*Sheet) {
	t.Helper()
	plan, err := stock.Solve(context.Background(), p, stock.Options{})
	if err != nil {
		t.Fatal(err)
	}
	c := CutPlan{Title: TitleBlock{Title: "Test", Number: "T", Fingerprint: "01234567", Settings: "width = 905"},
		Profiles: []CutProfile{{Profile: "30x30-8", Problem: p, Plan: plan, Verdict: "cost 1"}}, Notes: []string{"Assumed: nothing."}}
	sheets, err := CutPlanSheets(c, Options{})
	if err != nil {
		t.Fatal(err)
	}
	return c, sheets
}

// cutCases are plans that are hard to draw.
func cutCases() map[string]stock.Problem {
	bars := []stock.Bar{{Length: 6000, Price: 41.5}, {Length: 3000, Price: 22.8}}
	var many []stock.Piece
	for i := range 60 {
		many = append(many, stock.Piece{Length: 300 + 31*float64(i), Quantity: 3, Mark: fmt.Sprintf("LONG-MARK-%d", i)})
	}
	return map[string]stock.Problem{
		"usual":                     {Pieces: []stock.Piece{{Length: 1110, Quantity: 4, Mark: "A1"}, {Length: 840, Quantity: 5, Mark: "A2"}}, Bars: bars, Kerf: 3, Trim: 20, Keep: 100},
		"tenths, no mark, no trim":  {Pieces: []stock.Piece{{Length: 1110.25, Quantity: 7}}, Bars: bars, Kerf: 2.4},
		"slivers":                   {Pieces: []stock.Piece{{Length: 5, Quantity: 300, Mark: "S"}, {Length: 12.5, Quantity: 40, Mark: "T"}}, Bars: bars, Kerf: 3, Trim: 20},
		"no kerf":                   {Pieces: []stock.Piece{{Length: 1500, Quantity: 4, Mark: "A"}}, Bars: bars},
		"a wide kerf":               {Pieces: []stock.Piece{{Length: 100, Quantity: 30, Mark: "A"}}, Bars: []stock.Bar{{Length: 1000}}, Kerf: 40, Trim: 60},
		"dust at the end":           {Pieces: []stock.Piece{{Length: 998.5, Quantity: 6, Mark: "A"}}, Bars: []stock.Bar{{Length: 2000}}, Kerf: 2},
		"many, and offcuts":         {Pieces: many, Bars: append(bars, stock.Bar{Length: 1240, Quantity: 2, Offcut: true}), Kerf: 3, Trim: 20, Keep: 400},
		"a kilometre of bar":        {Pieces: []stock.Piece{{Length: 3e5, Quantity: 5, Mark: "A"}}, Bars: []stock.Bar{{Length: 1e6, Price: 1e6}}, Kerf: 3},
		"a bar of a hand's breadth": {Pieces: []stock.Piece{{Length: 20, Quantity: 9, Mark: "A"}}, Bars: []stock.Bar{{Length: 80}}, Kerf: 1, Trim: 2},
		"odd letters":               {Pieces: []stock.Piece{{Length: 900, Quantity: 3, Mark: "Träger \x00 ☃ " + strings.Repeat("x", 400)}}, Bars: bars, Kerf: 3},
	}
}

// Every sheet passes its proof, and names every piece with its length in words.
func TestCutPlanSheets(t *testing.T) {
	for name, p := range cutCases() {
		t.Run(name, func(t *testing.T) {
			c, sheets := planned(t, p)
			words, boxes := "", 0
			for _, s := range sheets {
				for _, clash := range s.Verify() {
					t.Errorf("%s: %v", s.Name, clash)
				}
				for _, x := range s.Texts(Note) {
					words += x.String + "\n"
				}
				for _, x := range s.Texts(Label) {
					if strings.HasPrefix(x.String, "Bar ") {
						boxes++
					}
				}
				if !strings.Contains(allText(s), "01234567") || !strings.Contains(allText(s), "width = 905") {
					t.Errorf("%s lacks the fingerprint or what was set", s.Name)
				}
			}
			if want := len(c.Profiles[0].Plan.Bars); boxes != want {
				t.Errorf("%d bars drawn of %d", boxes, want)
			}
			for _, q := range p.Pieces {
				if l := trimmed(q.Length, 2); len(q.Mark) < 20 && !strings.Contains(strings.Join(strings.Fields(words), " "), strings.TrimSpace(q.Mark+" "+l)) {
					t.Errorf("%s %s is nowhere", q.Mark, l)
				}
			}
		})
	}
}

func allText(s *Sheet) string {
	var b strings.Builder
	for _, x := range s.Texts() {
		b.WriteString(x.String + "\n")
	}
	return b.String()
}

// The bars are drawn to scale: from the outlines on the paper, the cuts stand where trim, pieces and kerfs put them.
func TestCutPlanToScale(t *testing.T) {
	c, sheets := planned(t, cutCases()["usual"])
	plan := c.Profiles[0]
	var strips []*Stroke
	cuts := map[float64][]float64{} // by the lower edge of the strip
	scale := 0.0
	for _, s := range sheets {
		for _, op := range s.Ops {
			st, ok := op.(*Stroke)
			if !ok || st.Role != Outline || st.Filled {
				continue
			}
			if st.Closed {
				strips = append(strips, st)
			} else {
				cuts[st.Points[0].Y] = append(cuts[st.Points[0].Y], st.Points[0].X)
			}
		}
		for _, x := range s.Texts(Title) {
			var n float64
			if k, _ := fmt.Sscanf(x.String, "1:%g", &n); k == 1 && x.Height == DimText {
				scale = 1 / n
			}
		}
	}
	if len(strips) != len(plan.Plan.Bars) || scale == 0 {
		t.Fatalf("%d strips for %d bars, scale %g", len(strips), len(plan.Plan.Bars), scale)
	}
	for i, b := range plan.Plan.Bars {
		low, high := strips[i].Bounds()
		if got := (high.X - low.X) / scale; math.Abs(got-b.StockLength) > 1e-6 {
			t.Errorf("bar %d is drawn %g long, not %g", i+1, got, b.StockLength)
		}
		z := 10.0 // half the trim of 20
		for k, cut := range b.Cuts {
			z += cut.Length
			if got := (cuts[low.Y][k] - low.X) / scale; math.Abs(got-(z+1.5)) > 1e-6 { // the middle of a kerf of 3
				t.Errorf("bar %d: cut %d stands at %g, not %g", i+1, k+1, got, z+1.5)
			}
			z += 3
		}
	}
}

// Black ends are the trim: half of it at each.
func TestCutPlanTrim(t *testing.T) {
	_, sheets := planned(t, cutCases()["a wide kerf"]) // 1000 long, trim 60: drawn 1:5
	wide := map[float64]int{}
	for _, s := range sheets {
		for _, op := range s.Ops {
			if st, ok := op.(*Stroke); ok && st.Role == Outline && st.Filled {
				low, high := st.Bounds()
				wide[math.Round((high.X-low.X)*5*1000)/1000]++
			}
		}
	}
	// 30 pieces of 100: 7 to a bar (7·100 + 6·40 = 940), so five bars, four of them full: 6 kerfs each, and 2 pieces with 2 kerfs.
	if wide[30] != 10 || wide[40] != 26 {
		t.Errorf("black areas by width: %v; want 10 ends of 30 and 26 kerfs of 40", wide)
	}
}

func TestTooManyBarsAreSaid(t *testing.T) {
	p := stock.Problem{Pieces: []stock.Piece{{Length: 5000, Quantity: 1100, Mark: "A"}}, Bars: []stock.Bar{{Length: 6000}}}
	_, sheets := planned(t, p)
	if last := sheets[len(sheets)-1]; !strings.Contains(allText(last), "100 more bars of this profile are not drawn") {
		t.Error("nothing is said of the bars that are not drawn")
	}
}

// Pieces without a bar stand on the sheet.
func TestUnplacedStandsOnTheSheet(t *testing.T) {
	p := stock.Problem{Pieces: []stock.Piece{{Length: 900, Quantity: 3, Mark: "A1"}}, Bars: []stock.Bar{{Length: 1000, Quantity: 1}}}
	_, sheets := planned(t, p)
	if !strings.Contains(allText(sheets[0]), "WITHOUT A BAR: 2× A1 900") {
		t.Error("nothing is said of two pieces without a bar")
	}
}

func BenchmarkCutPlanSheets(b *testing.B) {
	p := cutCases()["many, and offcuts"]
	plan, err := stock.Solve(context.Background(), p, stock.Options{})
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := CutPlanSheets(CutPlan{Profiles: []CutProfile{{Problem: p, Plan: plan}}}, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
