package frame

import (
	"math"
	"os"
	"testing"

	"barwright/geom"
)

// boxCase is a member's box, worked out by hand.
type boxCase struct {
	name      string
	low, high geom.Vec
}

func checkBoxes(t *testing.T, f *Frame, cases []boxCase) {
	t.Helper()
	for _, c := range cases {
		m := f.Member(c.name)
		if m == nil {
			t.Errorf("no member %s", c.name)
			continue
		}
		if m.Box.Low.Dist(c.low) > 1e-6 || m.Box.High.Dist(c.high) > 1e-6 {
			t.Errorf("%s lies at %v; want %v to %v", c.name, m.Box, c.low, c.high)
		}
		checkPlace(t, m)
	}
}

// checkPlace sees that bar coordinates, put into the frame, fill the box.
func checkPlace(t *testing.T, m *Member) {
	t.Helper()
	e := m.Place
	if d := e.EX.Cross(e.EY).Sub(e.EZ).Len(); d > 1e-12 || math.Abs(e.EX.Len()-1) > 1e-12 {
		t.Errorf("%s: place is no rotation: %+v", m.Name, e)
	}
	if m.Brace {
		return
	}
	s := m.Bar.Profile.Size()
	bar := geom.Box{Low: geom.Vec{X: -s.X / 2, Y: -s.Y / 2}, High: geom.Vec{X: s.X / 2, Y: s.Y / 2, Z: m.Bar.Length}}
	got := e.ApplyBox(bar)
	if got.Low.Dist(m.Box.Low) > 1e-6 || got.High.Dist(m.Box.High) > 1e-6 {
		t.Errorf("%s: the bar put in its place fills %v; its box is %v", m.Name, got, m.Box)
	}
}

// Positions of every construct of the whole file, by hand from its formulas.
func TestWholeFile(t *testing.T) {
	f, err := Load("testdata/whole.hcl", Options{})
	if err != nil {
		t.Fatal(err)
	}
	v := func(x, y, z float64) geom.Vec { return geom.Vec{X: x, Y: y, Z: z} }
	checkBoxes(t, f, []boxCase{
		{"leg.front_left", v(0, 0, 40), v(30, 30, 1150)},
		{"leg.front_right", v(870, 0, 40), v(900, 30, 1150)},
		{"leg.back_left", v(0, 670, 90), v(30, 700, 1150)},
		{"leg.back_right", v(870, 670, 90), v(900, 700, 1150)},
		{"base.front_rail", v(30, 0, 90), v(870, 30, 120)},
		{"base.back_rail", v(30, 670, 90), v(870, 700, 120)},
		{"base.left_rail", v(0, 30, 90), v(30, 670, 120)},
		{"base.right_rail", v(870, 30, 90), v(900, 670, 120)},
		// Pinwheel: the leading end of each rail butts the side of the next.
		{"crown.front_rail", v(0, 0, 1150), v(870, 30, 1180)},
		{"crown.right_rail", v(870, 0, 1150), v(900, 670, 1180)},
		{"crown.back_rail", v(30, 670, 1150), v(900, 700, 1180)},
		{"crown.left_rail", v(0, 30, 1150), v(30, 700, 1180)},
		{"wire_beam", v(30, 0, 405), v(870, 30, 435)},
		{"slat[0]", v(105, 30, 90), v(135, 670, 120)},
		{"slat[1]", v(237, 30, 90), v(267, 670, 120)},
		{"slat[5]", v(765, 30, 90), v(795, 670, 120)},
		{"bed.front_rail", v(60, 60, 300), v(810, 90, 330)},
		{"bed.right_rail", v(810, 60, 300), v(840, 610, 330)},
		{"bed.back_rail", v(90, 610, 300), v(840, 640, 330)},
		{"bed.left_rail", v(60, 90, 300), v(90, 640, 330)},
	})
	if n := len(f.Members); n != 4+4+4+1+6+4+1 {
		t.Errorf("%d members; want 24", n)
	}
	checkStay(t, f.Member("stay"))
	checkAround(t, f)
}

