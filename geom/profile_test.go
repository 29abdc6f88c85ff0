package geom

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"
)

// base returns the built-in 30x30-8, whose figures the design of the profile lists: opening 8.2, lip 2, cavity 16.5, depth 9,
// floor chamfer 3.5, corner radius 1.5, core 6.8.
func base(t testing.TB) Profile {
	t.Helper()
	p, ok := Builtin("30x30-8")
	if !ok {
		t.Fatal("no 30x30-8")
	}
	return *p
}

func TestValidateNamesTheDimensionsThatFight(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*Profile)
		rule   string
		fields []string
	}{
		{"no pitch", func(p *Profile) { p.Pitch = 0 }, "size", []string{"pitch"}},
		{"pitch not a number", func(p *Profile) { p.Pitch = math.NaN() }, "size", []string{"pitch"}},
		{"huge pitch", func(p *Profile) { p.Pitch = 501 }, "size", []string{"pitch"}},
		{"endless pitch", func(p *Profile) { p.Pitch = math.Inf(1) }, "size", []string{"pitch"}},
		{"negative corner", func(p *Profile) { p.CornerRadius = -0.1 }, "size", []string{"corner_radius"}},
		{"no opening", func(p *Profile) { p.Slot.Opening = 0 }, "size", []string{"slot.opening"}},
		{"no lip", func(p *Profile) { p.Slot.Lip = 0 }, "size", []string{"slot.lip"}},
		{"no cavity", func(p *Profile) { p.Slot.Cavity = 0 }, "size", []string{"slot.cavity"}},
		{"no depth", func(p *Profile) { p.Slot.Depth = -1 }, "size", []string{"slot.depth"}},
		{"negative chamfer", func(p *Profile) { p.Slot.Chamfer = -1 }, "size", []string{"slot.chamfer"}},
		{"no core", func(p *Profile) { p.Core = 0 }, "size", []string{"core.bore"}},
		{"no cells", func(p *Profile) { p.Cells[1] = 0 }, "cells", []string{"cells"}},
		{"too many cells", func(p *Profile) { p.Cells[0] = 9 }, "cells", []string{"cells"}},
		{"opening as wide as the cavity", func(p *Profile) { p.Slot.Opening = 16.5 }, "no-lip", []string{"slot.opening", "slot.cavity"}},
		{"thin lip", func(p *Profile) { p.Slot.Lip = 0.59 }, "thin-lip", []string{"slot.lip"}},
		{"chamfer deeper than the slot", func(p *Profile) { p.Slot.Chamfer = 7.1 }, "shallow-slot", []string{"slot.chamfer", "slot.depth"}},
		{"lip deeper than the slot", func(p *Profile) { p.Slot.Lip = 9.5 }, "shallow-slot", []string{"slot.lip", "slot.depth"}},
		{"lip as deep as the slot", func(p *Profile) { p.Slot.Lip, p.Slot.Chamfer = 9, 0 }, "shallow-slot", []string{"slot.lip", "slot.depth"}},
		{"chamfers eat the floor", func(p *Profile) { p.Slot.Cavity, p.Slot.Opening, p.Slot.Chamfer = 10, 8, 5.1 }, "floor-gone", []string{"slot.chamfer", "slot.cavity"}},
		{"corner in the opening", func(p *Profile) { p.CornerRadius = 11 }, "corner-in-slot", []string{"corner_radius", "slot.opening"}},
		{"lips meet", func(p *Profile) { p.Slot.Cavity = 28.9 }, "lips-meet", []string{"slot.cavity", "pitch"}},
		{"lips meet in a small pitch", func(p *Profile) { p.Pitch = 17.6 }, "lips-meet", []string{"slot.cavity", "pitch"}},
		{"slots meet", func(p *Profile) { p.Slot.Chamfer = 2 }, "slots-meet", []string{"slot.cavity", "slot.depth"}},
		{"core breaks into the slot", func(p *Profile) { p.Core = 10.9 }, "core-in-slot", []string{"core.bore", "slot.depth"}},
		{"round corner over the cavity", func(p *Profile) { p.CornerRadius, p.Slot.Cavity, p.Slot.Chamfer = 10.5, 22, 5.5 }, "corner-in-cavity", []string{"corner_radius", "slot.cavity"}},
	} {
		p := base(t)
		c.change(&p)
		err := p.Validate()
		var rule *RuleError
		if !errors.As(err, &rule) {
			t.Errorf("%s: got %v, want rule %s", c.name, err, c.rule)
			continue
		}
		if rule.Rule != c.rule || !slices.Equal(rule.Fields, c.fields) {
			t.Errorf("%s: rule %s of %v, want %s of %v", c.name, rule.Rule, rule.Fields, c.rule, c.fields)
		}
		for _, f := range c.fields {
			if !strings.Contains(err.Error(), f) {
				t.Errorf("%s: %q does not name %s", c.name, err, f)
			}
		}
	}
}

