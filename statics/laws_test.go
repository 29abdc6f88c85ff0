package statics

import (
	"math"
	"slices"
	"testing"

	"barwright/geom"
)

// box returns a machine-sized frame: four posts, a ring of rails at each of two heights and a beam across, with joints
// that give, arms to the faces, shear flexibility, and feet that may lift. turn moves it as a whole.
func box(turn geom.Motion, joint float64) *Model {
	s := &Section{Area: 330, Iy: 28000, Iz: 30000, J: 4065, ShearY: 89, ShearZ: 89,
		Fibres: []geom.Vec2{{X: 15, Y: 15}, {X: -15, Y: 15}, {X: -15, Y: -15}, {X: 15, Y: -15}}}
	mt := &Material{E: 70000, G: 27000, Density: 2.7e-6, Expansion: 23e-6, Yield: 150}
	m := &Model{}
	w, d := 900.0, 700.0
	zs := []float64{0, 100, 400, 1100}
	node := func(x, y, z float64) int {
		p := turn.Apply(geom.Vec{X: x, Y: y, Z: z})
		if i := slices.IndexFunc(m.Nodes, func(q geom.Vec) bool { return q.Dist(p) < 1e-6 }); i >= 0 {
			return i
		}
		m.Nodes = append(m.Nodes, p)
		return len(m.Nodes) - 1
	}
	corners := [][2]float64{{0, 0}, {w, 0}, {w, d}, {0, d}}
	posts := []string{"leg.front_left", "leg.front_right", "leg.back_right", "leg.back_left"}
	stiff := Rigid()
	give := Rigid()
	give[3], give[4], give[5] = joint, joint, joint
	for i, c := range corners {
		for k := 1; k < len(zs); k++ {
			m.Beams = append(m.Beams, Beam{Ends: [2]int{node(c[0], c[1], zs[k-1]), node(c[0], c[1], zs[k])}, Release: [2]Release{stiff, stiff},
				Y: turn.Turn(geom.Vec{X: 1}), Section: s, Material: mt, Member: posts[i], Set: "posts leg", At: zs[k-1]})
		}
	}
	rail := func(name, set string, a, b geom.Vec) {
		dir := b.Sub(a).Unit()
		m.Beams = append(m.Beams, Beam{Ends: [2]int{node(a.X, a.Y, a.Z), node(b.X, b.Y, b.Z)},
			Offset:  [2]geom.Vec{turn.Turn(dir.Scale(15)), turn.Turn(dir.Scale(-15))},
			Release: [2]Release{give, give}, Y: turn.Turn(geom.Vec{Z: 1}), Section: s, Material: mt, Member: name, Set: set})
	}
	for _, ring := range []struct {
		set string
		z   float64
	}{{"base", 100}, {"crown", 1100}} {
		for i, side := range []string{"front", "right", "back", "left"} {
			a, b := corners[i], corners[(i+1)%4]
			rail(ring.set+"."+side+"_rail", "ring "+ring.set, geom.Vec{X: a[0], Y: a[1], Z: ring.z}, geom.Vec{X: b[0], Y: b[1], Z: ring.z})
		}
	}
	rail("wire_beam", "", geom.Vec{X: 0, Y: 0, Z: 400}, geom.Vec{X: w, Y: 0, Z: 400})
	for i := range corners {
		n := node(corners[i][0], corners[i][1], 0)
		m.Supports = append(m.Supports, Support{Node: n, Fixed: [6]bool{true, true, true}, Lifts: true, Name: posts[i]})
	}
	return m
}

// beamOf returns the first beam of a member.
func (m *Model) beamOf(name string) int {
	return slices.IndexFunc(m.Beams, func(b Beam) bool { return b.Member == name })
}

