package statics

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"barwright/geom"
)

func TestFeetLift(t *testing.T) {
	// A beam of two spans, loaded in the second: the far support would pull, and lifts. Then it is a simple beam with a
	// tail that rises.
	m := line(0, 500, 1000)
	m.hold(0, "z")
	m.hold(1, hinge)
	m.hold(2, roller)
	m.Supports[0].Lifts = true
	s := prepare(t, m)
	sol := solve(t, s, &Case{Points: []PointLoad{down(1, 250, force)}})
	check(t, "midspan", -sol.At(Place{1, 250}).Shift.Z, force*math.Pow(500, 3)/(48*tubeE*tubeI), 1e-6, "Roark table 8.1: PL³/48EI")
	check(t, "tail", sol.Shift(0).Z, 500*force*500*500/(16*tubeE*tubeI), 1e-6, "Roark table 8.1: end slope PL²/16EI")
	if !slices.Equal(sol.Lifted, []int{0}) || sol.Reactions()[0].Force != (geom.Vec{}) {
		t.Errorf("lifted %v, reaction %v", sol.Lifted, sol.Reactions()[0])
	}
	// Loaded in the first span, it stays down: three supports.
	sol = solve(t, s, &Case{Points: []PointLoad{down(0, 250, force)}})
	check(t, "first support", sol.Reactions()[0].Force.Z, force*13/32, 1e-6, "two equal spans, load at the middle of one: 13/32, 22/32, -3/32 (three-moment equation)")
	// A frame pushed at its top, not hard enough to tip: opposite feet keep the load, and all is in balance.
	b := box(geom.Identity(), 5e6)
	s = prepare(t, b)
	weight := 0.0
	for i := range b.Beams {
		weight += b.length(i) * 330 * 2.7e-6 * Gravity
	}
	top := 3
	tips := weight * 450 / 1100 // the push at which two feet are empty
	sol = solve(t, s, &Case{Field: geom.Vec{Z: -Gravity}, Nodes: []NodeLoad{{top, geom.Vec{X: 0.5 * tips}, geom.Vec{}}}})
	var up float64
	for _, r := range sol.Reactions() {
		if r.Force.Z < -1e-6 {
			t.Errorf("a foot pulls: %v", r)
		}
		up += r.Force.Z
	}
	check(t, "weight on the feet", up, weight, 1e-9, "balance")
	_, err := s.Solve(&Case{Field: geom.Vec{Z: -Gravity}, Nodes: []NodeLoad{{top, geom.Vec{X: 1.05 * tips}, geom.Vec{}}}})
	if !errors.Is(err, ErrTips) {
		t.Errorf("pushed over: %v", err)
	}
	// One foot of four too short of load: pushed along a diagonal, just one lifts.
	sol = solve(t, s, &Case{Field: geom.Vec{Z: -Gravity}, Nodes: []NodeLoad{{top, geom.Vec{X: 0.45 * tips, Y: 0.35 * tips}, geom.Vec{}}}})
	if len(sol.Lifted) != 1 || b.Supports[sol.Lifted[0]].Name != "leg.front_left" {
		t.Errorf("lifted %v", sol.Lifted)
	}
	up = 0
	for _, r := range sol.Reactions() {
		up += r.Force.Z
	}
	check(t, "weight on three feet", up, weight, 1e-9, "balance")
	f := sol.nodeForces()
	for n := range b.Nodes {
		for _, sp := range b.Supports {
			if sp.Node == n {
				goto next
			}
		}
		for c := range 6 {
			if math.Abs(f[6*n+c]) > 1e-5 {
				t.Errorf("node %d is out of balance by %g", n, f[6*n+c])
			}
		}
	next:
	}
}

