package mesh

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"testing"

	"barwright/frame"
	"barwright/geom"
)

// namedBar is a bar of the sweep.
type namedBar struct {
	name string
	bar  frame.Bar
}

// nudges are the offsets from exactly coincident at which the sweep looks, mm: below what float64, the grid
// and the rule for equal places can tell, and above.
var nudges = []float64{0, 1e-9, -1e-7, 2e-6, -3e-5, 0.0004, -0.0009, 0.0011, -0.004, 0.03}

// sweepProfiles returns the sections of the sweep: square, rectangular, with hollow chambers, with closed sides.
func sweepProfiles(t testing.TB) []*geom.Profile {
	var out []*geom.Profile
	for _, n := range []string{"20x20-6", "30x30-8", "40x40-10", "30x60-8", "60x60-8", "20x80-6"} {
		out = append(out, profile(t, n))
	}
	c := *profile(t, "30x30-8")
	c.Name, c.Closed = "30x30-8 closed", [4]bool{true, false, true, true}
	out = append(out, &c)
	d := *profile(t, "30x60-8")
	d.Name, d.CornerRadius, d.Closed = "30x60-8 sharp", 0, [4]bool{false, true, false, false}
	return append(out, &d)
}

// sweep returns the systematic bars: each profile with holes whose size, place, depth or end just coincides with something.
func sweep(t testing.TB) []namedBar {
	var out []namedBar
	for _, p := range sweepProfiles(t) {
		add := func(what string, b frame.Bar) {
			b.Profile = p
			out = append(out, namedBar{fmt.Sprintf("%s, %s", p.Name, what), b})
		}
		for i, n := range nudges {
			sweepHoles(p, i, n, add)
			sweepPairs(p, n, add)
			sweepEnds(p, n, add)
		}
	}
	return out
}

// sweepHoles adds bars with one hole.
func sweepHoles(p *geom.Profile, turn int, n float64, add func(string, frame.Bar)) {
	t := p.Slot
	for s := range geom.Side(4) {
		if int(s)%2 != turn%2 && p.Cells[0] == p.Cells[1] && p.Closed == [4]bool{} {
			continue
		}
		line := p.CellLines(s)[0]
		across := p.Across(s)
		for _, d := range []float64{t.Opening, p.Core, t.Cavity, 5.5} {
			add(fmt.Sprintf("⌀%g+%g through side %d", d, n, s), frame.Bar{Length: 60, Holes: []frame.Hole{{Side: s, Z: 30, Offset: line, Diameter: d + n}}})
		}
		r := 2.75
		for _, o := range []float64{t.Opening/2 + r, t.Opening/2 - r, t.Cavity/2 + r, t.Cavity/2 - r, p.Core/2 + r, p.Pitch/2 - r, p.Pitch / 2, p.Pitch/2 - p.CornerRadius, p.Core / 2} {
			add(fmt.Sprintf("⌀5.5 side %d offset %g+%g", s, o, n), frame.Bar{Length: 60, Holes: []frame.Hole{{Side: s, Z: 30, Offset: line + o + n, Diameter: 2 * r}}})
		}
		for _, depth := range []float64{t.Lip, t.Depth - t.Chamfer, t.Depth, p.Pitch/2 - p.Core/2, p.Pitch / 2, p.Pitch/2 + p.Core/2, across - t.Depth, across - t.Lip, across} {
			add(fmt.Sprintf("⌀7 side %d depth %g+%g", s, depth, n), frame.Bar{Length: 60, Holes: []frame.Hole{{Side: s, Z: 30, Offset: line, Diameter: 7, Depth: depth + n}}})
			add(fmt.Sprintf("⌀13 side %d depth %g+%g", s, depth, n), frame.Bar{Length: 60, Holes: []frame.Hole{{Side: s, Z: 30, Offset: line + n, Diameter: 13, Depth: depth}}})
		}
		for _, bore := range []float64{15, t.Cavity, t.Cavity - 2*t.Chamfer} {
			add(fmt.Sprintf("⌀9 bore %g+%g side %d to the slot floor", bore, n, s), frame.Bar{Length: 60, Holes: []frame.Hole{{Side: s, Z: 30, Offset: line, Diameter: 9, Bore: bore + n, BoreDepth: t.Depth}}})
			add(fmt.Sprintf("⌀9 bore %g side %d to the slot floor+%g", bore, s, n), frame.Bar{Length: 60, Holes: []frame.Hole{{Side: s, Z: 30, Offset: line + n, Diameter: 9, Depth: across - t.Depth, Bore: bore, BoreDepth: t.Depth + n}}})
		}
	}
}

