package assembly_test

import (
	"strings"
	"testing"

	"barwright/assembly"
	"barwright/frame"
)

// Frames that are hardly frames: whatever a file can hold gets a plan or a reason, never a panic.
func TestOddFrames(t *testing.T) {
	bar := func(name, place string) string {
		return "member \"" + name + "\" {\n" + place + "\n}\n"
	}
	head := "frame { profile = \"30x30-8\" }\n"
	for name, text := range map[string]string{
		"one bar":            head + bar("a", "left = 0\nright = 300\nfront = 0\nbottom = 0"),
		"two apart":          head + bar("a", "left = 0\nright = 300\nfront = 0\nbottom = 0") + bar("b", "left = 0\nright = 300\nfront = 200\nbottom = 0"),
		"same place twice":   head + bar("a", "left = 0\nright = 300\nfront = 0\nbottom = 0") + bar("b", "left = 0\nright = 300\nfront = 0\nbottom = 0"),
		"end to end":         head + bar("a", "left = 0\nright = 300\nfront = 0\nbottom = 0") + bar("b", "left = 300\nright = 600\nfront = 0\nbottom = 0"),
		"four posts":         standing,
		"all travel":         head + bar("a", "left = 0\nright = 300\nfront = 0\nbottom = 0") + "group \"g\" {\n members = [a]\n travel = { along = \"z\", from = 0, to = 100 }\n}\n",
		"order of one":       head + bar("a", "left = 0\nright = 300\nfront = 0\nbottom = 0") + "assembly { order = [a] }\n",
		"order apart":        standing + "assembly { order = [leg] }\n",
		"no joining":         standing + "ring \"r\" {\n within = leg\n bottom = 100\n joining = \"none\"\n}\n",
		"feet under nothing": strings.Replace(standing, "bottom = 0", "bottom = 40", 1) + "foot {\n under = leg\n thread = \"M8\"\n}\n",
		"brace":              standing + "ring \"r\" {\n within = leg\n bottom = 100\n}\nbrace \"b\" {\n from = { on = leg.front_left, at = 500 }\n to = { on = r.left_rail, at = 250 }\n}\n",
	} {
		t.Run(name, func(t *testing.T) {
			f, err := frame.Parse("odd.hcl", []byte(text), frame.Options{})
			if err != nil {
				t.Fatalf("no frame: %v", err)
			}
			p, err := assembly.New(f, assembly.Options{})
			if err != nil {
				t.Fatal(err)
			}
			if p.Locked != nil {
				if len(p.Locked.Members) == 0 || p.Locked.Remedy == "" {
					t.Errorf("locked without a reason: %+v", p.Locked)
				}
				return
			}
			added := 0
			for _, s := range p.Steps {
				added += len(s.Add)
			}
			if added != len(f.Members) {
				t.Errorf("%d of %d bars go in", added, len(f.Members))
			}
			for _, m := range f.Members {
				if _, err := assembly.New(f, assembly.Options{From: m.Name}); err != nil {
					t.Error(err)
				}
			}
		})
	}
}
