package job

import (
	"bytes"
	"encoding/csv"
	"errors"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"barwright/drawing"
	"barwright/frame"
	"barwright/statics"
)

func sweepOf(t *testing.T, j *Job, sweep ...string) *SweepResult {
	t.Helper()
	r, err := j.StiffnessSweep(sweep, nil, StiffnessOptions{})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func TestSweepReadBack(t *testing.T) {
	j := jobOf(t, heavyBeam+"limit {\n  sag       = 0.6\n  frequency = 10\n}\n")
	r := sweepOf(t, j, "span=800:1600:200")
	dir := t.TempDir()
	if _, err := j.WriteSweepFiles(dir, r); err != nil {
		t.Fatal(err)
	}
	f, err := os.Open(filepath.Join(dir, "sweep.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil || len(rows) != 6 {
		t.Fatalf("%d rows, %v", len(rows), err)
	}
	col := map[string]int{}
	for i, h := range rows[0] {
		col[h] = i
	}
	at := func(row []string, name string) float64 {
		v, err := strconv.ParseFloat(row[col[name]], 64)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		return v
	}
	plot := r.plot()
	best := -1
	for i, row := range rows[1:] {
		// Each row is what the frame gives by itself with that setting.
		one := jobOf(t, heavyBeam+"limit {\n  sag       = 0.6\n  frequency = 10\n}\n", "span="+row[0])
		s := stiffnessOf(t, one, StiffnessOptions{})
		e := s.Extremes()
		for name, want := range map[string]float64{"max_deflection_mm": e.Deflection, "racking_n_per_mm": e.Racking, "frequency_hz": s.Report.Frequencies[0], "mass_kg": s.Report.Mass} {
			if got := at(row, name); math.Abs(got-want) > 1e-5*want {
				t.Errorf("span %s: %s is %g in the table, %g alone", row[0], name, got, want)
			}
		}
		for p, name := range []string{"max_deflection_mm", "racking_n_per_mm", "frequency_hz", "mass_kg", "bar_cost"} {
			if got := plot.Panels[p].Values[0][i]; math.Abs(got-at(row, name)) > 1e-6*math.Abs(got) {
				t.Errorf("span %s: the plot shows %g for %s, the table %g", row[0], got, name, at(row, name))
			}
		}
		if plot.X[i] != at(row, "span") {
			t.Errorf("row %d: %g on the plot, %s in the table", i, plot.X[i], row[0])
		}
		within := e.Deflection <= 0.6 && s.Report.Frequencies[0] >= 10
		if got := row[col["within_limits"]]; got != strconv.FormatBool(within) {
			t.Errorf("span %s: within limits %s, want %v", row[0], got, within)
		}
		if within && (best < 0 || at(row, "bar_cost") < at(rows[best+1], "bar_cost") || at(row, "bar_cost") == at(rows[best+1], "bar_cost") && at(row, "mass_kg") < at(rows[best+1], "mass_kg")) {
			best = i
		}
	}
	if best < 0 || r.Best != best || plot.Best != [2]int{0, best} {
		t.Errorf("the best is row %d (plot %v); by hand %d", r.Best, plot.Best, best)
	}
	var text bytes.Buffer
	if err := WriteSweep(&text, r); err != nil || !strings.Contains(text.String(), "best under the limits") || !strings.Contains(text.String(), "span="+rows[best+1][0]) || !strings.Contains(text.String(), statics.Caution) {
		t.Errorf("%v\n%s", err, text.String())
	}
}

func TestSweepOfProfiles(t *testing.T) {
	j := jobOf(t, heavyBeam)
	r := sweepOf(t, j, "beam.profile=30x30-8,30x60-8", "span=1400:1000:-200")
	if len(r.Rows) != 6 || r.Priced {
		t.Fatalf("%d rows, priced %v: 30x60-8 has no price", len(r.Rows), r.Priced)
	}
	for i := range 3 { // a higher bar never sags more
		if a, b := r.Rows[i], r.Rows[i+3]; a.Failed != "" || b.Failed != "" || !(b.Sag < a.Sag && b.Mass > a.Mass) {
			t.Errorf("%+v and %+v", a, b)
		}
	}
	d := r.plot()
	if d.XName != "span" || len(d.Series) != 2 || d.X[0] != 1000 || d.Panels[0].Values[0][0] != r.Rows[2].Sag || len(d.Panels) != 4 {
		t.Errorf("plotted over %s %v, lines %v", d.XName, d.X, d.Series)
	}
	if _, err := drawing.SweepSheets(d, drawing.Options{}); err != nil {
		t.Error(err)
	}
	r = sweepOf(t, j, "profile=20x20-6,30x30-8,40x40-10")
	if d := r.plot(); d.XLabels == nil || len(d.X) != 3 {
		t.Errorf("names on the axis: %v %v", d.XLabels, d.X)
	}
}

func TestSweepFaults(t *testing.T) {
	j := jobOf(t, heavyBeam)
	for _, bad := range [][]string{{"span"}, {"span=1:2"}, {"span=1:2:0"}, {"span=a,b"}, {"height=1:2:1"}, {"span=1:1e9:0.001"}, {"span=800,900", "span=1000"},
		{"profile=31x31-8"}, {"nobody.profile=30x30-8"}, {"span=1:2000:1", "beam.profile=30x30-8,30x60-8"}} {
		_, err := j.StiffnessSweep(bad, nil, StiffnessOptions{})
		var u *UsageError
		if !errors.As(err, &u) || ExitStatus(err) != 2 {
			t.Errorf("%v: %v", bad, err)
		}
	}
	// A frame that can't be is a line of the table; where none can be that is an error.
	r := sweepOf(t, j, "span=40,1000")
	if r.Rows[0].Failed == "" || r.Rows[1].Failed != "" {
		t.Errorf("%+v", r.Rows)
	}
	if _, err := j.StiffnessSweep([]string{"span=40,45"}, nil, StiffnessOptions{}); err == nil || ExitStatus(err) != 1 {
		t.Errorf("no frame can be, but %v", err)
	}
}

func BenchmarkSweep(b *testing.B) {
	f, err := frame.Load("../examples/foam-cutter/frame.hcl", frame.Options{})
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := (&Job{Frame: f}).StiffnessSweep([]string{"wire_z=200:900:50"}, nil, StiffnessOptions{}); err != nil {
			b.Fatal(err)
		}
	}
}
