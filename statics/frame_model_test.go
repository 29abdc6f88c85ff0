package statics

import (
	"bytes"
	"encoding/json"
	"errors"
	"math"
	"strings"
	"testing"

	"barwright/frame"
	"barwright/geom"
)

func parse(t testing.TB, text string) *frame.Frame {
	t.Helper()
	f, err := frame.Parse("test.hcl", []byte(text), frame.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func fromFrame(t testing.TB, f *frame.Frame, o Options) *FrameModel {
	t.Helper()
	m, err := FromFrame(f, o)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func report(t testing.TB, m *FrameModel, o LoadOptions) *Report {
	t.Helper()
	r, err := m.Analyse(o)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

const oneBar = `
frame {
  title   = "one bar"
  profile = "30x60-8"
}
member "beam" {
  left   = 0
  right  = 1000
  front  = 0
  bottom = 100
TURN
}
support {
  on = beam
  at = [0, 1000]
}
mass "heads" {
  kg   = 5
  on   = beam
  path = [100, 800]
}
mass "motor" {
  kg = 2
  on = beam
  at = 500
}
mass "cable" {
  kg     = 1
  on     = beam
  spread = [250, 750]
}
`

// One bar on two supports, by hand: weight, a mass at a place, one spread, one travelling. The ends are held in all three directions,
// so the bar spins only where its own supports let it: the model holds it by its name in an error.
func TestOneBarByHand(t *testing.T) {
	for _, c := range []struct {
		turn   string
		strong bool
	}{{"", false}, {"  turn = 90", true}} {
		text := strings.ReplaceAll(oneBar, "TURN", c.turn)
		_, err := fromFrame(t, parse(t, text), Options{}).Analyse(LoadOptions{})
		var mech *Mechanism
		if !errors.As(err, &mech) || !strings.Contains(err.Error(), "turn about X") {
			t.Fatalf("a bar on two points spins: %v", err)
		}
		// Clamped at its ends it does not.
		f := parse(t, strings.Replace(text, "at = [0, 1000]", "at = [0, 1000]\n  clamped = true", 1))
		m := fromFrame(t, f, Options{})
		p := f.Members[0].Profile
		sec, _, err := new(geom.SectionCache).Of(p)
		if err != nil {
			t.Fatal(err)
		}
		// 30x60: the first size lies along Y here, so that the bar stands upright unless it is turned.
		inertia := sec.I1
		if c.strong {
			inertia = sec.I2
		}
		q := sec.Area * 2.7e-6 * Gravity
		s := prepare(t, m.Model)
		sol := solve(t, s, &Case{Field: geom.Vec{Z: -Gravity}})
		// Fixed ends, symmetric loads: even load q·L²/12, point load P·L/8, even load over the middle half 11qL²/192.
		q2 := 1 * Gravity / 500
		want := q*1e6/12 + 2*Gravity*1000/8 + q2*1e6*11/192
		got := math.Abs(sol.Reactions()[0].Moment.Y)
		check(t, "moment of the left support", got, want, 1e-6, "Roark table 8.1, fixed ends")
		var up float64
		for _, r := range sol.Reactions() {
			up += r.Force.Z
		}
		check(t, "weight", up, (sec.Area*1000*2.7e-6+3)*Gravity, 1e-9, "balance")
		// The travelling mass alone, at the middle, on a fixed beam with shear: P·L³/192EI + P·L/4GAs.
		light := *m.Model
		light.Masses = []Mass{m.Masses[0]}
		ls := prepare(t, &light)
		sol = solve(t, ls, &Case{MassField: map[int]geom.Vec{0: {Z: -Gravity}}, At: map[int]Place{0: {0, 500}}})
		shear := light.Beams[0].Section.ShearY
		if math.Abs(light.Beams[0].Y.Z) < 0.5 {
			shear = light.Beams[0].Section.ShearZ
		}
		check(t, "sag", -sol.At(Place{0, 500}).Shift.Z, 5*Gravity*(1e9/(192*70000*inertia)+1000/(4*27000*shear)), 1e-6, "Roark table 8.1 with Timoshenko's shear")
		if c.strong == (inertia > sec.I2*1.0001) {
			t.Errorf("turn %q: the wrong axis", c.turn)
		}
	}
}

// The offset of a mass twists its bar.
func TestOffsetMassTwists(t *testing.T) {
	f := parse(t, `
frame { profile = "30x30-8" }
member "beam" {
  left   = 0
  right  = 800
  front  = 0
  bottom = 0
}
support {
  on = beam
  at = [0, 800]
  clamped = true
}
mass "head" {
  kg     = 4
  on     = beam
  at     = 400
  offset = [0, -45, 30]
}
`)
	m := fromFrame(t, f, Options{})
	sol := solve(t, prepare(t, m.Model), &Case{Field: geom.Vec{Z: -Gravity}})
	j := m.Beams[0].Section.J
	// Half the torque goes to either side over 400 mm.
	check(t, "twist", sol.At(Place{0, 400}).Turn.X, 4*Gravity*45/2*400/(27000*j), 1e-6, "T·L/GJ; (0,-45,30) × (0,0,-P) = 45·P about +X")
}

func loadExample(t testing.TB, name string) *frame.Frame {
	t.Helper()
	f, err := frame.Load("../examples/"+name+"/frame.hcl", frame.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func TestFoamCutter(t *testing.T) {
	f := loadExample(t, "foam-cutter")
	m := fromFrame(t, f, Options{})
	r := report(t, m, LoadOptions{Accelerate: geom.Vec{X: 0.5}, Warm: 20})
	if len(r.LoadCases) != 4 || len(r.Frequencies) != 6 || len(r.Racking) != 2 {
		t.Fatalf("%d cases, %d frequencies, %d pushes", len(r.LoadCases), len(r.Frequencies), len(r.Racking))
	}
	for _, c := range r.LoadCases {
		if c.Failed != "" {
			t.Errorf("%s: %s", c.Name, c.Failed)
			continue
		}
		var sum geom.Vec
		for _, q := range c.Reactions {
			sum = sum.Add(geom.Vec{X: q.Force[0], Y: q.Force[1], Z: q.Force[2]})
			if q.Force[2] < 0 {
				t.Errorf("%s: %s pulls", c.Name, q.Name)
			}
		}
		want := r.Mass * Gravity
		if math.Abs(sum.Z-want) > 0.01 {
			t.Errorf("%s: feet carry %g N, weight %g N", c.Name, sum.Z, want)
		}
		if !(c.Deflection > 0 && c.Deflection < 5) || c.AtMember == "" {
			t.Errorf("%s: %+v", c.Name, c)
		}
	}
	// The bars weigh what the cut list says, but for holes; what rides comes on top.
	ride := f.Groups[0].Mass
	for _, b := range f.Groups[0].Members {
		ride += b.Bar.Mass()
	}
	bars := 0.0
	for _, b := range f.Members {
		if travels(b) == nil {
			bars += b.Bar.Mass()
		}
	}
	if d := r.Mass - bars - ride; d < 0 || d > 0.02*r.Mass+0.3 {
		t.Errorf("the model weighs %g kg, bars and ride %g kg", r.Mass, bars+ride)
	}
	// Stiff joints never make it softer.
	stiff := report(t, fromFrame(t, f, Options{RigidJoints: true}), LoadOptions{})
	for i := range stiff.Racking {
		if stiff.Racking[i].Stiffness < r.Racking[i].Stiffness {
			t.Errorf("push along %s: %g N/mm with stiff joints, %g with joints that give", r.Racking[i].Direction, stiff.Racking[i].Stiffness, r.Racking[i].Stiffness)
		}
	}
	if stiff.Frequencies[0] < r.Frequencies[0] {
		t.Errorf("%g Hz with stiff joints, %g Hz with joints that give", stiff.Frequencies[0], r.Frequencies[0])
	}
	if r.Caution == "" || len(r.Notes) == 0 {
		t.Error("no caution, no notes")
	}
}

// The same frame gives the same bytes.
func TestReportIsSteady(t *testing.T) {
	run := func() []byte {
		text, err := json.MarshalIndent(report(t, fromFrame(t, loadExample(t, "foam-cutter"), Options{}), LoadOptions{}), "", "  ")
		if err != nil {
			t.Fatal(err)
		}
		return text
	}
	a := run()
	for range 2 {
		if b := run(); !bytes.Equal(a, b) {
			t.Fatal("two runs differ")
		}
	}
	for _, key := range []string{`"load_cases"`, `"name"`, `"max_deflection_mm"`, `"at_member"`, `"at_mm"`, `"reactions_n"`, `"force_n"`, `"frequencies_hz"`} {
		if !bytes.Contains(a, []byte(key)) {
			t.Errorf("no %s in the JSON", key)
		}
	}
}

// A given joint stiffness replaces the estimate, and a softer joint sags more.
func TestGivenJointStiffness(t *testing.T) {
	f := loadExample(t, "work-stand")
	var last float64
	for i, k := range []float64{1e5, 1e7, 1e9} {
		o := Options{Joints: map[string]JointStiffness{}}
		for _, j := range f.Joints {
			o.Joints[j.With.Name] = JointStiffness{k, k}
		}
		r := report(t, fromFrame(t, f, o), LoadOptions{})
		if s := r.Racking[0].Stiffness; i > 0 && s <= last {
			t.Errorf("joints of %g: %g N/mm, softer ones %g", k, s, last)
		} else {
			last = s
		}
	}
}

func TestUnheldBarsAreNamed(t *testing.T) {
	f := parse(t, `
frame { profile = "30x30-8" }
posts "leg" {
  left   = 0
  right  = 500
  front  = 0
  back   = 400
  bottom = 0
  top    = 600
}
ring "base" {
  within = leg
  bottom = 60
}
member "loner" {
  left   = 100
  right  = 400
  front  = 100
  bottom = 900
}
`)
	_, err := fromFrame(t, f, Options{}).Analyse(LoadOptions{})
	var mech *Mechanism
	if !errors.As(err, &mech) || !strings.HasPrefix(err.Error(), "loner can") {
		t.Errorf("got %v", err)
	}
}

// A ring that only stands on hinges at the feet of its posts: soft joints of none are a mechanism with a name.
func TestRingOnHinges(t *testing.T) {
	f := parse(t, `
frame { profile = "30x30-8" }
posts "leg" {
  left   = 0
  right  = 500
  front  = 0
  back   = 400
  bottom = 0
  top    = 600
}
ring "crown" {
  left    = 0
  right   = 500
  front   = 0
  back    = 400
  bottom  = leg.top
  corners = "pinwheel"
}
`)
	o := Options{Joints: map[string]JointStiffness{}}
	m := fromFrame(t, f, o)
	for _, j := range f.Joints {
		if j.A.Set.Name == "leg" {
			o.Joints[j.With.Name] = JointStiffness{Twist: 1e6}
		}
	}
	if _, err := m.Analyse(LoadOptions{}); err != nil {
		t.Fatalf("with joints that hold: %v", err)
	}
	// The posts' joints let go of bending, the crown's own keep it.
	m = fromFrame(t, f, Options{})
	for i := range m.Beams {
		if b := &m.Beams[i]; b.Set == "posts leg" {
			for e := range b.Release {
				if !b.Release[e].rigid() {
					b.Release[e][4], b.Release[e][5] = 0, 0
				}
			}
		}
	}
	_, err := m.Analyse(LoadOptions{})
	var mech *Mechanism
	if !errors.As(err, &mech) || !strings.HasPrefix(err.Error(), "ring crown can ") || !strings.Contains(err.Error(), "nothing braces it") || !strings.Contains(err.Error(), "leg.front_left") {
		t.Errorf("got %v", err)
	}
}

func BenchmarkFoamCutter(b *testing.B) {
	f := loadExample(b, "foam-cutter")
	b.ReportAllocs()
	for b.Loop() {
		m, err := FromFrame(f, Options{})
		if err != nil {
			b.Fatal(err)
		}
		if _, err := m.Analyse(LoadOptions{}); err != nil {
			b.Fatal(err)
		}
	}
}

func TestBreaches(t *testing.T) {
	r := report(t, fromFrame(t, loadExample(t, "foam-cutter"), Options{}), LoadOptions{})
	if got := r.Breaches(Limits{}); len(got) != 0 {
		t.Errorf("no limits, but %v", got)
	}
	if got := r.Breaches(Limits{Sag: 100, Frequency: 0.1, Racking: 0.1, Stress: 1}); len(got) != 0 {
		t.Errorf("wide limits, but %v", got)
	}
	got := r.Breaches(Limits{Sag: 1e-4, Frequency: 1000, Racking: 1e6, Stress: 1e-6})
	kinds := map[string]int{}
	for _, b := range got {
		kinds[b.Limit]++
		if b.Message == "" || b.Remedy == "" || (b.Limit == "frequency") != (b.Value < b.Allowed && b.Limit == "frequency") {
			t.Errorf("%+v", b)
		}
	}
	if kinds["sag"] != len(r.LoadCases) || kinds["stress"] != len(r.LoadCases) || kinds["racking"] != 2 || kinds["frequency"] != 1 {
		t.Errorf("%v of %d cases", kinds, len(r.LoadCases))
	}
}
