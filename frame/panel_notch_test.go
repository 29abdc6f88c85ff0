package frame

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"barwright/geom"
)

// bay is a post between two bays; a rail of the left one meets it where the right one has a sheet.
const bay = `
frame {
  profile = "30x30-8"
}
member "a" {
  left   = 0
  front  = 0
  bottom = 0
  top    = 800
}
member "b" {
  left   = 300
  front  = 0
  bottom = 0
  top    = 800
}
member "c" {
  left   = 600
  front  = 0
  bottom = 0
  top    = 800
}
member "low" {
  left   = b.right
  right  = c.left
  front  = 0
  bottom = 100
}
member "high" {
  left   = b.right
  right  = c.left
  front  = 0
  bottom = 700
}
member "left" {
  left    = a.right
  right   = b.left
  front   = 0
  bottom  = 400
  joining = "through-screw"
}
panel "it" {
  held_by   = [b, c, low, high]
  thickness = 4
  material  = "plywood"
}
`

// boxOf is walls of a profile and a joining with a wall at the left, in slots.
func boxOf(profile, joining, panel string) string {
	text := strings.Replace(walls, `profile = "30x30-8"`, fmt.Sprintf("profile = %q\n  joining = %q", profile, joining), 1)
	return text + "panel \"it\" {\n  thickness = 4\n" + panel + "}\n"
}

const (
	leftWall = "  held_by = [leg.front_left, leg.back_left, base.left_rail, crown.left_rail]\n"
	plywood  = "  material = \"plywood\"\n"
)

// The notches by hand. Heads: ISO 7380-1 M6 ⌀10.5 × 3.3, M8 ⌀14 × 4.4, M10 ⌀17.5 × 5.5; ISO 4762 M8 ⌀13.27, knurled, × 8. A head of an end screw sits
// behind the lips (1.8, 2, 4.5 mm) of the post's slot, on the rail's centre line; the sheet's corner comes as near to that line as half the pitch
// less its engagement. 1 mm stays free round what stands (the project's own figure); plywood does not grow.
var notchCases = []struct {
	name, text string
	corners    []geom.Vec2    // at front low, back low, back high, front high of the wall: along its two axes
	edges      [][3]geom.Vec2 // further notches: their two inner corners and the size of the sheet
	count      int
}{
	{"plywood in 30: 8 deep, 15 − 8 = 7 from the line, where the head's rim is", boxOf("30x30-8", "end-screw", leftWall+plywood), make([]geom.Vec2, 4), nil, 0},
	{"8.5 deep: 7 − 6.5 and 8.5 − 2, 1 more each", boxOf("30x30-8", "end-screw", leftWall+plywood+"  engagement = 8.5\n"), same4(7.5, 1.5), nil, 4},
	{"20: half of 10.5 − (10 − 5.5) and 5.5 − 1.8", boxOf("20x20-6", "end-screw", leftWall+plywood+"  engagement = 5.5\n"), same4(4.7, 1.75), nil, 4},
	{"40: half of 17.5 − (20 − 12) and 12 − 4.5", boxOf("40x40-10", "end-screw", leftWall+plywood+"  engagement = 12\n"), same4(8.5, 1.75), nil, 4},
	{"polycarbonate in 30 is 7 deep and a millimetre clear", boxOf("30x30-8", "end-screw", leftWall+"  material = \"PC\"\n"), make([]geom.Vec2, 4), nil, 0},
	{"no screws, no notch", boxOf("30x30-8", "none", leftWall+plywood+"  engagement = 8.5\n"), make([]geom.Vec2, 4), nil, 0},
	{"posts in the corners of a floor, 8 deep", boxOf("30x30-8", "end-screw", "  held_by = base\n"+plywood), same4(9, 9), nil, 4},
	{"brackets of 30 in the corners: 8 + 30 + 1", boxOf("30x30-8", "angle-bracket", leftWall+plywood), same4(39, 39), nil, 4},
	// The cap screw's head stands on the floor of the slot, 9 deep, 8 high: up to 1 under the face. The sheet lies 8 deep, its low edge at 130 − 8.
	{"a cap screw through the post", bay, make([]geom.Vec2, 4), [][3]geom.Vec2{{{X: 8, Y: 415 - 13.27/2 - 1 - 122}, {X: 8, Y: 415 + 13.27/2 + 1 - 122}}}, 1},
	// The sheet begins at 30 − 8; a prop of 30 stands inside of the rail, 200 to 230 from the front.
	{"a prop at the middle of an edge", boxOf("30x30-8", "end-screw", "  held_by = base\n"+plywood) + `
member "prop" {
  left   = base.left_rail.right
  front  = 200
  bottom = 0
  top    = 200
}
`, same4(9, 9), [][3]geom.Vec2{{{X: 60 - 22 + 1, Y: 200 - 22 - 1}, {X: 60 - 22 + 1, Y: 230 - 22 + 1}}}, 5},
	{"a bar through the sheet is no notch", boxOf("30x30-8", "end-screw", "  held_by = base\n"+plywood) + `
member "across" {
  left   = base.left_rail.right
  right  = base.right_rail.left
  mid_y  = 250
  bottom = 60
}
`, same4(9, 9), nil, 4},
}

