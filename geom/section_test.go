package geom

import (
	"math"
	"testing"
)

// rect returns the counter-clockwise outline of a rectangle.
func rect(x0, y0, x1, y1 float64) Loop { return poly(x0, y0, x1, y0, x1, y1, x0, y1) }

// poly joins points given as x, y, x, y, …
func poly(xy ...float64) Loop {
	var l Loop
	n := len(xy) / 2
	for i := range n {
		j := (i + 1) % n
		l = append(l, Line(Vec2{xy[2*i], xy[2*i+1]}, Vec2{xy[2*j], xy[2*j+1]}))
	}
	return l
}

// circle returns a full circle of two arcs, counter-clockwise for turn +1.
func circle(x, y, r float64, turn int) Loop {
	c, a, b := Vec2{x, y}, Vec2{x + r, y}, Vec2{x - r, y}
	return Loop{Arc(a, b, c, turn), Arc(b, a, c, turn)}
}

// reversed returns the loop run the other way: a hole.
func reversed(l Loop) Loop {
	out := make(Loop, 0, len(l))
	for i := len(l) - 1; i >= 0; i-- {
		e := l[i]
		e.From, e.To, e.Turn = e.To, e.From, -e.Turn
		out = append(out, e)
	}
	return out
}

// slitTube returns a tube of mean radius r and wall t with a slit of a width at its right.
func slitTube(r, t, slit float64) Region {
	ro, ri := r+t/2, r-t/2
	at := func(r, y float64) Vec2 { return Vec2{math.Sqrt(r*r - y*y), y} }
	h := slit / 2
	return Region{{
		Arc(at(ro, h), at(ro, -h), Vec2{}, 1), Line(at(ro, -h), at(ri, -h)),
		Arc(at(ri, -h), at(ri, h), Vec2{}, -1), Line(at(ri, h), at(ro, h)),
	}}
}

func near(t *testing.T, what string, got, want, rel float64, source string) {
	t.Helper()
	if !(math.Abs(got-want) <= rel*math.Max(math.Abs(want), 1e-12)) {
		t.Errorf("%s: got %.9g, want %.9g within %g (%s)", what, got, want, rel, source)
	}
}