func TestReactionsBalanceLoads(t *testing.T) {
	m := box(geom.Identity(), 5e6)
	wire := m.beamOf("wire_beam")
	m.Masses = []Mass{{Name: "head", Kg: 5, Path: []Stretch{{wire, 100, 700}}, Travels: true, Offset: geom.Vec{Y: -45, Z: 30}},
		{Name: "motor", Kg: 2, Path: []Stretch{{wire, 0, 0}}, Offset: geom.Vec{X: -30}}, {Name: "panel", Kg: 3, Path: []Stretch{{m.beamOf("crown.back_rail"), 0, 870}}}}
	c := &Case{Field: geom.Vec{X: 0.3, Y: 0.4, Z: -Gravity}, At: map[int]Place{0: {wire, 333}},
		Points: []PointLoad{{Place{m.beamOf("crown.left_rail"), 210}, geom.Vec{X: 12, Y: -7, Z: -20}, geom.Vec{X: 300, Y: 500, Z: -900}}},
		Spread: []SpreadLoad{{Stretch{m.beamOf("base.left_rail"), 100, 500}, geom.Vec{Z: -0.05, X: 0.01}, geom.Vec{X: 2}}},
		Nodes:  []NodeLoad{{3, geom.Vec{X: 5, Y: 6, Z: -7}, geom.Vec{X: 100, Y: 200, Z: 300}}}}
	sol := solve(t, prepare(t, m), c)
	// Forces and moments of everything about the origin.
	var f, mo geom.Vec
	add := func(at, force, moment geom.Vec) {
		f, mo = f.Add(force), mo.Add(moment).Add(at.Cross(force))
	}
	for i, b := range m.Beams {
		a, e := m.tips(i)
		add(a.Add(e).Scale(0.5), c.Field.Scale(a.Dist(e)*b.Section.Area*b.Material.Density), geom.Vec{})
	}
	at := func(beam int, x float64) geom.Vec {
		a, b := m.tips(beam)
		return a.Add(b.Sub(a).Unit().Scale(x))
	}
	add(at(wire, 333).Add(geom.Vec{Y: -45, Z: 30}), c.Field.Scale(5), geom.Vec{})
	add(at(wire, 0).Add(geom.Vec{X: -30}), c.Field.Scale(2), geom.Vec{})
	add(at(m.beamOf("crown.back_rail"), 435), c.Field.Scale(3), geom.Vec{})
	p, q := c.Points[0], c.Spread[0]
	add(at(p.Beam, p.At), p.Force, p.Moment)
	add(at(q.Beam, 300), q.Force.Scale(400), q.Moment.Scale(400))
	add(m.Nodes[3], c.Nodes[0].Force, c.Nodes[0].Moment)
	for _, r := range sol.Reactions() {
		add(m.Nodes[m.Supports[r.Support].Node], r.Force, r.Moment)
	}
	if f.Len() > 1e-6 || mo.Len() > 1e-3 {
		t.Errorf("left over: force %v, moment %v", f, mo)
	}
	// Every free node balances too.
	held := map[int]bool{}
	for _, s := range m.Supports {
		held[s.Node] = true
	}
	for n, v := range sol.nodeForces() {
		if !held[n/6] && math.Abs(v) > 1e-5 {
			t.Errorf("node %d movement %d is out of balance by %g", n/6, n%6, v)
		}
	}
}

