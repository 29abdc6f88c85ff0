package frame

import (
	"errors"
	"strings"
	"testing"
)

const limitFrame = `
frame { profile = "30x30-8" }
member "a" {
  left   = 0
  right  = 500
  front  = 0
  bottom = 0
}
member "b" {
  profile = "40x40-10"
  left    = 0
  right   = 500
  front   = 100
  bottom  = a.top
}
`

func TestLimit(t *testing.T) {
	f, err := Parse("x.hcl", []byte(limitFrame+`
limit {
  sag        = 0.2
  frequency  = 30
  racking    = 12.5
  stress     = 0.5
  accelerate = [0.5, 0, -1]
  warm       = -20
}
`), Options{})
	if err != nil {
		t.Fatal(err)
	}
	l := f.Limit
	if l == nil || l.Sag != 0.2 || l.Frequency != 30 || l.Racking != 12.5 || l.Stress != 0.5 || l.Warm != -20 || l.Accelerate.X != 0.5 || l.Accelerate.Y != 0 || l.Accelerate.Z != -1 {
		t.Fatalf("read %+v", l)
	}
	if at := l.At("frequency").Start.Line; at != l.Origin.Start.Line+2 {
		t.Errorf("frequency stands on line %d, the block on line %d", at, l.Origin.Start.Line)
	}
	if f, err := Parse("x.hcl", []byte(limitFrame), Options{}); err != nil || f.Limit != nil {
		t.Errorf("without a block: %+v, %v", f.Limit, err)
	}
	for text, want := range map[string]string{
		`limit { sag = 0 }`:                    "must be more than 0",
		`limit { frequency = -3 }`:             "must be more than 0",
		`limit { stress = 50 }`:                "stress is more than 1",
		`limit { accelerate = [1, 2] }`:        "accelerate",
		`limit { accelerate = [200, 0, 0] }`:   "more than 100 g",
		`limit { warm = 1000 }`:                "more than 200 K",
		`limit { slack = 1 }`:                  "has no attribute",
		"limit { sag = 1 }\nlimit { sag = 2 }": "A second limit block",
	} {
		_, err := Parse("x.hcl", []byte(limitFrame+text), Options{})
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v; want %q", text, err, want)
		}
	}
}

func TestWithOtherProfiles(t *testing.T) {
	f, err := Parse("x.hcl", []byte(limitFrame), Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		swap Swap
		want [2]string
		top  float64 // of b: a's height under it and its own
	}{
		{Swap{"", "20x20-6"}, [2]string{"20x20-6", "40x40-10"}, 60},
		{Swap{"b", "30x30-8"}, [2]string{"30x30-8", "30x30-8"}, 60},
		{Swap{"a", "40x40-10"}, [2]string{"40x40-10", "40x40-10"}, 80},
	} {
		g, err := f.With(nil, []Swap{c.swap})
		if err != nil {
			t.Fatal(err)
		}
		if a, b := g.Member("a").Profile.Name, g.Member("b").Profile.Name; a != c.want[0] || b != c.want[1] || g.Member("b").Box.High.Z != c.top {
			t.Errorf("%+v: %s, %s, top %g; want %v, %g", c.swap, a, b, g.Member("b").Box.High.Z, c.want, c.top)
		}
		if g.Fingerprint == f.Fingerprint {
			t.Errorf("%+v: the fingerprint stayed", c.swap)
		}
	}
	for _, s := range []Swap{{"c", "30x30-8"}, {"", "31x31-8"}} {
		_, err := f.With(nil, []Swap{s})
		var set *SetError
		if !errors.As(err, &set) {
			t.Errorf("%+v: %v", s, err)
		}
	}
}
