package job

import (
	"bytes"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"barwright/assembly"
	"barwright/check"
	"barwright/frame"
)

// stand is a table with every kind of printed part that the guide tells of.
const stand = `
frame { profile = "30x30-8" }
posts "leg" {
  left   = 0
  right  = 600
  front  = 0
  back   = 500
  bottom = 0
  top    = 700
}
ring "base" {
  within = leg
  bottom = 100
}
ring "crown" {
  within = leg
  bottom = 200
}
joint {
  between = [leg, base]
  with    = "printed-corner"
}
joint {
  between = [leg, crown]
  with    = "printed-angle"
}
bracket "pads" {
  kind = "foot-pad"
  on   = leg
  end  = "bottom"
}
bracket "caps" {
  kind = "end-cap"
  on   = leg
  end  = "top"
}
bracket "covers" {
  kind = "slot-cover"
  on   = leg.front_left
  face = "left"
  at   = 400
  set  = { length = 120 }
}
bracket "heights" {
  kind  = "spacer"
  on    = leg
  under = [base, crown]
}
bracket "right angle" {
  kind = "square"
  on   = leg
}
`

// The order of building names every printed part by its mark, once for each place, and the gauges where they are used.
func TestStepsNamePrintedParts(t *testing.T) {
	j := openText(t, stand)
	p, err := j.Plan(StepsOptions{})
	if err != nil {
		t.Fatal(err)
	}
	placed := map[string]int{}
	var order []assembly.Kind
	p.Each(func(s *assembly.Step) {
		for _, f := range s.Printed {
			placed[f.Mark]++
			if !strings.Contains(s.Line(), f.Name()) {
				t.Errorf("step %d puts on %s and does not name it", s.Number, f.Name())
			}
		}
		if len(s.Printed) > 0 && s.Kind != assembly.Place {
			order = append(order, s.Kind)
		}
	})
	for _, part := range j.Printed {
		if len(part.Places) > 0 && placed[part.Mark] != part.Quantity {
			t.Errorf("%s %s: %d are put on, %d are made", part.Mark, part.Result.Kind, placed[part.Mark], part.Quantity)
		}
	}
	if len(order) == 0 || order[len(order)-1] != assembly.Fit || slices.Contains(order[:len(order)-1], assembly.Fit) {
		t.Errorf("kinds of steps with parts: %v; caps and covers come last", order)
	}
	var text bytes.Buffer
	WriteSteps(&text, p)
	for _, want := range []string{"standing on base.", "level with the post's lower end: it sets base.", " 100 mm over that", " 70 mm over that", "printed square", "printed slot cover", "printed inside corner", "printed angle"} {
		if !strings.Contains(text.String(), want) {
			t.Errorf("the steps do not say %q", want)
		}
	}
	if strings.Contains(text.String(), "angle bracket") {
		t.Error("the steps speak of angle brackets; there are none")
	}
}

// A spacer is as high as from what it stands on to the rail: 100 mm from the post's end to the base, and 70 from the base's top at 130 to the
// crown at 200.
func TestSpacerHeights(t *testing.T) {
	j := openText(t, stand)
	var got []float64
	for _, f := range j.Frame.Gauges("spacer") {
		for _, s := range f.Sets {
			got = append(got, s.Height)
		}
	}
	slices.Sort(got)
	if len(got) != 16 || got[0] != 70 || got[7] != 70 || got[8] != 100 || got[15] != 100 {
		t.Errorf("heights %v; want eight of 70 and eight of 100", got)
	}
	sizes := map[float64]bool{}
	for _, p := range j.Printed {
		if p.Result.Kind == "spacer" {
			sizes[max(p.Result.Size.X, p.Result.Size.Y, p.Result.Size.Z)] = true
		}
	}
	if !sizes[70] || !sizes[100] {
		t.Errorf("spacers are printed %v mm long", sizes)
	}
}