// checkStay checks the brace from (y 15, z 740) to (y 530, z 105): its angle follows from the slopes of
// that line, its length over the long points from the trigonometry of a mitred bar.
func checkStay(t *testing.T, m *Member) {
	t.Helper()
	dy, dz := 515.0, -635.0
	l := math.Hypot(dy, dz)
	// Between the face y = 30 of the post and the face z = 120 of the rail, along the axis.
	t0, t1 := 15/dy*l, (120-740)/dz*l
	// At a mitre the long point leads by half the bar's height times the cotangent of the angle between
	// bar and face.
	long := t1 - t0 + 15*(-dz/dy) + 15*(dy/-dz)
	if math.Abs(m.Length()-long) > 1e-5 {
		t.Errorf("stay is %.6f long; want %.6f", m.Length(), long)
	}
	for end, want := range []geom.Vec{{X: 15, Y: 30, Z: 740 + dz/l*t0}, {X: 15, Y: 15 + dy/l*t1, Z: 120}} {
		if got := m.EndPoint(end); got.Dist(want) > 1e-5 {
			t.Errorf("end %d of the stay lies at %v; want %v", end, got, want)
		}
	}
	for end, want := range []geom.Vec{{Y: -1}, {Z: -1}} {
		if got := m.EndNormal(end); got.Dist(want) > 1e-9 {
			t.Errorf("end %d of the stay faces %v; want %v", end, got, want)
		}
	}
	checkPlace(t, m)
}

func checkAround(t *testing.T, f *Frame) {
	t.Helper()
	if f.Title != "Hot-wire foam cutter" || f.Reference != "HW-1" || f.Revision != "B" || f.Name != "whole" || f.TitleBlock.Date != "2024-05-01" {
		t.Errorf("title %q, reference %q, revision %q, name %q, date %q", f.Title, f.Reference, f.Revision, f.Name, f.TitleBlock.Date)
	}
	for i, want := range []geom.Vec{{X: 15, Y: 15, Z: 40}, {X: 885, Y: 15, Z: 40}, {X: 90, Y: 685, Z: 90}, {X: 810, Y: 685, Z: 90}} {
		if got := f.Feet[i]; got.At.Dist(want) > 1e-9 || got.Height != want.Z {
			t.Errorf("foot %d at %v, %g high; want %v on the floor", i, got.At, got.Height, want)
		}
	}
	g := f.Groups[0]
	if len(g.Members) != 4 || g.Travel.Axis != geom.Z || g.Travel.From != -150 || g.Travel.To != 500 || g.Mass != 3.5 || len(g.CarriedBy) != 4 {
		t.Errorf("group %+v", g)
	}
	m := f.Masses[0]
	if m.Kind != MassPath || m.From != 60 || m.To != 780 || m.Offset != (geom.Vec{Y: -45, Z: 30}) || m.On.Name != "wire_beam" {
		t.Errorf("mass %+v", m)
	}
	if p := f.Panels[0]; len(p.HeldBy) != 4 || p.Thickness != 4 || p.Material != "PMMA" {
		t.Errorf("panel %+v", p)
	}
	if d := f.Doorways; d[0].Width != 820 || d[1].Corridor != [2]float64{900, 1050} {
		t.Errorf("doorways %+v %+v", d[0], d[1])
	}
	s := f.Stocks[0]
	if len(s.Bars) != 2 || s.Bars[0].Price != 41.5 || len(s.Offcuts) != 3 || s.Kerf != 3 || s.Trim != 20 {
		t.Errorf("stock %+v", s)
	}
	if s := f.Supports[0]; s.On.Name != "base.front_rail" || s.At != 420 || s.Fixed != [3]bool{true, true, true} {
		t.Errorf("support %+v", s)
	}
	// The hole is 200 above the lower end, on the left face: raw side Left of a bar along Z.
	if d := f.Drills[0].Hole; d.Side != geom.Left || d.Z != 200 || d.Depth != 9 || d.Diameter != 12 {
		t.Errorf("drill %+v", d)
	}
}

