package statics

import (
	"errors"
	"math"
	"strings"
	"testing"

	"barwright/frame"
	"barwright/geom"
)

const stacked = `
frame {
  profile      = "30x30-8"
  joining_else = "plate"
}
member "low" {
  left   = 0
  right  = 600
  front  = 0
  bottom = 0
}
EXTRA
support {
  on      = low
  at      = [0, 600]
  clamped = true
}
mass "load" {
  kg = 10
  on = low
  at = 300
}
`

// sagAt returns how far the loaded bar gives under its mass.
func sagAt(t *testing.T, text string, o Options) float64 {
	t.Helper()
	f := parse(t, text)
	m := fromFrame(t, f, o)
	sol := solve(t, prepare(t, m.Model), &Case{MassField: map[int]geom.Vec{0: {Z: -Gravity}}})
	return -sol.At(Place{m.Masses[0].Path[0].Beam, m.Masses[0].Path[0].From}).Shift.Z
}

// Two bars one on the other, plated together at the ends of their contact: stiffer than one, softer than a solid piece of both.
func TestStackedBars(t *testing.T) {
	high := `
member "high" {
  left   = 0
  right  = 600
  front  = 0
  bottom = 30
}`
	one := sagAt(t, strings.Replace(stacked, "EXTRA", "", 1), Options{})
	two := sagAt(t, strings.Replace(stacked, "EXTRA", high, 1), Options{})
	p, _ := geom.Builtin("30x30-8")
	s := p.Properties()
	solid := 2*s.Ix + 2*s.Area*15*15
	if two >= one || two <= one*s.Ix/solid {
		t.Errorf("one bar gives %g, two %g; two as a solid piece %g", one, two, one*s.Ix/solid)
	}
}

// Bars end to end, plated stiffly, are one bar.
func TestBarsEndToEnd(t *testing.T) {
	text := `
frame {
  profile      = "30x30-8"
  joining_else = "plate"
}
member "first" {
  left   = 0
  right  = 400
  front  = 0
  bottom = 0
}
member "second" {
  left   = 400
  right  = 700
  front  = 0
  bottom = 0
}
support {
  on      = first
  at      = 0
  clamped = true
}
mass "load" {
  kg = 5
  on = second
  at = 300
}
`
	p, _ := geom.Builtin("30x30-8")
	s, tor, err := new(geom.SectionCache).Of(p)
	if err != nil {
		t.Fatal(err)
	}
	stiff := sagAt(t, text, Options{RigidJoints: true})
	want := 5 * Gravity * (700*700*700/(3*70000*s.Ix) + 700/(27000*tor.ShearY))
	check(t, "one bar of both", stiff, want, 1e-3, "cantilever, PL³/3EI + PL/GAs")
	// With a joint that gives, the tip sinks by M·l/k more: moment P·300, arm 300.
	k := JointStiffness{Twist: 1e7, Bend: 2e7}
	soft := sagAt(t, text, Options{Joints: map[string]JointStiffness{"plate": k}})
	check(t, "give of the joint", soft-stiff, 5*Gravity*300*300/2e7, 1e-2, "P·l²/k")
}

// An end that a joint holds and a support too: the joint becomes a spring beside the support, and the bar carries on both.
func TestSupportedJointedEnd(t *testing.T) {
	text := strings.Replace(stacked, "EXTRA", `
member "cross" {
  front  = 30
  back   = 430
  left   = 285
  bottom = 0
}
support {
  on = cross
  at = [0, 400]
}`, 1)
	f := parse(t, text)
	if len(f.Joints) != 1 || f.Joints[0].Kind != frame.EndToSide {
		t.Fatalf("joints %v", f.Joints)
	}
	m := fromFrame(t, f, Options{})
	if len(m.Springs) != 1 {
		t.Fatalf("%d springs, want the joint", len(m.Springs))
	}
	sol := solve(t, prepare(t, m.Model), &Case{MassField: map[int]geom.Vec{0: {Z: -Gravity}}})
	var up float64
	carried := 0.0
	for _, r := range sol.Reactions() {
		up += r.Force.Z
		if strings.Contains(m.Supports[r.Support].Name, "cross") {
			carried += r.Force.Z
		}
	}
	check(t, "load", up, 10*Gravity, 1e-9, "balance")
	if carried < 0.9*10*Gravity {
		t.Errorf("the support beside the load carries %g N of %g N", carried, 10*Gravity)
	}
}

