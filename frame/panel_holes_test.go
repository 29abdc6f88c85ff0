package frame

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"barwright/geom"
)

const backWall = "  held_by = [leg.back_left, leg.back_right, base.back_rail, crown.back_rail]\n  screwed = true\n"

// Holes of screwed sheets. Medium clearance holes: ISO 273, M5 5.5, M6 6.6, M8 9. The least distances of bolts from an edge and from each other are
// 1.2 and 2.2 diameters of the hole (EN 1993-1-8, table 3.3).
func TestPanelHolesLieOverSlots(t *testing.T) {
	medium := map[string]float64{"M5": 5.5, "M6": 6.6, "M8": 9}
	nominal := map[string]float64{"M5": 5, "M6": 6, "M8": 8}
	want := map[string]string{"20x20-6": "M5", "30x30-8": "M6", "40x40-10": "M8", "30x60-8": "M6", "60x30-8": "M6", "60x60-8": "M6"}
	for _, profile := range []string{"20x20-6", "30x30-8", "40x40-10", "30x60-8", "60x30-8", "60x60-8"} {
		for _, material := range []string{"", plywood, "  material = \"PC\"\n"} {
			f, err := Parse("it.hcl", []byte(boxOf(profile, "none", backWall+material)), Options{})
			if err != nil {
				t.Fatalf("%s: %v", profile, err)
			}
			p := f.Panels[0]
			s := p.Sheet
			on := map[*Member]int{}
			for i, h := range s.Holes {
				if h.Thread != want[profile] || h.Diameter < medium[h.Thread]+s.Growth-1e-9 || h.Diameter > medium[h.Thread]+s.Growth+0.5 {
					t.Errorf("%s: a hole ⌀%g for %s; the sheet grows %.2f", profile, h.Diameter, h.Thread, s.Growth)
				}
				over := slices.IndexFunc(p.HeldBy, func(m *Member) bool { return overSlot(s, m, h.At) })
				if over < 0 {
					t.Errorf("%s: the hole at %v lies over no slot", profile, h.At)
					continue
				}
				on[p.HeldBy[over]]++
				slot := p.HeldBy[over].Bar.Profile.Slot
				// Through washers (ISO 7089: 1, 1.6 and 1.6 mm), sheet and lips it goes half a diameter into the nut at least, and does not
				// meet the floor of the slot (common practice, no source).
				grip := p.Thickness + float64(h.Washers)*map[string]float64{"M5": 1, "M6": 1.6, "M8": 1.6}[h.Thread]
				if in := h.Length - grip; in < slot.Lip+nominal[h.Thread]/2 || in >= slot.Depth {
					t.Errorf("%s: a screw %s × %g reaches %g into a slot with lips of %g and its floor at %g", profile, h.Thread, h.Length, in, slot.Lip, slot.Depth)
				}
				for k, a := range s.Outline {
					if d := fromSide(h.At, a, s.Outline[(k+1)%len(s.Outline)]); d < 1.2*h.Diameter {
						t.Errorf("%s: the hole ⌀%g at %v lies %.2f from the edge", profile, h.Diameter, h.At, d)
					}
				}
				for _, o := range s.Holes[:i] {
					if d := h.At.Dist(o.At); d < 2.2*h.Diameter {
						t.Errorf("%s: the holes at %v and %v lie %.2f apart", profile, h.At, o.At, d)
					}
				}
			}
			for _, m := range p.HeldBy {
				if on[m] < 2 {
					t.Errorf("%s: %d screws in %s", profile, on[m], m.Name)
				}
			}
		}
	}
}

// overSlot reports whether a sheet's point lies over the middle of a slot of a bar: level with the lips there is air as wide as the slot's opening, and metal
// beyond, on both sides alike. The metal is that of the section's outlines.
func overSlot(s *PanelSheet, m *Member, q geom.Vec2) bool {
	section := m.Bar.Profile.Region().Polygons(0.02)
	slot := m.Bar.Profile.Slot
	across := geom.Axis(3 - int(s.Normal) - int(m.Axis)).Unit()
	low, high := s.At(q, 0), s.At(q, s.Box.Size().Along(s.Normal))
	for _, at := range []geom.Vec{low.Sub(s.Normal.Unit().Scale(0.8 * slot.Lip)), high.Add(s.Normal.Unit().Scale(0.8 * slot.Lip))} {
		metal := func(off float64) bool { return inMetal(m, section, at.Add(across.Scale(off))) }
		if !metal(0) && !metal(slot.Opening/2-0.05) && !metal(0.05-slot.Opening/2) && metal(slot.Opening/2+0.3) && metal(-slot.Opening/2-0.3) {
			return true
		}
	}
	return false
}