// sweepPairs adds bars with two holes that meet, touch or coincide.
func sweepPairs(p *geom.Profile, n float64, add func(string, frame.Bar)) {
	a, b := p.CellLines(geom.Right)[0], p.CellLines(geom.Top)[0]
	for _, d := range []float64{7, p.Core, p.Slot.Opening, 10} {
		first := frame.Hole{Side: geom.Right, Z: 30, Offset: a, Diameter: d}
		for _, q := range []struct {
			what string
			hole frame.Hole
		}{
			{"crossing, equal", frame.Hole{Side: geom.Top, Z: 30 + n, Offset: b, Diameter: d}},
			{"crossing, nearly equal", frame.Hole{Side: geom.Top, Z: 30, Offset: b + n, Diameter: d + n}},
			{"crossing, smaller", frame.Hole{Side: geom.Bottom, Z: 30, Offset: -b, Diameter: d/2 + n}},
			{"crossing, touching", frame.Hole{Side: geom.Top, Z: 30 + d + n, Offset: b, Diameter: d}},
			{"beside, touching", frame.Hole{Side: geom.Right, Z: 30 + d + n, Offset: a, Diameter: d}},
			{"beside, overlapping", frame.Hole{Side: geom.Right, Z: 30 + d/2 + n, Offset: a, Diameter: d}},
			{"the same twice", frame.Hole{Side: geom.Left, Z: 30 + n, Offset: -a, Diameter: d}},
			{"meeting blind", frame.Hole{Side: geom.Left, Z: 30, Offset: -a, Diameter: d, Depth: p.Size().X/2 + n}},
			{"crossing blind to its axis", frame.Hole{Side: geom.Top, Z: 30, Offset: b, Diameter: d, Depth: p.Pitch/2 + n}},
		} {
			h := first
			if q.what == "meeting blind" {
				h.Depth = p.Size().X / 2
			}
			add(fmt.Sprintf("⌀%g %s %g", d, q.what, n), frame.Bar{Length: 60, Holes: []frame.Hole{h, q.hole}})
		}
	}
}

// sweepEnds adds bars with machined ends: taps, mitres, holes that break the end.
func sweepEnds(p *geom.Profile, n float64, add func(string, frame.Bar)) {
	c := p.Cores()[0]
	a, b := p.CellLines(geom.Right)[0], p.CellLines(geom.Top)[0]
	cross := func(z, d float64) []frame.Hole {
		return []frame.Hole{{Side: geom.Right, Z: z, Offset: a, Diameter: d}, {Side: geom.Top, Z: z, Offset: b, Diameter: d}}
	}
	for _, z := range []float64{0, 3.5, -3.5, 1, 3.45} {
		add(fmt.Sprintf("end broken at %g+%g", z, n), frame.Bar{Length: 40, Holes: cross(z+n, 7)})
	}
	for _, drill := range []float64{p.Core, p.Core + 1.7, p.Pitch - 2*p.Slot.Depth + n} {
		for _, depth := range []float64{18 + n, 16.5 + n, 20 + n} {
			add(fmt.Sprintf("end bores ⌀%g depth %g", drill, depth), frame.Bar{Length: 60,
				Taps:  []frame.Tap{{End: 0, Core: c, Depth: depth, Drill: drill, DrillDepth: depth}, {End: 1, Core: c, Depth: depth, Drill: drill + n, DrillDepth: depth + 3}},
				Holes: cross(20, 7)})
		}
	}
	for _, deg := range []float64{15, 45, 60, 75} {
		s := math.Tan(deg * math.Pi / 180)
		cuts := [2]frame.Cut{{SlopeX: s}, {SlopeX: -s}}
		add(fmt.Sprintf("mitred %g°", deg), frame.Bar{Length: 400, Cuts: cuts, Holes: cross(p.Size().X*s+n, 7)})
		add(fmt.Sprintf("mitred %g° skew", deg), frame.Bar{Length: 400, Cuts: [2]frame.Cut{{SlopeX: s * 0.6, SlopeY: -s * 0.8}, {SlopeY: s}}, Holes: cross(100+n, 7)})
		add(fmt.Sprintf("mitred %g° short", deg), frame.Bar{Length: p.Size().X*s + n, Cuts: cuts, Holes: cross(p.Size().X*s/2, 7)})
	}
}