// Each wall may be just as thick as the least one and no thinner.
func TestValidateAtTheLimit(t *testing.T) {
	for _, c := range []struct {
		name string
		set  func(p *Profile, more float64)
	}{
		{"thin-lip", func(p *Profile, d float64) { p.Slot.Lip = 0.6 - d }},
		// (15 - 9 - 8.25 + chamfer)·√2 = 0.6
		{"slots-meet", func(p *Profile, d float64) { p.Slot.Chamfer = 2.25 + 0.6/math.Sqrt2 - d }},
		// 15 - 9 - core/2 = 0.6
		{"core-in-slot", func(p *Profile, d float64) { p.Core = 10.8 + d }},
		// 15 - cavity/2 = 0.6
		{"lips-meet", func(p *Profile, d float64) { p.Slot.Cavity = 28.8 + d }},
	} {
		p := base(t)
		c.set(&p, 0)
		err := p.Validate()
		var rule *RuleError
		if errors.As(err, &rule) && rule.Rule == c.name {
			t.Errorf("%s at the limit: %v", c.name, err)
		}
		c.set(&p, 0.001)
		if err := p.Validate(); !errors.As(err, &rule) || rule.Rule != c.name {
			t.Errorf("%s past the limit: %v", c.name, err)
		}
	}
}

// A section that passes is a sound region: one outside loop, holes inside, every wall there to be meshed.
func TestValidSectionsAreSound(t *testing.T) {
	for _, c := range []func(*Profile){
		func(p *Profile) {},
		func(p *Profile) { p.CornerRadius = 0 },
		func(p *Profile) { p.Slot.Chamfer, p.Slot.Cavity = 0, 11 },
		func(p *Profile) { p.Slot.Chamfer = 7; p.Slot.Cavity = 16.5 },                                    // the chamfer starts at the lip
		func(p *Profile) { p.Slot.Cavity, p.Slot.Opening, p.Slot.Chamfer, p.Slot.Depth = 12, 8.2, 6, 8 }, // no floor left
		func(p *Profile) { p.Closed = [4]bool{true, true, true, true} },
		func(p *Profile) { p.Closed[Left], p.Cells = true, [2]int{3, 2} },
		func(p *Profile) { p.Cells = [2]int{8, 8} },
		func(p *Profile) { p.CornerRadius = 5 },
	} {
		p := base(t)
		c(&p)
		if err := p.Validate(); err != nil {
			t.Errorf("%+v: %v", p, err)
			continue
		}
		r := p.Region()
		for i, l := range r {
			if (l.Area() > 0) != (i == 0) {
				t.Errorf("%+v: loop %d has area %g", p, i, l.Area())
			}
			for k, e := range l {
				if e.To != l[(k+1)%len(l)].From {
					t.Errorf("%+v: loop %d is open after edge %d", p, i, k)
				}
				if e.Length() < 1e-6 {
					t.Errorf("%+v: loop %d edge %d has no length", p, i, k)
				}
			}
		}
		if p.Cells[0]*p.Cells[1] > 6 {
			continue
		}
		if _, err := r.Torsion(0.02); err != nil {
			t.Errorf("%+v: %v", p, err)
		}
	}
}

