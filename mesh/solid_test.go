package mesh

import (
	"math"
	"slices"
	"testing"

	"barwright/frame"
	"barwright/geom"
)

func profile(t testing.TB, name string) *geom.Profile {
	t.Helper()
	p, ok := geom.Builtin(name)
	if !ok {
		t.Fatalf("no built-in profile %s", name)
	}
	return p
}

// square returns a plain square bar of side a and length l with drills.
func square(a, l float64, drills ...drill) *shape {
	h := a / 2
	return &shape{
		section: [][]geom.Vec2{{{X: -h, Y: -h}, {X: h, Y: -h}, {X: h, Y: h}, {X: -h, Y: h}}},
		ends:    [2]endPlane{{}, {at: l}},
		drills:  drills,
	}
}

// through returns a drill through a bar along an axis.
func through(axis int, u, v, r float64) drill {
	return drill{axis: axis, centre: [2]float64{u, v}, radius: r, low: math.Inf(-1), high: math.Inf(1)}
}

func mustBuild(t testing.TB, s *shape, tolerance float64) *Mesh {
	t.Helper()
	m, err := build(s, tolerance)
	if err != nil {
		t.Fatal(err)
	}
	if err := m.Check(); err != nil {
		t.Fatal(err)
	}
	return m
}

// commonVolume returns the volume that two cylinders of radii r <= R with crossing axes share, the integral
// 8∫√((R²−z²)(r²−z²))dz from 0 to r of Hubbell, "Common volume of two intersecting cylinders", J. Res. NBS 69C (1965) 139–143, put
// as z = r·sin t and summed by Simpson's rule.
func commonVolume(r, R float64) float64 {
	const n = 2000
	f := func(t float64) float64 {
		z, c := r*math.Sin(t), r*math.Cos(t)
		return math.Sqrt(R*R-z*z) * c * c
	}
	h := math.Pi / 2 / n
	sum := f(0) + f(math.Pi/2)
	for k := 1; k < n; k++ {
		sum += float64(2+2*(k%2)) * f(float64(k)*h)
	}
	return 8 * sum * h / 3
}

func TestCommonVolumeOfEqualCylinders(t *testing.T) {
	// Steinmetz: 16r³/3 (Hubbell 1965 as above; Weisstein, "Steinmetz Solid", MathWorld).
	if got, want := commonVolume(3.5, 3.5), 16*3.5*3.5*3.5/3; math.Abs(got/want-1) > 1e-9 {
		t.Errorf("the quadrature gives %.9f, Steinmetz's formula %.9f", got, want)
	}
}

// volumeCases are solids whose volume has a closed form for true circles.
var volumeCases = []struct {
	name   string
	shape  func() *shape
	want   float64
	source string
}{
	{"drilled square bar", func() *shape { return square(30, 80, through(0, 2, 33, 4.5)) },
		30*30*80 - math.Pi*4.5*4.5*30, "cylinder πr²h: Euclid, Elements XII.10 with Archimedes' circle"},
	{"blind hole with counterbore", func() *shape {
		d, c := through(1, -3, 40, 3.3), through(1, -3, 40, 5.5)
		d.low, c.low = 15-22, 15-6.4
		return square(30, 80, d, c)
	}, 30*30*80 - math.Pi*(5.5*5.5*6.4+3.3*3.3*(22-6.4)), "cylinders πr²h, stacked"},
	{"two equal crossing bores", func() *shape { return square(30, 80, through(0, 0, 40, 3.5), through(1, 0, 40, 3.5)) },
		30*30*80 - 2*math.Pi*3.5*3.5*30 + 16*3.5*3.5*3.5/3, "Steinmetz solid 16r³/3, Hubbell, J. Res. NBS 69C (1965)"},
	{"two unequal crossing bores", func() *shape { return square(30, 80, through(0, 0, 40, 6), through(1, 0, 40, 2.5)) },
		30*30*80 - math.Pi*(6*6+2.5*2.5)*30 + commonVolume(2.5, 6), "Hubbell, J. Res. NBS 69C (1965), by quadrature"},
	{"cross bore through an end bore", func() *shape {
		e := through(2, 0, 0, 3.4)
		e.high = 60
		return square(30, 80, e, through(0, 0, 40, 4.25))
	}, 30*30*80 - math.Pi*(3.4*3.4*60+4.25*4.25*30) + commonVolume(3.4, 4.25), "Hubbell, J. Res. NBS 69C (1965), by quadrature"},
	{"three bores of equal radius through one point", func() *shape {
		return square(30, 80, through(0, 0, 40, 3.5), through(1, 0, 40, 3.5), through(2, 0, 0, 3.5))
	}, 30*30*80 - math.Pi*3.5*3.5*(30+30+80) + 16*3.5*3.5*3.5 - 8*(2-math.Sqrt2)*3.5*3.5*3.5,
		"Steinmetz solids of two (16r³/3) and three cylinders (8(2−√2)r³), Weisstein, MathWorld"},
}

