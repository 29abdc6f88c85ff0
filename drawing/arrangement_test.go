package drawing

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"barwright/frame"
	"barwright/geom"
	"barwright/mesh"
)

// load reads a frame and makes its scene.
func load(t testing.TB, text string) (*frame.Frame, *mesh.Scene) {
	t.Helper()
	f, err := frame.Parse("frame-1.hcl", []byte(text), frame.Options{})
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	s, err := mesh.NewScene(f, 0.1)
	if err != nil {
		t.Fatal(err)
	}
	return f, s
}

// sheetsOf returns the arrangement and exploded sheets of a frame.
func sheetsOf(t testing.TB, f *frame.Frame, s *mesh.Scene, o Options) (arrangement, exploded []*Sheet) {
	t.Helper()
	arrangement, err := ArrangementSheets(f, s, o)
	if err != nil {
		t.Fatal(err)
	}
	exploded, err = ExplodedSheets(f, s, o)
	if err != nil {
		t.Fatal(err)
	}
	return arrangement, exploded
}

// checkAssembly demands what holds for every sheet: nothing clashes, and no leader of an item reference runs level or upright
// (ISO 6433:2012 by way of ISO 128-2: leaders at an angle).
func checkAssembly(t *testing.T, sheets []*Sheet) {
	t.Helper()
	for _, s := range sheets {
		for _, c := range s.Verify() {
			t.Errorf("%s: %v", s.Name, c)
		}
		for _, op := range s.Ops {
			l, ok := op.(*Stroke)
			if !ok || l.Role != Leader || len(l.Points) != 2 {
				continue
			}
			d := l.Points[1].Sub(l.Points[0])
			if a := math.Atan2(math.Abs(d.Y), math.Abs(d.X)) * 180 / math.Pi; a < 3 || a > 87 {
				t.Errorf("%s: a leader runs at %.1f° at %v", s.Name, a, l.Points[0])
			}
		}
	}
}

// strings returns the texts of a role.
func textsOf(sheets []*Sheet, role Role) []string {
	var out []string
	for _, s := range sheets {
		for _, x := range s.Texts(role) {
			out = append(out, x.String)
		}
	}
	return out
}

func TestSheetsOfFrames(t *testing.T) {
	for name, text := range sampleFrames() {
		t.Run(name, func(t *testing.T) {
			f, scene := load(t, text)
			for _, o := range []Options{{}, {Projection: "third"}, {NotForManufacture: true, Units: "inch"}} {
				a, e := sheetsOf(t, f, scene, o)
				checkAssembly(t, a)
				checkAssembly(t, e)
				for _, sheets := range [][]*Sheet{a, e} {
					marks := textsOf(sheets, Balloon)
					for _, p := range f.Parts {
						if !slices.Contains(marks, p.Mark) {
							t.Errorf("%s has no item reference on %s", p.Mark, sheets[0].Name)
						}
					}
				}
			}
		})
	}
}

// The figures of the cutter follow from its file by hand: 900 × 700, top of the crown at 1150 + 30, base at 90, beam's middle at
// 420, the middle bar's left side at 450 - 15; both diagonals of the crown √(900² + 700²) = 1140.2.
func TestDimensionsOfTheCutter(t *testing.T) {
	f, scene := load(t, cutter)
	a, _ := sheetsOf(t, f, scene, Options{})
	shown := textsOf(a, Dimension)
	for _, want := range []string{"900", "700", "1180", "40", "90", "405", "435"} {
		if n := count(shown, want); n != 1 {
			t.Errorf("%s is dimensioned %d times, want once: %q", want, n, shown)
		}
	}
	for _, s := range a {
		for _, x := range s.Texts(Dimension) {
			if want := (units{}).place(x.Value); x.Shows == Position && !strings.Contains(x.String, want) {
				t.Errorf("a dimension shows %q for %s", x.String, want)
			}
		}
	}
	cells := textsOf(a, Table)
	// Inside: 840 × 640 give √(840² + 640²) = 1056.0 between sharp corners, and each post's edge of radius 1.5 is
	// 1.5 (√2 − 1) further back: 1057.3.
	for _, want := range []string{"1140.2", "1138.9", "1056", "1057.3", "90, 120", "1150, 1180", "button head screw", "ISO 7380-1", "M8 × 20"} {
		if !slices.Contains(cells, want) {
			t.Errorf("no table shows %q", want)
		}
	}
	for _, p := range f.Parts {
		if !slices.Contains(cells, p.Mark) || !slices.Contains(cells, (units{}).place(p.Bar.Length)) {
			t.Errorf("the parts list lacks %s or its length", p.Mark)
		}
	}
}

