package frame

import (
	"errors"
	"math"
	"strconv"
	"strings"
	"testing"

	"barwright/geom"
	"barwright/standard"
)

// parse reads a frame from text or fails the test.
func parse(t *testing.T, text string) *Frame {
	t.Helper()
	f, err := Parse("test.hcl", []byte(text), Options{})
	if err != nil {
		t.Fatal(err)
	}
	return f
}

const head = `frame {
  title   = "test"
  profile = "30x30-8"
  joining = "end-screw"
}
`

// fasteners counts the screws of one standard.
func fasteners(f *Frame, standard string) int {
	n := 0
	for _, j := range f.Joints {
		for _, s := range j.Fasteners {
			if s.Standard == standard {
				n++
			}
		}
	}
	return n
}

// Common practice, no source: every builder counts so.
func TestRectangleWithCrossBar(t *testing.T) {
	f := parse(t, head+`
ring "r" {
  left = 0
  right = 600
  front = 0
  back = 400
  bottom = 0
  corners = "x-through"
}
member "mid" {
  front = r.front_rail.back
  back  = r.back_rail.front
  mid_x = 300
  bottom = 0
}
`)
	if len(f.Members) != 5 || len(f.Joints) != 6 || fasteners(f, "ISO 7380-1") != 6 {
		t.Fatalf("%d members, %d joints, %d end-screw sets; want 5, 6, 6", len(f.Members), len(f.Joints), fasteners(f, "ISO 7380-1"))
	}
	if h := f.Hardware; len(h) != 1 || h[0].Quantity != 6 || h[0].Size != "M8x20" || h[0].Standard != "ISO 7380-1" {
		t.Errorf("hardware %+v; want 6 of ISO 7380-1 M8x20", h)
	}
	mid := f.Member("mid")
	if len(mid.Bar.Taps) != 2 || len(mid.Bar.Holes) != 0 || mid.Length() != 340 {
		t.Errorf("cross bar: %d taps, %d holes, length %g; want 2, 0, 340", len(mid.Bar.Taps), len(mid.Bar.Holes), mid.Length())
	}
	// The access holes of the front rail lie on the axes of the three bars that butt it.
	front := f.Member("r.front_rail")
	want := []float64{15, 300, 585}
	if len(front.Bar.Holes) != 3 {
		t.Fatalf("front rail has %d holes; want 3", len(front.Bar.Holes))
	}
	for i, h := range front.Bar.Holes {
		if math.Abs(h.Z-want[i]) > 1e-9 || h.Offset != 0 || h.Diameter != 7 || !h.Through() || h.Purpose != Access {
			t.Errorf("hole %d: %+v; want an access hole ⌀7 through at %g", i, h, want[i])
		}
		// The key enters from outside: from the front, away from the butting bars.
		if n := DirectionName(front.SideNormal(h.Side)); n != "front" {
			t.Errorf("hole %d is entered from the %s; want front", i, n)
		}
	}
}

// Common practice, no source.
func TestPinwheel(t *testing.T) {
	for _, c := range []struct {
		name        string
		right, back float64
		parts       int
	}{{"square", 500, 500, 1}, {"oblong", 500, 400, 2}} {
		t.Run(c.name, func(t *testing.T) {
			f := parse(t, head+`
ring "r" {
  left = 0
  right = `+ftoa(c.right)+`
  front = 0
  back = `+ftoa(c.back)+`
  bottom = 0
  corners = "pinwheel"
}
`)
			if len(f.Parts) != c.parts {
				t.Errorf("%d parts; want %d", len(f.Parts), c.parts)
			}
			if len(f.Members) != 4 || len(f.Joints) != 4 {
				t.Fatalf("%d members, %d joints; want 4, 4", len(f.Members), len(f.Joints))
			}
			for _, m := range f.Members {
				b := m.Bar
				if len(b.Taps) != 1 || len(b.Holes) != 1 {
					t.Fatalf("%s has %d taps and %d holes; want one of each", m.Name, len(b.Taps), len(b.Holes))
				}
				tapped, hole := float64(b.Taps[0].End)*b.Length, b.Holes[0].Z
				if math.Abs(math.Abs(tapped-hole)-(b.Length-15)) > 1e-9 {
					t.Errorf("%s: tap at %g and hole at %g of %g; want them at opposite ends", m.Name, tapped, hole, b.Length)
				}
			}
		})
	}
}