// TestVolumes compares with closed forms: polygons inscribed in the circles leave more material than circles, by less than a layer as thick as
// the tolerance on every wall.
func TestVolumes(t *testing.T) {
	for _, c := range volumeCases {
		s := c.shape()
		layer := 0.0
		for _, d := range s.drills {
			layer += 2 * math.Pi * d.radius * 80
		}
		for _, tol := range []float64{0.2, 0.02, 0.002} {
			m := mustBuild(t, s, tol)
			if off := m.Volume() - c.want; off < -1e-3 || off > layer*tol {
				t.Errorf("%s at %g: volume %.4f, want %.4f and at most %.4f more (%s)", c.name, tol, m.Volume(), c.want, layer*tol, c.source)
			}
		}
	}
}

// TestVolumesConverge halves the chords: the error must fall by four each time.
func TestVolumesConverge(t *testing.T) {
	for _, c := range volumeCases {
		s := c.shape()
		last := 0.0
		for i, n := range []float64{32, 64, 128, 256} {
			// Every circle of the shape in n chords.
			tol := math.Inf(1)
			for _, d := range s.drills {
				tol = math.Min(tol, d.radius*(1-math.Cos(math.Pi/n))*1.0001)
			}
			one := *s
			m := mustBuild(t, &one, tol)
			err := m.Volume() - c.want
			if order := math.Log2(last / err); i > 0 && len(s.drills) == 1 && math.Abs(order-2) > 0.05 {
				t.Errorf("%s: order %.3f from %g to %g chords (%s)", c.name, order, n/2, n, c.source)
			} else if i > 0 && (order < 1.6 || order > 2.4) {
				// Circles of several sizes don't double their chords exactly.
				t.Errorf("%s: order %.3f near %g chords (%s)", c.name, order, n, c.source)
			}
			last = err
		}
	}
}

// TestMitredPrism checks the obliquely cut prism: V = base area × distance of the end faces' centroids along the axis
// (Bronshtein and Semendyayev, Handbook of Mathematics, solid geometry: truncated prism; from memory).
func TestMitredPrism(t *testing.T) {
	for _, name := range []string{"30x30-8", "30x60-8", "40x80-10"} {
		for _, deg := range []float64{15, 45, 60, 75} {
			s := math.Tan(deg * math.Pi / 180)
			b := frame.Bar{Profile: profile(t, name), Length: 700, Cuts: [2]frame.Cut{{SlopeX: s}, {SlopeY: -s}}}
			m, err := Solid(&b, DefaultTolerance)
			if err != nil {
				t.Fatal(err)
			}
			if err := m.Check(); err != nil {
				t.Fatalf("%s at %g°: %v", name, deg, err)
			}
			area := 0.0
			for _, l := range b.Profile.Region().Polygons(DefaultTolerance) {
				area += geom.PolygonArea(l)
			}
			// The built-in sections are symmetric: their centroid is the origin.
			size := b.Profile.Size()
			want := area * (700 - s*size.X/2 - s*size.Y/2)
			if got := m.Volume(); math.Abs(got/want-1) > 1e-6 {
				t.Errorf("%s at %g°: volume %.4f, want %.4f", name, deg, got, want)
			}
			if box := m.Box(); math.Abs(box.Size().Z-700) > 1e-3 && s > 0 && b.Profile.CornerRadius == 0 {
				t.Errorf("%s at %g°: %g long over the points", name, deg, box.Size().Z)
			}
		}
	}
}

// TestSurfaces checks the tags by area: the wall of a drilled hole is machined, ends are cut, the rest is skin.
func TestSurfaces(t *testing.T) {
	b := frame.Bar{Profile: profile(t, "30x30-8"), Length: 120,
		Taps: []frame.Tap{{End: 0, Thread: "M8", Depth: 22, Drill: 6.8, DrillDepth: 22}}}
	m, err := Solid(&b, 0.001)
	if err != nil {
		t.Fatal(err)
	}
	var area [3]float64
	for i, n := range facetAreas(m) {
		area[m.Surfaces[i]] += math.Sqrt(dot3(n, n)) / 2
	}
	region := b.Profile.Region()
	around := 0.0
	for _, l := range region {
		for _, e := range l {
			around += e.Length()
		}
	}
	want := [3]float64{
		CutEnd:   2 * region.Area(),
		Machined: math.Pi * 6.8 * 22, // wall of a cylinder
	}
	want[Skin] = around*120 - want[Machined]
	for k, w := range want {
		if math.Abs(area[k]/w-1) > 2e-3 {
			t.Errorf("surface %d: %.2f mm², want %.2f", k, area[k], w)
		}
	}
}

func TestSolidIsTheSameEveryTime(t *testing.T) {
	for seed := range uint64(20) {
		b := randomBar(t, sweepProfiles(t), seed)
		one, err1 := Solid(&b, DefaultTolerance)
		two, err2 := Solid(&b, DefaultTolerance)
		if err1 != nil || err2 != nil {
			t.Fatal(err1, err2)
		}
		if !slices.Equal(one.Points, two.Points) || !slices.Equal(one.Triangles, two.Triangles) || !slices.Equal(one.Surfaces, two.Surfaces) {
			t.Errorf("seed %d: two runs differ", seed)
		}
	}
}