// same4 is four corner notches of one size.
func same4(x, y float64) []geom.Vec2 { return slices.Repeat([]geom.Vec2{{X: x, Y: y}}, 4) }

func TestNotchesByHand(t *testing.T) {
	for _, c := range notchCases {
		f, err := Parse("it.hcl", []byte(c.text), Options{})
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		s := f.Panels[0].Sheet
		if s == nil {
			t.Fatalf("%s: no sheet", c.name)
		}
		if s.Notches != c.count {
			t.Errorf("%s: %d notches, want %d: %v", c.name, s.Notches, c.count, s.Outline)
		}
		has := func(p geom.Vec2) bool {
			return slices.ContainsFunc(s.Outline, func(q geom.Vec2) bool { return q.Dist(p) < 1e-9 })
		}
		at := []geom.Vec2{{}, {X: s.Size.X}, s.Size, {Y: s.Size.Y}}
		corners := 0
		for i, n := range c.corners {
			inner := at[i]
			inner.X += n.X * []float64{1, -1, -1, 1}[i]
			inner.Y += n.Y * []float64{1, 1, -1, -1}[i]
			if !has(inner) || n != (geom.Vec2{}) && has(at[i]) {
				t.Errorf("%s: no corner cut to %v: %v", c.name, n, s.Outline)
			}
			if corners++; n != (geom.Vec2{}) {
				corners += 2
			}
		}
		for _, e := range c.edges {
			if !has(e[0]) || !has(e[1]) {
				t.Errorf("%s: no notch with corners %v and %v: %v", c.name, e[0], e[1], s.Outline)
			}
			corners += 4
		}
		if len(s.Outline) != corners {
			t.Errorf("%s: %d corners, want %d: %v", c.name, len(s.Outline), corners, s.Outline)
		}
	}
}

// Two things close together and one close to a corner leave no tongue narrower than 20 mm (the project's own figure).
func TestNotchesLeaveNoTongue(t *testing.T) {
	var n notches
	size := geom.Vec2{X: 600, Y: 400}
	for _, x := range []float64{200, 240, 12, 560} {
		if !n.add([2]geom.Vec2{{X: x, Y: -5}, {X: x + 20, Y: 9}}, size, 8, 1) {
			t.Errorf("nothing is cut at %g", x)
		}
	}
	n.join(size)
	out, count := n.outline(size)
	want := []geom.Vec2{{Y: 10}, {X: 33, Y: 10}, {X: 33}, {X: 199}, {X: 199, Y: 10}, {X: 261, Y: 10}, {X: 261}, {X: 559}, {X: 559, Y: 10}, {X: 600, Y: 10}, {X: 600, Y: 400}, {Y: 400}}
	if count != 3 || !slices.Equal(out, want) || !n.apart(size) {
		t.Errorf("%d notches, %v; want 3, %v", count, out, want)
	}
	for _, r := range [][2]geom.Vec2{{{X: -5, Y: 100}, {X: 610, Y: 120}}, {{X: 200, Y: 100}, {X: 220, Y: 120}}, {{X: 100, Y: -5}, {X: 400, Y: 9}}, {{X: -5, Y: 100}, {X: 300, Y: 120}}} {
		if n.add(r, size, 8, 1) {
			t.Errorf("%v is cut out", r)
		}
	}
}