// fromSide returns the distance of a point from a side of an outline.
func fromSide(p, a, b geom.Vec2) float64 {
	d := b.Sub(a)
	k := math.Max(0, math.Min(1, p.Sub(a).Dot(d)/d.Dot(d)))
	return p.Dist(a.Add(d.Scale(k)))
}

// A bar too short for a row of holes has one, in its middle: 80 of a 30 profile, whose rows begin 45 from the ends.
func TestPanelHolesOnShortBars(t *testing.T) {
	text := strings.Replace(boxOf("30x30-8", "none", backWall), "right  = 600", "right  = 140", 1)
	f, err := Parse("it.hcl", []byte(text), Options{})
	if err != nil {
		t.Fatal(err)
	}
	var on []geom.Vec2
	for _, h := range f.Panels[0].Sheet.Holes {
		if math.Abs(h.At.Y-75) < 1e-9 && h.At.X > 30 && h.At.X < 110 {
			on = append(on, h.At)
		}
	}
	if len(on) != 1 || on[0].X != 70 {
		t.Errorf("holes of the short rail at %v, want one at 70", on)
	}
}

// shut is a profile without slots.
const shut = `
profile "shut" {
  pitch  = 30
  closed = ["left", "right", "top", "bottom"]
  slot {
    opening = 8.2
    lip     = 2
    cavity  = 16.5
    depth   = 9
    chamfer = 3.5
  }
  core {
    bore = 6.8
  }
}
`

// What can't hold a screwed sheet is said.
func TestPanelHoldersMustHold(t *testing.T) {
	back := strings.Replace(boxOf("30x30-8", "none", backWall), "ring \"crown\" {\n  within = leg", "ring \"crown\" {\n  left = 0\n  right = 600\n  front = 0\n  back = 490", 1)
	closed := shut + strings.Replace(boxOf("30x30-8", "none", backWall), "ring \"base\" {", "ring \"base\" {\n  profile = \"shut\"", 1)
	for _, c := range [][2]string{{back, "does not lie on crown.back_rail"}, {closed, "can't be screwed to base.back_rail"}} {
		if _, err := Parse("it.hcl", []byte(c[0]), Options{}); err == nil || !strings.Contains(err.Error(), c[1]) {
			t.Errorf("%v, want %q", err, c[1])
		}
	}
}

// By hand: what a sheet grows more than the bars is (α − 23·10⁻⁶)·ΔT·L of its longer side. α of 10⁻⁶/K: aluminium 23 (EN 1999-1-1), PMMA 70 (data
// sheets, ISO 7823-1), PC 65 to 70 (data sheets, ISO 11963), EN AW-5754 23.8 (EN 1999-1-1 and alloy sheets), steel 12 (EN 1993-1-1).
// In the slot as much stays free as half of that and 1 mm, in steps of half a mm; the rest of the slot's depth of 9 is taken.
func TestPanelGrowthByHand(t *testing.T) {
	for _, c := range []struct {
		material             string
		warm                 float64 // 0: the usual 40 K
		low, high            float64 // growth, mm
		engagement, clearing float64
	}{
		{"PMMA", 0, 600 * 47e-6 * 40, 600 * 47e-6 * 40, 7, 2}, // 1.128: 0.564 + 1, up to 2
		{"PMMA", 15, 600 * 47e-6 * 15, 600 * 47e-6 * 15, 7.5, 1.5},
		{"PC", 0, 600 * 42e-6 * 40, 600 * 47e-6 * 40, 7, 2},
		{"PC", 90, 600 * 42e-6 * 90, 600 * 47e-6 * 90, 6.5, 2.5}, // 2.27 to 2.54: 1.13 to 1.27 and 1
		{"EN AW-5754 H22", 0, 600 * 0.8e-6 * 40, 600 * 0.8e-6 * 40, 7.5, 1.5},
		{"S235", 0, 0, 0, 8, 1},
	} {
		body := fmt.Sprintf("%s  material = %q\n", leftWall, c.material)
		text := boxOf("30x30-8", "none", body)
		if c.warm > 0 {
			text += fmt.Sprintf("limit {\n  warm = %g\n}\n", c.warm)
		}
		f, err := Parse("it.hcl", []byte(text), Options{})
		if err != nil {
			t.Fatalf("%s: %v", c.material, err)
		}
		p := f.Panels[0]
		if g := p.Sheet.Growth; g < c.low-1e-9 || g > c.high+1e-9 {
			t.Errorf("%s, %g K: it grows %.4f, want %.4f to %.4f", c.material, c.warm, g, c.low, c.high)
		}
		if p.Engagement != c.engagement || p.Clearance != c.clearing {
			t.Errorf("%s, %g K: engagement %g, clearance %g; want %g and %g", c.material, c.warm, p.Engagement, p.Clearance, c.engagement, c.clearing)
		}
	}
}
