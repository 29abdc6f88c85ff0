package job

import (
	"bytes"
	"encoding/json"
	"errors"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"barwright/check"
	"barwright/frame"
	"barwright/geom"
	"barwright/mesh"
	"barwright/statics"
)

// cantilever is one bar clamped at its left end.
const cantilever = `
param "length" { value = 800 }
frame { profile = "30x30-8" }
member "arm" {
  left   = 0
  right  = length
  front  = 0
  bottom = 100
}
support {
  on      = arm
  at      = 0
  clamped = true
}
`

// heavyBeam is two heads of 8 kg together that travel on a beam between four posts.
const heavyBeam = `
param "span" { value = 1200 }
frame { profile = "30x30-8" }
posts "leg" {
  left   = 0
  right  = span
  front  = 0
  back   = 500
  bottom = 40
  top    = 700
}
ring "low" {
  within = leg
  bottom = 120
}
ring "top" {
  within = leg
  top    = leg.top
}
member "beam" {
  left  = leg.front_left.right
  right = leg.front_right.left
  front = leg.front_left.front
  mid_z = 450
}
mass "heads" {
  kg   = 8
  on   = beam
  path = [60, beam.length - 60]
}
foot { under = leg }
stock "30x30-8" {
  bar  = [{ length = 6000, price = 41.50 }]
}
`

