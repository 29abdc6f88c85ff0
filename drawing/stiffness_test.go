package drawing

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"barwright/geom"
)

// stiffnessSample is data with n rows in each table and words of a length.
func stiffnessSample(n int, word string) StiffnessData {
	d := StiffnessData{Title: TitleBlock{Title: word, Number: "S-1", DocumentType: "Stiffness", Fingerprint: "00000000"}, Caution: "CAUTION: An estimate, no certificate."}
	for i := range n {
		d.Summary = append(d.Summary, []string{fmt.Sprintf("figure %d", i), "0.0123", "mm/m", word})
		d.Cases = append(d.Cases, []string{fmt.Sprintf("%s %d", word, i), "0.1", "0.2", "0.3", "0.4", "0.5", "somewhere"})
		d.Feet = append(d.Feet, []string{fmt.Sprintf("foot %d under %s", i, word), "-12.3", "456", word})
		d.Notes = append(d.Notes, word+" is taken as it is.")
	}
	for i := range 4 {
		k := float64(i)
		peak := geom.Vec{X: 500, Z: 400}
		d.Views = append(d.Views, StiffnessView{Title: fmt.Sprintf("View %d of %s", i, word), Caption: strings.Repeat(word+" ", 4), Peak: &peak, Bars: []StiffnessBar{
			{Rest: []geom.Vec{{}, {X: 1000}}, Moved: []geom.Vec{{}, {X: 500, Z: -10 * k}, {X: 1000}}},
			{Rest: []geom.Vec{{}, {Z: 400}}, Moved: []geom.Vec{{}, {X: 20, Z: 400}}},
		}})
	}
	return d
}

func TestStiffnessSheetIsClean(t *testing.T) {
	for _, n := range []int{0, 1, 4, 9, 40} {
		for _, word := range []string{"beam", "a name that is much longer than any cell of the table and goes on and on", "Ψ∂ \x01"} {
			for _, stamp := range []bool{false, true} {
				d := stiffnessSample(n, word)
				s, err := StiffnessSheet(d, Options{Projection: "first", NotForManufacture: stamp})
				if err != nil {
					t.Fatalf("%d rows of %q: %v", n, word, err)
				}
				if c := s.Verify(); len(c) > 0 {
					t.Errorf("%d rows of %q: %v", n, word, c)
				}
				if all := allText(s); !strings.Contains(all, "CAUTION") || n == 40 && !strings.Contains(all, "more") {
					t.Errorf("%d rows of %q: the caution or the word about what is cut is missing", n, word)
				}
			}
		}
	}
}

func TestStiffnessViewKeepsProportions(t *testing.T) {
	s, err := StiffnessSheet(stiffnessSample(2, "beam"), Options{Projection: "first"})
	if err != nil {
		t.Fatal(err)
	}
	var rest [][]geom.Vec2
	moved := 0
	for _, op := range s.Ops {
		if st, ok := op.(*Stroke); ok && !st.Closed {
			switch st.Role {
			case Hidden:
				rest = append(rest, st.Points)
			case Outline:
				moved++
			}
		}
	}
	if len(rest) != 8 || moved != 8 {
		t.Fatalf("%d lines at rest and %d moved; want 8 and 8", len(rest), moved)
	}
	// Parallel projection: the lengths on paper of an axis along X and one along Z stand as √(cos²a + sin²a·sin²e) to cos e,
	// times their true lengths (azimuth 32°, elevation 22°).
	sa, ca := math.Sincos(32 * math.Pi / 180)
	se, ce := math.Sincos(22 * math.Pi / 180)
	want := 1000 * math.Hypot(ca, sa*se) / (400 * ce)
	for i := 0; i < len(rest); i += 2 {
		if got := rest[i][0].Dist(rest[i][1]) / rest[i+1][0].Dist(rest[i+1][1]); math.Abs(got-want) > 1e-9 {
			t.Errorf("view %d: the lengths stand as %.6f, want %.6f", i/2, got, want)
		}
	}
}

// readPlot reads the values of each panel's markers back from a sheet: by the ticks' places and numbers.
func readPlot(t *testing.T, s *Sheet, name string, ticks func(*Text) bool) (value func(y float64) float64, top, bottom float64) {
	t.Helper()
	var ys, vs []float64
	for _, x := range s.Texts(Table) {
		if len(x.Of) == 1 && x.Of[0] == name && ticks(x) {
			var v float64
			if _, err := fmt.Sscanf(x.String, "%g", &v); err != nil {
				t.Fatalf("tick %q: %v", x.String, err)
			}
			ys, vs = append(ys, x.At.Y+x.Height/2), append(vs, v)
		}
	}
	n := len(ys)
	if n < 2 {
		t.Fatalf("%s has %d ticks", name, n)
	}
	return func(y float64) float64 { return vs[0] + (y-ys[0])/(ys[n-1]-ys[0])*(vs[n-1]-vs[0]) }, ys[n-1], ys[0]
}