// Posts that end at different heights leave pads off level, which a caster's height or a thicker pad makes up.
func TestPadsOffLevel(t *testing.T) {
	find := func(text string) []check.Finding {
		var out []check.Finding
		for _, g := range openText(t, text).Findings {
			if g.Rule == "uneven-feet" {
				out = append(out, g)
			}
		}
		return out
	}
	if got := find(stand); len(got) != 0 {
		t.Errorf("level pads give %v", got)
	}
	uneven := strings.Replace(stand, "top    = 700\n", "top    = 700\n  bottoms = { back_left = 6 }\n", 1)
	got := find(uneven)
	if len(got) != 1 || got[0].Severity != check.Error || !strings.Contains(got[0].Message, "6 mm over") || got[0].Origin.Start.Line == 0 || got[0].Members[0] != "leg.back_left" {
		t.Errorf("a pad 6 mm high gives %v", got)
	}
	pads := "bracket \"pads\" {\n  kind = \"foot-pad\"\n  on   = leg\n"
	thicker := strings.Replace(uneven, pads, "bracket \"high\" {\n  kind = \"foot-pad\"\n  on   = leg.back_left\n  end  = \"bottom\"\n  wall = 20\n}\n"+
		strings.Replace(pads, "on   = leg", "wall = 14\n  on   = [leg.front_left, leg.front_right, leg.back_right]", 1), 1)
	if got := find(thicker); len(got) != 0 {
		t.Errorf("a pad 6 mm thicker under that post gives %v", got)
	}
	allowed := strings.Replace(uneven, `{ profile = "30x30-8" }`, "{\n profile = \"30x30-8\"\n allow = [\"uneven-feet\"]\n reason = \"a step in the floor\"\n}", 1)
	if got := find(allowed); len(got) != 1 || got[0].Allowed == "" {
		t.Errorf("allowed: %v", got)
	}
}

// The floor lies under the pads, whose walls are as thick as they are stated, unless the file says where it is.
func TestFloorUnderPads(t *testing.T) {
	walled := strings.Replace(stand, "kind = \"foot-pad\"\n", "kind = \"foot-pad\"\n  wall = 20\n", 1)
	j := openText(t, walled)
	if got := j.Frame.Floor; math.Abs(got+20) > 1e-9 {
		t.Errorf("the floor lies at %g; want -20", got)
	}
	if got := Size(j.Frame).Z; math.Abs(got-(j.Frame.Box().Size().Z+20)) > 1e-9 {
		t.Errorf("the frame is %g high; want the pads' 20 more than its bars", got)
	}
	said := strings.Replace(walled, `{ profile = "30x30-8" }`, "{\n profile = \"30x30-8\"\n floor = -5\n}", 1)
	if got := openText(t, said).Frame.Floor; got != -5 {
		t.Errorf("the floor lies at %g; the file says -5", got)
	}
}

// Findings of limits are allowed by name like those of the design rules, and come last.
func TestAllowedLimit(t *testing.T) {
	text := strings.Replace(stand, `{ profile = "30x30-8" }`, "{\n profile = \"30x30-8\"\n allow = [\"limit-racking\"]\n reason = \"the wall holds it\"\n}\nlimit {\n racking = 1e5\n}", 1)
	j := openText(t, text)
	n := 0
	for i, g := range j.Findings {
		if g.Rule == "limit-racking" {
			n++
			if g.Allowed != "the wall holds it" {
				t.Errorf("not allowed: %+v", g)
			}
		} else if i > 0 && j.Findings[i-1].Allowed != "" && g.Allowed == "" {
			t.Error("an allowed finding does not come last")
		}
	}
	if n == 0 {
		t.Error("no limit is broken")
	}
	var names []string
	for _, r := range LimitRules() {
		names = append(names, r.Name)
	}
	if !slices.Equal(names, frame.LimitRuleNames()) {
		t.Errorf("the frame file knows %v, the rules are %v", frame.LimitRuleNames(), names)
	}
}

// A spacer that finds no rail, or that is given a height too, is refused with its line.
func TestSpacerErrors(t *testing.T) {
	for _, c := range []struct{ old, new, want string }{
		{"under = [base, crown]", "under = leg", "finds no rail"},
		{"under = [base, crown]", "under = base\n  set = { height = 20 }", "fights under"},
		{"kind = \"square\"\n", "kind = \"square\"\n  under = base\n", "Only a spacer"},
	} {
		path := filepath.Join(t.TempDir(), "it.hcl")
		if err := os.WriteFile(path, []byte(strings.Replace(stand, c.old, c.new, 1)), 0o644); err != nil {
			t.Fatal(err)
		}
		if _, err := Open(path, nil); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v; want %q", c.new, err, c.want)
		}
	}
}