// TestSheetsMeetNothing looks at the sheets of many boxes on a lattice over both faces and their edges: no point lies in the metal of a bar, in the
// head of a screw or in a bought bracket. The bars' metal is that of the profile's own outlines (even-odd), heads are round.
func TestSheetsMeetNothing(t *testing.T) {
	sheets, notched := 0, 0
	for _, profile := range []string{"20x20-6", "30x30-8", "40x40-10", "30x60-8"} {
		for _, joining := range []string{"end-screw", "through-screw", "angle-bracket", "none"} {
			for _, held := range []string{leftWall, "  held_by = base\n", "  held_by = crown\n"} {
				for _, more := range []string{plywood, "  material = \"PC\"\n", "  material = \"PMMA\"\n", plywood + "  clearance = 0.5\n"} {
					text := boxOf(profile, joining, held+more)
					f, err := Parse("it.hcl", []byte(text), Options{})
					if err != nil {
						if strings.Contains(err.Error(), "room to grow") {
							continue
						}
						t.Fatalf("%s, %s: %v", profile, joining, err)
					}
					s := f.Panels[0].Sheet
					if s == nil {
						continue
					}
					sheets++
					if s.Notches > 0 {
						notched++
					}
					meetsNothing(t, f, fmt.Sprintf("%s, %s,%s%s", profile, joining, held, more))
				}
			}
		}
	}
	f, err := Parse("it.hcl", []byte(bay), Options{})
	if err != nil {
		t.Fatal(err)
	}
	meetsNothing(t, f, "bay")
	if sheets < 100 || notched < 40 {
		t.Errorf("only %d sheets, %d with notches", sheets, notched)
	}
}

// meetsNothing checks the sheet of a frame's panel, and how deep its edges stand in their slots.
func meetsNothing(t *testing.T, f *Frame, name string) {
	t.Helper()
	p := f.Panels[0]
	s := p.Sheet
	metal := map[*geom.Profile][][]geom.Vec2{}
	for _, m := range f.Members {
		if metal[m.Bar.Profile] == nil {
			metal[m.Bar.Profile] = m.Bar.Profile.Region().Polygons(0.02)
		}
	}
	for _, q := range sheetLattice(s) {
		for _, high := range []float64{0.01, p.Thickness - 0.01} {
			at := s.At(q, high)
			for _, m := range f.Members {
				if inMetal(m, metal[m.Bar.Profile], at) {
					t.Fatalf("%s: %v of the sheet lies in %s, at %v", name, q, m.Name, at)
				}
			}
			for _, j := range f.Joints {
				for i := range j.Fasteners {
					if inHead(&j.Fasteners[i], at) {
						t.Fatalf("%s: %v of the sheet lies in the head of a screw of %s and %s", name, q, j.A.Name, j.B.Name)
					}
				}
				if j.Corner != nil {
					for _, b := range j.Corner.legBoxes(j.B.Bar.Profile.Slot.Cavity / 2) {
						if b.Overlaps(geom.Box{Low: at, High: at}.Grow(0.01)) {
							t.Fatalf("%s: %v of the sheet lies in the bracket of %s and %s", name, q, j.A.Name, j.B.Name)
						}
					}
				}
			}
		}
	}
	// Every bar's slot holds an edge: as deep as the engagement, and the clearance short of the floor.
	for _, b := range p.HeldBy {
		across := geom.Axis(3 - int(s.Normal) - int(b.Axis))
		edge, face, out := s.Box.Low.Along(across), b.Box.High.Along(across), 1.0
		if b.Box.Centre().Along(across) > s.Box.Centre().Along(across) {
			edge, face, out = s.Box.High.Along(across), b.Box.Low.Along(across), -1
		}
		if in := out * (face - edge); math.Abs(in-p.Engagement) > 1e-9 || in+p.Clearance > b.Bar.Profile.Slot.Depth+1e-9 || in <= b.Bar.Profile.Slot.Lip {
			t.Errorf("%s: %.3f of the sheet stand in %s, engagement %g, clearance %g", name, in, b.Name, p.Engagement, p.Clearance)
		}
	}
}