func sweepSample(series, n int) SweepData {
	d := SweepData{Title: TitleBlock{Title: "T", Number: "S-2"}, XName: "wire_z", Best: [2]int{0, min(1, n-1)}, Notes: []string{"none"}, Caution: "CAUTION: An estimate."}
	for i := range n {
		d.X = append(d.X, 200+50*float64(i))
	}
	for p, name := range []string{"Largest shift, mm", "Racking, N/mm", "Frequency, Hz", "Mass, kg", "Cost"} {
		q := SweepPanel{Name: name, Limit: 0.5}
		for k := range series {
			var vs []float64
			for i := range n {
				v := float64(p+1) * (0.1 + float64((i*7+k*3)%11)/10)
				if i == 2 && k == 0 {
					v = math.NaN()
				}
				vs = append(vs, v)
			}
			q.Values = append(q.Values, vs)
		}
		d.Panels = append(d.Panels, q)
	}
	for k := range series {
		d.Series = append(d.Series, fmt.Sprintf("profile = %d", k))
	}
	return d
}

func TestSweepPlotShowsItsNumbers(t *testing.T) {
	d := sweepSample(1, 9)
	sheets, err := SweepSheets(d, Options{Projection: "first"})
	if err != nil || len(sheets) != 1 {
		t.Fatal(len(sheets), err)
	}
	for _, q := range d.Panels {
		value, top, bottom := readPlot(t, sheets[0], q.Name, func(*Text) bool { return true })
		left, right := math.Inf(1), math.Inf(-1) // of this panel: its ticks stand left of its points
		for _, x := range sheets[0].Texts(Table) {
			if len(x.Of) == 1 && x.Of[0] == q.Name {
				left, right = x.At.X, x.At.X+plotTick+0.8+99
			}
		}
		var got []float64
		for _, op := range sheets[0].Ops {
			if a, ok := op.(*Arc); ok && a.Filled && a.Centre.X > left && a.Centre.X < right && a.Centre.Y >= bottom && a.Centre.Y <= top {
				got = append(got, value(a.Centre.Y))
			}
		}
		var want []float64
		for _, v := range q.Values[0] {
			if !math.IsNaN(v) {
				want = append(want, v)
			}
		}
		if len(got) != len(want) {
			t.Fatalf("%s: %d points drawn, %d in the table", q.Name, len(got), len(want))
		}
		for i := range want {
			if math.Abs(got[i]-want[i]) > 1e-6*math.Abs(want[i])+1e-9 {
				t.Errorf("%s: point %d reads %g, the table says %g", q.Name, i, got[i], want[i])
			}
		}
	}
}

func TestSweepSheetsAreClean(t *testing.T) {
	for _, c := range []struct{ series, n, sheets int }{{1, 1, 1}, {1, 2, 1}, {3, 15, 1}, {7, 40, 2}, {30, 3, 4}} {
		d := sweepSample(c.series, c.n)
		for _, named := range []bool{false, true} {
			if named {
				d.XLabels = nil
				for i := range c.n {
					d.XLabels = append(d.XLabels, fmt.Sprintf("a profile of a long name %d", i))
					d.X[i] = float64(i)
				}
			}
			sheets, err := SweepSheets(d, Options{Projection: "third", NotForManufacture: true})
			if err != nil {
				t.Fatalf("%+v, named %v: %v", c, named, err)
			}
			if len(sheets) != c.sheets {
				t.Errorf("%+v: %d sheets", c, len(sheets))
			}
		}
	}
	for _, v := range []float64{0, 1e-9, 1e7, -3} { // one value everywhere, or none
		d := sweepSample(2, 3)
		for p := range d.Panels {
			for k := range d.Panels[p].Values {
				for i := range d.Panels[p].Values[k] {
					d.Panels[p].Values[k][i] = v
					if p == 4 {
						d.Panels[p].Values[k][i] = math.NaN()
					}
				}
			}
		}
		if _, err := SweepSheets(d, Options{}); err != nil {
			t.Errorf("all %g: %v", v, err)
		}
	}
}

func TestNiceTicks(t *testing.T) {
	for _, c := range []struct {
		low, high float64
		want      string
	}{
		{0, 10, "[0 2 4 6 8 10]"}, {0, 0.086, "[0 0.02 0.04 0.06 0.08 0.1]"}, {27.6, 27.9, "[27.6 27.7 27.8 27.9]"}, {200, 900, "[200 400 600 800 1000]"}, {-3, 3, "[-4 -2 0 2 4]"},
	} {
		var got []string
		for _, v := range niceTicks(c.low, c.high, 5) {
			got = append(got, trimmed(v, 6))
		}
		if s := "[" + strings.Join(got, " ") + "]"; s != c.want {
			t.Errorf("%g to %g: %s, want %s", c.low, c.high, s, c.want)
		}
	}
}
