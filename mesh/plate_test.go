package mesh

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"barwright/geom"
)

// rectangle is the outline of a sheet of width w and height h.
func rectangle(w, h float64) []geom.Vec2 {
	return []geom.Vec2{{}, {X: w}, {X: w, Y: h}, {Y: h}}
}

func mustPlate(t testing.TB, outline []geom.Vec2, holes []PlateHole, thickness, tolerance float64) *Mesh {
	t.Helper()
	m, err := Plate(outline, holes, thickness, tolerance)
	if err != nil {
		t.Fatal(err)
	}
	if err := m.Check(); err != nil {
		t.Fatal(err)
	}
	return m
}

// plateVolume checks a plate whose circles take away area (mm²) of it: polygons inscribed in circles leave up to a layer as thick as the
// tolerance on each wall. Sides lie on the grid (2⁻¹⁸ mm at this size) and where float32 can put
// them, which at 2 m is within a ten-thousandth of a mm.
func plateVolume(t *testing.T, name string, m *Mesh, area, around, thickness, tolerance float64) {
	t.Helper()
	size := m.Box().Size()
	rounding := 1e-4*(size.X+size.Y)*thickness + area/(1<<18)
	if off := m.Volume() - area*thickness; off < -rounding || off > around*thickness*tolerance+rounding {
		t.Errorf("%s at %g: volume %.4f, want %.4f and at most %.4f more", name, tolerance, m.Volume(), area*thickness, around*thickness*tolerance)
	}
}

// TestPlateVolumes compares with areas in closed form: rectangle w·h, circle πr², and the half circle that a hole on the edge
// takes; two circles of one radius r whose middles lie r apart share r²(2π/3 − √3/2) (the lens, Weisstein, "Circle-Circle Intersection",
// MathWorld).
func TestPlateVolumes(t *testing.T) {
	const r = 3.3
	ell := []geom.Vec2{{}, {X: 300}, {X: 300, Y: 80}, {X: 120, Y: 80}, {X: 120, Y: 200}, {Y: 200}}
	backward := slices.Clone(ell)
	slices.Reverse(backward)
	for _, c := range []struct {
		name    string
		outline []geom.Vec2
		holes   []PlateHole
		area    float64
	}{
		{"plain", rectangle(600, 800), nil, 600 * 800},
		{"one hole", rectangle(60, 80), []PlateHole{{geom.Vec2{X: 20, Y: 30}, 2 * r}}, 60*80 - math.Pi*r*r},
		{"ell", ell, []PlateHole{{geom.Vec2{X: 60, Y: 40}, 2 * r}, {geom.Vec2{X: 200, Y: 40}, 5}}, 300*80 + 120*120 - math.Pi*(r*r+2.5*2.5)},
		{"the other way round", backward, []PlateHole{{geom.Vec2{X: 60, Y: 40}, 2 * r}}, 300*80 + 120*120 - math.Pi*r*r},
		{"hole on the edge", rectangle(60, 80), []PlateHole{{geom.Vec2{X: 20}, 2 * r}}, 60*80 - math.Pi*r*r/2},
		{"hole on a corner", rectangle(60, 80), []PlateHole{{geom.Vec2{X: 60, Y: 80}, 2 * r}}, 60*80 - math.Pi*r*r/4},
		{"two holes in one", rectangle(60, 80), []PlateHole{{geom.Vec2{X: 20, Y: 30}, 2 * r}, {geom.Vec2{X: 20 + r, Y: 30}, 2 * r}},
			60*80 - 2*math.Pi*r*r + r*r*(2*math.Pi/3-math.Sqrt(3)/2)},
		{"the same hole twice", rectangle(60, 80), []PlateHole{{geom.Vec2{X: 20, Y: 30}, 2 * r}, {geom.Vec2{X: 20, Y: 30}, 2 * r}}, 60*80 - math.Pi*r*r},
	} {
		around := 0.0
		for _, h := range c.holes {
			around += math.Pi * h.Diameter
		}
		for _, tol := range []float64{0.2, DefaultTolerance, 0.001} {
			for _, thick := range []float64{1, 4.5} {
				m := mustPlate(t, c.outline, c.holes, thick, tol)
				plateVolume(t, c.name, m, c.area, around, thick, tol)
				if b := m.Box(); b.Low.Z != 0 || b.High.Z != thick {
					t.Errorf("%s: it lies from z = %g to %g", c.name, b.Low.Z, b.High.Z)
				}
			}
		}
	}
}

