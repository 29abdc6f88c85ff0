package job

import (
	"math"
	"strings"
	"testing"
)

// Rails flush with the posts' tops have the heads of their end screws 15 mm under the tops: ISO 7380-1 M8, at most 14 mm wide. The tongues
// of a cap end half a millimetre before them (the project's own figure), 10 mm deep elsewhere; a depth that is given holds.
func TestCapsEndBeforeScrewHeads(t *testing.T) {
	text := "bracket \"cap\" {\n  kind = \"end-cap\"\n  on   = leg\n  end  = \"END\"\nSET}\n"
	for _, c := range []struct {
		end, set string
		tongue   float64
		crowded  bool
	}{
		{"top", "", 15 - 7 - 0.5, false},
		{"bottom", "", 10, false},
		{"top", "  set  = { depth = 10 }\n", 10, true},
	} {
		j := openText(t, shelves+strings.NewReplacer("END", c.end, "SET", c.set).Replace(text))
		r := j.Printed[0].Result
		if got := r.Size.Z - r.Wall; math.Abs(got-c.tongue) > 1e-3 {
			t.Errorf("%s %s: tongues %g deep, want %g", c.end, c.set, got, c.tongue)
		}
		crowded := false
		for _, g := range j.Findings {
			crowded = crowded || g.Rule == "slot-crowded"
		}
		if crowded != c.crowded {
			t.Errorf("%s %s: crowded slots %v", c.end, c.set, crowded)
		}
	}
}