func TestMirrorPairAndTurnedBar(t *testing.T) {
	text := head + `
member "a" {
  left = 0
  right = 300
  front = 0
  bottom = 0
}
member "b" {
  left = 0
  right = 300
  front = 200
  bottom = 0
}
`
	drill := func(name, on, face, from, at, offset string) string {
		return `
drill "` + name + `" {
  on = [` + on + `]
  face = "` + face + `"
  from = "` + from + `"
  distance = ` + at + `
  offset = ` + offset + `
  diameter = 5
  depth = 12
}
`
	}
	// A blind hole 60 from one end, off the middle: its mirror image cannot be turned into it.
	f := parse(t, text+drill("p", "a", "top", "left", "60", "4")+drill("q", "b", "top", "left", "60", "-4"))
	if len(f.Parts) != 2 || f.Parts[0].Twin != f.Parts[1] || f.Parts[1].Twin != f.Parts[0] {
		t.Errorf("mirror images: %d parts, twins %v; want two twins", len(f.Parts), f.Parts[0].Twin != nil)
	}
	// The same bar turned end for end about a line across: the offset changes side in the frame.
	f = parse(t, text+drill("p", "a", "top", "left", "60", "4")+drill("q", "b", "top", "right", "60", "-4"))
	if len(f.Parts) != 1 || f.Parts[0].Twin != nil {
		t.Errorf("turned end for end: %d parts; want 1 and no twin", len(f.Parts))
	}
	// Turned about its axis.
	f = parse(t, text+drill("p", "a", "top", "left", "60", "4")+drill("q", "b", "front", "left", "60", "4"))
	if len(f.Parts) != 1 {
		t.Errorf("turned about the axis: %d parts; want 1", len(f.Parts))
	}
	// In the middle of the face the hole is its own mirror image.
	f = parse(t, text+drill("p", "a", "top", "left", "60", "0")+drill("q", "b", "bottom", "right", "60", "0"))
	if len(f.Parts) != 1 {
		t.Errorf("holes on the centre line: %d parts; want 1", len(f.Parts))
	}
}

func TestThroughScrew(t *testing.T) {
	f := parse(t, `frame {
  title   = "test"
  profile = "30x30-8"
  joining = "through-screw"
}
member "a" {
  left = 0
  right = 300
  front = 0
  bottom = 0
}
member "b" {
  front = a.back
  back = 300
  mid_x = 100
  bottom = 0
}
`)
	if len(f.Joints) != 1 {
		t.Fatalf("%d joints; want 1", len(f.Joints))
	}
	a := f.Member("a").Bar
	if len(a.Holes) != 1 {
		t.Fatalf("%d holes; want 1", len(a.Holes))
	}
	// ISO 273 medium series: 9 for M8; DIN 974-1 series 1: 15 for M8; the head seats
	// on the slot's floor, 9 deep.
	h := a.Holes[0]
	if h.Diameter != 9 || h.Bore != 15 || h.BoreDepth != 9 || !h.Through() || h.Z != 100 {
		t.Errorf("hole %+v; want ⌀9 through with counterbore ⌀15 × 9 at 100", h)
	}
	// Screw: (30 − 9) + 2·8 = 37, next stock length of ISO 4762 is 40.
	s := f.Joints[0].Fasteners[0]
	if s.Standard != "ISO 4762" || s.Length != 40 || s.Key != 6 {
		t.Errorf("screw %s M8x%g key %g; want ISO 4762 M8x40 key 6", s.Standard, s.Length, s.Key)
	}
}

func TestOtherJoining(t *testing.T) {
	// The wide bar's core lies 15 mm beside the post's slot line: an end screw has no slot to hold it.
	f := parse(t, `frame {
  title   = "test"
  profile = "30x30-8"
  joining = "end-screw"
  joining_else = "angle-bracket"
}
member "post" {
  bottom = 0
  top = 400
  left = 0
  front = 0
}
member "shelf" {
  left = post.right
  right = 300
  front = 15
  bottom = 100
}
`)
	if len(f.Joints) != 0 || f.Contacts[0].Misfit == "" {
		t.Errorf("%d joints, misfit %q; want a touch with its reason", len(f.Joints), f.Contacts[0].Misfit)
	}
	f = parse(t, head+`
member "post" {
  bottom = 0
  top = 400
  left = 0
  front = 0
}
member "shelf" {
  left = post.right
  right = 300
  front = 0
  bottom = 100
}
joint {
  between = [post, shelf]
  with = "angle-bracket"
}
`)
	j := f.Joints[0]
	if j.With.Method != AngleBracket || len(j.Fasteners) != 2 || len(f.Member("shelf").Bar.Taps) != 0 {
		t.Fatalf("joint %s with %d screws; want a bracket with 2 and no machining", j.With.Name, len(j.Fasteners))
	}
	if c := j.Corner; c == nil || math.Abs(c.At.X-30) > 1e-9 || math.Abs(c.At.Y-15) > 1e-9 {
		t.Errorf("corner %+v; want it on the post's right face over the slot's line", j.Corner)
	}
}

func TestEndToEndIsATouch(t *testing.T) {
	f := parse(t, head+`
member "a" {
  left = 0
  right = 300
  front = 0
  bottom = 0
}
member "b" {
  left = a.right
  right = 500
  front = 0
  bottom = 0
}
`)
	if len(f.Joints) != 0 || len(f.Contacts) != 1 || f.Contacts[0].Kind != EndToEnd {
		t.Errorf("%d joints, %d contacts; want 0 and 1", len(f.Joints), len(f.Contacts))
	}
}

