package mesh

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"barwright/frame"
	"barwright/geom"
)

// testFrame is a frame like a hot-wire foam cutter, put together by hand: four legs on feet, a ring of rails low
// and high, and slats; 16 bars of 30x30-8.
func testFrame(tb testing.TB) *frame.Frame {
	tb.Helper()
	p, ok := geom.Builtin("30x30-8")
	if !ok {
		tb.Fatal("no profile 30x30-8")
	}
	f := &frame.Frame{Name: "cutter", Title: "Hot-wire foam cutter"}
	part := func(mark string, length float64, holes ...frame.Hole) *frame.Part {
		q := &frame.Part{Mark: mark, Bar: frame.Bar{Profile: p, Length: length, Holes: holes}}
		f.Parts = append(f.Parts, q)
		return q
	}
	through := func(side geom.Side, z float64) frame.Hole { return frame.Hole{Side: side, Z: z, Diameter: 7} }
	leg := part("A1", 1110, through(geom.Right, 65), through(geom.Top, 65), through(geom.Right, 1095), through(geom.Top, 1095))
	rail := part("A2", 840, frame.Hole{Side: geom.Top, Z: 420, Diameter: 7, Depth: 15, Bore: 14, BoreDepth: 9})
	side := part("A3", 640, through(geom.Right, 100), through(geom.Right, 540))
	slat := part("A4", 640)
	beam := part("A5", 840, through(geom.Right, 60), through(geom.Right, 780))
	add := func(name string, q *frame.Part, place geom.Motion) *frame.Member {
		m := &frame.Member{Name: name, Profile: p, Part: q, Place: place, Bar: q.Bar}
		m.Box = place.ApplyBox(geom.Box{Low: geom.Vec{X: -15, Y: -15}, High: geom.Vec{X: 15, Y: 15, Z: q.Bar.Length}})
		q.Members = append(q.Members, m)
		f.Members = append(f.Members, m)
		return m
	}
	alongX := func(x, y, z float64) geom.Motion {
		return geom.Motion{EX: geom.Vec{Y: 1}, EY: geom.Vec{Z: 1}, EZ: geom.Vec{X: 1}, T: geom.Vec{X: x, Y: y, Z: z}}
	}
	alongY := func(x, y, z float64) geom.Motion {
		return geom.Motion{EX: geom.Vec{Z: 1}, EY: geom.Vec{X: 1}, EZ: geom.Vec{Y: 1}, T: geom.Vec{X: x, Y: y, Z: z}}
	}
	for i, at := range [][2]float64{{15, 15}, {885, 15}, {15, 685}, {885, 685}} {
		name := [...]string{"leg.front_left", "leg.front_right", "leg.back_left", "leg.back_right"}[i]
		m := add(name, leg, geom.Shift(geom.Vec{X: at[0], Y: at[1], Z: 40}))
		f.Feet = append(f.Feet, &frame.Foot{Under: m, At: geom.Vec{X: at[0], Y: at[1], Z: 40}, Height: 40, On: "post-end", Thread: "M8"})
	}
	for _, level := range []struct {
		name string
		z    float64
	}{{"base", 105}, {"crown", 1135}} {
		add(level.name+".front_rail", rail, alongX(30, 15, level.z))
		add(level.name+".back_rail", rail, alongX(30, 685, level.z))
		add(level.name+".left_rail", side, alongY(15, 30, level.z))
		add(level.name+".right_rail", side, alongY(885, 30, level.z))
	}
	for i := range 3 {
		add(fmt.Sprintf("slat[%d]", i), slat, alongY(225+225*float64(i), 30, 105))
	}
	add("wire_beam", beam, alongX(30, 15, 420))
	return f
}

func testScene(tb testing.TB) *Scene {
	tb.Helper()
	s, err := NewScene(testFrame(tb), 0.02)
	if err != nil {
		tb.Fatal(err)
	}
	return s
}