// TestPlateHoleWall checks the walls of holes by area: 2πr times the thickness, cylinder, all tagged as machined and nothing else.
func TestPlateHoleWall(t *testing.T) {
	m := mustPlate(t, rectangle(200, 100), []PlateHole{{geom.Vec2{X: 50, Y: 50}, 9}, {geom.Vec2{X: 150, Y: 50}, 6.6}}, 3, 0.0005)
	var area [Fitting + 1]float64
	for i, n := range facetAreas(m) {
		area[m.Surfaces[i]] += math.Sqrt(dot3(n, n)) / 2
	}
	wall := math.Pi * (9 + 6.6) * 3
	rest := 2*(200*100-math.Pi*(4.5*4.5+3.3*3.3)) + 2*(200+100)*3
	if math.Abs(area[Machined]/wall-1) > 1e-3 || math.Abs(area[Fitting]/rest-1) > 1e-5 || area[Skin]+area[CutEnd]+area[Printed] != 0 {
		t.Errorf("areas %v, want %.3f machined and %.3f else", area, wall, rest)
	}
}

// TestPlateCircles checks how finely circles are split: every wall corner lies on the circle, no chord's middle farther from it than the tolerance.
func TestPlateCircles(t *testing.T) {
	for _, tol := range []float64{0.5, 0.1, DefaultTolerance, 0.002} {
		m := mustPlate(t, rectangle(200, 200), []PlateHole{{geom.Vec2{X: 100, Y: 100}, 40}}, 3, tol)
		off := func(x, y float64) float64 { return math.Hypot(x-100, y-100) - 20 }
		for i, tri := range m.Triangles {
			for k := range tri {
				a, b := m.Points[tri[k]], m.Points[tri[(k+1)%3]]
				if m.Surfaces[i] != Machined || a[2] != b[2] {
					continue
				}
				x, y := (float64(a[0])+float64(b[0]))/2, (float64(a[1])+float64(b[1]))/2
				if math.Abs(off(float64(a[0]), float64(a[1]))) > 2e-5 || off(x, y) > 2e-5 || off(x, y) < -tol-2e-5 {
					t.Fatalf("at %g: a chord from %v to %v", tol, a, b)
				}
			}
		}
	}
}

// randomPlate is a rectangle with notches at some corners and in some edges, and holes anywhere, over edges and into each other too.
func randomPlate(seed uint64) (outline []geom.Vec2, holes []PlateHole, thickness float64) {
	r := rand.New(rand.NewPCG(seed, 3))
	between := func(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }
	w, h := between(40, 2000), between(40, 2000)
	at := [4]geom.Vec2{{}, {X: w}, {X: w, Y: h}, {Y: h}}
	side := func(i int) (along, in geom.Vec2, length float64) {
		d := at[(i+1)%4].Sub(at[i])
		length = d.Dist(geom.Vec2{})
		along = d.Scale(1 / length)
		return along, geom.Vec2{X: -along.Y, Y: along.X}, length
	}
	for i := range 4 {
		along, in, length := side(i)
		_, out, _ := side((i + 3) % 4) // the way in from the side before, which is along
		if r.IntN(2) == 0 {
			a, b := between(1, length/5), between(1, 8)
			c := at[i]
			outline = append(outline, c.Add(in.Scale(b)), c.Add(in.Scale(b)).Add(out.Scale(a)), c.Add(out.Scale(a)))
		} else {
			outline = append(outline, at[i])
		}
		if r.IntN(3) == 0 {
			p, q, b := between(length*0.3, length*0.45), between(length*0.5, length*0.7), between(1, 8)
			c := at[i]
			outline = append(outline, c.Add(along.Scale(p)), c.Add(along.Scale(p)).Add(in.Scale(b)), c.Add(along.Scale(q)).Add(in.Scale(b)), c.Add(along.Scale(q)))
		}
	}
	for range r.IntN(20) {
		d := between(2, 14)
		p := geom.Vec2{X: between(0, w), Y: between(0, h)}
		if r.IntN(3) == 0 { // on or near an edge or a corner of a notch
			p = outline[r.IntN(len(outline))].Add(geom.Vec2{X: float64(r.IntN(3)-1) * d / 2})
		}
		holes = append(holes, PlateHole{p, d})
	}
	return outline, holes, between(0.5, 20)
}

// windsRound tells whether an outline goes round a point, by the angles under which the point sees its sides.
func windsRound(p geom.Vec2, outline []geom.Vec2) bool {
	turn := 0.0
	for i, a := range outline {
		a, b := a.Sub(p), outline[(i+1)%len(outline)].Sub(p)
		turn += math.Atan2(a.Cross(b), a.Dot(b))
	}
	return turn > math.Pi
}

// TestPlateRandom checks that the solid of any sheet is closed, and the same twice.
func TestPlateRandom(t *testing.T) {
	for seed := range uint64(300) {
		outline, holes, thick := randomPlate(seed)
		m := mustPlate(t, outline, holes, thick, DefaultTolerance)
		n := mustPlate(t, outline, holes, thick, DefaultTolerance)
		if !slices.Equal(m.Points, n.Points) || !slices.Equal(m.Triangles, n.Triangles) {
			t.Errorf("seed %d: two runs differ", seed)
		}
		// Holes clear of all else have a closed form.
		area, around := geom.PolygonArea(outline), 0.0
		clear := true
		for i, h := range holes {
			clear = clear && windsRound(h.At, outline)
			for k := range outline {
				clear = clear && toSegment(h.At, outline[k], outline[(k+1)%len(outline)]) > h.Diameter/2
			}
			for _, o := range holes[:i] {
				clear = clear && o.At.Dist(h.At) > (o.Diameter+h.Diameter)/2
			}
			area -= math.Pi * h.Diameter * h.Diameter / 4
			around += math.Pi * h.Diameter
		}
		if clear {
			plateVolume(t, fmt.Sprint("seed ", seed), m, area, around, thick, DefaultTolerance)
		}
	}
}