func TestBuiltinNames(t *testing.T) {
	want := strings.Fields(`20x20-6 20x40-6 20x60-6 20x80-6 40x40-6 30x30-8 30x60-8 30x90-8 30x120-8 60x60-8
		40x40-10 40x80-10 40x120-10 40x160-10 80x80-10`)
	if got := BuiltinNames(); !slices.Equal(got, want) {
		t.Errorf("got %v", got)
	}
	for _, n := range want {
		p, ok := Builtin(n)
		if !ok || p.Name != n {
			t.Errorf("%s: %v", n, p)
			continue
		}
		if err := p.Validate(); err != nil {
			t.Errorf("%s: %v", n, err)
		}
	}
	for alias, name := range map[string]string{"generic-30-slot8": "30x30-8", "generic-30x60-slot8": "30x60-8", "generic-40-slot10": "40x40-10", "60x30-8": "60x30-8", "160x160-10": "160x160-10"} {
		if p, ok := Builtin(alias); !ok || p.Name != name {
			t.Errorf("%s: %v, want %s", alias, p, name)
		}
	}
	for _, n := range []string{"", "-", "30", "30-8", "30x30", "30x30-7", "30x30-6", "31x30-8", "0x30-8", "-30x30-8", "30x150-8", "30x30-8x", "30x30x30-8",
		" 30x30-8", "+30x30-8", "030x30-8", "30x30-08", "generic-", "generic-30", "generic-30-8", "generic-30-slot", "99999999999999999999x30-8"} {
		if p, ok := Builtin(n); ok {
			t.Errorf("%q is taken for %s", n, p.Name)
		}
	}
	// What Builtin returns is the caller's own.
	p, _ := Builtin("30x30-8")
	p.Pitch = 1
	if q, _ := Builtin("30x30-8"); q.Pitch != 30 {
		t.Error("a change to one profile changed the table")
	}
}

// The section areas by hand, from the dimensions: squares less corners, slots and bores.
func TestRegionAreas(t *testing.T) {
	corner := func(r float64) float64 { return (4 - math.Pi) * r * r } // all four
	slot := func(opening, lip, cavity, depth, chamfer float64) float64 {
		return opening*lip + cavity*(depth-lip) - chamfer*chamfer
	}
	chamber := func(cavity, depth, chamfer float64) float64 { return 2*depth*cavity - 2*chamfer*chamfer }
	bore := func(d float64) float64 { return math.Pi * d * d / 4 }
	for name, want := range map[string]float64{
		"20x20-6":  400 - corner(1.5) - 4*slot(6.2, 1.8, 11, 6, 2.5) - bore(5),
		"30x30-8":  900 - corner(1.5) - 4*slot(8.2, 2, 16.5, 9, 3.5) - bore(6.8),
		"40x40-10": 1600 - corner(1.5) - 4*slot(10.2, 4.5, 20, 12.5, 4) - bore(8.5),
		"30x60-8":  1800 - corner(1.5) - 6*slot(8.2, 2, 16.5, 9, 3.5) - 2*bore(6.8) - chamber(16.5, 9, 3.5),
		"60x60-8":  3600 - corner(1.5) - 8*slot(8.2, 2, 16.5, 9, 3.5) - 4*bore(6.8) - 4*chamber(16.5, 9, 3.5),
	} {
		p, _ := Builtin(name)
		near(t, name, p.Region().Area(), want, 1e-12, "by hand")
	}
	p := base(t)
	p.Closed[Top] = true
	near(t, "30x30-8 closed at the top", p.Region().Area(), 900-corner(1.5)-4*slot(8.2, 2, 16.5, 9, 3.5)-bore(6.8)+8.2*2, 1e-12, "the opening is filled")
	if n := len(p.Region()); n != 3 {
		t.Errorf("closed section has %d loops, want outline, chamber, bore", n)
	}
}