func stiffnessOf(t *testing.T, j *Job, o StiffnessOptions) *Stiffness {
	t.Helper()
	s, err := j.Stiffness(o)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// A cantilever from its file to the JSON against the closed forms: sag w·L⁴/8EI + w·L²/2GA_s (Roark's Formulas for Stress and
// Strain, table 8.1 case 2a; shear after Timoshenko, Strength of Materials I, art. 39), slope w·L³/6EI, stress w·L²/2W,
// frequency 3.516/2π·√(EI/mL⁴) (Blevins, table 8-1). E, G and density of EN AW-6060: EN 1999-1-1, 3.2.5; yield of T66: its table 3.2b.
func TestStiffnessOfCantilever(t *testing.T) {
	j := jobOf(t, cantilever)
	p := NewStiffnessReport(stiffnessOf(t, j, StiffnessOptions{}))
	r, err := NewSectionReport(j.Frame.Members[0].Profile)
	if err != nil {
		t.Fatal(err)
	}
	const e, g, rho, gravity, yield, l = 70000.0, 27000.0, 2.7e-6, 9.80665, 150.0, 800.0
	a, i, w, as := float64(r.AreaMM2), float64(r.IxMM4), float64(r.WxMM3), float64(r.ShearYMM2)
	line := a * rho * gravity // N/mm
	c := p.LoadCases[0]
	for _, v := range []struct {
		what      string
		got, want float64
		tol       float64
	}{
		{"sag", c.Sag, line*math.Pow(l, 4)/(8*e*i) + line*l*l/(2*g*as), 1e-4},
		{"largest shift", p.Largest.Deflection, line*math.Pow(l, 4)/(8*e*i) + line*l*l/(2*g*as), 1e-4},
		{"slope", c.Slope, 1000 * line * math.Pow(l, 3) / (6 * e * i), 1e-4},
		{"stress", math.Abs(c.Stress), line * l * l / 2 / w, 2e-3},
		{"utilisation", c.Utilisation, line * l * l / 2 / w / yield, 2e-3},
		{"frequency", p.Frequencies[0], 3.5160 / (2 * math.Pi) * math.Sqrt(e*i*1000/(a*rho*math.Pow(l, 4))), 5e-3}, // shear and rotary inertia lower it
		{"mass", p.Mass, a * rho * l, 1e-4},
		{"reaction", c.Reactions[0].Force[2], a * rho * l * gravity, 1e-3},
	} {
		if math.Abs(v.got-v.want) > v.tol*v.want {
			t.Errorf("%s is %g, the closed form says %g", v.what, v.got, v.want)
		}
	}
	if c.AtMember != "arm" || math.Abs(c.At[0]-l) > 1 || p.Largest.Case != "standing" {
		t.Errorf("most at %s %v in %q; want the tip", c.AtMember, c.At, p.Largest.Case)
	}
}

func TestStiffnessJSON(t *testing.T) {
	j, err := Open("../examples/foam-cutter/frame.hcl", nil)
	if err != nil {
		t.Fatal(err)
	}
	s := stiffnessOf(t, j, StiffnessOptions{})
	var b bytes.Buffer
	if err := WriteJSON(&b, NewStiffnessReport(s)); err != nil {
		t.Fatal(err)
	}
	// The names that other programs read.
	var r struct {
		LoadCases []struct {
			Name       string     `json:"name"`
			Deflection *float64   `json:"max_deflection_mm"`
			Member     *string    `json:"at_member"`
			At         *[]float64 `json:"at_mm"`
			Reactions  []struct {
				At    []float64 `json:"at_mm"`
				Force []float64 `json:"force_n"`
			} `json:"reactions_n"`
		} `json:"load_cases"`
		Frequencies []float64 `json:"frequencies_hz"`
		Mass        float64   `json:"mass_kg"`
		Caution     string    `json:"caution"`
	}
	if err := json.Unmarshal(b.Bytes(), &r); err != nil {
		t.Fatal(err)
	}
	if len(r.LoadCases) < 2 || len(r.Frequencies) != 6 || !strings.Contains(r.Caution, "licensed engineer") {
		t.Fatalf("read %+v", r)
	}
	for _, c := range r.LoadCases {
		if c.Deflection == nil || c.Member == nil || c.At == nil || len(*c.At) != 3 || j.Frame.Member(*c.Member) == nil {
			t.Fatalf("a load case lacks a field: %+v", c)
		}
		up := 0.0
		for _, q := range c.Reactions {
			up += q.Force[2]
		}
		if want := r.Mass * 9.80665; math.Abs(up-want) > 1e-3*want {
			t.Errorf("%s: the feet carry %.2f N, the frame weighs %.2f N", c.Name, up, want)
		}
	}
	for i := 1; i < len(r.Frequencies); i++ {
		if r.Frequencies[i] < r.Frequencies[i-1] {
			t.Errorf("frequencies do not rise: %v", r.Frequencies)
		}
	}
}

// The figures that the terminal shows are those of the JSON, to three digits.
func TestSummaryAgreesWithJSON(t *testing.T) {
	j := jobOf(t, heavyBeam+"limit {\n  sag = 0.2\n  accelerate = [0.5, 0, 0]\n  warm = 15\n}\n")
	s := stiffnessOf(t, j, StiffnessOptions{})
	var b bytes.Buffer
	if err := WriteStiffness(&b, s, false); err != nil {
		t.Fatal(err)
	}
	text := b.String()
	r := NewStiffnessReport(s)
	want := map[string]float64{"largest shift": r.Largest.Deflection, "largest sag": r.Largest.Sag, "largest slope": r.Largest.Slope, "highest stress": math.Abs(r.Largest.Stress),
		"racking along X": r.Racking[0].Stiffness, "racking along Y": r.Racking[1].Stiffness, "lowest frequency": r.Frequencies[0], "mass": r.Mass}
	for _, c := range r.LoadCases {
		want[c.Name] = c.Deflection
	}
	for _, f := range r.Largest.Feet {
		want[f.Name] = f.Least
	}
	for name, v := range want {
		found := false
		for line := range strings.SplitSeq(text, "\n") {
			rest, ok := strings.CutPrefix(line, name+"  ")
			if !ok {
				continue
			}
			found = true
			got, err := strconv.ParseFloat(strings.Fields(rest)[0], 64)
			if err != nil || math.Abs(got-v) > 0.0051*math.Abs(v)+5e-5 {
				t.Errorf("%q: the summary says %v (%v), the JSON %g", name, got, err, v)
			}
		}
		if !found {
			t.Errorf("the summary has no line %q", name)
		}
	}
	if !strings.Contains(text, statics.Caution) {
		t.Error("the caution is missing")
	}
}

func TestLimitsBecomeWarnings(t *testing.T) {
	tight := jobOf(t, heavyBeam+"limit {\n  sag       = 0.01\n  frequency = 500\n  racking   = 1e5\n  stress    = 0.001\n}\n")
	s := stiffnessOf(t, tight, StiffnessOptions{})
	rules := map[string]int{}
	for _, g := range s.Findings {
		rules[g.Rule]++
		if !slices.ContainsFunc(LimitRules(), func(r check.Rule) bool { return r.Name == g.Rule && strings.HasPrefix(r.Explain, g.Rule+" (warning)") }) {
			t.Errorf("%s has no page", g.Rule)
		}
		if g.Severity != check.Warning || g.Message == "" || g.Remedy == "" || g.Origin.Start.Line == 0 {
			t.Errorf("%+v", g)
		}
	}
	for _, want := range []string{"limit-sag", "limit-frequency", "limit-racking", "limit-stress"} {
		if rules[want] == 0 {
			t.Errorf("no finding %s, only %v", want, rules)
		}
	}
	lines := strings.Split(heavyBeam+"limit {\n  sag       = 0.01\n  frequency", "\n")
	for _, g := range s.Findings {
		if g.Rule == "limit-frequency" && g.Origin.Start.Line != len(lines) {
			t.Errorf("limit-frequency points at line %d, frequency stands on line %d", g.Origin.Start.Line, len(lines))
		}
	}
	wide := jobOf(t, heavyBeam+"limit {\n  sag       = 50\n  frequency = 0.5\n}\n")
	if s := stiffnessOf(t, wide, StiffnessOptions{}); len(s.Findings) != 0 {
		t.Errorf("wide limits, but %v", s.Findings)
	}
	// A check of the frame reports them too, and a frame without limits is not analysed for it.
	if got := tight.checkLimits(); len(got) != len(s.Findings) {
		t.Errorf("a check has %d findings, the analysis %d", len(got), len(s.Findings))
	}
	if got := jobOf(t, heavyBeam).checkLimits(); got != nil {
		t.Errorf("no limit block, but %v", got)
	}
}

func TestMechanismIsNamed(t *testing.T) {
	src := strings.Replace(cantilever, "clamped = true", `fixed   = ["x", "z"]`, 1)
	_, err := jobOf(t, src).Stiffness(StiffnessOptions{})
	var m *statics.Mechanism
	if !errors.As(err, &m) || !strings.Contains(err.Error(), "the whole frame can slide along Y") || ExitStatus(err) != 1 {
		t.Fatalf("got %v, exit %d", err, ExitStatus(err))
	}
	got := jobOf(t, src+"limit { sag = 1 }\n").checkLimits()
	if len(got) != 1 || got[0].Rule != "moves-freely" || got[0].Severity != check.Warning {
		t.Errorf("a check says %+v", got)
	}
	var r Report
	if list, err := jobOf(t, src).stiffnessOutputs(&r); err != nil || len(list) != 0 || r.Stiffness != nil || !strings.Contains(r.StiffnessFailed, "the whole frame can slide along Y") {
		t.Errorf("a build has %d outputs, %v, %q", len(list), err, r.StiffnessFailed)
	}
}

func TestJointsCanBeMeasured(t *testing.T) {
	j := jobOf(t, heavyBeam)
	soft := stiffnessOf(t, j, StiffnessOptions{Joints: map[string]statics.JointStiffness{"end-screw": {Bend: 1e6, Twist: 1e6}}}).Extremes()
	usual := stiffnessOf(t, j, StiffnessOptions{}).Extremes()
	stiff := stiffnessOf(t, j, StiffnessOptions{RigidJoints: true}).Extremes()
	if !(soft.Deflection > usual.Deflection && usual.Deflection > stiff.Deflection && soft.Racking < usual.Racking && usual.Racking < stiff.Racking) {
		t.Errorf("soft, usual, stiff joints: shift %g, %g, %g; racking %g, %g, %g", soft.Deflection, usual.Deflection, stiff.Deflection, soft.Racking, usual.Racking, stiff.Racking)
	}
	var u *UsageError
	if _, err := j.Stiffness(StiffnessOptions{Joints: map[string]statics.JointStiffness{"glue": {Bend: 1, Twist: 1}}}); !errors.As(err, &u) {
		t.Errorf("an unknown joining: %v", err)
	}
}

func TestStiffnessFiles(t *testing.T) {
	for _, file := range append(examples(t), "../drawing/testdata/frames/braced.hcl", "../drawing/testdata/frames/sixty.hcl", "../drawing/testdata/frames/rack.hcl") {
		j, err := Open(file, nil)
		if err != nil {
			t.Fatal(err)
		}
		s, err := j.Stiffness(StiffnessOptions{})
		var m *statics.Mechanism
		if errors.As(err, &m) {
			t.Logf("%s: %v", file, err)
			continue
		}
		if err != nil {
			t.Fatalf("%s: %v", file, err)
		}
		dir := t.TempDir()
		paths, err := j.WriteStiffnessFiles(dir, s, mesh.PictureOptions{Width: 300, Height: 225})
		if err != nil {
			t.Fatalf("%s: %v", file, err)
		}
		for _, name := range []string{"stiffness.pdf", "stiffness.svg", "stiffness.json", "pictures/deformed.png", "pictures/mode-1.png", "pictures/deformed-push-along-x.png"} {
			if st, err := os.Stat(filepath.Join(dir, name)); err != nil || st.Size() < 1000 {
				t.Errorf("%s: %s: %v", file, name, err)
			}
		}
		if len(paths) < 8 {
			t.Errorf("%s: only %v", file, paths)
		}
	}
}

// The bars of a picture move as the solution says: by the largest shift at the place that has it.
func TestMovementsFollowTheSolution(t *testing.T) {
	j, err := Open("../examples/foam-cutter/frame.hcl", nil)
	if err != nil {
		t.Fatal(err)
	}
	s := stiffnessOf(t, j, StiffnessOptions{})
	shapes := s.shapes(3)
	if len(shapes) < 7 || shapes[0].slug != "" {
		t.Fatalf("%d shapes, the first %q", len(shapes), shapes[0].slug)
	}
	for _, sh := range shapes {
		moves := sh.movements(j.Frame)
		if len(moves) != len(j.Frame.Members) {
			t.Errorf("%s: %d bars move of %d", sh.title, len(moves), len(j.Frame.Members))
		}
		most, where := 0.0, ""
		for _, m := range j.Frame.Members {
			mv := moves[m]
			for i, u := range mv.Shift {
				if i > 0 && mv.At[i] <= mv.At[i-1] {
					t.Fatalf("%s: the places on %s do not rise", sh.title, m.Name)
				}
				if u.Len() > most {
					most, where = u.Len(), m.Name
				}
			}
			if first, last := mv.At[0], mv.At[len(mv.At)-1]; first > 40 || last < m.Length()-40 {
				t.Errorf("%s: %s is followed from %g to %g of %g", sh.title, m.Name, first, last, m.Length())
			}
			travels := m.Group != nil && m.Group.Travel != nil
			if !travels && mv.Base != (geom.Vec{}) {
				t.Errorf("%s: %s stands %v from where it is drawn", sh.title, m.Name, mv.Base)
			}
		}
		if most > sh.most*1.0001 || most < sh.most*0.97 || sh.member != "" && where != sh.member {
			t.Errorf("%s: the picture moves by %g on %s, the solution by %g on %s", sh.title, most, where, sh.most, sh.member)
		}
	}
	wire := j.Frame.Member("wire_beam")
	if base := shapes[0].movements(j.Frame)[wire].Base; math.Abs(base.Z-(s.Extremes().At[2]-420)) > 1 || math.Hypot(base.X, base.Y) > 1e-6 {
		t.Errorf("the wire beam stands %v from where it is drawn; its worst place is at z = %g, drawn at 420", base, s.Extremes().At[2])
	}
}

func TestFigure(t *testing.T) {
	for v, want := range map[float64]string{0: "0", 0.08619: "0.0862", 0.00004: "0", 1.0949: "1.09", 27.76: "27.8", 123.4: "123", 98765: "98765", -0.5: "-0.500", 0.00321: "0.0032"} {
		if got := Figure(v); got != want {
			t.Errorf("%g is written %s, want %s", v, got, want)
		}
	}
}

func BenchmarkStiffness(b *testing.B) {
	f, err := frame.Load("../examples/foam-cutter/frame.hcl", frame.Options{})
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := (&Job{Frame: f}).Stiffness(StiffnessOptions{}); err != nil {
			b.Fatal(err)
		}
	}
}