// bruteVolume integrates the area of the section less the tools over z, from the polygons alone.
func bruteVolume(s *shape, tolerance float64, try int) float64 {
	b := builder{tolerance: tolerance}
	if b.prepare(s, try) != nil {
		return 0
	}
	mm := 1 / b.grid.perMM
	var loops [][]geom.Vec2
	for _, r := range b.loops {
		var l []geom.Vec2
		for _, c := range b.corner[r[0]:r[1]] {
			l = append(l, geom.Vec2{X: float64(c[0]) * mm, Y: float64(c[1]) * mm})
		}
		loops = append(loops, l)
	}
	total := 0.0
	stops := bruteStops(&b, s)
	for i := 1; i < len(stops); i++ {
		lo, hi := stops[i-1], stops[i]
		for _, g := range [3][2]float64{{-math.Sqrt(0.6), 5.0 / 18}, {0, 8.0 / 18}, {math.Sqrt(0.6), 5.0 / 18}} {
			total += g[1] * (hi - lo) * bruteArea(&b, s, loops, (lo+hi)/2+g[0]*(hi-lo)/2)
		}
	}
	return total
}

// checkBarSolid makes a bar's solid and judges it: closed, and as large as its polygons say.
func checkBarSolid(b *frame.Bar, tolerance float64, brute bool, grown *int) (*Mesh, error) {
	s := shapeOf(b, tolerance)
	m, try, err := buildTries(s, tolerance)
	if try > 0 {
		*grown++
	}
	if err != nil {
		if err == errNothingLeft {
			return nil, nil
		}
		return nil, err
	}
	if err := m.Check(); err != nil {
		return m, err
	}
	if !brute {
		return m, nil
	}
	want, got := bruteVolume(s, tolerance, try), m.Volume()
	if d := math.Abs(got - want); d > 2e-5*want+0.01 {
		return m, fmt.Errorf("volume %.5f, by slices %.5f", got, want)
	}
	return m, nil
}

// TestSweep checks every sixth bar of the systematic sweep, all in the long sweep, some of them by slices too.
func TestSweep(t *testing.T) {
	bars := sweep(t)
	if len(bars) < 2000 {
		t.Fatalf("the sweep has only %d bars", len(bars))
	}
	bad, grown, count := 0, 0, 0
	step := 6
	if long() {
		step = 1
	}
	for i := 0; i < len(bars); i += step {
		b := &bars[i]
		count++
		if _, err := checkBarSolid(&b.bar, DefaultTolerance, i%(22*step) == 0, &grown); err != nil {
			if bad++; bad <= 20 {
				t.Errorf("%d %s: %v", i, b.name, err)
			}
		}
	}
	t.Logf("%d bars of %d, %d bad, %d grown", count, len(bars), bad, grown)
}

// long tells whether the long sweeps are asked for.
func long() bool { return os.Getenv("BARWRIGHT_SWEEP") != "" }