func count(list []string, s string) (n int) {
	for _, x := range list {
		if x == s {
			n++
		}
	}
	return n
}

// A dimension must span on the paper what it says, at the scale that the title block names.
func TestDimensionsSpanWhatTheySay(t *testing.T) {
	for name, text := range sampleFrames() {
		f, scene := load(t, text)
		a, _ := sheetsOf(t, f, scene, Options{})
		s := a[0]
		var num, den float64
		for _, x := range s.Texts(Title) {
			if fmt.Sscanf(x.String, "%f:%f", &num, &den); den > 0 {
				break
			}
		}
		if den == 0 {
			t.Fatalf("%s: no scale in the title block", name)
		}
		overall := 0
		for _, x := range s.Texts(Dimension) {
			if x.Value == 0 || len(x.Of) == 0 || x.Of[0] != "overall" {
				continue
			}
			overall++
			if want := x.Value * num / den; !spans(s, x, want) {
				t.Errorf("%s: no dimension line of %.2f mm beside %q", name, want, x.String)
			}
		}
		if overall != 3 {
			t.Errorf("%s: %d overall dimensions, want 3", name, overall)
		}
	}
}

// spans reports whether a dimension line of a length runs under a text, or its arrows stand outside at that distance.
func spans(s *Sheet, x *Text, want float64) bool {
	var tips []geom.Vec2
	for _, op := range s.Ops {
		l, ok := op.(*Stroke)
		if !ok || l.Role != Dimension {
			continue
		}
		if len(l.Points) == 2 && math.Abs(l.Points[0].Dist(l.Points[1])-want) < 1e-6 {
			return true
		}
		if l.Filled {
			tips = append(tips, l.Points[0])
		}
	}
	for i, p := range tips {
		for _, q := range tips[:i] {
			if math.Abs(p.Dist(q)-want) < 1e-6 {
				return true
			}
		}
	}
	return false
}

// Twenty-five random frames of posts, rings, rows and beams.
func TestSheetsOfRandomFrames(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6433))
	for i := range 25 {
		text := randomFile(rng)
		f, scene := load(t, text)
		a, e := sheetsOf(t, f, scene, Options{})
		checkAssembly(t, a)
		checkAssembly(t, e)
		if t.Failed() {
			t.Fatalf("frame %d:\n%s", i, text)
		}
	}
}

// The same input gives the same bytes.
func TestSheetsAreDeterministic(t *testing.T) {
	var files [2]bytes.Buffer
	for i := range files {
		f, scene := load(t, cutter)
		a, e := sheetsOf(t, f, scene, Options{})
		for _, s := range append(a, e...) {
			if err := WriteSVG(&files[i], s, false); err != nil {
				t.Fatal(err)
			}
		}
	}
	if files[0].Len() == 0 || !bytes.Equal(files[0].Bytes(), files[1].Bytes()) {
		t.Error("two runs differ")
	}
}

