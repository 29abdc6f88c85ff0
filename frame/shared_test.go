package frame

import (
	"errors"
	"math"
	"strings"
	"testing"

	"barwright/geom"
)

// table is four posts and a ring at their middle, with a bar across that two others butt.
const sharedTable = `
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
  bottom = 200
}
member "mid" {
  left   = base.left_rail.right
  right  = base.right_rail.left
  mid_y  = 250
  bottom = 200
}
member "fore" {
  mid_x  = 300
  front  = base.front_rail.back
  back   = mid.front
  bottom = 200
}
member "aft" {
  mid_x  = 300
  front  = mid.back
  back   = base.back_rail.front
  bottom = 200
}
`

// jointsOf counts the joints between members whose names begin so, by joining.
func jointsOf(f *Frame, a, b string) map[string]int {
	out := map[string]int{}
	for _, j := range f.Joints {
		n, m := j.A.Name, j.B.Name
		if strings.HasPrefix(n, a) && strings.HasPrefix(m, b) || strings.HasPrefix(n, b) && strings.HasPrefix(m, a) {
			out[j.With.Name]++
		}
	}
	return out
}

// Two joints by printed plates on one line share one cross, whose place is where the axes meet on the common face.
func TestPlatesOnOneLineShareACross(t *testing.T) {
	f := parse(t, sharedTable+`joint {
  between = [mid, fore]
  with    = "printed-plate"
}
joint {
  between = [mid, aft]
  with    = "printed-plate"
}`)
	if len(f.Shared) != 1 || f.Shared[0].Kind != crossPlate || len(f.Shared[0].Joints) != 2 {
		t.Fatalf("shared parts %+v; want one cross that serves two joints", f.Shared)
	}
	s := f.Shared[0]
	if s.Bars[0].Name != "mid" || s.Name() != "mid, fore and aft" {
		t.Errorf("the cross lies over %s", s.Name())
	}
	if m := s.Mount; math.Abs(m.T.X-300) > 1e-9 || math.Abs(m.T.Y-250) > 1e-9 || math.Abs(math.Abs(m.EZ.Z)-1) > 1e-9 || math.Abs(m.EX.Cross(m.EY).Dot(m.EZ)-1) > 1e-9 {
		t.Errorf("mount %+v; want the crossing at 300, 250 in right-handed axes", m)
	}
	n := map[string]int{}
	for _, j := range s.Joints {
		for _, x := range j.Fasteners {
			n[x.TipIn.Name]++
		}
	}
	if n["mid"] != 2 || n["fore"] != 2 || n["aft"] != 2 {
		t.Errorf("screws %v; those of the bar that runs through are counted once", n)
	}
}

// A single printed plate stays a plate of its own.
func TestOnePlateIsNotShared(t *testing.T) {
	f := parse(t, sharedTable+`joint {
  between = [mid, fore]
  with    = "printed-plate"
}`)
	if len(f.Shared) != 0 {
		t.Errorf("%d shared parts", len(f.Shared))
	}
}

// Rails that butt a post at one corner share a three-way corner; its x, y and z run away from the corner along the three bars, and the
// ends get no taps.
func TestPrintedCornerServesBothRails(t *testing.T) {
	f := parse(t, sharedTable+`joint {
  between = [leg, base]
  with    = "printed-corner"
}`)
	if len(f.Shared) != 4 || jointsOf(f, "leg", "base")[PrintedCorner] != 8 {
		t.Fatalf("%d corners, joints %v; want 4 that serve 8", len(f.Shared), jointsOf(f, "leg", "base"))
	}
	for _, s := range f.Shared {
		if s.Kind != insideCorner || len(s.Joints) != 2 || !strings.HasPrefix(s.Bars[2].Name, "leg.") {
			t.Errorf("%s at %s serves %d joints", s.Kind, s.Name(), len(s.Joints))
		}
		for k, d := range []geom.Vec{s.Mount.EX, s.Mount.EY} {
			if away := s.Bars[k].Box.Centre().Sub(s.Mount.T); away.Dot(d) <= 0 {
				t.Errorf("%s: axis %d does not run along %s", s.Name(), k, s.Bars[k].Name)
			}
		}
		for _, j := range s.Joints {
			if j.Corner == nil || len(j.Fasteners) != 2 || j.Shared != s {
				t.Errorf("%s on %s: corner %v, %d screws", j.A.Name, j.B.Name, j.Corner, len(j.Fasteners))
			}
		}
	}
	for _, m := range f.Members {
		if strings.HasPrefix(m.Name, "base.") && len(m.Bar.Taps) > 0 {
			t.Errorf("%s is tapped", m.Name)
		}
	}
}

