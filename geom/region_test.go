package geom

import (
	"math"
	"testing"
)

func TestEdgeSweepAndLength(t *testing.T) {
	o := Vec2{}
	for _, c := range []struct {
		name          string
		e             Edge
		sweep, length float64
	}{
		{"line", Line(Vec2{1, 2}, Vec2{4, 6}), 0, 5},
		{"quarter", Arc(Vec2{2, 0}, Vec2{0, 2}, o, 1), math.Pi / 2, math.Pi},
		{"three quarters", Arc(Vec2{2, 0}, Vec2{0, 2}, o, -1), -3 * math.Pi / 2, 3 * math.Pi},
		{"half", Arc(Vec2{2, 0}, Vec2{-2, 0}, o, 1), math.Pi, 2 * math.Pi},
		{"half clockwise", Arc(Vec2{2, 0}, Vec2{-2, 0}, o, -1), -math.Pi, 2 * math.Pi},
		{"full", Arc(Vec2{2, 0}, Vec2{2, 0}, o, 1), 2 * math.Pi, 4 * math.Pi},
		{"full clockwise", Arc(Vec2{2, 0}, Vec2{2, 0}, o, -1), -2 * math.Pi, 4 * math.Pi},
	} {
		if got := c.e.Sweep(); math.Abs(got-c.sweep) > 1e-12 {
			t.Errorf("%s: sweep %g, want %g", c.name, got, c.sweep)
		}
		if got := c.e.Length(); math.Abs(got-c.length) > 1e-12 {
			t.Errorf("%s: length %g, want %g", c.name, got, c.length)
		}
	}
}

func TestAreasByHand(t *testing.T) {
	for _, c := range []struct {
		name string
		r    Region
		want float64
	}{
		{"nothing", nil, 0},
		{"square", Region{rect(0, 0, 3, 3)}, 9},
		{"clockwise square", Region{reversed(rect(0, 0, 3, 3))}, -9},
		{"circle", Region{circle(5, 5, 2, 1)}, 4 * math.Pi},
		{"washer", Region{circle(0, 0, 3, 1), circle(0, 0, 1, -1)}, 8 * math.Pi},
		{"slot", Region{{Line(Vec2{0, -1}, Vec2{4, -1}), Arc(Vec2{4, -1}, Vec2{4, 1}, Vec2{4, 0}, 1), Line(Vec2{4, 1}, Vec2{0, 1}), Arc(Vec2{0, 1}, Vec2{0, -1}, Vec2{}, 1)}}, 8 + math.Pi},
		{"square with a bite", Region{{Line(Vec2{}, Vec2{4, 0}), Line(Vec2{4, 0}, Vec2{4, 4}), Line(Vec2{4, 4}, Vec2{1, 4}), Arc(Vec2{1, 4}, Vec2{0, 3}, Vec2{0, 4}, -1), Line(Vec2{0, 3}, Vec2{})}}, 16 - math.Pi/4},
	} {
		if got := c.r.Area(); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%s: %g, want %g", c.name, got, c.want)
		}
	}
}

func TestPolygonsKeepTheTolerance(t *testing.T) {
	for _, r := range []float64{0.5, 3, 50} {
		for _, tol := range []float64{1, 0.1, 0.01, 0.001} {
			for _, turn := range []int{1, -1} {
				poly := Region{circle(1, 2, r, turn)}.Polygons(tol)[0]
				if len(poly) < MinArcSegments {
					t.Errorf("r %g tol %g: %d corners", r, tol, len(poly))
				}
				for i, p := range poly {
					q := poly[(i+1)%len(poly)]
					if math.Abs(p.Dist(Vec2{1, 2})-r) > 1e-12*r {
						t.Errorf("r %g tol %g: corner off the circle", r, tol)
					}
					if sag := r - p.Add(q).Scale(0.5).Dist(Vec2{1, 2}); sag > tol*(1+1e-9) {
						t.Errorf("r %g tol %g: chord %g off the arc", r, tol, sag)
					}
				}
				if a := PolygonArea(poly); (a > 0) != (turn > 0) || math.Abs(a) > math.Pi*r*r {
					t.Errorf("r %g tol %g turn %d: area %g", r, tol, turn, a)
				}
			}
		}
	}
	// A quarter of a circle gets the same share of chords wherever it lies.
	if n := ArcSegments(10, math.Pi/2, 100); n != 4 {
		t.Errorf("a quarter in %d chords, want 4", n)
	}
	if got := PolygonArea([]Vec2{{0, 0}, {2, 0}, {2, 1}, {0, 1}}); got != 2 {
		t.Errorf("area %g", got)
	}
}

// Polygons of a profile close in on its area as the tolerance falls, from the side that chords cut.
func TestPolygonsConverge(t *testing.T) {
	p := base(t)
	r := p.Region()
	last := math.Inf(1)
	for _, tol := range []float64{0.1, 0.01, 0.001, 0.0001} {
		var a float64
		for _, poly := range r.Polygons(tol) {
			a += PolygonArea(poly)
		}
		d := math.Abs(a - r.Area())
		if d > last || d > 40*tol {
			t.Errorf("tolerance %g: area off by %g, before %g", tol, d, last)
		}
		last = d
	}
}
