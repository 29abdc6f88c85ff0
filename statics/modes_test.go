package statics

import (
	"math"
	"testing"

	"barwright/geom"
	"barwright/internal/sparse"
)

func modesOf(t testing.TB, m *Model, n int, o ...ModeOption) []Mode {
	t.Helper()
	modes, err := prepare(t, m).Modes(n, o...)
	if err != nil {
		t.Fatal(err)
	}
	if len(modes) != n {
		t.Fatalf("%d modes, want %d", len(modes), n)
	}
	return modes
}

// slim is a slender bar, so that rotary inertia does not show: Ø 5 mm steel wire rod of 1000 mm, without shear.
func slim(holds ...string) *Model {
	m := line(0, span)
	m.Beams[0].Section = &Section{Area: math.Pi * 6.25, Iy: math.Pi * 39.0625 / 4, Iz: math.Pi * 39.0625 / 4, J: math.Pi * 39.0625 / 2}
	m.Beams[0].Material = &Material{E: 210000, G: 81000, Density: 7.85e-6}
	for i, h := range holds {
		if h != "" {
			m.hold(i, h)
		}
	}
	return m
}

func TestBeamFrequencies(t *testing.T) {
	const blevins = "Blevins, Formulas for Natural Frequency and Mode Shape, table 8-1"
	for _, c := range []struct {
		name  string
		holds []string
		roots []float64
	}{
		{"simple", []string{"xyzr", "yzr"}, []float64{math.Pi, 2 * math.Pi, 3 * math.Pi, 4 * math.Pi}},
		{"cantilever", []string{clamp, ""}, []float64{1.875104, 4.694091, 7.854757, 10.995541}},
		{"fixed", []string{clamp, clamp}, []float64{4.730041, 7.853205, 10.995608, 14.137165}},
		{"propped", []string{clamp, "yzr"}, []float64{3.926602, 7.068583, 10.210176, 13.351769}},
	} {
		m := slim(c.holds...)
		b := m.Beams[0]
		f := math.Sqrt(b.Material.E*b.Section.Iy/(b.Material.Density/1000*b.Section.Area)) / (2 * math.Pi * span * span)
		modes := modesOf(t, m, 8)
		for i, r := range c.roots {
			for _, k := range []int{2 * i, 2*i + 1} { // both planes
				check(t, c.name, modes[k].Frequency, r*r*f, 1e-3, blevins)
			}
		}
	}
	// The square tube of the handbook checks, with its figures.
	m := line(0, span)
	m.hold(0, "xyzr")
	m.hold(1, "yzr")
	check(t, "tube, simple", modesOf(t, m, 1)[0].Frequency, 121.209, 3e-3, blevins+"; rotary inertia takes 0.1 %")
}

func TestFrequenciesWithMasses(t *testing.T) {
	// The beam's own mass taken off: exact for a massless beam.
	light := func(m *Model) {
		mt := *m.Beams[0].Material
		mt.Density = 1e-15
		for i := range m.Beams {
			m.Beams[i].Material = &mt
		}
	}
	m := line(0, span)
	light(m)
	m.hold(0, clamp)
	m.Masses = []Mass{{Kg: 10, Path: []Stretch{{0, span, span}}}}
	want := math.Sqrt(3*tubeE*tubeI/1e9/(10./1000)) / (2 * math.Pi)
	check(t, "cantilever, mass at the tip", modesOf(t, m, 2)[0].Frequency, want, 1e-6, "√(3EI/(L³·m))")

	m = line(0, span)
	light(m)
	m.hold(0, hinge)
	m.hold(1, roller)
	m.Masses = []Mass{{Kg: 10, Path: []Stretch{{0, 300, 300}}}}
	want = math.Sqrt(3*tubeE*tubeI*1000/(300*300*700*700)/(10./1000)) / (2 * math.Pi)
	check(t, "simple, mass at 300", modesOf(t, m, 2)[0].Frequency, want, 1e-6, "√(3EIL/(a²b²m))")
	// The same mass that travels, stopped there; without a place it is left out.
	m.Masses[0].Travels = true
	m.Masses[0].Path = []Stretch{{0, 100, 900}}
	got := modesOf(t, m, 2, WithMassAt(map[int]Place{0: {0, 300}}))
	check(t, "travelling mass at 300", got[0].Frequency, want, 1e-6, "√(3EIL/(a²b²m))")

	// With the beam's mass, handbook: m + 0.486 of it at midspan, m + 0.236 at the tip.
	m = line(0, span)
	m.hold(0, hinge)
	m.hold(1, roller)
	m.Masses = []Mass{{Kg: 10, Path: []Stretch{{0, 500, 500}}}}
	check(t, "simple, 10 kg", modesOf(t, m, 2)[0].Frequency, 28.6379, 1e-3, "Blevins: 48EI/(L³(m + 17/35 of the beam))")
	m = line(0, span)
	m.hold(0, clamp)
	m.Masses = []Mass{{Kg: 10, Path: []Stretch{{0, 1000, 1000}}}}
	check(t, "cantilever, 10 kg", modesOf(t, m, 2)[0].Frequency, 7.26305, 1e-3, "Blevins: 3EI/(L³(m + 33/140 of the beam))")

	// A spread mass adds to the bar's own.
	m = slim("xyzr", "yzr")
	own := m.Beams[0].Material.Density * m.Beams[0].Section.Area * span
	f := modesOf(t, m, 2)[0].Frequency
	m.Masses = []Mass{{Kg: 3 * own, Path: []Stretch{{0, 0, 400}, {0, 400, span}}}}
	check(t, "spread mass", modesOf(t, m, 2)[0].Frequency, f/2, 1e-3, "frequency ∝ 1/√mass")
}