// Estimates grow with the screw and the bar, and a plate is stiffer than a bracket, a bracket than a screw.
func TestJointEstimates(t *testing.T) {
	estimate := func(profile string, method frame.Method, screw string) JointStiffness {
		p, ok := geom.Builtin(profile)
		if !ok {
			t.Fatal(profile)
		}
		return EstimateJoint(&frame.Joint{Contact: &frame.Contact{A: &frame.Member{Profile: p}}, With: &frame.Joining{Method: method}, Size: frame.JoiningSize{Screw: screw}, Fasteners: make([]frame.Fastener, 1)})
	}
	screw, bracket, plate := estimate("30x30-8", frame.EndScrew, "M8"), estimate("30x30-8", frame.AngleBracket, "M8"), estimate("30x30-8", frame.Plate, "M8")
	if !(screw.Bend < bracket.Bend && bracket.Bend < plate.Bend) {
		t.Errorf("screw %g, bracket %g, plate %g", screw.Bend, bracket.Bend, plate.Bend)
	}
	if small := estimate("20x20-6", frame.EndScrew, "M6"); small.Bend >= screw.Bend {
		t.Errorf("20x20 %g, 30x30 %g", small.Bend, screw.Bend)
	}
	if big := estimate("40x40-10", frame.EndScrew, "M10"); big.Bend <= screw.Bend {
		t.Errorf("40x40 %g, 30x30 %g", big.Bend, screw.Bend)
	}
	if odd := estimate("30x30-8", frame.EndScrew, "W5"); !(odd.Bend > 0) {
		t.Errorf("an unknown thread: %v", odd)
	}
}

// A node at which every bar is loose turns by itself: the message names the bars.
func TestLooseJoint(t *testing.T) {
	m := line(0, 300, 700)
	m.hold(0, clamp)
	m.hold(2, clamp)
	for i := range m.Beams {
		m.Beams[i].Member = []string{"one", "two"}[i]
		m.Beams[i].Release[1-i] = Pinned()
		m.Beams[i].Release[1-i][5] = 0
	}
	_, err := m.Prepare()
	var mech *Mechanism
	if !errors.As(err, &mech) || !strings.Contains(err.Error(), "the joint of one, two can turn") {
		t.Errorf("got %v", err)
	}
}

// The shape of the first mode of a simple beam is a sine (Thomson, Theory of Vibration).
func TestModeShape(t *testing.T) {
	m := line(0, 400, span)
	m.hold(0, hinge)
	m.hold(2, roller)
	modes := modesOf(t, m, 2)
	for _, md := range modes[:1] {
		axis := geom.Z
		mid := md.At(Place{1, 100})
		if math.Abs(mid.Y) > math.Abs(mid.Z) {
			axis = geom.Y
		}
		if axis != geom.Z {
			t.Fatalf("the first mode sways sideways: %v", mid)
		}
		for _, x := range []float64{100, 250, 400, 500, 700, 950} {
			at := Place{0, x}
			if x > 400 {
				at = Place{1, x - 400}
			}
			got, want := md.At(at).Z/mid.Z, math.Sin(math.Pi*x/span)
			if math.Abs(got-want) > 1e-3 {
				t.Errorf("at %g: %g, want %g (sine)", x, got, want)
			}
		}
	}
}

func TestNearestPoints(t *testing.T) {
	v := func(x, y, z float64) geom.Vec { return geom.Vec{X: x, Y: y, Z: z} }
	for _, c := range []struct {
		a, b, c, d geom.Vec
		p, q       geom.Vec
	}{
		{v(0, 0, 0), v(10, 0, 0), v(5, -5, 3), v(5, 5, 3), v(5, 0, 0), v(5, 0, 3)},     // crossing over
		{v(0, 0, 0), v(10, 0, 0), v(20, -5, 0), v(20, 5, 0), v(10, 0, 0), v(20, 0, 0)}, // beyond the end
		{v(0, 0, 0), v(10, 0, 0), v(4, 2, 0), v(4, 9, 0), v(4, 0, 0), v(4, 2, 0)},      // a butting end
		{v(0, 0, 0), v(10, 0, 0), v(-9, 3, 0), v(-2, 3, 0), v(0, 0, 0), v(-2, 3, 0)},   // parallel, apart
	} {
		p, q := nearest(c.a, c.b, c.c, c.d)
		if p.Dist(c.p) > 1e-9 || q.Dist(c.q) > 1e-9 {
			t.Errorf("%v-%v and %v-%v: %v, %v; want %v, %v", c.a, c.b, c.c, c.d, p, q, c.p, c.q)
		}
	}
}