// Leaders of the cheapest assignment: against all orders of a small case.
func TestAssignIsCheapest(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 1957))
	for range 200 {
		n, m := 1+rng.IntN(4), 0
		m = n + rng.IntN(3)
		cost := make([][]float64, n)
		for i := range cost {
			cost[i] = make([]float64, m)
			for j := range cost[i] {
				cost[i][j] = math.Round(rng.Float64() * 100)
			}
		}
		got := 0.0
		used := map[int]bool{}
		for i, j := range assign(cost) {
			got += cost[i][j]
			used[j] = true
		}
		if best := cheapest(cost, 0, map[int]bool{}); got != best || len(used) != n {
			t.Fatalf("assignment costs %g, want %g: %v", got, best, cost)
		}
	}
}

func cheapest(cost [][]float64, i int, used map[int]bool) float64 {
	if i == len(cost) {
		return 0
	}
	best := math.Inf(1)
	for j, c := range cost[i] {
		if !used[j] {
			used[j] = true
			best = min(best, c+cheapest(cost, i+1, used))
			delete(used, j)
		}
	}
	return best
}

// Bars part along the normals of their joints and explode lines run along the frame's axes.
func TestExplodeLinesRunAlongAxes(t *testing.T) {
	f, _ := load(t, cutter)
	moves := explodeMoves(singly(f.Members), f.Contacts, 100)
	lines := explodeLines(f, moves, 100)
	if len(lines) < len(f.Contacts) {
		t.Fatalf("%d explode lines for %d contacts", len(lines), len(f.Contacts))
	}
	for _, l := range lines {
		d := l[1].Sub(l[0])
		long := max(math.Abs(d.X), math.Abs(d.Y), math.Abs(d.Z))
		if long < 30 || d.Len() > long*1.05 {
			t.Errorf("an explode line runs %v", d)
		}
	}
	for i, a := range f.Members {
		for _, b := range f.Members[:i] {
			if a.Box.Move(moves[a]).Overlaps(b.Box.Move(moves[b])) {
				t.Errorf("%s and %s run into one another", a.Name, b.Name)
			}
		}
	}
}

func TestSheetsRefuseBadInput(t *testing.T) {
	f, scene := load(t, cutter)
	for _, o := range []Options{{Size: "B7"}, {Projection: "fourth"}, {Units: "furlong"}} {
		if _, err := ArrangementSheets(f, scene, o); err == nil {
			t.Errorf("%+v: no error", o)
		}
		if _, err := ExplodedSheets(f, scene, o); err == nil {
			t.Errorf("%+v: no error", o)
		}
	}
	if _, err := ArrangementSheets(&frame.Frame{}, scene, Options{}); err == nil {
		t.Error("a frame without members: no error")
	}
	if _, err := ArrangementSheets(f, nil, Options{}); err == nil {
		t.Error("no scene: no error")
	}
}

// BenchmarkSheets lays out the arrangement and the exploded views of a machine frame and of a hall of 200 bars.
func BenchmarkSheets(b *testing.B) {
	for _, name := range []string{"cutter", "hall"} {
		f, scene := load(b, sampleFrames()[name])
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				sheetsOf(b, f, scene, Options{})
			}
		})
	}
}

// TestBraceList: a bar 30 wide at 45° covers 30 √2 = 42.4 of the face that it meets; its axis meets the post's at 420 over the post's end
// and so the face, 15 off, at 405. The other end, on the rail under it, follows in the same way from 310 along the rail.
func TestBraceList(t *testing.T) {
	f, _ := load(t, frameFile(t, "braced"))
	l := braceList(f, units{})
	want := [][]string{{"side", "383.8", "426.2", "leg.front_left"}, {"side", "273.8", "316.2", "low.left_rail"}}
	for _, w := range want {
		if !slices.ContainsFunc(l.rows, func(r []string) bool { return r[0] == w[0] && slices.Equal(r[2:], w[1:]) }) {
			t.Errorf("no row %v in %v", w, l.rows)
		}
	}
	if len(l.rows) != 6 {
		t.Errorf("%d rows for three braces", len(l.rows))
	}
}