func TestSceneMeshesEachPartOnce(t *testing.T) {
	f := testFrame(t)
	s, err := NewScene(f, DefaultTolerance)
	if err != nil {
		t.Fatal(err)
	}
	// Five parts and the one kind of foot; 16 bars and 4 feet.
	if len(s.Shapes) != 6 || len(s.Items) != 20 {
		t.Fatalf("%d shapes and %d items, want 6 and 20", len(s.Shapes), len(s.Items))
	}
	boxes := s.shapeBoxes()
	for i, m := range f.Members {
		it := s.Items[i]
		if it.Name != m.Name || it.Mark != m.Part.Mark || it.Member != m || it.Kind != BarItem {
			t.Errorf("item %d is %s %s, want %s %s", i, it.Name, it.Mark, m.Name, m.Part.Mark)
		}
		if d := boxDistance(it.Place.ApplyBox(boxes[it.Shape]), m.Box); d > 1e-4 {
			t.Errorf("%s lies %g mm beside its box", m.Name, d)
		}
	}
	for _, it := range s.Items[16:] {
		b := it.Place.ApplyBox(boxes[it.Shape])
		if it.Kind != FittingItem || b.Low.Z != 0 || b.High.Z != 40 {
			t.Errorf("%s stands from %g to %g, want 0 to 40", it.Name, b.Low.Z, b.High.Z)
		}
	}
	// 900 wide and 700 deep over the legs; from the floor to the top of the crown and legs at 1150.
	pads := geom.Box{Low: geom.Vec{X: 0, Y: 0}, High: geom.Vec{X: 900, Y: 700, Z: 1150}}
	if b := s.Box(); b.Low.X > 0 || b.High.X < 900 || boxDistance(b, pads) > 3 {
		t.Errorf("the scene's box is %v", b)
	}
}

// boxDistance returns the largest difference of the faces of two boxes.
func boxDistance(a, b geom.Box) float64 {
	d := 0.0
	for ax := geom.X; ax <= geom.Z; ax++ {
		d = math.Max(d, math.Max(math.Abs(a.Low.Along(ax)-b.Low.Along(ax)), math.Abs(a.High.Along(ax)-b.High.Along(ax))))
	}
	return d
}

func TestScenePlacesTurnedParts(t *testing.T) {
	// A member whose raw bar has to be flipped and turned to become its part still fills its box, and its hole
	// comes out where the raw bar has it.
	f := testFrame(t)
	m, p := f.Members[0], f.Members[0].Part
	m.ToPart = frame.Turn{Flip: true, Quarters: 1}
	m.Bar.Holes = nil
	s, err := NewScene(f, DefaultTolerance)
	if err != nil {
		t.Fatal(err)
	}
	place := s.Items[0].Place
	// Flip end for end about x, then a quarter turn counter-clockwise: raw (x, y, z) becomes part (y, x, L - z).
	raw := geom.Vec{X: 3, Y: 5, Z: 7}
	part := geom.Vec{X: 5, Y: 3, Z: p.Bar.Length - 7}
	if d := place.Apply(part).Dist(m.Place.Apply(raw)); d > 1e-9 {
		t.Errorf("part point %v lands %g mm beside raw point %v", part, d, raw)
	}
}

func TestSceneErrors(t *testing.T) {
	for _, tolerance := range []float64{0, -1, 1e-12, math.NaN(), math.Inf(1)} {
		if _, err := NewScene(testFrame(t), tolerance); err == nil {
			t.Errorf("a tolerance of %g was taken", tolerance)
		}
		if _, err := NewPartScene(testFrame(t).Parts[0], tolerance); err == nil {
			t.Errorf("a tolerance of %g was taken for a part", tolerance)
		}
	}
	for _, foot := range []frame.Foot{{Height: 0, Thread: "M8"}, {Height: math.NaN(), Thread: "M8"}, {Height: 40, Thread: "8"}, {Height: 40, Thread: "M"}, {Height: 40, Thread: "Mx"}, {Height: 1e9, Thread: "M8"}} {
		f := testFrame(t)
		f.Feet = []*frame.Foot{&foot}
		if _, err := NewScene(f, DefaultTolerance); err == nil {
			t.Errorf("a foot %v was taken", foot)
		}
	}
	f := testFrame(t)
	f.Members[3].Part = &frame.Part{Mark: "Z9"}
	if _, err := NewScene(f, DefaultTolerance); err == nil {
		t.Error("a member without a part was taken")
	}
}

