package standard_test

import (
	"math"
	"testing"

	"barwright/standard"
)

func TestGeneralTolerances(t *testing.T) {
	none := -1.0
	tests := []struct {
		class      string
		size, want float64
	}{
		// Source: ISO 2768-1:1989 table 1, read at the ends of its ranges.
		{"m", 0.49, none}, {"m", 0.5, 0.1}, {"m", 3, 0.1}, {"m", 6, 0.1}, {"m", 6.01, 0.2}, {"m", 30, 0.2},
		{"m", 30.01, 0.3}, {"m", 120, 0.3}, {"m", 120.01, 0.5}, {"m", 400, 0.5}, {"m", 840, 0.8}, {"m", 1000, 0.8},
		{"m", 1110, 1.2}, {"m", 2000, 1.2}, {"m", 4000, 2}, {"m", 4000.01, none},
		{"f", 3, 0.05}, {"f", 30, 0.1}, {"f", 100, 0.15}, {"f", 400, 0.2}, {"f", 1000, 0.3}, {"f", 2000, 0.5}, {"f", 2001, none},
		{"c", 3, 0.2}, {"c", 6, 0.3}, {"c", 30, 0.5}, {"c", 120, 0.8}, {"c", 400, 1.2}, {"c", 1000, 2}, {"c", 2000, 3}, {"c", 4000, 4},
		{"v", 3, none}, {"v", 6, 0.5}, {"v", 30, 1}, {"v", 120, 1.5}, {"v", 400, 2.5}, {"v", 1000, 4}, {"v", 2000, 6}, {"v", 4000, 8},
		{"", 100, none}, {"M", 100, none}, {"m", 0, none}, {"m", -100, none},
		{"m", math.NaN(), none}, {"m", math.Inf(1), none},
	}
	for _, test := range tests {
		got, ok := standard.GeneralTolerance(test.class, test.size)
		if ok != (test.want != none) || ok && got != test.want {
			t.Errorf("class %s, %v mm: got %v %v, want %v", test.class, test.size, got, ok, test.want)
		}
	}
}

func TestEdgeAndAngleTolerances(t *testing.T) {
	// Source: ISO 2768-1:1989 table 2 (0.5 to 3, 3 to 6, over 6).
	for class, want := range map[string][3]float64{"f": {0.2, 0.5, 1}, "m": {0.2, 0.5, 1}, "c": {0.4, 1, 2}, "v": {0.4, 1, 2}} {
		if got, ok := standard.EdgeTolerance(class, 0.4); ok {
			t.Errorf("edge %s 0.4: got %v", class, got)
		}
		for i, size := range []float64{0.5, 6, 6.1} {
			if got, ok := standard.EdgeTolerance(class, size); !ok || got != want[i] {
				t.Errorf("edge %s %v: got %v, want %v", class, size, got, want[i])
			}
		}
	}
	// Source: ISO 2768-1:1989 table 3, in minutes of arc (10, 50, 120, 400 mm and over).
	for class, want := range map[string][5]float64{
		"f": {60, 30, 20, 10, 5}, "m": {60, 30, 20, 10, 5}, "c": {90, 60, 30, 15, 10}, "v": {180, 120, 60, 30, 20},
	} {
		if got, ok := standard.AngleTolerance(class, 0.1); !ok || !near(got, want[0]/60*math.Pi/180, 1e-12) {
			t.Errorf("angle %s 0.1: got %v rad, want %v'", class, got, want[0])
		}
		for i, side := range []float64{10, 50, 120, 400, 401} {
			got, ok := standard.AngleTolerance(class, side)
			if !ok || !near(got, want[i]/60*math.Pi/180, 1e-12) {
				t.Errorf("angle %s %v: got %v rad, want %v'", class, side, got, want[i])
			}
		}
	}
}

// TestToleranceRanges: the ranges of each class follow each other without a
// gap, wider ones are never tighter, and f, m, c, v fall in that order.
func TestToleranceRanges(t *testing.T) {
	var previous standard.ToleranceRow
	for i, row := range standard.ToleranceRows() {
		if i > 0 && row.Kind == previous.Kind && row.Class == previous.Class {
			looser := row.Tolerance >= previous.Tolerance
			if row.Kind == "angle" { // a longer side holds its angle better
				looser = row.Tolerance <= previous.Tolerance
			}
			if row.Over != previous.UpTo || !looser {
				t.Errorf("%+v follows %+v", row, previous)
			}
		}
		if row.UpTo <= row.Over || row.Tolerance <= 0 || !row.Source.Checked {
			t.Errorf("%+v", row)
		}
		previous = row
	}
	for _, kind := range []string{"linear", "edge", "angle"} {
		for _, size := range []float64{4, 10, 50, 200, 800, 1500} {
			last := 0.0
			for _, class := range []string{"f", "m", "c", "v"} {
				row, ok := standard.ToleranceFor(kind, class, size)
				if !ok || row.Tolerance < last {
					t.Errorf("%s %s at %v: %v after %v", kind, class, size, row.Tolerance, last)
				}
				last = row.Tolerance
			}
		}
	}
}