// The state along every beam is continuous and ends where the next node begins.
func TestStateAlongBeamsMeetsTheNodes(t *testing.T) {
	m := box(geom.Identity(), 5e6)
	m.Beams[0].Section = &Section{Area: 330, Iy: 28000, Iz: 30000, J: 4065, ShearY: 89, ShearZ: 120, ShearCentre: geom.Vec2{X: 3, Y: -5}}
	s := prepare(t, m)
	c := &Case{Field: geom.Vec{X: 1, Y: -2, Z: -Gravity}, Warm: 10, Points: []PointLoad{
		{Place{0, 50}, geom.Vec{X: 100, Y: 200, Z: 30}, geom.Vec{X: 1000, Y: -2000, Z: 3000}},
		{Place{m.beamOf("wire_beam"), 400}, geom.Vec{Z: -50, Y: 30}, geom.Vec{X: 3000, Y: 4000, Z: 5000}}}}
	sol := solve(t, s, c)
	for i := range s.mesh.parts {
		p := &s.mesh.parts[i]
		pcs := sol.pieces(i)
		for k := 1; k < len(pcs); k++ {
			a, b := p.state(&pcs[k-1], pcs[k].from), p.state(&pcs[k], pcs[k].from)
			if a.Shift.Dist(b.Shift) > 1e-9 || a.Turn.Dist(b.Turn) > 1e-11 {
				t.Errorf("part %d: a step of %g, %g at %g", i, a.Shift.Dist(b.Shift), a.Turn.Dist(b.Turn), pcs[k].from)
			}
		}
		last := pcs[len(pcs)-1]
		got, d := p.state(&last, p.length), &sol.ends[i]
		want := p.global([3]float64{d[6], d[7], d[8]})
		turn := p.global([3]float64{d[9], d[10], d[11]})
		if got.Shift.Dist(want) > 1e-9*(1+want.Len()) || got.Turn.Dist(turn) > 1e-11 {
			t.Errorf("part %d ends at %v turned %v, its node says %v, %v", i, got.Shift, got.Turn, want, turn)
		}
		f := &sol.forces[i]
		if math.Abs(got.Normal-f[6]) > 1e-6 || math.Abs(got.ShearY-f[7]) > 1e-6 || math.Abs(got.ShearZ-f[8]) > 1e-6 || math.Abs(got.MomentZ-f[11]) > 1e-4 || math.Abs(got.MomentY-f[10]) > 1e-4 {
			t.Errorf("part %d: forces at its end %+v, want %v", i, got, f[6:])
		}
	}
}

// Maxwell and Betti: the work of one load on the movements of another is the same both ways.
func TestReciprocity(t *testing.T) {
	m := box(geom.Identity(), 2e6)
	for i := range m.Supports {
		m.Supports[i].Lifts = false
	}
	s := prepare(t, m)
	a := PointLoad{Place{m.beamOf("wire_beam"), 200}, geom.Vec{X: 1, Y: 2, Z: -3}, geom.Vec{X: 40, Y: 50, Z: -60}}
	b := PointLoad{Place{m.beamOf("crown.left_rail"), 555}, geom.Vec{X: -2, Y: 5, Z: 1}, geom.Vec{X: 400, Y: -80, Z: 10}}
	work := func(load, move PointLoad) float64 {
		st := solve(t, s, &Case{Points: []PointLoad{move}}).At(load.Place)
		return st.Shift.Dot(load.Force) + st.Turn.Dot(load.Moment)
	}
	check(t, "Betti", work(a, b), work(b, a), 1e-9, "Maxwell 1864, Betti 1872")
}

// Results turn with the frame.
func TestRotationInvariance(t *testing.T) {
	sn, cs := math.Sincos(0.6)
	tilt := geom.Motion{EX: geom.Vec{X: cs, Z: -sn}, EY: geom.Vec{Y: 1}, EZ: geom.Vec{X: sn, Z: cs}, T: geom.Vec{X: 100, Y: -50, Z: 20}}
	yaw := geom.Motion{EX: geom.Vec{X: cs, Y: sn}, EY: geom.Vec{X: -sn, Y: cs}, EZ: geom.Vec{Z: 1}}
	run := func(turn geom.Motion) (*Solution, []Mode) {
		m := box(turn, 5e6)
		for i := range m.Supports {
			m.Supports[i].Lifts = false
		}
		m.Masses = []Mass{{Kg: 4, Path: []Stretch{{m.beamOf("wire_beam"), 300, 300}}, Offset: turn.Turn(geom.Vec{Y: -40})}}
		s := prepare(t, m)
		modes, err := s.Modes(4)
		if err != nil {
			t.Fatal(err)
		}
		return solve(t, s, &Case{Field: turn.Turn(geom.Vec{X: 1, Z: -Gravity})}), modes
	}
	want, wantModes := run(geom.Identity())
	turn := yaw.Then(tilt)
	got, modes := run(turn)
	for n := range want.sys.Nodes {
		if d := got.Shift(n).Dist(turn.Turn(want.Shift(n))); d > 1e-8 {
			t.Errorf("node %d is off by %g", n, d)
		}
	}
	check(t, "largest shift", got.Largest(geom.Vec{}).Value, want.Largest(geom.Vec{}).Value, 1e-8, "invariance")
	check(t, "stress", got.Stress().Value, want.Stress().Value, 1e-8, "invariance")
	for i := range modes {
		check(t, "frequency", modes[i].Frequency, wantModes[i].Frequency, 1e-7, "invariance")
	}
}