// The corner of a ring on top of posts: the post butts one rail and that rail's neighbour butts it.
func TestPrintedCornerUnderALid(t *testing.T) {
	f := parse(t, `
frame {
  profile = "30x30-8"
  joining = "printed-corner"
}
posts "leg" {
  left   = 0
  right  = 600
  front  = 0
  back   = 500
  bottom = 0
  top    = 700
}
ring "lid" {
  left    = 0
  right   = 600
  front   = 0
  back    = 500
  bottom  = 700
  corners = "pinwheel"
}`)
	if len(f.Shared) != 4 || len(f.Joints) != 8 {
		t.Fatalf("%d corners serve %d joints; want 4 and 8", len(f.Shared), len(f.Joints))
	}
	for _, s := range f.Shared {
		at := s.Mount.T
		if at.Z != 700 || at.X != 30 && at.X != 570 || at.Y != 30 && at.Y != 470 {
			t.Errorf("%s: at %v; want it where the inner faces of the three meet", s.Name(), at)
		}
		bars := map[string]int{}
		for _, j := range s.Joints {
			for _, x := range j.Fasteners {
				bars[x.TipIn.Name]++
			}
		}
		if len(bars) != 3 {
			t.Errorf("%s: screws in %v; want all three bars held", s.Name(), bars)
		}
	}
}

// Where no third bar meets, the frame's other joining serves, and the contact says why.
func TestPrintedCornerNeedsThreeBars(t *testing.T) {
	f := parse(t, sharedTable+`joint {
  between = [base, mid]
  with    = "printed-corner"
}`)
	if n := jointsOf(f, "base", "mid"); n["angle-bracket"] != 2 || len(f.Shared) != 0 {
		t.Errorf("joints %v, %d corners", n, len(f.Shared))
	}
	for _, c := range f.Contacts {
		if c.A.Name == "mid" && !strings.Contains(c.Misfit, "printed-angle") {
			t.Errorf("misfit %q; want what to use instead", c.Misfit)
		}
	}
}

// A bracket block chooses the joining of the bars that its parts hold; a joint block further down wins over it, and one before does not.
func TestBlocksOfSharedPartsChooseTheJoining(t *testing.T) {
	const corners = `bracket "c" {
  kind = "corner-inside"
  on   = [leg, base]
  face = "top"
}
`
	const screws = `joint {
  between = [leg, base]
  with    = "end-screw"
}
`
	for _, c := range []struct {
		text   string
		joints int
	}{{corners, 8}, {screws + corners, 8}, {corners + screws, 0}} {
		f := parse(t, sharedTable+c.text)
		if n := jointsOf(f, "leg", "base")[PrintedCorner]; n != c.joints || len(f.Shared) != 4 {
			t.Errorf("%d joints by corner, %d corners; want %d and 4 after\n%s", n, len(f.Shared), c.joints, c.text)
		}
		for _, s := range f.Shared {
			if s.Mount.EZ.Z != 1 {
				t.Errorf("%s: z is %v; want it on top of the rails", s.Name(), s.Mount.EZ)
			}
		}
	}
	f := parse(t, sharedTable+`bracket "x" {
  kind = "plate-cross"
  on   = [mid, fore, aft]
  face = "top"
}`)
	if n := jointsOf(f, "mid", "fore")[PrintedPlate] + jointsOf(f, "mid", "aft")[PrintedPlate]; n != 2 || len(f.Shared) != 1 {
		t.Errorf("%d joints by the cross, %d parts", n, len(f.Shared))
	}
}

// Blocks that find no place say so, with the line and what to use.
func TestSharedPartsWithoutPlace(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"bracket \"c\" {\n  kind = \"corner-inside\"\n  on   = [mid, base]\n}", "kind = \"angle\""},
		{"bracket \"x\" {\n  kind = \"plate-cross\"\n  on   = [mid, fore]\n  face = \"top\"\n}", "three"},
		{"bracket \"x\" {\n  kind = \"plate-cross\"\n  on   = [fore, mid, aft]\n  face = \"top\"\n}", "square to the first bar"},
	} {
		_, err := Parse("it.hcl", []byte(sharedTable+c.text), Options{})
		var d *Diagnostics
		if !errors.As(err, &d) || len(d.List) != 1 || !strings.Contains(d.List[0].Summary+d.List[0].Detail, c.want) || d.List[0].Subject.Start.Line != 33 {
			t.Errorf("%s\ngives %v; want %q at line 33", c.text, err, c.want)
		}
	}
}
