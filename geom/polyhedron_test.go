package geom

import (
	"math"
	"testing"
)

func unitCube(size float64) Polyhedron {
	return PrismPolyhedron(Identity(), []Vec2{{}, {X: size}, {X: size, Y: size}, {Y: size}}, 0, size)
}

// A cube of edge a cut by x + y + z ≤ s: s³/6 up to a, less 3(s-a)³/6 up to 2a (inclusion and exclusion; the closed form of the
// sum of three uniform numbers, Irwin 1927, Hall 1927).
func TestClipOfCube(t *testing.T) {
	n := Vec{X: 1, Y: 1, Z: 1}.Unit()
	for _, c := range []struct{ s, want float64 }{{3, 4.5}, {10, 1000.0 / 6}, {15, 3375.0/6 - 3*125.0/6}, {30, 1000}, {40, 1000}, {0, 0}, {-1, 0}} {
		p := unitCube(10)
		q := p.Clip(n, c.s/math.Sqrt(3))
		if v, _ := q.Volume(); math.Abs(v-c.want) > 1e-9 {
			t.Errorf("x + y + z ≤ %g: %.9f mm³, want %.9f", c.s, v, c.want)
		}
	}
}

// The centre of mass of the tetrahedron with three edges a along the axes lies at a/4 on each.
func TestCentreOfTetrahedron(t *testing.T) {
	p := unitCube(10)
	q := p.Clip(Vec{X: 1, Y: 1, Z: 1}.Unit(), 10/math.Sqrt(3))
	if _, c := q.Volume(); c.Dist(Vec{X: 2.5, Y: 2.5, Z: 2.5}) > 1e-9 {
		t.Errorf("the centre lies at %v", c)
	}
	m := q.Move(Motion{EX: Vec{Y: 1}, EY: Vec{X: 1}, EZ: Vec{Z: 1}, T: Vec{X: 7}})
	if v, c := m.Volume(); math.Abs(v-1000.0/6) > 1e-9 || c.Dist(Vec{X: 9.5, Y: 2.5, Z: 2.5}) > 1e-9 {
		t.Errorf("mirrored: %.6f mm³ about %v", v, c)
	}
}

// Distances from a cube: to a face, an edge and a corner, by Pythagoras.
func TestDistanceFromCube(t *testing.T) {
	p := unitCube(10)
	for _, c := range []struct {
		at   Vec
		want float64
	}{
		{Vec{X: 5, Y: 5, Z: 5}, 0}, {Vec{X: 5, Y: 5, Z: 13}, 3}, {Vec{X: 13, Y: 14, Z: 5}, 5}, {Vec{X: -1, Y: -2, Z: -2}, 3}, {Vec{X: 11, Y: 3, Z: 10}, 1},
	} {
		if d := p.Distance(c.at); math.Abs(d-c.want) > 1e-9 {
			t.Errorf("%v: %.6f, want %g", c.at, d, c.want)
		}
	}
}

// Slices of a solid add up to it, whatever the planes.
func TestClipsAddUp(t *testing.T) {
	p := unitCube(8)
	for k := range 40 {
		a := float64(k)
		n := Vec{X: math.Sin(a), Y: math.Cos(1.7 * a), Z: math.Sin(2.3*a + 1)}.Unit()
		d := n.Dot(Vec{X: 4, Y: 4, Z: 4}) + math.Sin(3*a)*3
		low, high := p.Clip(n, d), p.Clip(n.Scale(-1), -d)
		v, _ := low.Volume()
		w, _ := high.Volume()
		if math.Abs(v+w-512) > 1e-8 {
			t.Errorf("plane %d: %.9f and %.9f", k, v, w)
		}
	}
}
