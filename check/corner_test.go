package check

import (
	"math"
	"testing"

	"barwright/geom"
)

func rectangle(l, w float64) []geom.Vec2 {
	return hull2([]geom.Vec2{{}, {X: l}, {X: l, Y: w}, {Y: w}})
}

// The longest rod that goes round a right-angled corner is (a^⅔ + b^⅔)^{3/2} (calculus texts, such as Stewart,
// Calculus, the ladder round a corner); a rectangle of width w goes round up to the least of
// (a sin t + b cos t − w)/(sin t cos t). The figures are typed from those forms: 2√2·900 = 2545.6.
func TestCornerClosedForms(t *testing.T) {
	for _, c := range []struct{ a, b, w, longest float64 }{
		{900, 900, 0.01, 2545.6},
		{900, 900, 400, 1745.6},
		{1200, 900, 0.01, 2959.7},
		{1200, 900, 400, 2153.9},
		{1000, 800, 500, 1534.4},
		{1200, 1200, 600, 2194.1},
	} {
		if over, _ := roundCorner(rectangle(c.longest-1, c.w), c.a, c.b); over > 0 {
			t.Errorf("%v: 1 mm under the longest is %.2f mm too long", c, over)
		}
		if over, _ := roundCorner(rectangle(c.longest+1.5, c.w), c.a, c.b); over <= 0 {
			t.Errorf("%v: 1.5 mm over the longest passes", c)
		}
	}
}

// By how much both corridors are too narrow follows from the same forms: a rod of 2√2·1000 needs 1000 each, 100 more than 900.
func TestCornerWidening(t *testing.T) {
	if over, turn := roundCorner(rectangle(2*math.Sqrt2*1000, 0.01), 900, 900); math.Abs(over-100) > 1 || math.Abs(math.Mod(turn, math.Pi/2)-math.Pi/4) > 0.02 {
		t.Errorf("%.2f mm at %.1f°; want 100 at 45°", over, turn*180/math.Pi)
	}
	// A square may go round without turning: it needs only its side.
	if over, _ := roundCorner(rectangle(899, 899), 900, 900); over > 0 {
		t.Errorf("a square of 899 in 900: %.2f", over)
	}
	if over, _ := roundCorner(rectangle(905, 905), 900, 900); math.Abs(over-5) > 1 {
		t.Errorf("a square of 905 in 900: %.2f; want 5", over)
	}
	// A half disc of radius a goes round: its diameter is 2a (the classical lower shape of the sofa problem).
	var disc []geom.Vec2
	for i := range 181 {
		s, c := math.Sincos(math.Pi * float64(i) / 180)
		disc = append(disc, geom.Vec2{X: 899 * c, Y: 899 * s})
	}
	if over, _ := roundCorner(hull2(disc)[:60], 900, 900); over > 0 {
		t.Errorf("a piece of a half disc: %.2f", over)
	}
}

// Brute force over turns and places on a grid agrees for outlines of any shape.
func TestCornerAgainstBruteForce(t *testing.T) {
	shape := hull2([]geom.Vec2{{}, {X: 1300, Y: 80}, {X: 1420, Y: 300}, {X: 600, Y: 560}, {X: 40, Y: 300}})
	for _, c := range []struct{ a, b float64 }{{700, 700}, {600, 600}, {900, 520}, {480, 1000}, {1000, 420}} {
		over, _ := roundCorner(shape, c.a, c.b)
		wide := over > 0
		if got := bruteCorner(shape, c.a, c.b); got == wide && math.Abs(over) > 30 {
			t.Errorf("%v: %.1f mm, brute force passes: %v", c, over, got)
		}
	}
}

// bruteCorner floods a grid of places and turns: a place is free if all corners lie inside of the outer walls and no
// piece of the outline lies beyond the inner corner.
func bruteCorner(shape []geom.Vec2, a, b float64) bool {
	const step, turns, n = 15.0, 360, 190
	turned := make([][]geom.Vec2, turns)
	for k := range turned {
		s, c := math.Sincos(2 * math.Pi * float64(k) / turns)
		for _, p := range shape {
			turned[k] = append(turned[k], geom.Vec2{X: c*p.X - s*p.Y, Y: s*p.X + c*p.Y})
		}
	}
	beyond := quad{{X: a, Y: b}, {X: 1e5, Y: b}, {X: 1e5, Y: 1e5}, {X: a, Y: 1e5}}
	free := func(x, y, k int) bool {
		at := geom.Vec2{X: float64(x)*step - 750, Y: float64(y)*step - 750}
		first := turned[k][0].Add(at)
		for i, p := range turned[k] {
			p = p.Add(at)
			if p.X < 0 || p.Y < 0 {
				return false
			}
			// The outline as a fan of triangles.
			if q := turned[k][(i+1)%len(shape)].Add(at); i > 0 && i+1 < len(shape) {
				if v, _ := clip(&quad{first, p, q, q}, &beyond); v > 1e-6 {
					return false
				}
			}
		}
		return true
	}
	seen := make([]bool, n*n*turns)
	var stack [][3]int
	push := func(x, y, k int) {
		k = (k + turns) % turns
		if x < 0 || y < 0 || x >= n || y >= n || seen[(x*n+y)*turns+k] {
			return
		}
		seen[(x*n+y)*turns+k] = true
		if free(x, y, k) {
			stack = append(stack, [3]int{x, y, k})
		}
	}
	for x := range n {
		for k := range turns {
			push(x, n-1, k)
		}
	}
	for len(stack) > 0 {
		p := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		if p[0] == n-1 {
			return true
		}
		for _, d := range [6][3]int{{1}, {-1}, {0, 1}, {0, -1}, {0, 0, 1}, {0, 0, -1}} {
			push(p[0]+d[0], p[1]+d[1], p[2]+d[2])
		}
	}
	return false
}