func TestPropertiesOfShapes(t *testing.T) {
	const roark = "Roark's Formulas for Stress and Strain, 7th ed., table A.1: properties of plane areas"
	const hand = "derived by hand: parallel axes, area by area"
	type want struct{ area, cx, cy, ix, iy, ixy float64 }
	r := 10.0
	for _, c := range []struct {
		name   string
		region Region
		want   want
		source string
	}{
		{"square", Region{rect(0, 0, 20, 20)}, want{400, 10, 10, 160000. / 12, 160000. / 12, 0}, roark + ", case 1"},
		{"rectangle far away", Region{rect(1e6, 2e6, 1e6+30, 2e6+60)}, want{1800, 1e6 + 15, 2e6 + 30, 540000, 135000, 0}, roark + ", case 2"},
		{"triangle", Region{poly(0, 0, 30, 0, 0, 60)}, want{900, 10, 20, 30 * 216000. / 36, 60 * 27000. / 36, -900. * 900 * 4 / 72}, "I = bh³/36; Ixy = -b²h²/72 (" + roark + ")"},
		{"circle", Region{circle(3, -4, r, 1)}, want{math.Pi * 100, 3, -4, math.Pi / 4 * 1e4, math.Pi / 4 * 1e4, 0}, roark + ", case 15"},
		{"tube", Region{circle(0, 0, r, 1), circle(0, 0, 8, -1)}, want{math.Pi * 36, 0, 0, math.Pi / 4 * (1e4 - 4096), math.Pi / 4 * (1e4 - 4096), 0}, roark + ", case 16"},
		{"half circle", Region{{Arc(Vec2{r, 0}, Vec2{-r, 0}, Vec2{}, 1), Line(Vec2{-r, 0}, Vec2{r, 0})}},
			want{math.Pi * 50, 0, 4 * r / (3 * math.Pi), (math.Pi/8 - 8/(9*math.Pi)) * 1e4, math.Pi / 8 * 1e4, 0}, roark + ", case 18: 0.1098 R⁴"},
		{"quarter circle", Region{{Line(Vec2{}, Vec2{r, 0}), Arc(Vec2{r, 0}, Vec2{0, r}, Vec2{}, 1), Line(Vec2{0, r}, Vec2{})}},
			want{math.Pi * 25, 4 * r / (3 * math.Pi), 4 * r / (3 * math.Pi), (math.Pi/16 - 4/(9*math.Pi)) * 1e4, (math.Pi/16 - 4/(9*math.Pi)) * 1e4,
				1e4/8 - math.Pi*25*math.Pow(4*r/(3*math.Pi), 2)}, "∫xy dA = R⁴/8 about the centre"},
		{"square tube 40x40x3", Region{rect(0, 0, 40, 40), reversed(rect(3, 3, 37, 37))}, want{444, 20, 20, (2560000. - 1336336) / 12, (2560000. - 1336336) / 12, 0}, roark + ", case 3"},
		{"tee", Region{poly(-5, 0, 5, 0, 5, 40, 30, 40, 30, 50, -30, 50, -30, 40, -5, 40)},
			want{1000, 0, 35, 10*64000./12 + 400*225 + 60*1000./12 + 600*100, 40*1000./12 + 10*216000./12, 0}, hand},
		{"angle", Region{poly(0, 0, 50, 0, 50, 10, 10, 10, 10, 60, 0, 60)}, // 50 × 10 and 10 × 50
			want{1000, 15, 20, 50*1000./12 + 500*225 + 10*125000./12 + 500*225, 10*125000./12 + 500*100 + 50*1000./12 + 500*100, -500*10*15 - 500*10*15}, hand},
		{"plate with hole", Region{rect(-20, -10, 20, 10), circle(10, 0, 5, -1)},
			want{800 - 25*math.Pi, -250 * math.Pi / (800 - 25*math.Pi), 0, 40*8000./12 - math.Pi/4*625,
				20*64000./12 - math.Pi/4*625 - 25*math.Pi*100 - math.Pow(250*math.Pi, 2)/(800-25*math.Pi), 0}, hand},
	} {
		s := c.region.Properties()
		near(t, c.name+" area", s.Area, c.want.area, 1e-12, c.source)
		scale := math.Max(1, math.Abs(c.want.cx)+math.Abs(c.want.cy))
		if math.Abs(s.Centroid.X-c.want.cx) > 1e-12*scale || math.Abs(s.Centroid.Y-c.want.cy) > 1e-12*scale {
			t.Errorf("%s centroid %v, want %v %v (%s)", c.name, s.Centroid, c.want.cx, c.want.cy, c.source)
		}
		near(t, c.name+" Ix", s.Ix, c.want.ix, 1e-9, c.source)
		near(t, c.name+" Iy", s.Iy, c.want.iy, 1e-9, c.source)
		if math.Abs(s.Ixy-c.want.ixy) > 1e-9*s.Polar() {
			t.Errorf("%s Ixy %g, want %g (%s)", c.name, s.Ixy, c.want.ixy, c.source)
		}
	}
}