// NAFEMS, Selected Benchmarks for Natural Frequency Analysis (R0015), test FV2: a pin-ended double cross in its
// plane, eight arms of 5 m, square 0.125 m, E = 200 GPa, ρ = 8000 kg/m³.
func TestNAFEMSFV2(t *testing.T) {
	a := 125.0
	// Out of its plane the cross is held: stiff there.
	s := &Section{Area: a * a, Iy: a * a * a * a / 12, Iz: 1e4 * a * a * a * a / 12, J: 0.1406 * a * a * a * a, Polar: a * a * a * a / 6}
	mt := &Material{E: 200000, G: 200000 / 2.6, Density: 8000e-9}
	m := &Model{Nodes: []geom.Vec{{}}}
	for i := range 8 {
		sn, cs := math.Sincos(float64(i) * math.Pi / 4)
		m.Nodes = append(m.Nodes, geom.Vec{X: 5000 * cs, Y: 5000 * sn})
		m.Beams = append(m.Beams, Beam{Ends: [2]int{0, i + 1}, Release: [2]Release{Rigid(), Rigid()}, Y: geom.Vec{Z: 1}, Section: s, Material: mt})
		m.hold(i+1, "xyzrs")
	}
	m.hold(0, "zrs") // in its plane
	want := []float64{11.336, 17.709, 17.709, 17.709, 17.709, 17.709, 17.709, 17.709, 45.345, 57.390, 57.390, 57.390, 57.390, 57.390, 57.390, 57.390}
	for k, md := range modesOf(t, m, 16) {
		tol := 1e-3
		if k == 1 || k == 2 || k == 9 || k == 10 {
			tol = 1e-2 // the hub shifts a little as the arms stretch; the target takes it as fixed
		}
		check(t, "FV2", md.Frequency, want[k], tol, "NAFEMS R0015, FV2")
	}
	m.hold(0, "xyzrs")
	for k, md := range modesOf(t, m, 16) {
		check(t, "FV2, hub fixed", md.Frequency, want[k], 1e-3, "NAFEMS R0015, FV2")
	}
}

// NAFEMS R0015, test FV4: a cantilever of 10 m, Ø 0.5 m, with masses of 10000 kg and 1000 kg on rigid arms of 2 m to
// either side at its tip.
func TestNAFEMSFV4(t *testing.T) {
	r := 250.0
	i := math.Pi * r * r * r * r / 4
	m := line(0, 10000)
	m.Beams[0].Section = &Section{Area: math.Pi * r * r, Iy: i, Iz: i, J: 2 * i}
	m.Beams[0].Material = &Material{E: 200000, G: 200000 / 2.6, Density: 8000e-9}
	m.hold(0, clamp)
	m.Masses = []Mass{
		{Kg: 10000, Path: []Stretch{{0, 10000, 10000}}, Offset: geom.Vec{Y: 2000}},
		{Kg: 1000, Path: []Stretch{{0, 10000, 10000}}, Offset: geom.Vec{Y: -2000}},
	}
	modes := modesOf(t, m, 6)
	for k, want := range []float64{1.723, 1.727, 7.413, 9.972, 18.155, 26.957} {
		check(t, "FV4", modes[k].Frequency, want, 2e-3, "NAFEMS R0015, FV4")
	}
}