func TestStifferJointsNeverSagMore(t *testing.T) {
	last, lastPush, lastFreq := math.Inf(1), math.Inf(1), 0.0
	for _, joint := range []float64{1e4, 1e5, 1e6, 1e7, 1e8, 1e10, math.Inf(1)} {
		m := box(geom.Identity(), joint)
		s := prepare(t, m)
		// The give of the loads' own places: what energy says never grows.
		sag := -solve(t, s, &Case{Points: []PointLoad{down(m.beamOf("wire_beam"), 435, 50)}}).At(Place{m.beamOf("wire_beam"), 435}).Shift.Z
		for i := range m.Supports {
			m.Supports[i].Lifts = false
		}
		s = prepare(t, m)
		push := solve(t, s, &Case{Nodes: []NodeLoad{{3, geom.Vec{X: 20}, geom.Vec{}}}}).Shift(3).X
		modes, err := s.Modes(1)
		if err != nil {
			t.Fatal(err)
		}
		if sag > last*(1+1e-9) || push > lastPush*(1+1e-9) || modes[0].Frequency < lastFreq*(1-1e-7) {
			t.Errorf("joint %g: sag %g after %g, push %g after %g, %g Hz after %g", joint, sag, last, push, lastPush, modes[0].Frequency, lastFreq)
		}
		last, lastPush, lastFreq = sag, push, modes[0].Frequency
	}
}

// A mass that travels over a simple beam is worst at midspan; over an overhang at the tip. The place is found, not sampled.
func TestWorstPlace(t *testing.T) {
	m := line(0, 400, span)
	m.hold(0, hinge)
	m.hold(2, roller)
	m.Masses = []Mass{{Kg: 10, Travels: true, Path: []Stretch{{0, 90, 400}, {1, 0, 577}}}}
	s := prepare(t, m)
	w, err := s.WorstPlace(0, &Case{Field: geom.Vec{Z: -Gravity}})
	if err != nil {
		t.Fatal(err)
	}
	if p := w.Places[0]; p.Beam != 1 || math.Abs(p.At-100) > 0.2 {
		t.Errorf("worst at %v; want the middle of the span, 100 on beam 1", p)
	}
	own := tubeA * 2.7e-6 * Gravity
	want := 10*Gravity*1e9/(48*tubeE*tubeI) + 5*own*1e12/(384*tubeE*tubeI)
	check(t, "sag", w.Peak.Value, want, 1e-6, "PL³/48EI + 5qL⁴/384EI")
	for _, e := range w.Envelope {
		// Under the load alone: P·a²·b²/(3EIL), and the weight's own curve.
		a := e.Way + 90
		b := span - a
		want := 10*Gravity*a*a*b*b/(3*tubeE*tubeI*span) + own*a*(span*span*span-2*span*a*a+a*a*a)/(24*tubeE*tubeI)
		check(t, "under the mass", e.Under, want, 1e-6, "Roark table 8.1")
		if e.Largest < e.Under || e.Largest > w.Peak.Value*(1+1e-9) {
			t.Errorf("at %g: %g under the mass, %g largest, %g at the worst place", e.Way, e.Under, e.Largest, w.Peak.Value)
		}
	}
	// Influence lines equal solutions, in a frame with springs and arms.
	b := box(geom.Identity(), 3e6)
	for i := range b.Supports {
		b.Supports[i].Lifts = false
	}
	s = prepare(t, b)
	wire := b.beamOf("wire_beam")
	f, mo := geom.Vec{X: 1, Y: -2, Z: -30}, geom.Vec{X: 500, Y: 20, Z: -70}
	line := s.Influence(wire, f, mo)
	for _, x := range []float64{0, 12.3, 400, 869, 870} {
		got := line.At(x)
		want := solve(t, s, &Case{Points: []PointLoad{{Place{wire, x}, f, mo}}})
		for i, v := range want.moved {
			if math.Abs(got[i]-v) > 1e-10 {
				t.Errorf("influence at %g, movement %d: %g, want %g", x, i, got[i], v)
			}
		}
	}
}