func TestModuliAndAxes(t *testing.T) {
	// A tee: distances to the fibres are 35 below and 15 above its centroid.
	s := Region{poly(-5, 0, 5, 0, 5, 40, 30, 40, 30, 50, -30, 50, -30, 40, -5, 40)}.Properties()
	near(t, "Wx bottom", s.WxBottom, s.Ix/35, 1e-12, "W = I/e")
	near(t, "Wx top", s.WxTop, s.Ix/15, 1e-12, "W = I/e")
	near(t, "Wx", s.Wx(), s.Ix/35, 1e-12, "the smaller one")
	near(t, "Wy", s.Wy(), s.Iy/30, 1e-12, "W = I/e")

	// Equal angle: the axis of symmetry at 45° is the strong one.
	l := Region{poly(0, 0, 50, 0, 50, 10, 10, 10, 10, 50, 0, 50)}.Properties()
	near(t, "angle of an equal angle", math.Abs(l.Angle), math.Pi/4, 1e-9, "symmetry")
	if l.Angle < 0 {
		// Material lies toward -45° of its corner's diagonal, so I is largest about the axis of symmetry at +45°.
		t.Errorf("strong axis at %g, want +45°", l.Angle)
	}
	near(t, "I1+I2", l.I1+l.I2, l.Polar(), 1e-12, "invariant")
	near(t, "I1·I2", l.I1*l.I2, l.Ix*l.Iy-l.Ixy*l.Ixy, 1e-9, "invariant")

	// Turning a rectangle turns its axes with it.
	for _, deg := range []float64{0, 10, 30, 45, 80, 90, 120, 179} {
		a := deg * math.Pi / 180
		sn, cs := math.Sincos(a)
		var xy []float64
		for _, p := range [][2]float64{{-20, -5}, {20, -5}, {20, 5}, {-20, 5}} {
			xy = append(xy, p[0]*cs-p[1]*sn, p[0]*sn+p[1]*cs)
		}
		s := Region{poly(xy...)}.Properties()
		near(t, "I1 turned", s.I1, 10*64000./12, 1e-9, "a rectangle's I about its short axis")
		// The strong axis stands across the long side.
		want := a + math.Pi/2
		if d := math.Remainder(s.Angle-want, math.Pi); math.Abs(d) > 1e-9 {
			t.Errorf("turned %g°: strong axis at %g°", deg, s.Angle*180/math.Pi)
		}
	}
	if s := (Region{}).Properties(); s != (Section{}) {
		t.Errorf("the empty region has %+v", s)
	}
}

// rectangleJ is the torsion constant of a rectangle, long side b and short side a: Timoshenko and Goodier,
// Theory of Elasticity, 3rd ed., art. 109, equation 160.
func rectangleJ(b, a float64) float64 {
	var sum float64
	for n := 1.0; n < 200; n += 2 {
		sum += math.Tanh(n*math.Pi*b/(2*a)) / math.Pow(n, 5)
	}
	return b * a * a * a / 3 * (1 - 192/math.Pow(math.Pi, 5)*a/b*sum)
}

func TestTorsionConstant(t *testing.T) {
	const roark = "Roark's Formulas for Stress and Strain, 7th ed., table 10.1"
	const timoshenko = "Timoshenko and Goodier, Theory of Elasticity, 3rd ed., table in art. 109"
	for _, c := range []struct {
		name   string
		region Region
		want   float64
		rel    float64
		source string
	}{
		{"round", Region{circle(0, 0, 10, 1)}, 15708, 2e-3, roark + ", case 1: πr⁴/2"},
		{"tube", Region{circle(0, 0, 10, 1), circle(0, 0, 8, -1)}, 9274, 2e-3, roark + ", case 10: π(ro⁴-ri⁴)/2"},
		{"square 20", Region{rect(0, 0, 20, 20)}, 22496, 2e-3, roark + ", case 3: 2.25 a⁴, a half the side; 0.1406 of the side"},
		{"rectangle 10x12", Region{rect(0, 0, 12, 10)}, 0.166 * 12 * 1000, 2e-3, timoshenko},
		{"rectangle 10x15", Region{rect(0, 0, 10, 15)}, 0.196 * 15 * 1000, 2.5e-3, timoshenko},
		{"rectangle 10x20", Region{rect(0, 0, 20, 10)}, 0.229 * 20 * 1000, 2.5e-3, timoshenko},
		{"rectangle 10x30", Region{rect(0, 0, 30, 10)}, 0.263 * 30 * 1000, 2.5e-3, timoshenko},
		{"rectangle 10x50", Region{rect(0, 0, 50, 10)}, 0.291 * 50 * 1000, 2.5e-3, timoshenko},
		{"rectangle 10x100", Region{rect(0, 0, 100, 10)}, 0.312 * 100 * 1000, 2.5e-3, timoshenko},
		{"rectangle 10x25, series", Region{rect(0, 0, 25, 10)}, rectangleJ(25, 10), 1.1e-3, "Timoshenko and Goodier, equation 160"},
		{"equilateral triangle", Region{poly(0, 0, 20, 0, 10, 10*math.Sqrt(3))}, math.Pow(20, 4) * math.Sqrt(3) / 80, 1.1e-3, roark + ", case 5: a⁴√3/80"},
		{"thin square tube", Region{rect(0, 0, 100, 100), reversed(rect(1, 1, 99, 99))}, 970299, 5e-3, "Bredt: 4A²t/s = t·a³ on the middle line, a = 99 (" + roark + ", case 16)"},
		{"thin tube", Region{circle(0, 0, 50.5, 1), circle(0, 0, 49.5, -1)}, 2 * math.Pi * 125000, 5e-3, "Bredt: 2πr³t"},
		{"slit tube", slitTube(50, 1, 0.2), 2 * math.Pi * 50 / 3, 5e-3, roark + ", case 17: 2πrt³/3"},
		{"two cells", Region{rect(0, 0, 201, 101), reversed(rect(1, 1, 100, 100)), reversed(rect(101, 1, 200, 100))},
			// Equal cells: no flow in the middle wall, so the outer wall alone counts: middle line 200 × 100.
			4 * 20000 * 20000 / 600., 5e-3, "Bredt, two cells"},
	} {
		got, err := c.region.Torsion(TorsionTolerance)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		near(t, c.name, got.J, c.want, c.rel, c.source)
		if got.JLow > got.JHigh || got.Error > TorsionTolerance {
			t.Errorf("%s: bounds %g to %g, error %g", c.name, got.JLow, got.JHigh, got.Error)
		}
	}
}