func TestMechanismsAreNamed(t *testing.T) {
	for _, c := range []struct {
		name string
		m    func() *Model
		want []string // all of them in the message
	}{
		{"no supports", func() *Model { m := line(0, 100, 300); return m }, []string{"the whole frame", "no support holds it"}},
		{"slides", func() *Model { m := line(0, 100); m.hold(0, "yzr"); m.hold(1, "yz"); return m }, []string{"the whole frame can slide along X"}},
		{"one pin", func() *Model { m := line(0, 100); m.hold(0, "xyzrt"); return m }, []string{"the whole frame can turn about Y"}},
		{"spins", func() *Model { m := line(0, 100); m.hold(0, "xyz"); m.hold(1, "yz"); return m }, []string{"the whole frame can turn about X"}},
		{"hinged portal", func() *Model {
			m := portal(800, 600, hinge)
			for e := range 2 {
				m.Beams[1].Release[e][4], m.Beams[1].Release[e][5] = 0, 0
			}
			return m
		}, []string{"top can slide along X", "nothing braces it", "left", "right"}},
		{"upper ring on pins", func() *Model {
			m := box(geom.Identity(), math.Inf(1))
			s, mt := m.Beams[0].Section, m.Beams[0].Material
			// A square of bars on the upper ring's middle, on one pin that turns about Z.
			c := len(m.Nodes)
			m.Nodes = append(m.Nodes, geom.Vec{X: 450, Y: 350, Z: 1200}, geom.Vec{X: 450, Y: 350, Z: 1300}, geom.Vec{X: 550, Y: 350, Z: 1300}, geom.Vec{X: 450, Y: 450, Z: 1300})
			r := Rigid()
			m.Beams = append(m.Beams,
				Beam{Ends: [2]int{3, c}, Release: [2]Release{r, r}, Y: geom.Vec{Z: 1}, Section: s, Material: mt, Member: "stay_a"},
				Beam{Ends: [2]int{11, c}, Release: [2]Release{r, r}, Y: geom.Vec{Z: 1}, Section: s, Material: mt, Member: "stay_b"})
			loose := Rigid()
			loose[3] = 0
			m.Beams = append(m.Beams,
				Beam{Ends: [2]int{c, c + 1}, Release: [2]Release{loose, r}, Y: geom.Vec{X: 1}, Section: s, Material: mt, Member: "pole", Set: "group mast"},
				Beam{Ends: [2]int{c + 1, c + 2}, Release: [2]Release{r, r}, Y: geom.Vec{Z: 1}, Section: s, Material: mt, Member: "arm", Set: "group mast"})
			m.Nodes = m.Nodes[:c+3]
			return m
		}, []string{"group mast can turn about Z through (450, 350", "nothing braces it"}},
	} {
		_, err := c.m().Prepare()
		var mech *Mechanism
		if !errors.As(err, &mech) {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		for _, w := range c.want {
			if !strings.Contains(err.Error(), w) {
				t.Errorf("%s: %q does not say %q", c.name, err, w)
			}
		}
		if strings.Contains(err.Error(), "singular") || strings.Contains(err.Error(), "matrix") {
			t.Errorf("%s: %q", c.name, err)
		}
	}
}

// A mass that travels out over an overhang lifts the far foot on its way: the envelope is that of single solutions, and the worst place
// is the tip.
func TestTravelLiftsAFoot(t *testing.T) {
	m := line(0, 500, 1000, 1400)
	m.hold(0, "z")
	m.hold(1, hinge)
	m.hold(2, roller)
	m.Supports[0].Lifts, m.Supports[2].Lifts = true, false
	m.Masses = []Mass{{Kg: 8, Travels: true, Path: []Stretch{{0, 0, 500}, {1, 0, 500}, {2, 0, 400}}}}
	s := prepare(t, m)
	c := &Case{MassField: map[int]geom.Vec{0: {Z: -Gravity}}}
	w, err := s.WorstPlace(0, c)
	if err != nil {
		t.Fatal(err)
	}
	lifted := 0
	for _, e := range w.Envelope {
		at := Place{0, e.Way}
		for at.At > m.length(at.Beam)+1e-9 && at.Beam < 2 {
			at.At -= m.length(at.Beam)
			at.Beam++
		}
		sol := solve(t, s, &Case{Points: []PointLoad{down(at.Beam, at.At, 8*Gravity)}})
		lifted += len(sol.Lifted)
		if d := math.Abs(sol.Largest(geom.Vec{}).Value - e.Largest); d > 1e-9 {
			t.Errorf("at %g: envelope off by %g", e.Way, d)
		}
		if d := math.Abs(-sol.At(at).Shift.Z - e.Under); d > 1e-9 {
			t.Errorf("at %g: shift under the mass off by %g", e.Way, d)
		}
	}
	if lifted == 0 {
		t.Error("no foot lifted on the way")
	}
	// At the tip: held down at the hinge, the first support off the ground or not, P·a²(L+a)/3EI only where it is off.
	if p := w.Places[0]; p.Beam != 2 || p.At < 399.99 {
		t.Errorf("worst at %v, want the tip", p)
	}
}

// The state of the feet satisfies what contact means, for many loads: a foot down pushes, a foot up has no force and hangs above.
func TestContactConditions(t *testing.T) {
	b := box(geom.Identity(), 3e6)
	s := prepare(t, b)
	states := map[int]int{}
	for k := range 60 {
		push := geom.Vec{X: 12 * math.Sin(float64(k)), Y: 9 * math.Cos(1.7*float64(k)), Z: 20 * math.Sin(2.3*float64(k))}
		sol, err := s.Solve(&Case{Field: geom.Vec{Z: -Gravity}, Nodes: []NodeLoad{{3 + 4*(k%4), push, geom.Vec{}}}})
		if errors.Is(err, ErrTips) {
			states[-1]++
			continue
		}
		if err != nil {
			t.Fatal(err)
		}
		states[len(sol.Lifted)]++
		for i, r := range sol.Reactions() {
			up := slices.Contains(sol.Lifted, i)
			z := sol.Shift(b.Supports[i].Node).Z
			if up && (r.Force != (geom.Vec{}) || z < -1e-9) || !up && (r.Force.Z < -1e-6 || math.Abs(z) > 1e-9) {
				t.Errorf("load %d: %s lifted %v, force %v, height %g", k, b.Supports[i].Name, up, r.Force, z)
			}
		}
	}
	if states[0] == 0 || states[1]+states[2] == 0 {
		t.Errorf("states %v: too few kinds", states)
	}
}

// Samples along a beam are its states; a beam on very many feet lies still.
func TestSamples(t *testing.T) {
	m := line(0, span)
	m.hold(0, hinge)
	m.hold(1, roller)
	sol := solve(t, prepare(t, m), &Case{Points: []PointLoad{down(0, 500, force)}})
	got := sol.Samples(0, 4)
	if len(got) != 5 || got[0].At != (geom.Vec{}) || got[4].At.X != span || got[0].Shift.Len() > 1e-12 {
		t.Fatalf("samples %v", got)
	}
	check(t, "middle", -got[2].Shift.Z, force*1e9/(48*tubeE*tubeI), 1e-6, "PL³/48EI")
	check(t, "quarter", -got[1].Shift.Z, force*250*(3e6-4*62500)/(48*tubeE*tubeI), 1e-6, "Roark table 8.1: P·x(3L²-4x²)/48EI")
	if sol.Model() != m || modesOf(t, m, 2)[0].Model() != m {
		t.Error("the model is another")
	}
	modes := modesOf(t, m, 2)
	if s := modes[0].Samples(0, 2); len(s) != 3 || math.Abs(s[1].Shift.Len()-1) > 1e-2 {
		t.Errorf("mode samples %v", s)
	}
}

func TestManyFeetHold(t *testing.T) {
	var xs []float64
	for i := range 2 * mostFeet {
		xs = append(xs, 50*float64(i))
	}
	m := line(xs...)
	for i := range xs {
		m.hold(i, "xyzrt")
		m.Supports[i].Lifts = true
	}
	sol := solve(t, prepare(t, m), &Case{Nodes: []NodeLoad{{len(xs) - 1, geom.Vec{Z: force}, geom.Vec{}}}})
	if len(sol.Lifted) != 0 || sol.Shift(len(xs)-1).Z != 0 {
		t.Errorf("lifted %v", sol.Lifted)
	}
}

// A frame that only grows does not sag: thermal growth breaks no limit of sag, and does not count in a sweep.
func TestGrowthIsNoSag(t *testing.T) {
	r := &Report{LoadCases: []LoadCase{{Name: "standing", Deflection: 0.1}, {Name: "warmed by 15 K", Deflection: 0.4, Warmed: true}}}
	if b := r.Breaches(Limits{Sag: 0.2}); len(b) != 0 {
		t.Errorf("breaches %v; want none", b)
	}
	if b := r.Breaches(Limits{Sag: 0.05}); len(b) != 1 {
		t.Errorf("breaches %v; want the standing one", b)
	}
	var w SweepRow
	w.fill(r, 0, Limits{})
	if w.Sag != 0.1 {
		t.Errorf("a sweep shows a sag of %g; want 0.1", w.Sag)
	}
}