func TestSceneFilter(t *testing.T) {
	s := testScene(t)
	for _, c := range []struct {
		name          string
		items, shapes int
	}{{"A1", 4, 1}, {"A4", 3, 1}, {"wire_beam", 1, 1}, {"slat[2]", 1, 1}, {"leg.front_left foot", 1, 1}} {
		got, err := s.Filter(c.name)
		if err != nil {
			t.Fatal(err)
		}
		if len(got.Items) != c.items || len(got.Shapes) != c.shapes {
			t.Errorf("%s: %d items of %d shapes, want %d of %d", c.name, len(got.Items), len(got.Shapes), c.items, c.shapes)
		}
		for _, it := range got.Items {
			if it.Name != c.name && it.Mark != c.name || it.Shape >= len(got.Shapes) {
				t.Errorf("%s: got %s of shape %d", c.name, it.Name, it.Shape)
			}
		}
	}
	for _, c := range [][2]string{{"wire_baem", `did you mean "wire_beam"?`}, {"A99", "did you mean"}, {"something else", "no member or part is called"}, {"", "no member or part"}} {
		if _, err := s.Filter(c[0]); err == nil || !strings.Contains(err.Error(), c[1]) {
			t.Errorf("filter %q: %v, want %q", c[0], err, c[1])
		}
	}
}

func TestSceneExplode(t *testing.T) {
	s := testScene(t)
	got, err := s.Explode(0.5)
	if err != nil {
		t.Fatal(err)
	}
	// The middle of the scene's box is (450, 350, 575). leg.front_left has its own at (15, 15, 595).
	move := got.Items[0].Place.T.Sub(s.Items[0].Place.T)
	if move.Dist(geom.Vec{X: -217.5, Y: -167.5, Z: 10}) > 1e-6 {
		t.Errorf("the leg moved by %v", move)
	}
	// Rails along x lie in the middle of x and stay there.
	if move := got.Items[4].Place.T.Sub(s.Items[4].Place.T); move.X != 0 || math.Abs(move.Y+167.5) > 1e-6 {
		t.Errorf("base.front_rail moved by %v", move)
	}
	if same, err := s.Explode(0); err != nil || same != s {
		t.Errorf("a factor of 0 changed the scene (%v)", err)
	}
	for _, f := range []float64{-0.1, 11, math.NaN(), math.Inf(1)} {
		if _, err := s.Explode(f); err == nil {
			t.Errorf("a factor of %g was taken", f)
		}
	}
}

// TestFootVolume sums the frustums and prisms of a foot. An n-gon with corners on a circle of radius r has
// the area n/2·r²·sin(2π/n); a frustum between similar polygons of areas A and B the volume h/3·(A + B + √(AB)).
// The nut of M8 is 13 across flats (ISO 4032).
func TestFootVolume(t *testing.T) {
	m, err := footMesh("M8", 40, 0, 0.02)
	if err != nil {
		t.Fatal(err)
	}
	n := float64(footSegments(17.6, 0.02))
	area := func(r float64) float64 { return n / 2 * r * r * math.Sin(2*math.Pi/n) }
	frustum := func(h, r, s float64) float64 {
		return h / 3 * (area(r) + area(s) + math.Sqrt(area(r)*area(s)))
	}
	hexagon := 13.0 * 13 * math.Sqrt(3) / 2
	want := frustum(1.6, 16, 17.6) + 4*area(17.6) + frustum(6.4, 17.6, 7.2) + (40-12-5.6)*area(4) + 5.6*hexagon
	if got := m.Volume(); math.Abs(got-want) > 1e-5*want {
		t.Errorf("volume %.3f mm³, want %.3f", got, want)
	}
	for _, plate := range []float64{0, 20, 30, 45} {
		for _, thread := range []string{"M5", "M6", "M8", "M10x1", "M16"} {
			for _, height := range []float64{3, 20, 40, 200} {
				m, err := footMesh(thread, height, plate, 0.02)
				if err == nil {
					err = m.Check()
				}
				if err != nil {
					t.Errorf("%s, %g high, plate %g: %v", thread, height, plate, err)
				}
			}
		}
	}
}

func TestSlotPlateFeetShareAShape(t *testing.T) {
	f := testFrame(t)
	f.Feet = nil
	for _, x := range []float64{100, 800} {
		f.Feet = append(f.Feet, &frame.Foot{Under: f.Members[4], At: geom.Vec{X: x, Y: 15, Z: 90}, Height: 90, On: "slot-plate", Thread: "M8"})
	}
	s, err := NewScene(f, DefaultTolerance)
	if err != nil {
		t.Fatal(err)
	}
	if len(s.Shapes) != 6 || s.Items[16].Shape != s.Items[17].Shape || s.Items[17].Name != "base.front_rail foot 2" {
		t.Errorf("%d shapes, the last item is %q", len(s.Shapes), s.Items[17].Name)
	}
	// The plate is as wide as the bar: 30.
	if b := s.shapeBoxes()[5]; math.Abs(b.Size().X-35.2) > 1e-3 || b.High.Z != 90 {
		t.Errorf("the foot's box is %v", b)
	}
}
