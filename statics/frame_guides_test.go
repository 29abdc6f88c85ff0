package statics

import (
	"math"
	"strings"
	"testing"

	"barwright/geom"
)

const gantry = `
frame { profile = "30x60-8" }
member "rail_left" {
  front  = 0
  back   = 1000
  left   = 0
  bottom = 0
}
member "rail_right" {
  front  = 0
  back   = 1000
  left   = 830
  bottom = 0
}
member "bridge" {
  left   = 0
  right  = 860
  mid_y  = 500
  bottom = 80
}
group "gantry" {
  members    = [bridge]
  travel     = { along = "y", from = -400, to = 300 }
  kg         = 1
  carried_by = [rail_left, rail_right]
}
support {
  on      = rail_left
  at      = [0, 1000]
  clamped = true
}
support {
  on      = rail_right
  at      = [0, 1000]
  clamped = true
}
mass "head" {
  kg   = 6
  on   = bridge
  path = [100, 760]
}
`

// A gantry: its bridge bends as a simple beam between its guides, whose rails it loads where it stands.
func TestGantry(t *testing.T) {
	f := parse(t, gantry)
	m := fromFrame(t, f, Options{})
	if len(m.Carried) != 1 || len(m.Springs) != 2 {
		t.Fatalf("carried %v, %d springs", m.Carried, len(m.Springs))
	}
	bridge := m.Pieces[f.Member("bridge")]
	if len(bridge) != 3 {
		t.Fatalf("the bridge has %d pieces, want an end, the span between the guides, an end", len(bridge))
	}
	s := prepare(t, m.Model)
	span := m.length(bridge[1])
	if math.Abs(span-830) > 1e-9 {
		t.Errorf("guides %g apart, want the rails' middles, 830", span)
	}
	only := &Case{MassField: map[int]geom.Vec{0: {Z: -Gravity}}, At: map[int]Place{0: {bridge[1], span / 2}}}
	sol := solve(t, s, only)
	ends := sol.At(Place{bridge[1], 0}).Shift.Z/2 + sol.At(Place{bridge[1], span}).Shift.Z/2
	sec := m.Beams[bridge[1]].Section
	inertia, shear := sec.Iz, sec.ShearY
	if math.Abs(m.Beams[bridge[1]].Y.Z) < 0.5 {
		inertia, shear = sec.Iy, sec.ShearZ
	}
	want := 6 * Gravity * (span*span*span/(48*70000*inertia) + span/(4*27000*shear))
	check(t, "bridge", ends-sol.At(Place{bridge[1], span / 2}).Shift.Z, want, 0.02, "PL³/48EI + PL/4GAs; the guides clamp by a hundredth of a bracket")

	// At its worst place the gantry stands at the middle of the rails, and the head at the middle of the bridge.
	r := report(t, m, LoadOptions{Accelerate: geom.Vec{Y: 0.5}})
	found := map[string]bool{}
	for _, c := range r.LoadCases {
		if c.Failed != "" {
			t.Errorf("%s: %s", c.Name, c.Failed)
		}
		if c.Name == "gantry at its worst place" {
			for _, p := range c.Masses {
				if p.Name == "gantry" && math.Abs(p.At[1]-500) > 10 {
					t.Errorf("gantry worst at %v, want the middle of the rails", p.At)
				}
			}
		}
		for _, p := range c.Masses {
			if strings.HasPrefix(c.Name, "head at") && p.Name == "head" && math.Abs(p.At[0]-430) > 1 {
				t.Errorf("%s: at %v, want the middle of the bridge", c.Name, p.At)
			}
		}
		// Speeding up along Y pushes everything that travels back: its mass times half g.
		if strings.HasPrefix(c.Name, "accelerating") {
			var y float64
			for _, q := range c.Reactions {
				y += q.Force[1]
			}
			moving := f.Member("bridge").Bar.Mass() + 1 + 6
			check(t, "force of acceleration", y, 0.5*Gravity*moving, 1e-3, "F = m·a")
		}
		found[c.Name] = true
	}
	for _, name := range []string{"standing", "head at its worst place", "gantry at its worst place", "head at its worst place, gantry at its own"} {
		if !found[name] {
			t.Errorf("no case %q in %v", name, found)
		}
	}
	// Moved to an end of its travel, it loads the rails there.
	moved := fromFrame(t, f, Options{Shifts: map[string]float64{"gantry": -400}})
	for _, i := range moved.Pieces[f.Member("bridge")] {
		if a, _ := moved.tips(i); math.Abs(a.Y-100) > 1e-9 {
			t.Errorf("the moved bridge lies at %v", a)
		}
	}
	ms := prepare(t, moved.Model)
	sol = solve(t, ms, &Case{Field: geom.Vec{Z: -Gravity}})
	near, far := 0.0, 0.0
	for i, q := range sol.Reactions() {
		if moved.Nodes[moved.Supports[i].Node].Y < 500 {
			near += q.Force.Z
		} else {
			far += q.Force.Z
		}
	}
	if near <= far+10 {
		t.Errorf("the near supports carry %g N, the far ones %g N", near, far)
	}
}

// A group that nothing carries is left out, and the notes say so.
func TestUncarriedGroup(t *testing.T) {
	f := parse(t, strings.Replace(gantry, "  carried_by = [rail_left, rail_right]\n", "", 1))
	m := fromFrame(t, f, Options{})
	if len(m.Carried) != 0 || len(m.Pieces[f.Member("bridge")]) != 0 || len(m.Rides) != 0 {
		t.Errorf("carried %v, rides %v", m.Carried, m.Rides)
	}
	if !strings.Contains(strings.Join(m.Notes, "\n"), "left out") {
		t.Errorf("notes %q", m.Notes)
	}
	report(t, m, LoadOptions{})
}
