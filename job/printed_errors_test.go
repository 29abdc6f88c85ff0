package job

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"barwright/frame"
)

const shelves = `
frame {
  profile = "30x30-8"
}
posts "leg" {
  left   = 0
  right  = 400
  front  = 0
  back   = 300
  bottom = 60
  top    = 400
}
ring "base" {
  within = leg
  bottom = 120
}
ring "crown" {
  within = leg
  top    = leg.top
}
`

// Blocks of printed parts and panels that can't be are refused at their line, with what helps.
func TestPrintedBlockErrors(t *testing.T) {
	block := func(lines ...string) string { return "bracket \"x\" {\n  " + strings.Join(lines, "\n  ") + "\n}\n" }
	for _, c := range []struct {
		name, text string
		line       string
		want       []string
	}{
		{"a bed of nothing", "printing {\n  bed = [0, 0, 0]\n}\n", ":22:", []string{"bed has a side of 0 mm", "bed = [220"}},
		{"a layer of nothing, and no part", "printing {\n  layer = 0\n}\n", ":21:", []string{"layer is 0", "0.04 to 0.8"}},
		{"a negative clearance, and no part", "printing {\n  fit = -1\n}\n", ":21:", []string{"fit is -1"}},
		{"more cells than the bars have", block(`kind    = "angle"`, "between = [leg, base]", "set     = { cells = 2 }"), ":21:", []string{"cells is 2", "share one slot"}},
		{"no place", block(`kind = "cable-clip"`, "on   = leg.front_left", `face = "left"`, "at   = []"), ":25:", []string{"at names no place", "leave at out"}},
		{"a clip over the end", block(`kind = "cable-clip"`, "on   = leg.front_left", `face = "left"`, "at   = 2"), ":21:", []string{"reaches over the end of leg.front_left", "from 5 to 335"}},
		{"a cover over the end", block(`kind = "slot-cover"`, "on   = base.front_rail", `face = "front"`, "at   = 30", "set  = { length = 100 }"), ":21:", []string{"reaches over the end", "from 50 to 290"}},
		{"a cover longer than its bar", block(`kind = "slot-cover"`, "on   = base.front_rail", `face = "front"`, "set  = { length = 500 }"), ":21:", []string{"500 mm long, more than base.front_rail", "340 mm"}},
		{"a jig for bars without holes", block(`kind = "drill-jig"`, "on   = crown"), ":21:", []string{"finds no hole to drill"}},
		{"longer than the bed", "bracket \"x\" {\n  kind = \"slot-cover\"\n  on   = base.front_rail\n  face = \"front\"\n}\n", ":21:", []string{"220 × 220 × 250", "printing { bed"}},
		{"no such thread", block(`kind   = "cable-clip"`, "on     = leg", `face   = "left"`, `thread = "M9"`), ":25:", []string{"no thread \"M9\"", "M8, M10"}},
		{"one bar round a panel", "panel \"x\" {\n  held_by   = [base.front_rail]\n  thickness = 3\n}\n", ":22:", []string{"names 1 bar", "three or four"}},
		{"deeper than the slot", "panel \"x\" {\n  held_by    = base\n  thickness  = 3\n  engagement = 50\n}\n", ":21:", []string{"more than the slot", "9 mm deep"}},
		{"screwed and in slots", "panel \"x\" {\n  held_by    = base\n  thickness  = 3\n  screwed    = true\n  engagement = 4\n}\n", ":25:", []string{"engagement fights screwed", "leave one"}},
	} {
		path := filepath.Join(t.TempDir(), "it.hcl")
		if err := os.WriteFile(path, []byte(shelves+c.text), 0o644); err != nil {
			t.Fatal(err)
		}
		_, err := Open(path, nil)
		var d *frame.Diagnostics
		if !errors.As(err, &d) {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		var b strings.Builder
		if err := d.Format(&b, false, 500); err != nil {
			t.Fatal(err)
		}
		for _, w := range append(c.want, c.line) {
			if !strings.Contains(b.String(), w) {
				t.Errorf("%s: %q is not said: %s", c.name, w, &b)
			}
		}
	}
}

// A jig block may name bars without holes beside those that have some; two blocks on one end are told of with both their lines.
func TestPrintedBlocksBesideOthers(t *testing.T) {
	j := openText(t, shelves+"drill \"d\" {\n  on       = leg.front_left\n  face     = \"front\"\n  from     = \"top\"\n  distance = 200\n  diameter = 6.5\n}\n"+
		"bracket \"jigs\" {\n  kind = \"drill-jig\"\n  on   = [leg.front_left, crown]\n}\n")
	for _, p := range j.Printed {
		if p.Result.Kind != "drill-jig" || len(p.Result.Notes) == 0 {
			t.Errorf("a %s", p.Result.Kind)
		}
	}
	if len(j.Printed) == 0 {
		t.Error("no jig")
	}
	caps := "bracket \"one\" {\n  kind = \"end-cap\"\n  on   = leg\n  end  = \"top\"\n}\n"
	j = openText(t, shelves+caps+strings.Replace(caps, "one", "two", 1))
	found := 0
	for _, g := range j.Findings {
		if strings.Contains(g.Remedy, "lines 21 and 26 both ask") {
			found++
		}
	}
	if found != 4 {
		t.Errorf("%d of 4 ends that two caps take are told of", found)
	}
}
