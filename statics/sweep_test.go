package statics

import (
	"bytes"
	"encoding/csv"
	"errors"
	"slices"
	"strings"
	"testing"

	"barwright/frame"
)

func TestParseSweep(t *testing.T) {
	for _, c := range []struct {
		in   string
		name string
		want string // values with spaces between; "" where it is refused
	}{
		{"wire_z=200:900:350", "wire_z", "200 550 900"},
		{"wire_z=200:899:350", "wire_z", "200 550"},
		{"h=1:0:-0.25", "h", "1 0.75 0.5 0.25 0"},
		{"h=0.1:0.5:0.1", "h", "0.1 0.2 0.3 0.4 0.5"},
		{"profile=30x30-8,30x60-8", "profile", "30x30-8 30x60-8"},
		{" a = 5 ", "a", "5"},
		{"h=5:5:1", "h", "5"},
		{"h", "", ""}, {"=1:2:3", "", ""}, {"h=", "", ""}, {"h=1:2", "", ""}, {"h=1:2:0", "", ""}, {"h=1:2:-1", "", ""},
		{"h=1:2:3:4", "", ""}, {"h=a:2:1", "", ""}, {"h=0:1e9:1", "", ""}, {"h=NaN:1:1", "", ""}, {"h=0:Inf:1", "", ""}, {"h=1,,2", "", ""},
	} {
		got, err := ParseSweep(c.in)
		if c.want == "" {
			if err == nil {
				t.Errorf("%q is taken for %v", c.in, got)
			}
			continue
		}
		if err != nil || got.Name != c.name || strings.Join(got.Values, " ") != c.want {
			t.Errorf("%q: %v, %v", c.in, got, err)
		}
	}
}

func TestSweepOfTheFoamCutter(t *testing.T) {
	axis, err := ParseSweep("depth=500:900:200")
	if err != nil {
		t.Fatal(err)
	}
	other, _ := ParseSweep("height=900,1150")
	s, err := RunSweep([]SweepAxis{axis, other}, Limits{Frequency: 5}, func(v []string) (*Report, float64, error) {
		f, err := frame.Load("../examples/foam-cutter/frame.hcl", frame.Options{Set: []string{"depth=" + v[0], "height=" + v[1]}})
		if err != nil {
			return nil, 0, err
		}
		m, err := FromFrame(f, Options{})
		if err != nil {
			return nil, 0, err
		}
		r, err := m.Analyse(LoadOptions{})
		return r, 0, err
	})
	if err != nil {
		t.Fatal(err)
	}
	if len(s.Rows) != 6 || !slices.Equal(s.Rows[1].Values, []string{"500", "1150"}) || !slices.Equal(s.Rows[4].Values, []string{"900", "900"}) {
		t.Fatalf("rows %v", s.Rows)
	}
	for i, r := range s.Rows {
		if r.Failed != "" || r.Sag <= 0 || r.Racking <= 0 || r.Frequency <= 0 {
			t.Errorf("row %d: %+v", i, r)
		}
		// A taller frame of the same plan is heavier and racks more easily.
		if i%2 == 1 && (r.Mass <= s.Rows[i-1].Mass || r.Racking >= s.Rows[i-1].Racking) {
			t.Errorf("row %d: %+v after %+v", i, r, s.Rows[i-1])
		}
	}
	if s.Best != 0 {
		t.Errorf("best is row %d, want the smallest frame", s.Best)
	}
	var b bytes.Buffer
	if err := s.CSV(&b); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&b).ReadAll()
	if err != nil || len(rows) != 7 || rows[0][0] != "depth" || rows[1][8] != "true" {
		t.Errorf("%v, %v", rows, err)
	}
}

func TestSweepGoesOnPastFailures(t *testing.T) {
	axis := SweepAxis{Name: "x", Values: []string{"1", "2", "3"}}
	s, err := RunSweep([]SweepAxis{axis}, Limits{}, func(v []string) (*Report, float64, error) {
		if v[0] == "2" {
			return nil, 0, errors.New("it falls over")
		}
		return &Report{Mass: 5}, map[string]float64{"1": 30, "3": 20}[v[0]], nil
	})
	if err != nil || s.Rows[1].Failed == "" || s.Rows[1].Within || s.Best != 2 {
		t.Errorf("%+v, %v", s, err)
	}
	many := SweepAxis{Name: "x", Values: make([]string, 100)}
	if _, err := RunSweep([]SweepAxis{many, many}, Limits{}, nil); err == nil {
		t.Error("10000 frames are taken")
	}
}

func TestSummary(t *testing.T) {
	r := report(t, fromFrame(t, loadExample(t, "foam-cutter"), Options{}), LoadOptions{})
	var b bytes.Buffer
	if err := r.Summary(&b); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"Standing", "gives", "Push along X at the top", "N/mm", "Hz", "kg", "estimate", "licensed engineer"} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("the summary does not say %q:\n%s", want, b.String())
		}
	}
	t.Log("\n" + b.String())
}