// The true value lies between the bounds, however coarse the mesh.
func TestTorsionBounds(t *testing.T) {
	for _, b := range []float64{10, 15, 40} {
		r := Region{rect(0, 0, b, 10)}
		for _, tol := range []float64{0.1, 0.01, 0.001, 1e-5} {
			got, err := r.Torsion(tol)
			if err != nil {
				t.Fatal(err)
			}
			if want := rectangleJ(b, 10); got.JLow > want*(1+1e-12) || got.JHigh < want*(1-1e-12) {
				t.Errorf("b = %g to %g: J = %.9g is not between %.9g and %.9g", b, tol, want, got.JLow, got.JHigh)
			}
		}
	}
}

func TestShearAreas(t *testing.T) {
	const cowper = "Cowper, The shear coefficient in Timoshenko's beam theory (J. Appl. Mech. 33, 1966), Poisson's ratio 0"
	m := 0.8
	for _, c := range []struct {
		name   string
		region Region
		x, y   float64 // shares of the area
		rel    float64
		source string
	}{
		{"square", Region{rect(0, 0, 20, 20)}, 5. / 6, 5. / 6, 1e-3, cowper + ": 5/6"},
		{"rectangle", Region{rect(0, 0, 20, 60)}, 5. / 6, 5. / 6, 1e-3, cowper + ": 5/6"},
		{"round", Region{circle(0, 0, 10, 1)}, 6. / 7, 6. / 7, 1e-3, cowper + ": 6/7"},
		{"tube", Region{circle(0, 0, 10, 1), circle(0, 0, 8, -1)}, 6 * math.Pow(1+m*m, 2) / (7*math.Pow(1+m*m, 2) + 20*m*m),
			6 * math.Pow(1+m*m, 2) / (7*math.Pow(1+m*m, 2) + 20*m*m), 1e-3, cowper + ", hollow circle"},
		{"thin square tube", Region{rect(0, 0, 100, 100), reversed(rect(1, 1, 99, 99))}, 5. / 12, 5. / 12, 5e-3, cowper + ", thin box: 160/384"},
		{"thin tube", Region{circle(0, 0, 50.5, 1), circle(0, 0, 49.5, -1)}, 0.5, 0.5, 2e-3, cowper + ", thin tube: 1/2"},
	} {
		got, err := c.region.Torsion(TorsionTolerance)
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		a := c.region.Area()
		near(t, c.name+" x", got.ShearX/a, c.x, c.rel, c.source)
		near(t, c.name+" y", got.ShearY/a, c.y, c.rel, c.source)
		if s := c.region.Properties(); got.ShearCentre != s.Centroid || got.ShearXY != 0 {
			t.Errorf("%s: shear centre %v, coupling %g", c.name, got.ShearCentre, got.ShearXY)
		}
	}
}