func TestSymmetric(t *testing.T) {
	for _, c := range []struct {
		cells  [2]int
		closed [4]bool
		want   [4]bool
	}{
		{[2]int{1, 1}, [4]bool{}, [4]bool{true, true, true, true}},
		{[2]int{2, 1}, [4]bool{}, [4]bool{true, false, true, false}},
		{[2]int{1, 1}, [4]bool{true, false, false, false}, [4]bool{true, false, false, false}},
		{[2]int{1, 1}, [4]bool{true, false, true, false}, [4]bool{true, false, true, false}},
		{[2]int{1, 1}, [4]bool{true, true, true, true}, [4]bool{true, true, true, true}},
		{[2]int{1, 2}, [4]bool{false, true, false, true}, [4]bool{true, false, true, false}},
		{[2]int{1, 1}, [4]bool{true, true, false, false}, [4]bool{true, false, false, false}},
	} {
		p := base(t)
		p.Cells, p.Closed = c.cells, c.closed
		for n := -4; n < 8; n++ {
			if got := p.Symmetric(n); got != c.want[((n%4)+4)%4] {
				t.Errorf("%v %v: %d quarters: %v", c.cells, c.closed, n, got)
			}
		}
		// The region says the same: turned, it has the same moments about its middle.
		r := p.Region()
		s := r.Properties()
		if p.Symmetric(1) && (math.Abs(s.Ix-s.Iy) > 1e-6 || s.Centroid.Len() > 1e-9) {
			t.Errorf("%v %v: Ix %g Iy %g centroid %v", c.cells, c.closed, s.Ix, s.Iy, s.Centroid)
		}
		if p.Symmetric(2) && s.Centroid.Len() > 1e-9 {
			t.Errorf("%v %v: centroid %v", c.cells, c.closed, s.Centroid)
		}
		if !p.Symmetric(2) && s.Centroid.Len() < 1e-9 {
			t.Errorf("%v %v: the centroid does not show the closed side", c.cells, c.closed)
		}
	}
}

func TestSidesAndLines(t *testing.T) {
	p := base(t)
	p.Cells = [2]int{2, 3} // 60 wide, 90 high
	for _, c := range []struct {
		side          Side
		name          string
		across, along float64
		lines         []float64
		at            Vec2 // of offset 7, depth 2
	}{
		{Right, "right", 60, 90, []float64{-30, 0, 30}, Vec2{28, 7}},
		{Top, "top", 90, 60, []float64{-15, 15}, Vec2{-7, 43}},
		{Left, "left", 60, 90, []float64{-30, 0, 30}, Vec2{-28, -7}},
		{Bottom, "bottom", 90, 60, []float64{-15, 15}, Vec2{7, -43}},
	} {
		if c.side.String() != c.name || p.Across(c.side) != c.across || p.Along(c.side) != c.along || !slices.Equal(p.SlotLines(c.side), c.lines) {
			t.Errorf("%s: across %g along %g lines %v", c.side, p.Across(c.side), p.Along(c.side), p.SlotLines(c.side))
		}
		if got := p.Point(c.side, 7, 2); got != c.at {
			t.Errorf("%s: point %v, want %v", c.side, got, c.at)
		}
		if c.side.Opposite().Normal() != c.side.Normal().Scale(-1) || c.side.Toward() != (c.side+1).mod().Normal() {
			t.Errorf("%s: opposite %s, toward %v", c.side, c.side.Opposite(), c.side.Toward())
		}
	}
	p.Closed[Top] = true
	if p.SlotLines(Top) != nil || len(p.CellLines(Top)) != 2 {
		t.Error("a closed side keeps its cell lines and loses its slots")
	}
	want := []Vec2{{-15, -30}, {15, -30}, {-15, 0}, {15, 0}, {-15, 30}, {15, 30}}
	if got := p.Cores(); !slices.Equal(got, want) {
		t.Errorf("cores %v", got)
	}
	// The middle of an open slot is air just under the face and at its floor; behind the floor is metal.
	r := p.Region()
	for _, c := range []struct {
		side          Side
		offset, depth float64
		metal         bool
	}{{Right, 30, 1, false}, {Right, 30, 8.9, false}, {Right, 30, 9.1, true}, {Right, 36, 1, true}, {Top, 15, 1, true}, {Top, 15, 5, false}, {Left, 0, 15, false}, {Left, 0, 29.9, false}, {Left, 15, 29.9, true}, {Bottom, 0, 44, false}} {
		if got := r.holds(p.Point(c.side, c.offset, c.depth)); got != c.metal {
			t.Errorf("%s offset %g depth %g: metal %v", c.side, c.offset, c.depth, got)
		}
	}
}

func TestSame(t *testing.T) {
	p, q := base(t), base(t)
	q.Name = "other"
	if !p.Same(&q) {
		t.Error("a name makes no other section")
	}
	q.Alloy = "EN AW-6063 T6"
	if p.Same(&q) {
		t.Error("another alloy is another profile")
	}
}