// Places are counted from a member's low end: left, front or bottom, whichever way its own axis runs.
func TestPlacesFromTheLowEnd(t *testing.T) {
	for axis, text := range map[geom.Axis]string{
		geom.X: "  left   = 50\n  right  = 850\n  front  = 0\n  bottom = 0",
		geom.Y: "  front  = 50\n  back   = 850\n  left   = 0\n  bottom = 0",
		geom.Z: "  bottom = 50\n  top    = 850\n  left   = 0\n  front  = 0",
	} {
		f := parse(t, "frame { profile = \"30x30-8\" }\nmember \"bar\" {\n"+text+"\n}\nsupport {\n  on = bar\n  at = 600\n  clamped = true\n}\n"+
			"mass \"m\" {\n  kg = 1\n  on = bar\n  at = 100\n}\nmass \"path\" {\n  kg = 1\n  on = bar\n  path = [200, 700]\n}\nmass \"even\" {\n  kg = 1\n  on = bar\n  spread = [500, 700]\n}\n")
		m := fromFrame(t, f, Options{})
		at := func(s Stretch, x float64) float64 {
			a, b := m.tips(s.Beam)
			return a.Add(b.Sub(a).Unit().Scale(x)).Along(axis)
		}
		if n := m.Nodes[m.Supports[0].Node].Along(axis); math.Abs(n-650) > 1e-9 {
			t.Errorf("%s: support at %g, want 650", axis, n)
		}
		if p := m.Masses[0].Path; len(p) != 1 || math.Abs(at(p[0], p[0].From)-150) > 1e-9 {
			t.Errorf("%s: mass on %v", axis, p)
		}
		p := m.Masses[1].Path
		if len(p) != 2 || math.Abs(at(p[0], p[0].From)-250) > 1e-9 || math.Abs(at(p[1], p[1].To)-750) > 1e-9 || math.Abs(at(p[0], p[0].To)-at(p[1], p[1].From)) > 1e-9 {
			t.Errorf("%s: path %v", axis, p)
		}
		if math.Abs(pathLength(m.Masses[2].Path)-200) > 1e-9 || math.Abs(pathLength(p)-500) > 1e-9 {
			t.Errorf("%s: spread over %v", axis, m.Masses[2].Path)
		}
	}
}

// A panel weighs what its sheet does, slots included, on the bars that hold it.
func TestPanelWeighs(t *testing.T) {
	f := parse(t, `
frame { profile = "30x30-8" }
ring "top" {
  left    = 0
  right   = 500
  front   = 0
  back    = 400
  bottom  = 700
  corners = "pinwheel"
}
support {
  on      = top.front_rail
  at      = 200
  clamped = true
}
panel "sheet" {
  held_by   = [top]
  thickness = 3
  material  = "PMMA"
  engagement = 6
}
`)
	m := fromFrame(t, f, Options{})
	kg := 0.0
	for _, x := range m.Masses {
		if x.Name == "sheet" {
			kg += x.Kg
			if len(x.Path) < 4 {
				t.Errorf("it lies on %v", x.Path)
			}
		}
	}
	// Opening 440 × 340, 6 into each slot, 3 thick, 1190 kg/m³.
	check(t, "panel", kg, 452*352*3*1.19e-6, 0.01, "by hand; PMMA 1.19 g/cm³ (ISO 7823-1)")
}

// A printed part weighs where it sits: what the feet carry grows by its weight, and their moments by its weight times its place (statics of a rigid
// body: the reactions hold the weight in balance).
func TestPrintedPartWeighs(t *testing.T) {
	text := `
frame { profile = "30x60-8" }
posts "leg" {
  left   = 0
  right  = 700
  front  = 0
  back   = 500
  bottom = 80
  top    = 800
}
ring "top" {
  within = leg
  bottom = 700
}
foot {
  under = leg
}
`
	at := geom.Vec{X: 610, Y: -20, Z: 720}
	const kg = 0.6
	loads := func(with bool) (force, mx, my float64) {
		f := parse(t, text)
		if with {
			f.AddFittings([]frame.Fitting{{Kind: frame.PrintedFitting, Name: "bracket", Kg: kg, At: at, On: []*frame.Member{f.Member("top.front_rail"), f.Member("leg.front_right")}}})
		}
		r, err := fromFrame(t, f, Options{}).Analyse(LoadOptions{})
		if err != nil {
			t.Fatal(err)
		}
		for _, q := range r.LoadCases[0].Reactions {
			force += q.Force[2]
			mx += q.Force[2]*q.At[1] - q.Force[1]*q.At[2]
			my += q.Force[0]*q.At[2] - q.Force[2]*q.At[0]
		}
		return force, mx, my
	}
	f0, x0, y0 := loads(false)
	f1, x1, y1 := loads(true)
	check(t, "weight", f1-f0, kg*Gravity, 1e-3, "weight m·g")
	check(t, "moment about X", x1-x0, kg*Gravity*at.Y, 0.02, "moment m·g·y")
	check(t, "moment about Y", y1-y0, -kg*Gravity*at.X, 0.002, "moment m·g·x")
}
