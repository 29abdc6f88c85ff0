package standard_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"barwright/standard"
)

func TestCrushGaps(t *testing.T) {
	// Source: ISO 13854:2017 table 1.
	for part, want := range map[string]float64{"finger": 25, "hand_wrist_fist": 100, "arm": 120, "foot": 120,
		"toes": 50, "leg": 180, "head": 300, "body": 500} {
		if got, ok := standard.CrushGap(part); !ok || got != want {
			t.Errorf("%s: got %v, want %v", part, got, want)
		}
	}
	if _, ok := standard.CrushGap("tail"); ok {
		t.Error("a gap for a tail")
	}
}

func TestLifting(t *testing.T) {
	// Source: ISO 11228-1:2021 reference masses, from memory; the rows are marked so.
	for topic, want := range map[string]float64{"lift_reference_man": 25, "lift_reference_woman": 20,
		"lift_reference_home": standard.HomeLift} {
		if got, ok := standard.Safety(topic); !ok || got.Value != want || got.Unit != "kg" || got.Source.Checked {
			t.Errorf("%s: %+v", topic, got)
		}
	}
	// Source: HSE guidance INDG143 and L23; revised NIOSH lifting equation 1991; common practice for the rest.
	for topic, want := range map[string]float64{"lift_load_constant": 23, "lift_scope": 3, "lift_filter_man": 25,
		"lift_filter_woman": 16, "lift_twist": 10, "lift_repeat": 30, "lift_team": 0.667, "lift_carry": 20,
		"deburr_note": 0.2, "tip_over": 10} {
		if got, ok := standard.Safety(topic); !ok || got.Value != want {
			t.Errorf("%s: %+v, want %v", topic, got, want)
		}
	}
	// Source: HSE guidance L23: two people two thirds of their sum, three a half.
	for people, want := range map[int]float64{1: 15, 2: 20, 3: 22.5} {
		if got, ok := standard.TeamLift(standard.HomeLift, people); !ok || !near(got, want, 1e-9) {
			t.Errorf("%d people: got %v, want %v", people, got, want)
		}
	}
	for _, people := range []int{-1, 0, 4} {
		if got, ok := standard.TeamLift(15, people); ok {
			t.Errorf("%d people: got %v", people, got)
		}
	}
}

// TestSafetyFigures: every topic stands once and says something in words.
func TestSafetyFigures(t *testing.T) {
	seen := map[string]bool{}
	for _, s := range standard.SafetyFigures() {
		found, ok := standard.Safety(s.Topic)
		if seen[s.Topic] || !ok || found != s || len(s.Caution) < 20 || (s.Value != 0) != (s.Unit != "") {
			t.Errorf("%+v", s)
		}
		seen[s.Topic] = true
	}
	for _, topic := range []string{"sharp_edges", "chips", "assembly_pinch", "tap", "drill", "saw"} {
		if !seen[topic] {
			t.Errorf("no caution on %s", topic)
		}
	}
}

// TestPrintRules: common practice, no source. Checked here are the order of
// the figures and what geometry says.
func TestPrintRules(t *testing.T) {
	rules := standard.PrintRules()
	for _, r := range rules {
		low, high := r.Min, r.Max
		if high == 0 {
			high = math.Inf(1)
		}
		if r.Typical < low || r.Typical > high || r.Meaning == "" || !strings.Contains(r.Source.Text, "no source") {
			t.Errorf("%+v", r)
		}
		if found, ok := standard.PrintRuleByName(r.Rule); !ok || found != r {
			t.Errorf("%s: found %+v", r.Rule, found)
		}
	}
	nozzle, _ := standard.PrintRuleByName("nozzle")
	wall, _ := standard.PrintRuleByName("wall_min")
	if lines := wall.Typical / nozzle.Typical; !near(lines, 3, 1e-9) {
		t.Errorf("an ordinary wall is %v lines", lines)
	}
	// An insert's hole is wider than its screw.
	for _, thread := range []string{"M3", "M4", "M5", "M6"} {
		r, ok := standard.PrintRuleByName("heat_set_hole_" + thread)
		if !ok || r.Typical <= nominal(t, thread) {
			t.Errorf("%s: %+v", thread, r)
		}
	}
	if r, ok := standard.PrintRuleByName("warp"); ok {
		t.Errorf("found %+v", r)
	}
}

// TestDoors: DIN 18101 leaves follow the octametre of DIN 4172, the opening
// (a multiple of 125 mm) less 15 mm each way; a clear width is under the leaf.
func TestDoors(t *testing.T) {
	din := 0
	for _, p := range standard.Passages() {
		if found, ok := standard.PassageByName(p.Name); !ok || found != p || p.Clear <= 0 {
			t.Errorf("%+v, found %+v", p, found)
		}
		if p.Kind != "door" {
			continue
		}
		if p.Clear >= p.Width || p.Width-p.Clear > 60 || p.Height < 1900 || p.Source.Checked {
			t.Errorf("%+v", p)
		}
		if strings.HasPrefix(p.Source.Text, "DIN 18101") {
			din++
			if math.Mod(p.Width+15, 125) != 0 || math.Mod(p.Height+15, 125) != 0 || p.Clear != p.Width-49 {
				t.Errorf("%s is off the octametre or the frame", p.Name)
			}
			continue
		}
		// Other leaves are named by their size, in inches or millimetres.
		var width, height float64
		if n, _ := fmt.Sscanf(p.Name, "%f in leaf x %f in", &width, &height); n == 2 {
			width, height = math.Round(25.4*width), math.Round(25.4*height)
		} else if n, _ := fmt.Sscanf(p.Name[strings.Index(p.Name, "leaf"):], "leaf %f x %f", &width, &height); n != 2 {
			t.Errorf("%q names no size", p.Name)
		}
		if p.Width != width || p.Height != height || p.Width-p.Clear != 45 && p.Width-p.Clear != 50 {
			t.Errorf("%+v", p)
		}
	}
	if din != 6 {
		t.Errorf("%d doors of DIN 18101", din)
	}
	// Typical and accessibility figures, from memory but for the corridors of
	// ISO 21542 and Approved Document M.
	for name, want := range map[string]float64{"accessible doorway, least": 800, "wheelchair dwelling": 900,
		"dwelling, usual least": 900, "accessible, with turning doors": 1200, "short local narrowing": 750,
		"public building passing place": 1800, "house stair clear width": 800, "small passenger lift door": 800, "room height": 2400} {
		if p, ok := standard.PassageByName(name); !ok || p.Clear != want {
			t.Errorf("%s: %+v, want %v", name, p, want)
		}
	}
	if p, ok := standard.PassageByName("porthole"); ok {
		t.Errorf("found %+v", p)
	}
}
