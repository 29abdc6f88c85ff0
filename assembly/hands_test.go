package assembly_test

import (
	"strings"
	"testing"

	"barwright/assembly"
	"barwright/frame"
)

// What stands on a narrow strip or a single tip is held by a second person while its screws are turned, a post that sticks out
// level from one joint is propped up, and a rail that slides down
// more than a metre of two posts is kept level; a ring that rests on four posts stays by itself (common practice, no source).
func TestSecondPairOfHands(t *testing.T) {
	f, err := frame.Load("../examples/foam-cutter/frame.hcl", frame.Options{})
	if err != nil {
		t.Fatal(err)
	}
	p, err := assembly.New(f, assembly.Options{})
	if err != nil {
		t.Fatal(err)
	}
	want := map[string]string{
		"Add the cross frame of base":            "holds it until the screws bite",
		"Add leg.front_right and leg.front_left": "prop up its free end",
		"Add base.front_rail":                    "keeps both ends level",
		"Add the crown":                          "",
		"Add base.right_rail and base.left_rail": "",
		"Add crown.right_rail":                   "",
	}
	seen := 0
	p.Each(func(s *assembly.Step) {
		words, ok := want[s.Headline()]
		if !ok {
			return
		}
		seen++
		if words == "" && strings.Contains(s.Line(), "second pair of hands") || words != "" && !strings.Contains(s.Line(), words) {
			t.Errorf("%s: wanted %q: %s", s.Headline(), words, s.Line())
		}
	})
	if seen != len(want) {
		t.Errorf("%d of %d steps are in the plan", seen, len(want))
	}
}