func TestExtrusionLimits(t *testing.T) {
	// Source: EN 12020-2:2008, from memory; the table is marked so.
	tables := []struct {
		limit func(x float64) (standard.Limit, bool)
		upTo  []float64 // the upper end of each range
		want  []float64
	}{
		{standard.ProfileStraightness, []float64{1000, 2000, 3000, 4000, 5000, 6000, 9000}, []float64{0.7, 1.3, 1.8, 2.2, 2.6, 3, 3.5}},
		{standard.ProfileOutside, []float64{10, 15, 30, 45, 60, 90, 120, 150, 180, 240, 300},
			[]float64{0.15, 0.2, 0.25, 0.3, 0.4, 0.45, 0.6, 0.8, 1, 1.2, 1.5}},
		{standard.ProfileFlatness, []float64{30, 60, 100, 150, 200, 250, 300}, []float64{0.2, 0.3, 0.4, 0.5, 0.7, 0.85, 1}},
		{twistOf(20), []float64{1000, 2000, 3000, 4000, 5000, 6000}, []float64{1, 1.5, 1.5, 2, 2, 2}},
		{twistOf(50), []float64{1000, 2000, 3000, 4000, 5000, 6000}, []float64{1, 1.2, 1.5, 1.8, 2, 2}},
		{twistOf(75), []float64{1000, 2000, 3000, 4000, 5000, 6000}, []float64{1, 1.2, 1.2, 1.5, 2, 2}},
		{twistOf(80), []float64{1000, 2000, 3000, 4000, 5000, 6000}, []float64{1, 1.2, 1.5, 2, 2.2, 2.5}},
		{twistOf(120), []float64{1000, 2000, 3000, 4000, 5000, 6000}, []float64{1, 1.5, 1.8, 2.2, 2.5, 3}},
		{millOf(100), []float64{2000, 5000, 10000}, []float64{5, 7, 10}},
		{millOf(120), []float64{2000, 5000, 10000}, []float64{7, 9, 12}},
	}
	for i, table := range tables {
		for j, x := range table.upTo {
			at, ok1 := table.limit(x)
			under, ok2 := table.limit(x - 0.1)
			if !ok1 || !ok2 || at.Value != table.want[j] || under != at || at.Source.Checked {
				t.Errorf("table %d at %v: got %+v and %+v, want %v", i, x, at, under, table.want[j])
			}
			if j > 0 { // just over the range before
				if over, ok := table.limit(table.upTo[j-1] + 0.1); !ok || over != at {
					t.Errorf("table %d over %v: got %+v, want %v", i, table.upTo[j-1], over, table.want[j])
				}
			}
		}
	}
	if local := standard.ProfileLocalStraightness(); local.Value != 0.3 || local.Source.Checked {
		t.Errorf("300 mm: %+v", local)
	}
	// Common practice, no source.
	if got, ok := standard.SawLength(2000); !ok || got.Value != 0.3 || got.Source.Checked {
		t.Errorf("saw: %+v", got)
	}
	for _, length := range []float64{0, -1, math.NaN()} {
		if got, ok := standard.ProfileStraightness(length); ok {
			t.Errorf("%v mm: %+v", length, got)
		}
	}
	if got, ok := standard.ProfileTwist(400, 1000); ok {
		t.Errorf("400 mm wide: %+v", got)
	}
}

func twistOf(width float64) func(float64) (standard.Limit, bool) {
	return func(length float64) (standard.Limit, bool) { return standard.ProfileTwist(width, length) }
}

func millOf(circle float64) func(float64) (standard.Limit, bool) {
	return func(length float64) (standard.Limit, bool) { return standard.MillLength(circle, length) }
}

// TestExtrusionLimitsGrow: a longer or larger bar is never held closer.
func TestExtrusionLimitsGrow(t *testing.T) {
	limits := map[string]func(x float64) (standard.Limit, bool){
		"straightness": standard.ProfileStraightness,
		"outside":      standard.ProfileOutside,
		"flatness":     standard.ProfileFlatness,
		"twist":        func(x float64) (standard.Limit, bool) { return standard.ProfileTwist(30, 20*x) },
		"wide twist":   func(x float64) (standard.Limit, bool) { return standard.ProfileTwist(280, 20*x) },
		"mill":         func(x float64) (standard.Limit, bool) { return standard.MillLength(x, 30*x) },
	}
	for name, limit := range limits {
		last := 0.0
		for x := 1.0; x <= 300; x++ {
			got, ok := limit(x)
			if !ok || got.Value < last {
				t.Fatalf("%s at %v: %+v after %v", name, x, got, last)
			}
			last = got.Value
		}
	}
}