// Thin sections whose shear flow differs along both axes: an I and a thin box of unequal sides.
func TestShearAreasOfThinSections(t *testing.T) {
	const cowper = "Cowper 1966, thin-walled sections, Poisson's ratio 0; recalled, and the box derived again from its shear flow"
	// I: flanges b = 50 on middle lines h = 100 apart, all 1 thick. m = 2·b·tf/(h·tw), n = b/h.
	i := Region{poly(-25, -50.5, 25, -50.5, 25, -49.5, .5, -49.5, .5, 49.5, 25, 49.5, 25, 50.5, -25, 50.5, -25, 49.5, -.5, 49.5, -.5, -49.5, -25, -49.5)}
	m, n := 1.0, 0.5
	want := 10 * (1 + 3*m) * (1 + 3*m) / (12 + 72*m + 150*m*m + 90*m*m*m + 30*n*n*(m+m*m))
	got, err := i.Torsion(TorsionTolerance)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "I", got.ShearY/i.Area(), want, 1e-2, cowper)
	// Across its web the two flanges carry the force: 5/6 of each, less what the web spoils.
	near(t, "I, flanges", got.ShearX, 2*50*5./6, 2e-2, "two rectangles side by side")
	// Box 60 × 120 on the middle lines, all 1 thick: m = b·t1/(h·t), n = b/h.
	b := Region{rect(-30.5, -60.5, 30.5, 60.5), reversed(rect(-29.5, -59.5, 29.5, 59.5))}
	m, n = 0.5, 0.5
	want = 10 * (1 + 3*m) * (1 + 3*m) / (12 + 72*m + 150*m*m + 90*m*m*m + 10*n*n*(3*m+3*m*m))
	if got, err = b.Torsion(TorsionTolerance); err != nil {
		t.Fatal(err)
	}
	near(t, "box", got.ShearY/b.Area(), want, 1e-2, cowper)
}

func TestShearCentre(t *testing.T) {
	// Thin channel, middle lines: web 100 at x = 0, flanges 50. Timoshenko, Strength of Materials, and Roark table 9.2:
	// the shear centre lies e = 3b²/(h + 6b) = 18.75 outside the web.
	c := Region{poly(-.5, -50.5, 50, -50.5, 50, -49.5, .5, -49.5, .5, 49.5, 50, 49.5, 50, 50.5, -.5, 50.5)}
	got, err := c.Torsion(TorsionTolerance)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "channel", got.ShearCentre.X, -18.75, 5e-3, "Roark table 9.2")
	if math.Abs(got.ShearCentre.Y) > 1e-9 {
		t.Errorf("channel: shear centre off the axis of symmetry by %g", got.ShearCentre.Y)
	}
	// Thin angle: the shear centre is where the legs meet.
	l := Region{poly(-.5, -.5, 50, -.5, 50, .5, .5, .5, .5, 50, -.5, 50)}
	got, err = l.Torsion(TorsionTolerance)
	if err != nil {
		t.Fatal(err)
	}
	if got.ShearCentre.Len() > 0.3 {
		t.Errorf("angle: shear centre %v, want the corner (Timoshenko)", got.ShearCentre)
	}
}

