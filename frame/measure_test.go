package frame

import (
	"math"
	"slices"
	"testing"

	"barwright/geom"
)

func near3(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if math.Abs(got-want) > tol {
		t.Errorf("%s: %.4f; want %.4f", what, got, want)
	}
}

// By hand: √(600² + 400²) = 721.1; inside 540 × 340 has √(540² + 340²) = 638.1. A lean of 0.1° makes the diagonals of 600 × 400
// differ by 2·600·400·sin 0.1°/721.1 = 1.16 mm. ISO 2768-1 table 3, class m, shorter side over 120 up to 400: 0°10′,
// which is 1.94 mm.
func TestRingRectangle(t *testing.T) {
	f := parse(t, head+`
ring "r" {
  left = 0
  right = 600
  front = 0
  back = 400
  bottom = 0
}
`)
	list := f.Rectangles()
	if len(list) != 1 || list[0].Name != "r" {
		t.Fatalf("%d rectangles; want one, of r", len(list))
	}
	r := list[0]
	near3(t, "width", r.Outer[0], 600, 1e-9)
	near3(t, "depth", r.Outer[1], 400, 1e-9)
	near3(t, "inner width", r.Inner[0], 540, 1e-9)
	near3(t, "outer diagonal", r.OuterDiagonal, 721.11, 0.005)
	near3(t, "inner diagonal", r.InnerDiagonal, 638.12, 0.005)
	near3(t, "squareness", r.Square, 1.16, 0.005)
	near3(t, "general", r.General, 1.94, 0.005)
	for i, c := range r.Corner {
		if c != SharpCorner {
			t.Errorf("corner %d is %v; want a sawn one", i, c)
		}
	}
}

// Between posts the outer corners are the posts' rounded edges: each takes r·((p + q)/√(p² + q²) − 1) off the diagonal,
// with r = 1.5 on a square 2·1.5·0.414 = 1.24 mm.
func TestPostRectangle(t *testing.T) {
	f := parse(t, head+`
posts "leg" {
  left = 0
  right = 500
  front = 0
  back = 500
  bottom = 0
  top = 700
}
ring "low" {
  within = leg
  bottom = 100
}
ring "top" {
  within = leg
  top = leg.top
}
`)
	list := f.Rectangles()
	byKind := map[string]int{}
	for _, r := range list {
		byKind[r.U.String()+r.V.String()]++
		if r.Name == "low" {
			near3(t, "outer", r.Outer[0], 500, 1e-9)
			near3(t, "diagonal", r.OuterDiagonal, 707.107-1.243, 0.005)
			if r.InnerDiagonal != 0 || r.Corner[0] != PostCorner {
				t.Errorf("posts stand in the corners: %+v", r)
			}
		}
	}
	// Two rings lie; four sides stand, each of two posts and two rails. Posts run past the lower rails, so that only the
	// inside can be measured: 440 × 540 has 696.6.
	if len(list) != 6 || byKind["xy"] != 2 {
		t.Fatalf("%d rectangles, %v; want 6, 2 of them lying", len(list), byKind)
	}
	for _, r := range list {
		if r.Name == "" {
			near3(t, "side inside", r.InnerDiagonal, 696.56, 0.01)
			if r.OuterDiagonal != 0 {
				t.Errorf("a side has no outer corner at its lower rail: %+v", r)
			}
		}
	}
}

// A ladder of n slats between two rails makes n − 1 openings, and the whole.
func TestLadderRectangles(t *testing.T) {
	f := parse(t, head+`
member "a" {
  left = 0
  right = 1000
  front = 0
  bottom = 0
}
member "b" {
  left = 0
  right = 1000
  back = 400
  bottom = 0
}
row "slat" {
  count = 5
  front = a.back
  back = b.front
  bottom = 0
  first = { mid_x = 100 }
  last = { mid_x = 900 }
}
`)
	if n := len(f.Rectangles()); n != 5 {
		t.Errorf("%d rectangles; want 4 openings and the whole", n)
	}
}

// By hand: bars without machining weigh as their length. A post of 600 at the corner of a base of two bars of 400:
// the centre is the mean of the middles, weighted by length. Area of 30x30-8 times 2.7 g/cm³ is the mass per metre.
func TestBalance(t *testing.T) {
	f := parse(t, head+`
joining "bare" { base = "none" }
member "a" {
  left = 0
  right = 400
  front = 0
  bottom = 0
  joining = "none"
}
member "b" {
  left = 0
  right = 400
  back = 400
  bottom = 0
  joining = "none"
}
member "post" {
  mid_x = 200
  front = 0
  bottom = 30
  top = 630
  joining = "none"
}
mass "top" {
  kg = 1
  on = post
  at = 600
  offset = [0, 0, 70]
}
`)
	b := f.Balance()
	perMM := f.Members[0].Part.Mass / 400
	near3(t, "bars", b.Bars, 1400*perMM, 1e-9)
	near3(t, "carried", b.Carried, 1, 0)
	kg := 1400*perMM + 1
	near3(t, "x", b.Centre.X, 200, 1e-9)
	near3(t, "y", b.Centre.Y, (400*perMM*15+400*perMM*385+600*perMM*15+15)/kg, 1e-9)
	near3(t, "z", b.Centre.Z, (800*perMM*15+600*perMM*330+700)/kg, 1e-9)
	// It stands on the two bars: 0 to 400 both ways, and falls first to the front, where the centre lies nearest.
	near3(t, "tip", b.Tip, math.Atan2(b.Centre.Y, b.Centre.Z), 1e-9)
	if DirectionName(b.TipTo) != "front" {
		t.Errorf("tips to %v; want the front", b.TipTo)
	}
}

// A frame whose centre lies beyond its feet falls over where it stands: its angle is negative.
func TestBalanceBeyondFeet(t *testing.T) {
	f := parse(t, head+`
member "a" {
  left = 0
  right = 1000
  front = 0
  bottom = 100
}
member "b" {
  left = 0
  right = 1000
  front = 200
  bottom = 100
}
foot {
  under = [a, b]
  at = [60, 300]
}
`)
	if b := f.Balance(); !(b.Tip < 0) || DirectionName(b.TipTo) != "right" {
		t.Errorf("tip %g to %v; want less than nothing, to the right", b.Tip, b.TipTo)
	}
}

// Printed pads and casters carry as feet do, some posts on the one, some on the other.
func TestBalanceOnPads(t *testing.T) {
	f := parse(t, head+`
posts "leg" {
  left   = 0
  right  = 500
  front  = 0
  back   = 400
  bottom = 0
  top    = 600
}
ring "base" {
  within = leg
  bottom = 100
}
bracket "pads" {
  kind = "foot-pad"
  on   = [leg.front_left, leg.front_right]
  end  = "bottom"
}
bracket "casters" {
  kind = "caster-plate"
  on   = [leg.back_left, leg.back_right]
  end  = "bottom"
}
`)
	b := f.Balance()
	// The posts' axes stand half a section inside, and the frame is symmetric.
	if want := []geom.Vec2{{X: 15, Y: 15}, {X: 485, Y: 15}, {X: 485, Y: 385}, {X: 15, Y: 385}}; !slices.Equal(b.Stands, want) {
		t.Errorf("it stands on %v; want %v", b.Stands, want)
	}
	near3(t, "tip", b.Tip, math.Atan2(185, b.Centre.Z), 1e-9)
}
