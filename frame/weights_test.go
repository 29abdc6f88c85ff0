package frame

import (
	"math"
	"strings"
	"testing"

	"barwright/geom"
	"barwright/standard"
)

// By hand: every line of the hardware list whose standard tells a mass weighs where it sits, so that the sum over the places is the sum over the list.
func TestFittingsAreTheHardwareList(t *testing.T) {
	for name, text := range map[string]string{
		"end screws and sheets": walls + `
panel "floor" {
  held_by   = base
  thickness = 5
  material  = "plywood"
}
panel "back" {
  held_by   = [leg.back_left, leg.back_right, base.back_rail, crown.back_rail]
  thickness = 2
  screwed   = true
}
`,
		"angles and feet": strings.Replace(walls, `profile = "30x30-8"`, "profile = \"30x30-8\"\n  joining = \"angle-bracket\"\n  floor = -60", 1) + `
foot {
  under = leg
}
`,
		"rails on feet": head + `
member "a" {
  left   = 0
  right  = 1000
  front  = 0
  bottom = 100
}
foot {
  under = [a]
  at    = [60, 940]
}
`,
	} {
		f, err := Parse("it.hcl", []byte(text), Options{})
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		list, n := 0.0, 0
		for _, h := range f.Hardware {
			list += h.Kg() * float64(h.Quantity)
			n += h.Quantity
		}
		placed := 0.0
		for _, x := range f.Fittings() {
			if x.Kind == HardwareFitting {
				placed += x.Kg
			}
			if len(x.On) == 0 || !(x.Kg > 0) {
				t.Errorf("%s: %s weighs %g kg on %d bars", name, x.Name, x.Kg, len(x.On))
			}
		}
		if n == 0 || math.Abs(list-placed) > 1e-9 || list == 0 {
			t.Errorf("%s: %d pieces of %.6f kg in the list, %.6f kg in their places", name, n, list, placed)
		}
		w := f.Weights()
		if w.Hardware != placed || math.Abs(w.Total()-(w.Bars+w.Panels+w.Printed+placed)) > 1e-9 || f.Mass() != w.Total() {
			t.Errorf("%s: %+v with %g kg of hardware; in all %g", name, w, placed, f.Mass())
		}
	}
}

// By hand: two sheets, and sixteen of the built-in end screw; no standard tells of slot nuts.
func TestWeights(t *testing.T) {
	f, err := Parse("it.hcl", []byte(walls+`
panel "floor" {
  held_by    = base
  thickness  = 5
  material   = "plywood"
  engagement = 8
}
panel "back" {
  held_by   = [leg.back_left, leg.back_right, base.back_rail, crown.back_rail]
  thickness = 2
  material  = "EN AW-5754 H22"
  screwed   = true
}
`), Options{})
	if err != nil {
		t.Fatal(err)
	}
	// The floor: 540 + 2·8 by 440 + 2·8 less 9 × 9 at each corner (TestPanelNotches). The back: 600 × 800 less its holes.
	ply, _ := standard.PanelMaterial("plywood")
	alu, _ := standard.PanelMaterial("EN AW-5754 H22")
	back := 600.0 * 800
	holes := f.Panels[1].Sheet.Holes
	for _, h := range holes {
		back -= math.Pi * h.Diameter * h.Diameter / 4
	}
	want := (556*456-4*81)*5*ply.Density + back*2*alu.Density
	if w := f.Weights(); math.Abs(w.Panels-want) > 1e-9 {
		t.Errorf("panels %.6f kg, want %.6f", w.Panels, want)
	}
	// Four rails in two rings, a screw at each end, and a screw in every hole.
	joint, ok := standard.ScrewOf(f.Joints[0].Fasteners[0].Standard, f.Joints[0].Fasteners[0].Thread)
	button, ok2 := standard.ButtonHeadScrew(holes[0].Thread)
	if !ok || !ok2 || len(f.Joints) != 16 {
		t.Fatalf("%d joints", len(f.Joints))
	}
	screws := 16*joint.Mass(f.Joints[0].Fasteners[0].Length) + float64(len(holes))*button.Mass(holes[0].Length)
	if w := f.Weights(); math.Abs(w.Hardware-screws) > 1e-9 || w.Printed != 0 {
		t.Errorf("hardware %.6f kg, want %.6f; printed %g", w.Hardware, screws, w.Printed)
	}
	before := f.Weights()
	f.AddFittings([]Fitting{{Kind: PrintedFitting, Name: "cap", Kg: 0.25, On: f.Members[:1]}})
	if after := f.Weights(); after.Printed != 0.25 || math.Abs(after.Total()-before.Total()-0.25) > 1e-12 {
		t.Errorf("a printed part of 0.25 kg makes %+v of %+v", after, before)
	}
	text := f.Weights().String()
	for _, s := range []string{"bars ", "panels ", "printed parts 0.25 kg", "screws and nuts ", "slot nuts are not counted"} {
		if !strings.Contains(text, s) {
			t.Errorf("%q lacks %q", text, s)
		}
	}
}

