package statics

import (
	"math"
	"testing"

	"barwright/geom"
)

// The beam of the handbook checks: a square tube 40 × 40 × 3 of E = 70000 MPa, 1000 mm long. Its figures are by hand.
const (
	tubeI = 101972.0 // (40⁴ - 34⁴)/12
	tubeA = 444.0
	tubeJ = 151959.0 // Bredt, 3·37³
	tubeE = 70000.0
	tubeG = 27000.0
	span  = 1000.0
	force = 100.0
	even  = 0.1
)

// tube returns the section without shear flexibility, as handbooks take it.
func tube() (*Section, *Material) {
	return &Section{Area: tubeA, Iy: tubeI, Iz: tubeI, J: tubeJ,
			Fibres: []geom.Vec2{{X: -20, Y: -20}, {X: 20, Y: -20}, {X: 20, Y: 20}, {X: -20, Y: 20}}},
		&Material{E: tubeE, G: tubeG, Density: 2.7e-6, Expansion: 23e-6, Yield: 140}
}

// line returns a model of beams end to end through nodes on the X axis, y of the section up.
func line(xs ...float64) *Model {
	s, mt := tube()
	m := &Model{}
	for i, x := range xs {
		m.Nodes = append(m.Nodes, geom.Vec{X: x})
		if i > 0 {
			m.Beams = append(m.Beams, Beam{Ends: [2]int{i - 1, i}, Release: [2]Release{Rigid(), Rigid()},
				Y: geom.Vec{Z: 1}, Section: s, Material: mt, Member: "beam"})
		}
	}
	return m
}

// hold adds a support, its movements written by letters: "xyz" for shifts, "rst" for turns about X, Y, Z.
func (m *Model) hold(node int, how string) {
	s := Support{Node: node}
	for _, c := range how {
		for i, l := range "xyzrst" {
			if c == l {
				s.Fixed[i] = true
			}
		}
	}
	m.Supports = append(m.Supports, s)
}

const (
	clamp  = "xyzrst"
	hinge  = "xyzrt" // turns about Y only
	roller = "yzrt"
)