// sheetLattice returns points of the sheet's outline, a hundredth of a mm inside, and of its area.
func sheetLattice(s *PanelSheet) []geom.Vec2 {
	var out []geom.Vec2
	add := func(p geom.Vec2) {
		if inside(s.Outline, p) {
			out = append(out, p)
		}
	}
	for i, a := range s.Outline {
		b := s.Outline[(i+1)%len(s.Outline)]
		d := b.Sub(a)
		in := geom.Vec2{X: -d.Y, Y: d.X}.Scale(0.01 / d.Dist(geom.Vec2{}))
		n := int(d.Dist(geom.Vec2{})/2.3) + 2
		for k := range n {
			add(a.Add(d.Scale((float64(k) + 0.01) / float64(n))).Add(in))
		}
	}
	const step = 23.7
	for x := 0.5; x < s.Size.X; x += step {
		for y := 0.5; y < s.Size.Y; y += step {
			add(geom.Vec2{X: x, Y: y})
		}
	}
	return out
}

// inside counts crossings of a ray.
func inside(polygon []geom.Vec2, p geom.Vec2) bool {
	in := false
	for i, a := range polygon {
		b := polygon[(i+1)%len(polygon)]
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(b.X-a.X)*(p.Y-a.Y)/(b.Y-a.Y) {
			in = !in
		}
	}
	return in
}

// inMetal reports whether a point lies in a bar's section, between its ends.
func inMetal(m *Member, section [][]geom.Vec2, at geom.Vec) bool {
	q := m.Place.Unapply(at)
	if size := m.Bar.Profile.Size(); q.Z < 0 || q.Z > m.Bar.Length || math.Abs(q.X) > size.X/2 || math.Abs(q.Y) > size.Y/2 {
		return false
	}
	in := false
	for _, polygon := range section {
		if inside(polygon, geom.Vec2{X: q.X, Y: q.Y}) {
			in = !in
		}
	}
	return in
}

// heads are the sizes of screw heads by standard and thread, diameter and height in mm (ISO 7380-1:2022 and ISO 4762:2004, tables 1,
// from memory).
var heads = map[string][2]float64{
	"ISO 7380-1 M4": {7.6, 2.2}, "ISO 7380-1 M5": {9.5, 2.75}, "ISO 7380-1 M6": {10.5, 3.3}, "ISO 7380-1 M8": {14, 4.4}, "ISO 7380-1 M10": {17.5, 5.5}, "ISO 7380-1 M12": {21, 6.6},
	"ISO 4762 M5": {8.72, 5}, "ISO 4762 M6": {10.22, 6}, "ISO 4762 M8": {13.27, 8}, "ISO 4762 M10": {16.27, 10}, "ISO 4762 M12": {18.27, 12},
}

// inHead reports whether a point lies in the head of a screw.
func inHead(s *Fastener, at geom.Vec) bool {
	size, ok := heads[s.Standard+" "+s.Thread]
	if !ok {
		panic("no head for " + s.Standard + " " + s.Thread)
	}
	d := at.Sub(s.Seat)
	up := -d.Dot(s.Dir)
	return up > 0 && up < size[1] && d.Add(s.Dir.Scale(up)).Len() < size[0]/2
}