// What two of three bars hold counts with both, and not with one; a sheet counts with all its bars.
func TestMassOf(t *testing.T) {
	f, err := Parse("it.hcl", []byte(walls+"panel \"floor\" {\n  held_by = base\n  thickness = 5\n}\n"), Options{})
	if err != nil {
		t.Fatal(err)
	}
	a, b := f.Joints[0].A, f.Joints[0].B
	s := f.Joints[0].Fasteners[0]
	screw, _ := standard.ScrewOf(s.Standard, s.Thread)
	if got := f.MassOf([]*Member{a}); got != a.Part.Mass {
		t.Errorf("one bar weighs %g, want %g", got, a.Part.Mass)
	}
	if got, want := f.MassOf([]*Member{a, b}), a.Part.Mass+b.Part.Mass+screw.Mass(s.Length); math.Abs(got-want) > 1e-12 {
		t.Errorf("two bars with their screw weigh %g, want %g", got, want)
	}
	var ring []*Member
	bars := 0.0
	for _, m := range f.Panels[0].HeldBy {
		ring = append(ring, m)
		bars += m.Part.Mass
	}
	if got := f.MassOf(ring); math.Abs(got-bars-f.Panels[0].Sheet.Mass) > 1e-9 {
		t.Errorf("a ring with its sheet weighs %g, want %g and %g", got, bars, f.Panels[0].Sheet.Mass)
	}
	if got := f.MassOf(f.Members); math.Abs(got-f.Mass()) > 1e-9 {
		t.Errorf("all bars weigh %g, the frame %g", got, f.Mass())
	}
}

// A sheet weighs at the middle of its area: the balance shifts by its moment.
func TestBalanceCountsFittings(t *testing.T) {
	f, err := Parse("it.hcl", []byte(walls), Options{})
	if err != nil {
		t.Fatal(err)
	}
	g, err := Parse("it.hcl", []byte(walls+"panel \"left\" {\n  held_by = [leg.front_left, leg.back_left, base.left_rail, crown.left_rail]\n  thickness = 4\n  material = \"PC\"\n}\n"), Options{})
	if err != nil {
		t.Fatal(err)
	}
	a, b := f.Balance(), g.Balance()
	kg := g.Panels[0].Sheet.Mass
	// It stands in the slots' middle, 15 from the left, between bars: 500/2 deep and (90 + 690)/2 high.
	at := geom.Vec{X: 15, Y: 250, Z: 390}
	want := a.Centre.Scale(a.Bars + a.Fittings).Add(at.Scale(kg)).Scale(1 / (a.Bars + a.Fittings + kg))
	if math.Abs(b.Fittings-a.Fittings-kg) > 1e-12 || b.Centre.Dist(want) > 1e-6 {
		t.Errorf("centre %v with %g kg of fittings, want %v with %g", b.Centre, b.Fittings, want, a.Fittings+kg)
	}
}
