package frame

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// walls is a box of posts and two rings with a wall between them.
const walls = `
frame {
  profile = "30x30-8"
}
posts "leg" {
  left   = 0
  right  = 600
  front  = 0
  back   = 500
  bottom = 0
  top    = 800
}
ring "base" {
  within = leg
  bottom = 60
}
ring "crown" {
  within = leg
  bottom = 690
}
`

func panelOf(t *testing.T, body string) *Panel {
	t.Helper()
	f, err := Parse("walls.hcl", []byte(walls+"panel \"it\" {\n"+body+"}\n"), Options{})
	if err != nil {
		t.Fatal(err)
	}
	if f.Panels[0].Sheet == nil {
		t.Fatal("it has no sheet")
	}
	return f.Panels[0]
}

// A wall of polycarbonate: the opening is 500 - 2·30 = 440 by 690 - 90 = 600. PC grows by 65e-6 to 70e-6 per K (data sheets, from memory), the
// alloy by 23e-6 (EN 1999-1-1): 600·(65…70-23)e-6·40 K = 1.01…1.13 mm, half of it on each side and 1 mm free, rounded up to
// half millimetres: 2. The slot of the 30 profile is 9 deep, so 7 stand in it.
func TestPanelInSlots(t *testing.T) {
	p := panelOf(t, `
  held_by   = [leg.front_left, leg.back_left, base.left_rail, crown.left_rail]
  thickness = 4
  material  = "PC"
`)
	s := p.Sheet
	if s.Growth < 1 || s.Growth > 1.14 {
		t.Errorf("it grows %.3f mm more than the bars, want 1.01 to 1.13", s.Growth)
	}
	if p.Engagement != 7 || p.Clearance != 2 {
		t.Errorf("engagement %g and clearance %g", p.Engagement, p.Clearance)
	}
	if w := 440 + 2*p.Engagement; s.Size.X != w || s.Size.Y != 600+2*p.Engagement {
		t.Errorf("cut size %v, want %g × %g", s.Size, w, 600+2*p.Engagement)
	}
	if want := s.Size.X * s.Size.Y * 4 * 1.2e-6; math.Abs(s.Mass-want) > 0.01*want {
		t.Errorf("%.3f kg, want %.3f (PC 1.20 g/cm³, ISO 7391)", s.Mass, want)
	}
}

// A floor in the slots of a ring between posts loses its corners: 8 mm in the slot and 1 mm round the post, 9 × 9 each.
func TestPanelNotches(t *testing.T) {
	s := panelOf(t, "held_by = base\nthickness = 5\nmaterial = \"plywood\"\nengagement = 8\n").Sheet
	if s.Notches != 4 || len(s.Outline) != 12 || s.Size.X != 556 || s.Size.Y != 456 {
		t.Fatalf("%d notches, %d corners, %v", s.Notches, len(s.Outline), s.Size)
	}
	area := 0.0
	for i, a := range s.Outline {
		b := s.Outline[(i+1)%len(s.Outline)]
		area += (a.X*b.Y - a.Y*b.X) / 2
	}
	if want := 556.0*456 - 4*81; math.Abs(area-want) > 1e-6 {
		t.Errorf("area %.3f, want %.0f", area, want)
	}
}

// A screwed sheet covers its bars; its holes lie over their middle and let an M6 pass (ISO 273 medium: 6.6).
func TestPanelScrewed(t *testing.T) {
	s := panelOf(t, "held_by = [leg.back_left, leg.back_right, base.back_rail, crown.back_rail]\nthickness = 2\nscrewed = true\n").Sheet
	if s.Size.X != 600 || s.Size.Y != 800 || s.Box.Low.Y != 500 || s.Box.High.Y != 502 || len(s.Holes) == 0 {
		t.Fatalf("%v at %v with %d holes", s.Size, s.Box, len(s.Holes))
	}
	for _, h := range s.Holes {
		over := false
		for _, x := range []float64{15, 585} {
			over = over || math.Abs(h.At.X-x) < 1e-9
		}
		for _, y := range []float64{75, 705} {
			over = over || math.Abs(h.At.Y-y) < 1e-9
		}
		if !over || h.Diameter < 6.6 || h.Diameter > 7.5 || h.Thread != "M6" {
			t.Errorf("hole %v", h)
		}
	}
}

// What cannot be says what fights.
func TestPanelFights(t *testing.T) {
	for _, c := range [][2]string{
		{"engagement = 8\nclearance = 3\n", "fight the slot"}, {"engagement = 8.8\n", "no room to grow"}, {"engagement = 2\n", "does not stay"}, {"clearance = 7\n", "does not stay"},
	} {
		_, err := Parse("walls.hcl", fmt.Appendf(nil, "%spanel \"it\" {\nheld_by = [leg.front_left, leg.back_left, base.left_rail, crown.left_rail]\nthickness = 4\nmaterial = \"PC\"\n%s}\n", walls, c[0]), Options{})
		if err == nil || !strings.Contains(err.Error(), c[1]) {
			t.Errorf("%q: %v, want %q", c[0], err, c[1])
		}
	}
}
