package frame

import (
	"strings"
	"testing"
)

func TestAllow(t *testing.T) {
	f := parse(t, `frame {
  profile = "30x30-8"
  allow   = ["lift"]
  reason  = "two of us"
}
posts "leg" {
  left   = 0
  right  = 600
  front  = 0
  back   = 400
  bottom = 0
  top    = 500
  allow  = ["loose-end", "twin-trap"]
  reason = "they stand on the floor"
}
ring "top" {
  within = leg
  top    = leg.top
}
joint {
  between = [top, leg.front_left]
  with    = "end-screw"
  allow   = ["key-blocked"]
  reason  = "a ball key does"
}
`)
	if len(f.Allowances) != 3 {
		t.Fatalf("%d allowances; want 3", len(f.Allowances))
	}
	// In the order in which they are read: joints, the frame, bars.
	joint, all, legs := f.Allowances[0], f.Allowances[1], f.Allowances[2]
	for _, c := range []struct {
		a       *Allowance
		members string
		want    bool
	}{
		{all, "", true}, {all, "leg.front_left", true},
		{legs, "leg.front_left top.front_rail", true}, {legs, "top.front_rail", false}, {legs, "", false},
		{joint, "top.front_rail leg.front_left", true}, {joint, "top.front_rail leg.front_right", false}, {joint, "leg.front_left", false},
	} {
		if got := c.a.Fits(strings.Fields(c.members)); got != c.want {
			t.Errorf("%v fits %q: %v; want %v", c.a.Rules, c.members, got, c.want)
		}
	}
	if legs.Reason != "they stand on the floor" || legs.Rules[1] != "twin-trap" || joint.Origin.Start.Line != 23 {
		t.Errorf("%+v %+v", legs, joint)
	}
}

func TestAllowErrors(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{`allow = ["lift"]`, "allow needs a reason"},
		{`reason = "because"`, "reason is for allow"},
		{`allow = ["lifts"]` + "\n" + `reason = "x"`, `There is no rule "lifts"`},
		{`allow = "lift"` + "\n" + `reason = "x"`, "list"},
	} {
		_, err := Parse("test.hcl", []byte("member \"a\" {\n  profile = \"30x30-8\"\n  left = 0\n  right = 100\n  front = 0\n  bottom = 0\n"+c.text+"\n}\n"), Options{})
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v; want %q", c.text, err, c.want)
		}
	}
}
