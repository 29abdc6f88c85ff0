package check

import (
	"math"
	"math/rand/v2"
	"testing"

	"barwright/frame"
	"barwright/geom"
)

// inPrism reports whether a point lies in a prism, by the plain definition: in its section, between its end planes.
func inPrism(p *prism, at geom.Vec) bool {
	q := p.place.Unapply(at)
	for end, sign := range [2]float64{1, -1} {
		if sign*(q.Z-p.ends[end]-p.cuts[end].SlopeX*q.X-p.cuts[end].SlopeY*q.Y) < 0 {
			return false
		}
	}
	return inside(p.polygons, geom.Vec2{X: q.X, Y: q.Y})
}

// counted returns the volume common to two prisms by counting random points in the box common to theirs, and its standard error.
func counted(a, b *prism, n int) (volume, sigma float64) {
	box := a.box.Intersect(b.box)
	if box.Empty() {
		return 0, 0
	}
	r := rand.New(rand.NewPCG(1, 2))
	s, hits := box.Size(), 0
	for range n {
		p := box.Low.Add(geom.Vec{X: s.X * r.Float64(), Y: s.Y * r.Float64(), Z: s.Z * r.Float64()})
		if inPrism(a, p) && inPrism(b, p) {
			hits++
		}
	}
	f := float64(hits) / float64(n)
	return f * box.Volume(), box.Volume() * math.Sqrt(math.Max(f, 1/float64(n))*(1-f)/float64(n))
}

// turnedPlace returns a place with its z along a direction.
func turnedPlace(at, z geom.Vec, spin float64) geom.Motion {
	z = z.Unit()
	x := geom.Vec{X: 0.3, Y: -0.5, Z: 0.81}
	x = x.Sub(z.Scale(x.Dot(z))).Unit()
	y := z.Cross(x)
	c, s := math.Cos(spin), math.Sin(spin)
	return geom.Motion{EX: x.Scale(c).Add(y.Scale(s)), EY: y.Scale(c).Sub(x.Scale(s)), EZ: z, T: at}
}

// TestSharedAgainstCounting compares the volume with random points: an independent definition of the same thing.
func TestSharedAgainstCounting(t *testing.T) {
	profile, _ := geom.Builtin("30x30-8")
	wide, _ := geom.Builtin("20x40-6")
	m := &model{f: &frame.Frame{}, sections: map[*geom.Profile][][]geom.Vec2{}}
	bar := func(p *geom.Profile, place geom.Motion, from, to float64, cuts [2]frame.Cut) prism {
		half := p.Size().Scale(0.5)
		out := prism{polygons: m.section(p), half: half, place: place, ends: [2]float64{from, to}, cuts: cuts}
		out.box = geom.EmptyBox()
		for _, c := range out.corners() {
			out.box = out.box.Extend(c)
		}
		return out
	}
	square := [2]frame.Cut{}
	upright := bar(profile, geom.Identity(), 0, 200, square)
	r := rand.New(rand.NewPCG(3, 4))
	for i := range 24 {
		at := geom.Vec{X: 20 * (r.Float64() - 0.5), Y: 20 * (r.Float64() - 0.5), Z: 60 + 80*r.Float64()}
		d := geom.Vec{X: r.Float64() - 0.5, Y: r.Float64() - 0.5, Z: r.Float64() - 0.5}
		cuts := square
		switch i % 4 {
		case 1:
			d = geom.Vec{X: 1}
		case 2:
			d = geom.Vec{Z: 1}
		case 3:
			cuts = [2]frame.Cut{{SlopeX: 0.7, SlopeY: -0.3}, {SlopeX: -1, SlopeY: 0.2}}
		}
		p := []*geom.Profile{profile, wide}[i/4%2]
		other := bar(p, turnedPlace(at, d, 0.4*float64(i)), -30, 25+40*r.Float64(), cuts)
		got, _ := shared(&upright, &other)
		want, sigma := counted(&upright, &other, 200000)
		if math.Abs(got-want) > 4.5*sigma+0.002*want {
			t.Errorf("case %d: %g mm³; counted %g ± %g", i, got, want, sigma)
		}
		back, _ := shared(&other, &upright)
		if math.Abs(got-back) > 1e-3*got+0.01 {
			t.Errorf("case %d: %g one way, %g the other", i, got, back)
		}
	}
}

// Closed forms: two boxes, a rod through a plate at a slant, and two bars of one section one behind the other.
func TestSharedClosedForms(t *testing.T) {
	near := func(name string, got, want float64) {
		if math.Abs(got-want) > 1e-3*want {
			t.Errorf("%s: %g; want %g", name, got, want)
		}
	}
	a := boxPrism(geom.Box{Low: geom.Vec{}, High: geom.Vec{X: 10, Y: 20, Z: 30}})
	b := boxPrism(geom.Box{Low: geom.Vec{X: 5, Y: 12, Z: -4}, High: geom.Vec{X: 50, Y: 14, Z: 9}})
	v, at := shared(&a, &b)
	near("boxes", v, 5*2*9)
	if at.Dist(geom.Vec{X: 7.5, Y: 13, Z: 4.5}) > 0.01 {
		t.Errorf("middle %v", at)
	}
	// A square rod 4 × 4 at 45° through a plate 3 thick: its section over the cosine.
	plate := boxPrism(geom.Box{Low: geom.Vec{X: -50, Y: -50}, High: geom.Vec{X: 50, Y: 50, Z: 3}})
	rod := rectPrism(geom.Motion{EX: geom.Vec{Y: 1}, EY: geom.Vec{X: -1, Z: 1}.Unit().Scale(1), EZ: geom.Vec{X: 1, Z: 1}.Unit(), T: geom.Vec{}}, geom.Vec2{X: 2, Y: 2}, -60, 60)
	v, _ = shared(&plate, &rod)
	near("rod through plate", v, 16*3*math.Sqrt2)
	// Parallel bars pushed into each other end to end share their section's area times the length.
	p, _ := geom.Builtin("40x40-10")
	m := &model{sections: map[*geom.Profile][][]geom.Vec2{}}
	one := prism{polygons: m.section(p), half: geom.Vec2{X: 20, Y: 20}, place: geom.Identity(), ends: [2]float64{0, 100}}
	two := one.move(geom.Vec{Z: 93})
	v, _ = shared(&one, &two)
	near("one behind the other", v, 7*p.Region().Area())
}