// A deep simply supported beam against the exact frequencies of Timoshenko's beam (Thomson, Theory of
// Vibration: the characteristic equation for sines): (a²k²ω⁴-term and all).
func TestDeepBeamFrequencies(t *testing.T) {
	h, l := 200.0, 1000.0
	s := &Section{Area: h * h, Iy: h * h * h * h / 12, Iz: h * h * h * h / 12, J: 0.1406 * h * h * h * h, ShearY: 5. / 6 * h * h, ShearZ: 5. / 6 * h * h}
	mt := &Material{E: 200000, G: 200000 / 2.6, Density: 8e-6}
	m := line(0, l)
	m.Beams[0].Section, m.Beams[0].Material = s, mt
	m.hold(0, "xyzr")
	m.hold(1, "yzr")
	modes := modesOf(t, m, 9)
	rho := mt.Density / 1000
	timoshenko := func(n float64) float64 {
		// With w ∝ sin(nπx/l): ρ²I/(κG)·λ² - (ρA + (nπ/l)²·ρI·(1 + E/(κG)))·λ + EI(nπ/l)⁴ = 0, λ = ω², smaller root.
		q := n * math.Pi / l
		kg := mt.G * s.ShearY / s.Area
		a := rho * rho * s.Iy / kg
		b := rho*s.Area + q*q*rho*s.Iy*(1+mt.E/kg)
		c := mt.E * s.Iy * q * q * q * q
		return math.Sqrt((b-math.Sqrt(b*b-4*a*c))/(2*a)) / (2 * math.Pi)
	}
	find := func(want float64, what string, count int) {
		t.Helper()
		n := 0
		for _, md := range modes {
			if math.Abs(md.Frequency-want) < 1e-3*want {
				n++
			}
		}
		if n != count {
			t.Errorf("%s at %.1f Hz: %d modes near it, want %d", what, want, n, count)
			for _, md := range modes {
				t.Logf("%.2f", md.Frequency)
			}
		}
	}
	find(timoshenko(1), "first bending", 2)
	find(timoshenko(2), "second bending", 2)
	find(math.Sqrt(mt.E/rho)/(4*l), "stretching, fixed and free", 1)
	find(math.Sqrt(mt.G*s.J/(rho*(s.Iy+s.Iz)))/(2*l), "twisting, held at both ends", 1)
}

// Rayleigh: any shape that the supports allow gives a frequency above the first.
func TestRayleighQuotient(t *testing.T) {
	m := line(0, span)
	m.hold(0, hinge)
	m.hold(1, roller)
	s := prepare(t, m)
	first, err := s.Modes(2)
	if err != nil {
		t.Fatal(err)
	}
	k := newMesh(m, []int{8}, nil)
	k.number(s.held)
	stiff, mass := k.stiffness(), k.mass(nil)
	// The static sag under weight, and a few others.
	for trial := range 6 {
		x := make([]float64, k.free)
		for i := range x {
			x[i] = math.Sin(float64(i*(trial+1))*1.7) * math.Pow(0.2, float64(trial%3)*4)
		}
		kx, mx := make([]float64, k.free), make([]float64, k.free)
		stiff.Mul(kx, x, 1)
		mass.Mul(mx, x, 1)
		var up, down float64
		for i := range x {
			up += x[i] * kx[i]
			down += x[i] * mx[i]
		}
		if f := math.Sqrt(up/down) / (2 * math.Pi); f < first[0].Frequency*(1-1e-9) {
			t.Errorf("trial %d: %g Hz is below the first mode, %g", trial, f, first[0].Frequency)
		}
	}
	// The sag under its own weight estimates it from above, closely: f² = g·∫m·w / ∫m·w² /(2π)².
	sol := solve(t, s, &Case{Field: geom.Vec{Z: -Gravity}})
	var w1, w2 float64
	for i := range 200 {
		w := -sol.At(Place{0, (float64(i) + .5) * 5}).Shift.Z
		w1 += w
		w2 += w * w
	}
	f := math.Sqrt(Gravity*1000*w1/w2) / (2 * math.Pi)
	if f < first[0].Frequency || f > first[0].Frequency*1.01 {
		t.Errorf("from the sag %g Hz, mode %g Hz", f, first[0].Frequency)
	}
}