// A spring between nodes that lie apart acts at the second one.
func TestSprings(t *testing.T) {
	m := line(0, 300)
	m.Nodes = append(m.Nodes, geom.Vec{X: 300, Z: -50})
	m.hold(0, clamp)
	m.hold(2, clamp)
	m.Springs = []Spring{{A: 1, B: 2, K: [6]float64{1000, 0, 0, 0, 0, 0}}}
	sol := solve(t, prepare(t, m), &Case{Nodes: []NodeLoad{{1, geom.Vec{X: 100}, geom.Vec{}}}})
	// The spring sits 50 under the axis: cantilever with end force F and moment 50·F, F = k·(u - 50·θ)… by flexibility.
	k := 1000.0
	ea, ei := tubeE*tubeA/300, tubeE*tubeI/300
	// u = (P - F)/ea, θ about Y of the end by the moment 50·F·(sign), tip shift at the spring u - 50·θ.
	flex := 1/ea + 2500/ei
	f := (100 / ea) / (1/k + flex)
	check(t, "spring force", -sol.Reactions()[1].Force.X, f, 1e-9, "flexibility method")
	// A spring to the ground.
	m = line(0, 300)
	m.Springs = []Spring{{A: 0, B: -1, K: [6]float64{10, 10, 10, 1e6, 1e6, 1e6}}}
	sol = solve(t, prepare(t, m), &Case{Nodes: []NodeLoad{{0, geom.Vec{Y: 5}, geom.Vec{}}}})
	check(t, "ground spring", sol.Shift(0).Y, 0.5, 1e-9, "F/k")
}

func TestModelErrors(t *testing.T) {
	for name, spoil := range map[string]func(*Model){
		"node":     func(m *Model) { m.Beams[0].Ends[1] = 7 },
		"section":  func(m *Model) { m.Beams[0].Section = nil },
		"material": func(m *Model) { m.Beams[0].Material = &Material{} },
		"length":   func(m *Model) { m.Nodes[1] = m.Nodes[0] },
		"nan":      func(m *Model) { m.Nodes[1].X = math.NaN() },
		"spring":   func(m *Model) { m.Beams[0].Release[0][2] = -1 },
		"support":  func(m *Model) { m.Supports[0].Node = -1 },
		"mass":     func(m *Model) { m.Masses = []Mass{{Path: []Stretch{{Beam: 3}}}} },
		"tie":      func(m *Model) { m.Springs = []Spring{{A: 0, B: 9}} },
	} {
		m := line(0, 100)
		m.hold(0, clamp)
		spoil(m)
		if _, err := m.Prepare(); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}

// The bound by which parts are passed over is never exceeded.
func TestBoundOfParts(t *testing.T) {
	m := box(geom.Identity(), 2e6)
	m.Beams[0].Section = &Section{Area: 330, Iy: 28000, Iz: 30000, J: 4065, ShearY: 89, ShearZ: 120, ShearCentre: geom.Vec2{X: 3, Y: -5}}
	for i := range m.Supports {
		m.Supports[i].Lifts = false
	}
	s := prepare(t, m)
	for k := range 40 {
		c := &Case{Field: geom.Vec{X: float64(k%3) - 1, Y: 2, Z: -Gravity}, Warm: float64(k % 4)}
		for b := range m.Beams {
			if (b*7+k)%5 == 0 {
				x := m.length(b) * math.Mod(float64(b*k)*0.37, 1)
				c.Points = append(c.Points, PointLoad{Place{b, x}, geom.Vec{X: float64(k - 20), Y: 30, Z: -50}, geom.Vec{X: 2000 * float64(k%2), Y: 9000 * float64(b%3), Z: -4000}})
			}
		}
		sol := solve(t, s, c)
		for i := range s.mesh.parts {
			best := Peak{Value: -1}
			sol.largestIn(i, geom.Vec{}, &best)
			if best.Value > sol.bound(i) {
				t.Errorf("case %d part %d: shift %g above the bound %g", k, i, best.Value, sol.bound(i))
			}
		}
	}
}