// Every example loads, and each bar fills its box.
func TestExamplesLoad(t *testing.T) {
	entries, err := os.ReadDir("../examples")
	if err != nil || len(entries) == 0 {
		t.Fatalf("no examples: %v", err)
	}
	for _, e := range entries {
		if !e.IsDir() {
			continue
		}
		f, err := Load("../examples/"+e.Name()+"/frame.hcl", Options{})
		if err != nil {
			t.Errorf("%s: %v", e.Name(), err)
			continue
		}
		for _, m := range f.Members {
			checkPlace(t, m)
		}
	}
}

// The fixed contract of bar coordinates, axis by axis, with a section of 30 by 60.
func TestOrientation(t *testing.T) {
	f := parse(t, `
frame { profile = "30x60-8" }
member "x" {
  left = 0
  right = 500
  front = 0
  bottom = 0
}
member "y" {
  front = 100
  back = 600
  left = 0
  bottom = 200
}
member "z" {
  bottom = 300
  top = 800
  left = 0
  front = 0
}
member "turned" {
  left = 0
  right = 500
  front = 0
  bottom = 1000
  turn = 90
}
`)
	x, y, z := geom.Vec{X: 1}, geom.Vec{Y: 1}, geom.Vec{Z: 1}
	neg := func(v geom.Vec) geom.Vec { return geom.Vec{}.Sub(v) }
	for _, c := range []struct {
		name       string
		ex, ey, ez geom.Vec
		origin     geom.Vec
		size       geom.Vec
	}{
		{"x", y, z, x, geom.Vec{X: 0, Y: 15, Z: 30}, geom.Vec{X: 500, Y: 30, Z: 60}},
		{"y", x, z, neg(y), geom.Vec{X: 15, Y: 600, Z: 230}, geom.Vec{X: 30, Y: 500, Z: 60}},
		{"z", x, y, z, geom.Vec{X: 15, Y: 30, Z: 300}, geom.Vec{X: 30, Y: 60, Z: 500}},
		// A quarter turn counter-clockwise takes the section's x to its y.
		{"turned", z, neg(y), x, geom.Vec{X: 0, Y: 30, Z: 1015}, geom.Vec{X: 500, Y: 60, Z: 30}},
	} {
		m := f.Member(c.name)
		if m.Place.EX != c.ex || m.Place.EY.Dist(c.ey) > 0 || m.Place.EZ.Dist(c.ez) > 0 || m.Place.T != c.origin {
			t.Errorf("%s: place %+v; want %v %v %v at %v", c.name, m.Place, c.ex, c.ey, c.ez, c.origin)
		}
		if m.Box.Size() != c.size {
			t.Errorf("%s: size %v; want %v", c.name, m.Box.Size(), c.size)
		}
		checkPlace(t, m)
	}
}

// A brace at 45° replaces the place at its end; textbook trigonometry of a mitred bar.
func TestBraceByAngle(t *testing.T) {
	f := parse(t, `
frame { profile = "30x30-8" }
member "post" {
  bottom = 0
  top = 800
  left = 0
  front = 0
}
member "beam" {
  left = 30
  right = 900
  front = 0
  top = 800
}
brace "b" {
  from = { on = post, at = 400 }
  to = { on = beam }
  angle = 45
}
`)
	m := f.Member("b")
	// Axis from (15, 400) to the beam's axis at z = 785: 385 across and 385 up. Between the faces x = 30 and
	// z = 770 it runs 355 across: 355·√2 on the axis, and 15 more at each long point.
	if want := 355*math.Sqrt2 + 30; math.Abs(m.Length()-want) > 1e-5 {
		t.Errorf("length %g; want %g", m.Length(), want)
	}
	if want := (geom.Vec{X: 30, Y: 15, Z: 415}); m.EndPoint(0).Dist(want) > 1e-5 {
		t.Errorf("lower end at %v; want %v", m.EndPoint(0), want)
	}
	if want := (geom.Vec{X: 385, Y: 15, Z: 770}); m.EndPoint(1).Dist(want) > 1e-5 {
		t.Errorf("upper end at %v; want %v", m.EndPoint(1), want)
	}
	for end, c := range m.Bar.Cuts {
		if s := math.Abs(c.SlopeX) + math.Abs(c.SlopeY); math.Abs(s-1) > 1e-9 {
			t.Errorf("end %d is cut at slope %g; want 1", end, s)
		}
	}
}