// The built-in profiles converge: three refinements agree within their stated errors, and the bounds close in.
func TestBuiltinSectionsConverge(t *testing.T) {
	names := BuiltinNames()
	if len(names) == 0 {
		t.Fatal("no profiles")
	}
	for _, name := range names {
		p, _ := Builtin(name)
		r := p.Region()
		var runs []Torsion
		for _, tol := range []float64{0.01, 0.003, 0.001} {
			got, err := r.Torsion(tol)
			if err != nil {
				t.Fatalf("%s to %g: %v", name, tol, err)
			}
			runs = append(runs, got)
		}
		t.Logf("%-9s J = %.0f (%d triangles, ±%.2f %%)  %.0f (%d, ±%.2f %%)  %.0f (%d, ±%.2f %%)", name,
			runs[0].J, runs[0].Triangles, 100*runs[0].Error, runs[1].J, runs[1].Triangles, 100*runs[1].Error, runs[2].J, runs[2].Triangles, 100*runs[2].Error)
		for i := range 2 {
			a, b := runs[i], runs[i+1]
			if b.JLow < a.JLow*(1-1e-4) || b.JHigh > a.JHigh*(1+1e-4) {
				t.Errorf("%s: bounds %g…%g then %g…%g", name, a.JLow, a.JHigh, b.JLow, b.JHigh)
			}
			near(t, name+" shear area", b.ShearX, a.ShearX, 0.02/float64(1+2*i), "refinement")
		}
		if p.Symmetric(1) {
			near(t, name+" shear areas of a square section", runs[2].ShearX, runs[2].ShearY, 1e-4, "symmetry")
		}
	}
}

func TestTorsionOfImpossibleShapes(t *testing.T) {
	for name, r := range map[string]Region{
		"empty":       {},
		"two pieces":  {rect(0, 0, 10, 10), rect(20, 0, 30, 10)},
		"bow tie":     {poly(0, 0, 10, 10, 20, 0, 20, 30, 10, 10, 0, 30)},
		"clockwise":   {reversed(rect(0, 0, 10, 10))},
		"flat":        {poly(0, 0, 10, 0, 5, 0)},
		"crossing":    {poly(0, 0, 40, 0, 40, 10, 10, -5, 10, 20, 0, 20)},
		"hole across": {rect(0, 0, 10, 10), reversed(rect(5, 5, 15, 8))},
	} {
		if got, err := r.Torsion(0.01); err == nil {
			t.Errorf("%s: no error, J = %g", name, got.J)
		}
	}
}

// Turning a section changes nothing but its axes.
func TestTorsionTurns(t *testing.T) {
	p, _ := Builtin("30x30-8")
	p.Closed[Left] = true
	base := p.Region()
	want, err := base.Torsion(TorsionTolerance)
	if err != nil {
		t.Fatal(err)
	}
	for _, deg := range []float64{17, 90, 133} {
		sn, cs := math.Sincos(deg * math.Pi / 180)
		turn := func(v Vec2) Vec2 { return Vec2{v.X*cs - v.Y*sn, v.X*sn + v.Y*cs} }
		var r Region
		for _, l := range base {
			var out Loop
			for _, e := range l {
				e.From, e.To, e.Centre = turn(e.From), turn(e.To), turn(e.Centre)
				out = append(out, e)
			}
			r = append(r, out)
		}
		got, err := r.Torsion(TorsionTolerance)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "J turned", got.J, want.J, 2*TorsionTolerance, "invariance")
		if d := got.ShearCentre.Dist(turn(want.ShearCentre)); d > 0.03 {
			t.Errorf("turned %g°: shear centre %v, want %v", deg, got.ShearCentre, turn(want.ShearCentre))
		}
	}
}

func TestSectionCache(t *testing.T) {
	var c SectionCache
	p, _ := Builtin("20x20-6")
	q := *p
	q.Name, q.Alloy = "mine", "EN AW-6063 T6"
	_, a, err := c.Of(p)
	if err != nil {
		t.Fatal(err)
	}
	s, b, _ := c.Of(&q)
	if a != b || s != p.Properties() || len(c.done) != 1 {
		t.Errorf("the cache gave %v and %v in %d entries", a, b, len(c.done))
	}
}

func BenchmarkProperties(b *testing.B) {
	p, _ := Builtin("30x30-8")
	b.ReportAllocs()
	for b.Loop() {
		p.Properties()
	}
}

func BenchmarkTorsion(b *testing.B) {
	for _, name := range []string{"30x30-8", "40x80-10", "60x60-8"} {
		b.Run(name, func(b *testing.B) {
			p, _ := Builtin(name)
			b.ReportAllocs()
			for b.Loop() {
				if _, err := p.Torsion(); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