// The closed form of the mass matrix equals ∫ρA·Nᵀ·N + ρI·θᵀ·θ of its shape functions.
func TestMassMatrixByIntegration(t *testing.T) {
	m := line(0, 300)
	m.Beams[0].Section = &Section{Area: 1000, Iy: 2e5, Iz: 3e5, J: 1e5, ShearY: 300, ShearZ: 500}
	e := newElement(&m.Beams[0], geom.Vec{}, geom.Vec{X: 300}, 0, 1)
	got := e.massMatrix()
	var want mat12
	// Gauss's rule of five points is exact to degree 9.
	for _, g := range [][2]float64{{0, 128. / 225}, {0.538469310105683, 0.478628670499366}, {-0.538469310105683, 0.478628670499366}, {0.906179845938664, 0.236926885056189}, {-0.906179845938664, 0.236926885056189}} {
		n := e.shapeAt(150 * (1 + g[0]))
		w := g[1] * 150 * e.mat.Density / 1000
		for i := range 12 {
			for j := range 12 {
				for c, a := range [6]float64{1000, 1000, 1000, 5e5, 2e5, 3e5} {
					want[i][j] += w * a * n[c][i] * n[c][j]
				}
			}
		}
	}
	for i := range 12 {
		for j := range 12 {
			if math.Abs(got[i][j]-want[i][j]) > 1e-9*math.Sqrt(want[i][i]*want[j][j]) {
				t.Errorf("m[%d][%d] = %g, want %g", i, j, got[i][j], want[i][j])
			}
		}
	}
	// The stiffness is that of the same shapes: rigid movements cost nothing.
	k := e.stiffness()
	for i := range 12 {
		for c := range 3 {
			var shift, turn float64
			for j, v := range rigid(c, false, 300) {
				shift += k[i][j] * v
			}
			for j, v := range rigid(c, true, 300) {
				turn += k[i][j] * v
			}
			if math.Abs(shift) > 1e-6 || math.Abs(turn) > 1e-4 {
				t.Errorf("row %d: a rigid movement %d costs %g, %g", i, c, shift, turn)
			}
		}
	}
}

// rigid returns the movements of both ends of a beam along x under a unit shift along, or turn about, an axis.
func rigid(axis int, turn bool, l float64) (d vec12) {
	for end, x := range []float64{0, l} {
		if !turn {
			d[6*end+axis] = 1
			continue
		}
		u := geom.Vec{}.With(geom.Axis(axis), 1).Cross(geom.Vec{X: x})
		d[6*end], d[6*end+1], d[6*end+2], d[6*end+3+axis] = u.X, u.Y, u.Z, 1
	}
	return d
}

// slats returns n+1 equal slats between two rails: many frequencies close together.
func slats(n int) *Model {
	m := &Model{}
	s, mt := tube()
	r := Rigid()
	id := func(side, i int) int { return side*(n+1) + i }
	add := func(a, b int, s *Section) {
		m.Beams = append(m.Beams, Beam{Ends: [2]int{a, b}, Release: [2]Release{r, r}, Y: geom.Vec{Z: 1}, Section: s, Material: mt})
	}
	for side := range 2 {
		for i := range n + 1 {
			m.Nodes = append(m.Nodes, geom.Vec{X: 60 * float64(i), Y: 1000 * float64(side)})
			if i > 0 {
				add(id(side, i-1), id(side, i), s)
			}
			if i%2 == 0 {
				m.hold(id(side, i), "xyz")
			}
		}
	}
	thin := &Section{Area: 50, Iy: 200, Iz: 200, J: 400}
	for i := range n + 1 {
		add(id(0, i), id(1, i), thin)
	}
	return m
}

// No mode is missed: by Sylvester's law of inertia the stiffness less λ times the mass has as many negative pivots as there
// are modes below λ.
func TestNoModeIsMissed(t *testing.T) {
	b := box(geom.Identity(), 5e6)
	for name, m := range map[string]*Model{"slats": slats(40), "box": b} {
		modes := modesOf(t, m, 14)
		k := modes[0].mesh
		stiff, mass := k.stiffness(), k.mass(nil)
		checked := 0
		for i := range len(modes) - 1 {
			lo, hi := modes[i].Frequency, modes[i+1].Frequency
			if hi-lo < 1e-4*hi {
				continue
			}
			w := math.Pi * (lo + hi)
			if n := sparse.Factorize(stiff.Shifted(-w*w, mass), k.blocks).Negative; n != i+1 {
				t.Errorf("%s: %d modes lie below %.4f Hz, %d were found", name, n, (lo+hi)/2, i+1)
			}
			checked++
		}
		if checked < 5 {
			t.Errorf("%s: only %d gaps to look into", name, checked)
		}
	}
}

// NAFEMS R0015, test FV5: a deep simply supported beam, 2 m × 2 m, 10 m long, stretching and twisting held at one end only. The target
// of the twist takes the polar moment for the torsion constant.
func TestNAFEMSFV5(t *testing.T) {
	a := 2000.0
	i := a * a * a * a / 12
	m := line(0, 10000)
	m.Beams[0].Section = &Section{Area: a * a, Iy: i, Iz: i, J: 2 * i, ShearY: a * a / 1.176923, ShearZ: a * a / 1.176923}
	m.Beams[0].Material = &Material{E: 200000, G: 200000 / 2.6, Density: 8000e-9}
	m.hold(0, "xyzr")
	m.hold(1, "yz")
	for k, want := range []float64{42.649, 42.649, 77.542, 125.00, 148.31, 148.31, 233.10, 284.55, 284.55} {
		check(t, "FV5", modesOf(t, m, 9)[k].Frequency, want, 5e-3, "NAFEMS R0015, FV5; shear coefficient 1.177 = 1/0.85")
	}
}