func prepare(t testing.TB, m *Model) *System {
	t.Helper()
	s, err := m.Prepare()
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func solve(t testing.TB, s *System, c *Case) *Solution {
	t.Helper()
	sol, err := s.Solve(c)
	if err != nil {
		t.Fatal(err)
	}
	return sol
}

func check(t testing.TB, what string, got, want, rel float64, source string) {
	t.Helper()
	if !(math.Abs(got-want) <= rel*math.Abs(want)) {
		t.Errorf("%s: got %.9g, want %.9g within %g (%s)", what, got, want, rel, source)
	}
}

// down is a load straight down at a place.
func down(beam int, x, f float64) PointLoad {
	return PointLoad{Place: Place{beam, x}, Force: geom.Vec{Z: -f}}
}

func TestHandbookBeams(t *testing.T) {
	const roark = "Roark's Formulas for Stress and Strain, 7th ed., table 8.1"
	down1 := geom.Vec{Z: -1}
	evenLoad := func(beam int, from, to float64) SpreadLoad {
		return SpreadLoad{Stretch{beam, from, to}, geom.Vec{Z: -even}, geom.Vec{}}
	}
	ei := tubeE * tubeI
	for _, c := range []struct {
		name  string
		xs    []float64
		holds []string // by node, "" none
		load  Case
		// sag is read at a place, or where it is largest for at < 0.
		beam   int
		at     float64
		want   float64
		where  float64 // of the largest, 0: not checked
		moment float64 // largest bending moment, 0: not checked
	}{
		{"simple, force at midspan", []float64{0, span}, []string{hinge, roller}, Case{Points: []PointLoad{down(0, 500, force)}}, 0, -1, force * 1e9 / (48 * ei), 500, 25000},
		{"simple, even load", []float64{0, span}, []string{hinge, roller}, Case{Spread: []SpreadLoad{evenLoad(0, 0, span)}}, 0, -1, 5 * even * 1e12 / (384 * ei), 500, 12500},
		{"simple, force at 300", []float64{0, span}, []string{hinge, roller}, Case{Points: []PointLoad{down(0, 300, force)}}, 0, 300, force * 300 * 300 * 700 * 700 / (3 * ei * 1000), 0, 21000},
		{"simple, force at 300, largest", []float64{0, span}, []string{hinge, roller}, Case{Points: []PointLoad{down(0, 300, force)}}, 0, -1,
			force * 300 * math.Pow(1e6-9e4, 1.5) / (9 * math.Sqrt(3) * ei * 1000), 1000 - math.Sqrt((1e6-9e4)/3), 0},
		{"simple, two forces", []float64{0, span}, []string{hinge, roller}, Case{Points: []PointLoad{down(0, 250, force), down(0, 750, force)}}, 0, 500, force * 250 * (3e6 - 4*62500) / (24 * ei), 0, 25000},
		{"cantilever, force at tip", []float64{0, span}, []string{clamp, ""}, Case{Nodes: []NodeLoad{{1, geom.Vec{Z: -force}, geom.Vec{}}}}, 0, -1, force * 1e9 / (3 * ei), 1000, 1e5},
		{"cantilever, even load", []float64{0, span}, []string{clamp, ""}, Case{Spread: []SpreadLoad{evenLoad(0, 0, span)}}, 0, -1, even * 1e12 / (8 * ei), 1000, 50000},
		{"cantilever, end moment", []float64{0, span}, []string{clamp, ""}, Case{Nodes: []NodeLoad{{1, geom.Vec{}, geom.Vec{Y: 10000}}}}, 0, -1, 10000 * 1e6 / (2 * ei), 1000, 10000},
		{"fixed, force at midspan", []float64{0, span}, []string{clamp, clamp}, Case{Points: []PointLoad{down(0, 500, force)}}, 0, -1, force * 1e9 / (192 * ei), 500, 12500},
		{"fixed, even load", []float64{0, span}, []string{clamp, clamp}, Case{Spread: []SpreadLoad{evenLoad(0, 0, span)}}, 0, -1, even * 1e12 / (384 * ei), 500, even * 1e6 / 12},
		{"propped, force at midspan", []float64{0, span}, []string{hinge, clamp}, Case{Points: []PointLoad{down(0, 500, force)}}, 0, 500, 7 * force * 1e9 / (768 * ei), 0, 3 * force * 1000 / 16},
		{"propped, force at midspan, largest", []float64{0, span}, []string{hinge, clamp}, Case{Points: []PointLoad{down(0, 500, force)}}, 0, -1, force * 1e9 / (48 * math.Sqrt(5) * ei), 1000 / math.Sqrt(5), 0},
		{"propped, even load", []float64{0, span}, []string{hinge, clamp}, Case{Spread: []SpreadLoad{evenLoad(0, 0, span)}}, 0, -1, 0.0054161 * even * 1e12 / ei, 421.5, even * 1e6 / 8},
		{"overhang, force at tip", []float64{0, span, 1300}, []string{hinge, roller, ""}, Case{Nodes: []NodeLoad{{2, geom.Vec{Z: -force}, geom.Vec{}}}}, 1, 300, force * 300 * 300 * 1300 / (3 * ei), 0, 30000},
		{"overhang, even load on it", []float64{0, span, 1300}, []string{hinge, roller, ""}, Case{Spread: []SpreadLoad{evenLoad(1, 0, 300)}}, 1, 300, even * math.Pow(300, 3) * (4000 + 900) / (24 * ei), 0, even * 300 * 300 / 2},
		{"overhang, even load on all", []float64{0, span, 1300}, []string{hinge, roller, ""}, Case{Spread: []SpreadLoad{evenLoad(0, 0, span), evenLoad(1, 0, 300)}}, 1, 300,
			even * 300 * (3*math.Pow(300, 3) + 4*300*300*1000 - 1e9) / (24 * ei), 0, 0},
		{"two spans, even load", []float64{0, span, 2000}, []string{hinge, roller, roller}, Case{Spread: []SpreadLoad{evenLoad(0, 0, span), evenLoad(1, 0, span)}}, 0, -1, 0.0054161 * even * 1e12 / ei, 421.5, 12500},
	} {
		m := line(c.xs...)
		for i, h := range c.holds {
			if h != "" {
				m.hold(i, h)
			}
		}
		sol := solve(t, prepare(t, m), &c.load)
		rel := 1e-6
		if c.want == 0.0054161*even*1e12/ei {
			rel = 1e-5 // half a unit of the last printed digit
		}
		if c.at >= 0 {
			check(t, c.name, -sol.At(Place{c.beam, c.at}).Shift.Z, c.want, rel, roark)
		} else {
			p := sol.Largest(down1)
			if p.Value == 0 {
				p = sol.Largest(geom.Vec{Z: 1})
			}
			check(t, c.name, p.Value, c.want, rel, roark)
			if c.where > 0 && math.Abs(p.At.X-c.where) > 0.05 {
				t.Errorf("%s: largest at %g, want %g (%s)", c.name, p.At.X, c.where, roark)
			}
		}
		if c.moment > 0 {
			check(t, c.name+", moment", sol.largestMoment(), c.moment, 1e-6, roark)
		}
	}
}

// largestMoment returns the largest bending moment anywhere, sampled finely and at every break.
func (sol *Solution) largestMoment() (most float64) {
	for i := range sol.sys.mesh.parts {
		for _, q := range sol.pieces(i) {
			for k := range 101 {
				x := q.from + (q.to-q.from)*float64(k)/100
				most = math.Max(most, math.Hypot(q.moment[0].at(x), q.moment[1].at(x)))
			}
		}
	}
	return most
}

func TestOverhangRise(t *testing.T) {
	m := line(0, span, 1300)
	m.hold(0, hinge)
	m.hold(1, roller)
	sol := solve(t, prepare(t, m), &Case{Nodes: []NodeLoad{{2, geom.Vec{Z: -force}, geom.Vec{}}}})
	p := sol.Largest(geom.Vec{Z: 1})
	check(t, "rise between the supports", p.Value, force*300*1e6/(9*math.Sqrt(3)*tubeE*tubeI), 1e-6, "Roark table 8.1")
	if math.Abs(p.At.X-1000/math.Sqrt(3)) > 0.05 {
		t.Errorf("largest rise at %g", p.At.X)
	}
}

func TestEndSprings(t *testing.T) {
	for _, k := range []float64{0, 1e6, 1e8, 1e10} {
		m := line(0, span)
		m.hold(0, clamp)
		m.hold(1, clamp)
		for e := range 2 {
			m.Beams[0].Release[e][4], m.Beams[0].Release[e][5] = k, k
		}
		sol := solve(t, prepare(t, m), &Case{Points: []PointLoad{down(0, 500, force)}})
		r := k * span / (tubeE * tubeI)
		want := force * 1e9 / (192 * tubeE * tubeI) * (1 + 3/(1+r/2))
		check(t, "beam on end springs", -sol.At(Place{0, 500}).Shift.Z, want, 1e-6, "slope-deflection; k = 0 gives 1/48, k large 1/192")
		reactions := sol.Reactions()
		check(t, "reaction", reactions[0].Force.Z, force/2, 1e-9, "symmetry")
		// The moment of the support is what the spring passes on: P·L/8 · 1/(1 + 2/r).
		if k > 0 {
			check(t, "moment", math.Abs(reactions[0].Moment.Y), force*span/8/(1+2/r), 1e-6, "slope-deflection")
		}
	}
}

func TestShearFlexibility(t *testing.T) {
	m := line(0, span)
	s := *m.Beams[0].Section
	s.ShearY, s.ShearZ = 240, 240
	m.Beams[0].Section = &s
	m.hold(0, hinge)
	m.hold(1, roller)
	sol := solve(t, prepare(t, m), &Case{Points: []PointLoad{down(0, 500, force)}})
	want := force*1e9/(48*tubeE*tubeI) + force*span/(4*240*tubeG)
	check(t, "midspan with shear", -sol.At(Place{0, 500}).Shift.Z, want, 1e-6, "Timoshenko: P·L/(4·G·As) on top")

	// A deep cantilever, 200 long and 100 deep: P·L³/3EI + P·L/(κ·G·A).
	deep := &Section{Area: 1000, Iy: 1e7 / 12, Iz: 1e6 / 12 * 10, J: 3000, ShearY: 5. / 6 * 1000, ShearZ: 5. / 6 * 1000}
	m = line(0, 200)
	m.Beams[0].Section = deep
	m.hold(0, clamp)
	sol = solve(t, prepare(t, m), &Case{Nodes: []NodeLoad{{1, geom.Vec{Z: -force}, geom.Vec{}}}, Spread: nil})
	want = force*math.Pow(200, 3)/(3*tubeE*deep.Iz) + force*200/(tubeG*deep.ShearY)
	check(t, "deep cantilever", -sol.Shift(1).Z, want, 1e-9, "Timoshenko beam theory")
	sol = solve(t, prepare(t, m), &Case{Spread: []SpreadLoad{{Stretch{0, 0, 200}, geom.Vec{Z: -1}, geom.Vec{}}}})
	want = math.Pow(200, 4)/(8*tubeE*deep.Iz) + 200*200/(2*tubeG*deep.ShearY)
	check(t, "deep cantilever, even load", -sol.Shift(1).Z, want, 1e-9, "Timoshenko beam theory")
	check(t, "deep cantilever, even load, inside", -sol.At(Place{0, 200}).Shift.Z, want, 1e-9, "Timoshenko beam theory")
}

func TestTwistStretchWarm(t *testing.T) {
	m := line(0, span)
	m.hold(0, clamp)
	s := prepare(t, m)
	sol := solve(t, s, &Case{Nodes: []NodeLoad{{1, geom.Vec{X: 1000}, geom.Vec{X: 10000}}}})
	check(t, "twist", sol.Movement(1)[3], 10000*span/(tubeG*tubeJ), 1e-9, "T·L/(G·J)")
	check(t, "stretch", sol.Movement(1)[0], 1000*span/(tubeE*tubeA), 1e-9, "N·L/(E·A)")
	sol = solve(t, s, &Case{Warm: 30})
	check(t, "growth", sol.Movement(1)[0], 23e-6*30*span, 1e-9, "α·ΔT·L")
	m.hold(1, clamp)
	sol = solve(t, prepare(t, m), &Case{Warm: 30})
	check(t, "force of a held bar", -sol.At(Place{0, 300}).Normal, tubeE*tubeA*23e-6*30, 1e-9, "E·A·α·ΔT")

	// Tension and bending together, Roark: N/A + M·c/I.
	m = line(0, span)
	m.hold(0, hinge)
	m.hold(1, roller)
	sol = solve(t, prepare(t, m), &Case{Nodes: []NodeLoad{{1, geom.Vec{X: 1000}, geom.Vec{}}}, Points: []PointLoad{down(0, 500, force)}})
	st := sol.Stress()
	check(t, "stress", st.Value, 1000/tubeA+25000*20/tubeI, 1e-6, "Roark: 7.15556 MPa")
	check(t, "utilisation", st.Utilisation, st.Value/140, 1e-12, "of the yield")
	if math.Abs(st.At-500) > 1e-6 {
		t.Errorf("largest stress at %g", st.At)
	}
}

// portal returns two columns and a beam in the plane XZ.
func portal(h, l float64, foot string) *Model {
	s, mt := tube()
	s2 := *s
	s2.Area = 1e9 // handbooks leave out the shortening of the bars
	m := &Model{Nodes: []geom.Vec{{}, {Z: h}, {X: l, Z: h}, {X: l}}}
	for i, name := range []string{"left", "top", "right"} {
		y := geom.Vec{X: 1}
		if name == "top" {
			y = geom.Vec{Z: 1}
		}
		m.Beams = append(m.Beams, Beam{Ends: [2]int{i, i + 1}, Release: [2]Release{Rigid(), Rigid()}, Y: y, Section: &s2, Material: mt, Member: name})
	}
	m.hold(0, foot)
	m.hold(3, foot)
	return m
}

func TestPortals(t *testing.T) {
	const kleinlogel = "Kleinlogel, Rigid Frame Formulas"
	h, l := 800.0, 600.0
	k := h / l
	push := &Case{Nodes: []NodeLoad{{1, geom.Vec{X: force / 2}, geom.Vec{}}, {2, geom.Vec{X: force / 2}, geom.Vec{}}}}
	sol := solve(t, prepare(t, portal(h, l, clamp)), push)
	check(t, "fixed feet", sol.Shift(1).X, force*h*h*h*(3*k+2)/(12*tubeE*tubeI*(6*k+1)), 1e-6, kleinlogel+": 0.398491 mm")
	check(t, "fixed feet", sol.Shift(1).X, 0.398491, 2e-6, kleinlogel)
	check(t, "foot moment", math.Abs(sol.Reactions()[0].Moment.Y), force*h/2*(3*k+1)/(6*k+1), 1e-6, kleinlogel)
	sol = solve(t, prepare(t, portal(h, l, hinge)), push)
	check(t, "pinned feet", sol.Shift(1).X, force*h*h*h*(2*k+1)/(12*tubeE*tubeI*k), 1e-6, kleinlogel)
	check(t, "pinned feet", sol.Shift(1).X, 1.64378, 5e-6, kleinlogel)

	// Corners that give: 1/(6·E·Ib/L) + 1/c in place of 1/(6·E·Ib/L) in antisymmetric sway.
	for _, c := range []float64{1e6, 1e7, 1e9} {
		m := portal(h, l, clamp)
		for e := range 2 {
			m.Beams[1].Release[e][4], m.Beams[1].Release[e][5] = c, c
		}
		sol := solve(t, prepare(t, m), push)
		beam := 6 * tubeE * tubeI / l
		soft := 1 / (1/beam + 1/c)
		ks := soft / beam * k
		check(t, "corners that give", sol.Shift(1).X, force*h*h*h*(3*ks+2)/(12*tubeE*tubeI*(6*ks+1)), 1e-6, "slope-deflection")
	}
}

// A cantilever bent round a corner in plan: the first leg twists. δ = P·a³/3EI + P·b³/3EI + P·b²·a/GJ.
func TestBentInTorsion(t *testing.T) {
	m := line(0, 700)
	m.Nodes = append(m.Nodes, geom.Vec{X: 700, Y: 400})
	b := m.Beams[0]
	b.Ends = [2]int{1, 2}
	m.Beams = append(m.Beams, b)
	m.hold(0, clamp)
	sol := solve(t, prepare(t, m), &Case{Nodes: []NodeLoad{{2, geom.Vec{Z: -force}, geom.Vec{}}}})
	ei, gj := tubeE*tubeI, tubeG*tubeJ
	want := force*math.Pow(700, 3)/(3*ei) + force*math.Pow(400, 3)/(3*ei) + force*400*400*700/gj
	check(t, "tip", -sol.Shift(2).Z, want, 1e-6, "Castigliano: bending of both legs and twist of the first")
}

// A channel loaded through its centroid twists: the shear centre lies off it.
func TestShearCentreTwists(t *testing.T) {
	m := line(0, 800)
	s := *m.Beams[0].Section
	s.ShearCentre = geom.Vec2{X: 3, Y: -12} // local y is up, local z is -Y
	s.ShearY, s.ShearZ = 200, 150
	m.Beams[0].Section = &s
	m.hold(0, clamp)
	sys := prepare(t, m)
	sol := solve(t, sys, &Case{Nodes: []NodeLoad{{1, geom.Vec{Z: -force}, geom.Vec{}}}})
	// The centroid lies 12 from the shear centre along z: torque about it is P·12.
	check(t, "twist", math.Abs(sol.Movement(1)[3]), force*12*800/(tubeG*tubeJ), 1e-9, "T·L/(G·J), T = P·e")
	bend := force*math.Pow(800, 3)/(3*tubeE*tubeI) + force*800/(tubeG*200)
	check(t, "tip", -sol.Shift(1).Z, bend+12*force*12*800/(tubeG*tubeJ), 1e-9, "bending of the shear centre, and e times the twist")
	// Through the shear centre (with the torque that moves it there) it only bends.
	turn := sol.Movement(1)[3]
	torque := -math.Copysign(force*12, turn)
	sol = solve(t, sys, &Case{Nodes: []NodeLoad{{1, geom.Vec{Z: -force}, geom.Vec{X: torque}}}})
	check(t, "tip without twist", -sol.Shift(1).Z, bend, 1e-9, "Timoshenko")
	if a := math.Abs(sol.Movement(1)[3]); a > 1e-12 {
		t.Errorf("it twists by %g", a)
	}
	// Even load: the twist grows with the square.
	sol = solve(t, sys, &Case{Spread: []SpreadLoad{{Stretch{0, 0, 800}, geom.Vec{Z: -even}, geom.Vec{}}}})
	check(t, "twist under an even load", math.Abs(sol.At(Place{0, 800}).Turn.X), even*12*800*800/(2*tubeG*tubeJ), 1e-9, "∫q·e·x dx/GJ")
}