// The figures of the built-in end screw against the standards that they rest on.
func TestEndScrewFiguresFitStandards(t *testing.T) {
	for _, s := range builtinJoinings()[0].Sizes {
		screw, ok := standard.ButtonHeadScrew(s.Thread)
		if !ok || screw.Key != s.Key {
			t.Errorf("%s: key %g; ISO 7380-1 has %g", s.Thread, s.Key, screw.Key)
		}
		if corner := 2 * s.Key / math.Sqrt(3); s.Access <= corner {
			t.Errorf("%s: access hole %g; the key is %g over corners (ISO 2936)", s.Thread, s.Access, corner)
		}
		found := false
		lengths, _, _ := standard.LengthsOf("ISO 7380-1", s.Thread)
		for _, l := range lengths {
			found = found || l == s.ScrewLength
		}
		if !found {
			t.Errorf("%s: no screw %g long in ISO 7380-1", s.Thread, s.ScrewLength)
		}
	}
}

func TestMassOfDrilledBar(t *testing.T) {
	p, _ := geom.Builtin("30x30-8")
	bar := Bar{Profile: p, Length: 500}
	plain := bar.Mass()
	if want := p.Region().Area() * 500 * 2.70e-6; math.Abs(plain-want) > 1e-9 {
		t.Errorf("plain bar %.6f kg; want area × length × 2.70 g/cm³ = %.6f", plain, want)
	}
	// A ⌀7 hole on a slot's line meets only the webs between slot floor and core on both
	// sides: less than two webs of 6 − 3.4 + the core's rounding, more than none.
	bar.Holes = []Hole{{Side: geom.Right, Z: 250, Diameter: 7}}
	lost := (plain - bar.Mass()) / 2.70e-6
	full := math.Pi / 4 * 49 * 12 // twice 6 mm from the core's axis to the slot's floor
	core := 6.8 * 6.8 * math.Pi / 4 * 7
	if lost > full || lost < full-core {
		t.Errorf("the hole takes %.1f mm³; want between %.1f and %.1f", lost, full-core, full)
	}
}

// ftoa writes a number for a frame file.
func ftoa(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// A brace's ends are held by adjustable brackets, on the open side of the angle, over the slots of both bars.
func TestBraceTakesAdjustableBrackets(t *testing.T) {
	f := parse(t, head+`
member "post" {
  bottom = 0
  top = 600
  left = 0
  front = 0
}
member "rail" {
  left = post.right
  right = 600
  front = 0
  bottom = 0
}
brace "stay" {
  from = { on = post, at = 400 }
  to   = { on = rail, at = 300 }
}
`)
	n := 0
	for _, j := range f.Joints {
		if !j.A.Brace {
			continue
		}
		n++
		if j.With.Method != AngleBracket || j.Corner == nil || len(j.Fasteners) != 2 {
			t.Fatalf("joint of the brace: %s with %d screws", j.With.Name, len(j.Fasteners))
		}
		c := j.Corner
		if c.LegA.Dot(c.LegB) >= 0 {
			t.Errorf("the legs stand at %.2f: not on the open side", c.LegA.Dot(c.LegB))
		}
		// The inner edge lies on both bars' faces and in the middle of both, y = 15.
		face := j.A.SidePoint(c.SideA, 0, 0, 0).Dot(j.A.SideNormal(c.SideA))
		if math.Abs(c.At.Dot(j.A.SideNormal(c.SideA))-face) > 1e-6 || math.Abs(c.At.Y-15) > 1e-6 {
			t.Errorf("edge at %+v is off the brace's face or the slots' plane", c.At)
		}
	}
	if n != 2 {
		t.Errorf("%d joints of the brace; want 2", n)
	}
	found := 0
	for _, h := range f.Hardware {
		if h.Item == "adjustable bracket" {
			found = h.Quantity
		}
	}
	if found != 2 {
		t.Errorf("%d adjustable brackets; want 2", found)
	}
}

// Rows laid over each other end in an error, not in millions of contacts.
func TestCrowdedBarsAreRefused(t *testing.T) {
	_, err := Parse("crowd.hcl", []byte(head+`
row "slat" {
  front = 0
  back = 300
  bottom = 0
  count = 500
  step = 0.02
  first = { mid_x = 0 }
}
`), Options{})
	var d *Diagnostics
	if !errors.As(err, &d) || !strings.Contains(err.Error(), "crowd") {
		t.Fatalf("error %v; want a diagnostic that the bars crowd", err)
	}
}

func TestDirectionName(t *testing.T) {
	for _, c := range []struct {
		d    geom.Vec
		want string
	}{
		{geom.Vec{X: 1}, "right"}, {geom.Vec{X: -2}, "left"}, {geom.Vec{Y: 1}, "back"}, {geom.Vec{Z: -1}, "bottom"},
		{geom.Vec{X: 1, Z: 1}, "top-right"}, {geom.Vec{X: -1, Z: 1}, "top-left"}, {geom.Vec{Y: -1, X: 1}, "front-right"},
		{geom.Vec{X: 10, Z: 3}, "right"}, {geom.Vec{X: 1, Y: 1, Z: 1}, "top-back-right"},
	} {
		if got := DirectionName(c.d); got != c.want {
			t.Errorf("%v is called %q; want %q", c.d, got, c.want)
		}
	}
}