// randomBar returns the bar of a seed.
func randomBar(t testing.TB, ps []*geom.Profile, seed uint64) frame.Bar {
	r := rand.New(rand.NewPCG(seed, 3))
	pick := func(v ...float64) float64 { return v[r.IntN(len(v))] }
	p := ps[r.IntN(len(ps))]
	b := frame.Bar{Profile: p, Length: pick(20, 40, 90, 1000*r.Float64()+10, 5999.3)}
	for e := range b.Cuts {
		if r.IntN(4) == 0 {
			s := math.Tan(r.Float64()*75*math.Pi/180) * pick(-1, 1)
			b.Cuts[e] = [...]frame.Cut{{SlopeX: s}, {SlopeY: s}, {SlopeX: s * 0.6, SlopeY: s * 0.8}}[r.IntN(3)]
		}
	}
	z := b.Length * r.Float64()
	for range r.IntN(6) {
		h := frame.Hole{Side: geom.Side(r.IntN(4)), Z: z, Diameter: pick(4.2, 5.5, 7, 9, p.Slot.Opening, p.Core, 1+12*r.Float64())}
		h.Offset = pick(p.CellLines(h.Side)[0], p.CellLines(h.Side)[0]+p.Slot.Opening/2, (r.Float64()-0.5)*p.Along(h.Side))
		h.Depth = pick(0, 0, p.Slot.Depth, p.Slot.Lip, p.Pitch/2, p.Across(h.Side)*r.Float64())
		if r.IntN(3) == 0 {
			h.Bore, h.BoreDepth = h.Diameter*(1.2+r.Float64()), pick(p.Slot.Depth, p.Slot.Lip, 1+8*r.Float64())
		}
		b.Holes = append(b.Holes, h)
		z = pick(z, z, z+h.Diameter, z+(r.Float64()-0.5)*30, b.Length*r.Float64())
	}
	for e := range 2 {
		if r.IntN(3) == 0 {
			c := p.Cores()[r.IntN(len(p.Cores()))]
			d := pick(p.Core, p.Core+0.5, p.Core+1.7)
			depth := pick(12, 18, b.Length*r.Float64()*0.7)
			b.Taps = append(b.Taps, frame.Tap{End: e, Core: c, Depth: depth, Drill: d, DrillDepth: depth + pick(0, 3)})
		}
	}
	return b
}

// TestRandom checks bars of five hundred seeds, ten thousand in the long sweep; BARWRIGHT_SEED starts elsewhere.
func TestRandom(t *testing.T) {
	n, first, every := uint64(500), uint64(0), uint64(47)
	if long() {
		n, every = 10000, 23
	}
	if s := os.Getenv("BARWRIGHT_SEED"); s != "" {
		v, err := strconv.ParseUint(s, 10, 64)
		if err != nil {
			t.Fatal(err)
		}
		first = v
	}
	ps := sweepProfiles(t)
	bad, nothing, grown := 0, 0, 0
	for seed := first; seed < first+n; seed++ {
		b := randomBar(t, ps, seed)
		m, err := checkBarSolid(&b, DefaultTolerance, seed%every == 0, &grown)
		if m == nil && err == nil {
			nothing++
		}
		if err != nil {
			if bad++; bad <= 20 {
				t.Errorf("seed %d %s: %v", seed, b.Profile.Name, err)
			}
		}
	}
	t.Logf("%d seeds, %d bad, %d bars cut away, %d grown", n, bad, nothing, grown)
}

// TestTolerances makes random bars at tolerances from the finest to the coarsest.
func TestTolerances(t *testing.T) {
	ps := sweepProfiles(t)
	for _, tol := range []float64{MinTolerance, 0.0005, 0.003, 0.1, 0.7, MaxTolerance} {
		n := uint64(40)
		if tol < 0.001 {
			n = 8
		}
		for seed := range n {
			b := randomBar(t, ps, seed+77)
			grown := 0
			if _, err := checkBarSolid(&b, tol, false, &grown); err != nil {
				t.Errorf("tolerance %g, seed %d: %v", tol, seed+77, err)
			}
		}
	}
}