// A drill block names sides of the frame; on the bar they are raw sides and offsets.
func TestDrills(t *testing.T) {
	f := parse(t, `
frame { profile = "30x60-8" }
member "y" {
  front = 100
  back = 600
  left = 0
  bottom = 200
}
drill "a" {
  on = y
  face = "right"
  from = "front"
  distance = 50
  offset = 10
  diameter = 9
}
drill "b" {
  on = y
  face = "top"
  from = "back"
  distance = 80
  offset = 5
  tap = "M6"
  depth = 12
  counterbore = { diameter = 11, depth = 3 }
}
`)
	m := f.Member("y")
	for i, c := range []struct {
		entry geom.Vec // where the hole's axis meets the face, in the frame
		hole  Hole
	}{
		// ISO 2306: the tap drill of M6 is 5.0; pitch 1 (ISO 261), so three pitches of run-out are 3 mm.
		{geom.Vec{X: 30, Y: 150, Z: 240}, Hole{Diameter: 9}},
		{geom.Vec{X: 20, Y: 520, Z: 260}, Hole{Diameter: 5, Depth: 15, Thread: "M6", ThreadDepth: 12, Bore: 11, BoreDepth: 3}},
	} {
		h := f.Drills[i].Hole
		if got := m.SidePoint(h.Side, h.Z, h.Offset, 0); got.Dist(c.entry) > 1e-9 {
			t.Errorf("drill %d enters at %v; want %v", i, got, c.entry)
		}
		if h.Diameter != c.hole.Diameter || h.Depth != c.hole.Depth || h.Thread != c.hole.Thread || h.ThreadDepth != c.hole.ThreadDepth ||
			h.Bore != c.hole.Bore || h.BoreDepth != c.hole.BoreDepth || h.Purpose != Drilled {
			t.Errorf("drill %d: %+v; want %+v", i, h, c.hole)
		}
	}
}

func TestFunctions(t *testing.T) {
	for formula, want := range map[string]float64{
		"min(3, 1, 2)": 1, "max(3, 1, 2)": 3, "abs(-4)": 4, "round(2.5)": 3, "floor(2.9)": 2, "ceil(2.1)": 3,
		"sqrt(9)": 3, "sin(30)": 0.5, "cos(60)": 0.5, "tan(45)": 1, "sin(180)": 0, "inch(2)": 50.8,
		"0.1 + 0.2": 0.3, "7 % 3": 1, "-7 % 3": -1, "width > 3 ? 1 : 2": 1, "10 / 4": 2.5,
		"range(3)[2]": 2, "range(2, 8, 3)[1]": 5, "[for i in range(4) : i * i][3]": 9, "max([for p in [3, 8, 5] : p]...)": 8,
		"[for s in leg : 1] == 3 ? 1 : 1": math.NaN(),
	} {
		f, err := Parse("f.hcl", []byte(base+"let \"v\" { value = "+formula+" }\nmember \"m\" {\n left = v * 10\n length = 100\n along = \"x\"\n front = 200\n bottom = 200\n}"), Options{})
		if math.IsNaN(want) {
			if err == nil {
				t.Errorf("%s is accepted", formula)
			}
			continue
		}
		if err != nil {
			t.Errorf("%s: %v", formula, err)
			continue
		}
		if got := f.Member("m").Box.Low.X / 10; math.Abs(got-want) > 1e-9 {
			t.Errorf("%s = %g; want %g", formula, got, want)
		}
	}
}

// References to members may pick them by formula.
func TestPickedMembers(t *testing.T) {
	f := parse(t, base+`
row "r" {
  left = 30
  right = 870
  bottom = 400
  count = 4
  first = { mid_y = 100 }
  step = 100
}
group "g" { members = [for i in range(2) : r[2 * i]] }
group "h" { members = [r[1], low] }
`)
	if g := f.Groups[0]; len(g.Members) != 2 || g.Members[0].Name != "r[0]" || g.Members[1].Name != "r[2]" {
		t.Errorf("group of %d", len(g.Members))
	}
	if h := f.Groups[1]; len(h.Members) != 5 || h.Members[0].Name != "r[1]" || h.Members[4].Name != "low.right_rail" {
		t.Errorf("group of %d", len(h.Members))
	}
}
