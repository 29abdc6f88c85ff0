package standard_test

import (
	"math"
	"slices"
	"testing"

	"barwright/standard"
)

// near reports whether got is want to within tol.
func near(got, want, tol float64) bool { return math.Abs(got-want) <= tol }

func TestThreadsAgreeWithPublishedTables(t *testing.T) {
	const source = "ISO 965-2:1998 table 1 (6H limits), ISO 898-1:2013 table 4 (area), ISO 2306:1972 (drill)"
	tests := []struct {
		name                    string
		pitch, min, max         float64
		area, areaDigit, drills float64
	}{
		{"M2", 0.4, 1.567, 1.679, 2.07, 0.01, 1.6},
		{"M2.5", 0.45, 2.013, 2.138, 3.39, 0.01, 2.05},
		{"M3", 0.5, 2.459, 2.599, 5.03, 0.01, 2.5},
		{"M4", 0.7, 3.242, 3.422, 8.78, 0.01, 3.3},
		{"M5", 0.8, 4.134, 4.334, 14.2, 0.1, 4.2},
		{"M6", 1, 4.917, 5.153, 20.1, 0.1, 5},
		{"M8", 1.25, 6.647, 6.912, 36.6, 0.1, 6.8},
		{"M10", 1.5, 8.376, 8.676, 58.0, 0.1, 8.5},
		{"M12", 1.75, 10.106, 10.441, 84.3, 0.1, 10.2},
		{"M14", 2, 11.835, 12.210, 115, 1, 12},
		{"M16", 2, 13.835, 14.210, 157, 1, 14},
	}
	if len(tests) != len(standard.Threads()) {
		t.Fatalf("%d threads, %d expected", len(standard.Threads()), len(tests))
	}
	for _, test := range tests {
		got, ok := standard.ThreadByName(test.name)
		if !ok || got.Pitch != test.pitch || got.MinorMin != test.min || got.MinorMax != test.max ||
			!near(got.StressArea, test.area, test.areaDigit/2) || got.TapDrill != test.drills {
			t.Errorf("%s: got %+v, want %+v from %s", test.name, got, test, source)
		}
	}
}

// TestThreadProfile recomputes each row from the basic profile of ISO 68-1 and
// the formulas of ISO 724 and ISO 898-1.
func TestThreadProfile(t *testing.T) {
	const third = 0.00051 // half a unit of the third decimal
	previous := 0.0
	for _, row := range standard.Threads() {
		d, p := row.Nominal, row.Pitch
		height := math.Sqrt(3) / 2 * p
		for what, pair := range map[string][2]float64{
			"D2 = d - 3/4 H":     {row.PitchDiameter, d - 3*height/4},
			"D1 = d - 1.0825 P":  {row.MinorMin, d - 5*height/4},
			"d3 = d - 17/12 H":   {row.Root, d - 17*height/12},
			"name is M nominal":  {row.Nominal, nominal(t, row.Name)},
			"drill is about d-P": {row.TapDrill, d - p},
		} {
			tol := third
			if what == "drill is about d-P" {
				tol = 0.06
			}
			if !near(pair[0], pair[1], tol) {
				t.Errorf("%s: %s: %v, not %v", row.Name, what, pair[0], pair[1])
			}
		}
		if area := math.Pi / 4 * math.Pow(d-0.9382*p, 2); !near(row.StressArea, area, 0.0055) {
			t.Errorf("%s: stress area %v, not %v", row.Name, row.StressArea, area)
		}
		if row.Nominal <= previous || !row.Accepts(row.TapDrill) || (row.Choice == 2) != (row.Name == "M14") {
			t.Errorf("%s: out of order, wrong choice, or its drill %v misses the 6H limits", row.Name, row.TapDrill)
		}
		previous = row.Nominal
	}
}

// TestMinorTolerance repeats the grade 6 formula of ISO 965-1:1998 annex: in
// micrometres 433 P - 190 P^1.22 up to P = 0.8, else 230 P^0.7, rounded to the
// R40 series. The standard smooths M3 one step up.
func TestMinorTolerance(t *testing.T) {
	r40 := []float64{100, 106, 112, 118, 125, 132, 140, 150, 160, 170, 180, 190, 200,
		212, 224, 236, 250, 265, 280, 300, 315, 335, 355, 375, 400}
	for _, row := range standard.Threads() {
		formula := 230 * math.Pow(row.Pitch, 0.7)
		if row.Pitch <= 0.8 {
			formula = 433*row.Pitch - 190*math.Pow(row.Pitch, 1.22)
		}
		tolerance := math.Round(1000 * (row.MinorMax - row.MinorMin))
		limit := 0.03 // half a step of R40
		if row.Name == "M3" {
			limit = 0.06
		}
		if !slices.Contains(r40, tolerance) || math.Abs(tolerance/formula-1) > limit {
			t.Errorf("%s: tolerance %v µm, formula %v", row.Name, tolerance, formula)
		}
	}
}

// TestGenericCoresCanBeTapped: the core bores that the design gives its own
// sections lie inside the 6H limits, so an extruded bore is tapped as it is.
func TestGenericCoresCanBeTapped(t *testing.T) {
	for thread, bore := range map[string]float64{"M6": 5.0, "M8": 6.8, "M10": 8.5} {
		row, ok := standard.ThreadByName(thread)
		if !ok || !row.Accepts(bore) || row.Accepts(bore-0.3) || row.Accepts(bore+0.3) {
			t.Errorf("%s in a bore of %v: limits %v to %v", thread, bore, row.MinorMin, row.MinorMax)
		}
	}
}

func TestThreadsAreCopies(t *testing.T) {
	standard.Threads()[0].Pitch = 99
	if got, _ := standard.ThreadByName("M2"); got.Pitch != 0.4 {
		t.Errorf("the table was changed: %+v", got)
	}
	for _, name := range []string{"", "M7", "m8", "M8x1", "8"} {
		if row, ok := standard.ThreadByName(name); ok {
			t.Errorf("%q found: %+v", name, row)
		}
	}
}