// TestPlateManifold has manifold-3d judge sheets: no error, our volume, the volume of its own subtraction, and as many tunnels as there are holes.
func TestPlateManifold(t *testing.T) {
	var solids []externalSolid
	for seed := range uint64(60) {
		outline, holes, thick := randomPlate(seed)
		s := plateShape(outline, holes, thick)
		m, try, err := buildTries(s, DefaultTolerance)
		if err != nil {
			t.Fatal(err)
		}
		solids = append(solids, externalSolid{name: fmt.Sprint("seed ", seed), mesh: m, shape: s, try: try, tolerance: DefaultTolerance})
	}
	var rows []PlateHole
	for k := range 40 {
		rows = append(rows, PlateHole{geom.Vec2{X: 15 + 30*float64(k%20), Y: 15 + 770*float64(k/20)}, 6.6})
	}
	solids = append(solids, externalSolid{name: "rows", mesh: mustPlate(t, rectangle(600, 800), rows, 2, DefaultTolerance)})
	for i, r := range manifoldCheck(t, solids) {
		v := solids[i].mesh.Volume()
		if r.Status != "NoError" || math.Abs(r.Volume-v) > 1e-6*v || r.Subtracted != nil && math.Abs(*r.Subtracted-v) > 1e-5*v {
			t.Errorf("%s: %s, volume %.6f of %.6f, subtracted %v", r.Name, r.Status, r.Volume, v, r.Subtracted)
		}
		if r.Name == "rows" && r.Genus != len(rows) {
			t.Errorf("a sheet with %d holes has %d tunnels", len(rows), r.Genus)
		}
	}
}

func TestPlateErrors(t *testing.T) {
	nan, tooMany := math.NaN(), make([]PlateHole, maxDrills+1)
	bow := []geom.Vec2{{}, {X: 10, Y: 10}, {X: 10}, {Y: 10}}
	spike := []geom.Vec2{{}, {X: 10}, {X: 10, Y: 10}, {X: 5}, {Y: 10}}
	back := []geom.Vec2{{}, {X: 10}, {X: 20}, {X: 15}, {X: 15, Y: 10}}
	for name, try := range map[string]func() (*Mesh, error){
		"no outline":      func() (*Mesh, error) { return Plate(nil, nil, 3, DefaultTolerance) },
		"two corners":     func() (*Mesh, error) { return Plate(rectangle(1, 1)[:2], nil, 3, DefaultTolerance) },
		"a line":          func() (*Mesh, error) { return Plate(rectangle(10, 0), nil, 3, DefaultTolerance) },
		"crosses":         func() (*Mesh, error) { return Plate(bow, nil, 3, DefaultTolerance) },
		"touches":         func() (*Mesh, error) { return Plate(spike, nil, 3, DefaultTolerance) },
		"goes back":       func() (*Mesh, error) { return Plate(back, nil, 3, DefaultTolerance) },
		"no place":        func() (*Mesh, error) { return Plate([]geom.Vec2{{}, {X: nan}, {Y: 3}}, nil, 3, DefaultTolerance) },
		"no thickness":    func() (*Mesh, error) { return Plate(rectangle(10, 10), nil, 0, DefaultTolerance) },
		"not a thickness": func() (*Mesh, error) { return Plate(rectangle(10, 10), nil, nan, DefaultTolerance) },
		"tolerance":       func() (*Mesh, error) { return Plate(rectangle(10, 10), nil, 3, 0) },
		"hole nowhere": func() (*Mesh, error) {
			return Plate(rectangle(10, 10), []PlateHole{{geom.Vec2{X: nan}, 3}}, 3, DefaultTolerance)
		},
		"hole of no size": func() (*Mesh, error) {
			return Plate(rectangle(10, 10), []PlateHole{{geom.Vec2{}, 0}}, 3, DefaultTolerance)
		},
		"nothing left": func() (*Mesh, error) {
			return Plate(rectangle(10, 10), []PlateHole{{geom.Vec2{X: 5, Y: 5}, 50}}, 3, DefaultTolerance)
		},
		"too many holes": func() (*Mesh, error) { return Plate(rectangle(10, 10), tooMany, 3, DefaultTolerance) },
	} {
		if m, err := try(); err == nil {
			t.Errorf("%s: a solid of %d triangles and no error", name, len(m.Triangles))
		}
	}
}