func TestSolidErrors(t *testing.T) {
	good := frame.Bar{Profile: profile(t, "30x30-8"), Length: 100}
	for _, tol := range []float64{0, 1e-12, -1, math.NaN(), math.Inf(1), 6} {
		if _, err := Solid(&good, tol); err == nil {
			t.Errorf("a tolerance of %g is taken", tol)
		}
	}
	nan, inf := math.NaN(), math.Inf(1)
	for name, change := range map[string]func(b *frame.Bar){
		"no profile":       func(b *frame.Bar) { b.Profile = nil },
		"no length":        func(b *frame.Bar) { b.Length = 0 },
		"endless":          func(b *frame.Bar) { b.Length = inf },
		"not a length":     func(b *frame.Bar) { b.Length = nan },
		"steep":            func(b *frame.Bar) { b.Cuts[0].SlopeX = 100 },
		"not a slope":      func(b *frame.Bar) { b.Cuts[1].SlopeY = nan },
		"hole nowhere":     func(b *frame.Bar) { b.Holes = []frame.Hole{{Z: nan, Diameter: 5}} },
		"hole of no size":  func(b *frame.Bar) { b.Holes = []frame.Hole{{Z: 50}} },
		"hole on side 7":   func(b *frame.Bar) { b.Holes = []frame.Hole{{Z: 50, Diameter: 5, Side: 7}} },
		"endless tap":      func(b *frame.Bar) { b.Taps = []frame.Tap{{Drill: 6, Depth: inf}} },
		"tap in end 3":     func(b *frame.Bar) { b.Taps = []frame.Tap{{End: 3, Drill: 6, Depth: 5}} },
		"bored away":       func(b *frame.Bar) { b.Holes = []frame.Hole{{Z: 50, Diameter: 500}} },
		"too many":         func(b *frame.Bar) { b.Holes = make([]frame.Hole, maxDrills+1) },
		"impossible walls": func(b *frame.Bar) { p := *b.Profile; p.Core = 29; b.Profile = &p },
	} {
		b := good
		change(&b)
		if m, err := Solid(&b, DefaultTolerance); err == nil {
			t.Errorf("%s: a solid of %d triangles and no error", name, len(m.Triangles))
		}
	}
}

// TestEdges counts the feature edges of bodies that can be counted by hand.
func TestEdges(t *testing.T) {
	cube := mustBuild(t, square(20, 20), DefaultTolerance)
	if n := len(cube.Edges(0.5)); n != 12 {
		t.Errorf("a cube has %d edges, want 12", n)
	}
	// A hole adds two mouths and no generators, as its facets meet under less than the angle.
	d := through(0, 0, 10, 4)
	m := mustBuild(t, square(20, 20, d), DefaultTolerance)
	n := 4 * ((geom.ArcSegments(4, 2*math.Pi, DefaultTolerance) + 3) / 4)
	if got := len(m.Edges(0.5)); got != 12+2*n {
		t.Errorf("a drilled cube has %d edges, want %d", got, 12+2*n)
	}
	if got := len(m.Edges(0.01)); got != 12+3*n {
		t.Errorf("a drilled cube has %d edges with its generators, want %d", got, 12+3*n)
	}
}

// TestCheckFindsFaults spoils a good mesh in each way that Check looks for.
func TestCheckFindsFaults(t *testing.T) {
	for name, spoil := range map[string]func(m *Mesh){
		"a triangle missing": func(m *Mesh) { m.Triangles, m.Surfaces = m.Triangles[1:], m.Surfaces[1:] },
		"a triangle twice":   func(m *Mesh) { m.Triangles, m.Surfaces = append(m.Triangles, m.Triangles[0]), append(m.Surfaces, Skin) },
		"a triangle turned":  func(m *Mesh) { t := &m.Triangles[0]; t[0], t[1] = t[1], t[0] },
		"all turned": func(m *Mesh) {
			for i := range m.Triangles {
				t := &m.Triangles[i]
				t[0], t[1] = t[1], t[0]
			}
		},
		"a point at another":   func(m *Mesh) { m.Points[1] = m.Points[0] },
		"a point that is none": func(m *Mesh) { m.Points[1][2] = float32(math.NaN()) },
		"a point too far":      func(m *Mesh) { m.Triangles[3][1] = 1e6 },
		"a tag missing":        func(m *Mesh) { m.Surfaces = m.Surfaces[1:] },
	} {
		m := mustBuild(t, square(20, 20, through(0, 0, 10, 4)), DefaultTolerance)
		spoil(m)
		if m.Check() == nil {
			t.Errorf("%s: not found", name)
		}
	}
	if err := (&Mesh{}).Check(); err != nil {
		t.Errorf("the empty mesh: %v", err)
	}
}
