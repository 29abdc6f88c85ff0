package check

import (
	"math"
	"testing"

	"barwright/frame"
	"barwright/geom"
)

// The parts of a section have its area, which the shoelace formula gives for the polygons apart.
func TestTrapeziaHaveTheSectionsArea(t *testing.T) {
	f, err := frame.Parse("a.hcl", []byte("frame { profile = \"30x60-8\" }\nmember \"a\" {\n left = 0\n right = 300\n front = 0\n bottom = 0\n}\nmember \"b\" {\n profile = \"40x40-10\"\n left = 0\n right = 300\n front = 100\n bottom = 0\n}\n"), frame.Options{})
	if err != nil {
		t.Fatal(err)
	}
	m := newModel(f)
	for i := range m.bars {
		want, got := 0.0, 0.0
		for _, p := range m.bars[i].polygons {
			want += geom.PolygonArea(p)
		}
		for _, q := range m.bars[i].trapezia() {
			got += geom.PolygonArea(q[:])
		}
		if math.Abs(got-want) > 1e-6 {
			t.Errorf("bar %d: %d parts of %.6f mm², the section has %.6f", i, len(m.bars[i].trapezia()), got, want)
		}
	}
}

// Two ways to the same volume: sharedPrism cuts a polyhedron, shared adds up slices. Bars at several angles, straight and mitred.
func TestSharedPrismAgreesWithShared(t *testing.T) {
	src := `
frame { profile = "30x30-8" }
member "a" {
  left   = 0
  right  = 400
  front  = 0
  bottom = 0
}
`
	f, err := frame.Parse("a.hcl", []byte(src), frame.Options{})
	if err != nil {
		t.Fatal(err)
	}
	m := newModel(f)
	bar := m.bars[0]
	bar.cuts[1] = frame.Cut{SlopeX: 0.5, SlopeY: -0.25}
	compared := 0
	for k := range 60 {
		a := float64(k)
		z := geom.Vec{X: math.Sin(a), Y: math.Cos(1.3 * a), Z: math.Sin(2.1 * a)}.Unit()
		if k%5 == 0 {
			z = geom.Axis(k % 3).Unit()
		}
		x := z.Cross(geom.Vec{X: 0.3, Y: 0.2, Z: 0.9}).Unit()
		place := geom.Motion{EX: x, EY: z.Cross(x), EZ: z, T: geom.Vec{X: 400 * math.Abs(math.Sin(1.1*a)), Y: 15 + 10*math.Sin(a), Z: 15 + 10*math.Cos(a)}}
		box := rectPrism(place, geom.Vec2{X: 6, Y: 4}, -11, 13)
		poly := newConvex(geom.PrismPolyhedron(place, box.polygons[0], -11, 13))
		want, _ := shared(&box, &bar)
		got, at := sharedPrism(&poly, &bar)
		if math.Abs(got-want) > 0.02*want+0.5 {
			t.Errorf("place %d: %.3f mm³, slices %.3f", k, got, want)
		}
		if got > 1 {
			compared++
			if poly.distance(at) > 1e-6 {
				t.Errorf("place %d: the middle %v lies outside of the box", k, at)
			}
		}
		if v, _ := sharedPrism(&poly, &box); math.Abs(v-12*8*24) > 1e-6 {
			t.Errorf("place %d: a box shares %.6f mm³ with itself, want %d", k, v, 12*8*24)
		}
	}
	if compared < 20 {
		t.Fatalf("only %d places share anything", compared)
	}
}

// Two boxes turned by 45° about one axis share a regular octagon's prism: its area is 8·tan 22.5°·r² with r the half width.
func TestSharedConvexClosedForm(t *testing.T) {
	c := math.Sqrt2 / 2
	square := []geom.Vec2{{X: -5, Y: -5}, {X: 5, Y: -5}, {X: 5, Y: 5}, {X: -5, Y: 5}}
	a := newConvex(geom.PrismPolyhedron(geom.Identity(), square, 0, 20))
	b := newConvex(geom.PrismPolyhedron(geom.Motion{EX: geom.Vec{X: c, Y: c}, EY: geom.Vec{X: -c, Y: c}, EZ: geom.Vec{Z: 1}}, square, 8, 40))
	want := 8 * math.Tan(math.Pi/8) * 25 * 12
	if v, at := sharedConvex(&a, &b); math.Abs(v-want) > 1e-9 || at.Dist(geom.Vec{Z: 14}) > 1e-9 {
		t.Errorf("%.9f mm³ about %v, want %.9f about z = 14", v, at, want)
	}
}
