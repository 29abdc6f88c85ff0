package check

import (
	"math"
	"math/rand/v2"
	"testing"

	"barwright/geom"
)

// boxCorners returns the corners of a box of a size.
func boxCorners(x, y, z float64) []geom.Vec {
	c := geom.Box{High: geom.Vec{X: x, Y: y, Z: z}}.Corners()
	return c[:]
}

// A box passes an opening straight if two of its sizes fit; a long one also if its cross-section fits tilted: p × q stands
// in W × H, p > W, where H ≥ (2pqW + (p² − q²)√(p² + q² − W²))/(p² + q²) (the rectangle in a rectangle, Carver 1957,
// American Mathematical Monthly 64; recalled).
func TestOpeningClosedForms(t *testing.T) {
	tilted := func(p, q, w float64) float64 {
		return (2*p*q*w + (p*p-q*q)*math.Sqrt(p*p+q*q-w*w)) / (p*p + q*q)
	}
	for _, c := range []struct {
		name       string
		x, y, z    float64
		w, h, over float64 // over: by how much the best way is too big; 0 where it fits
	}{
		{"straight", 800, 700, 1900, 820, 1980, 0},
		{"lying down", 1900, 800, 2500, 820, 1980, 0},
		{"cube too big", 850, 850, 850, 820, 1980, 30},
		{"too thick", 900, 860, 850, 820, 1980, 30},
		{"tilted in the opening", 2000, 200, 2000, 1980, tilted(2000, 200, 1980) + 1, 0},
		{"tilted, a hair too big", 2000, 200, 2000, 1980, tilted(2000, 200, 1980) - 3, -1},
		{"plate", 2100, 2100, 40, 820, 1980, 0},
		{"cube through its own hole", 1000, 1000, 1000, 1060, 1060, 0}, // Prince Rupert: up to 3√2/4 = 1.06066 of the side
		{"cube in a smaller square", 1000, 1000, 1000, 990, 990, 10},
	} {
		p := through(boxCorners(c.x, c.y, c.z), c.w, c.h)
		switch {
		case c.over == 0 && p.over > 0:
			t.Errorf("%s: %.2f mm too big; it fits", c.name, p.over)
		case c.over < 0 && (p.over <= 0 || p.over > 3):
			t.Errorf("%s: %.2f mm; want a little too big", c.name, p.over)
		case c.over > 0 && math.Abs(p.over-c.over) > 0.6:
			t.Errorf("%s: %.2f mm too big; want %.2f", c.name, p.over, c.over)
		}
		if p.over > 0 && p.bound <= 0 {
			t.Errorf("%s: not proven, bound %.2f", c.name, p.bound)
		}
	}
}

// The search finds what a great many random orientations find, or better, and says that none fits only where none of them does.
func TestOpeningAgainstBruteForce(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for i := range 12 {
		var pts []geom.Vec
		for range 6 + i {
			pts = append(pts, geom.Vec{X: 1500 * r.Float64(), Y: 700 * r.Float64(), Z: 1000 * r.Float64()})
		}
		w, h := 400+500*r.Float64(), 800+600*r.Float64()
		p := through(pts, w, h)
		best := math.Inf(1)
		for range 40000 {
			u := geom.Vec{X: r.NormFloat64(), Y: r.NormFloat64(), Z: r.NormFloat64()}.Unit()
			v := geom.Vec{X: r.NormFloat64(), Y: r.NormFloat64(), Z: r.NormFloat64()}
			v = v.Sub(u.Scale(v.Dot(u))).Unit()
			best = math.Min(best, math.Max(extent(pts, u)-w, extent(pts, v)-h))
		}
		if p.over > 0 && best < p.bound-1e-6 || p.over <= 0 && math.Max(extent(pts, p.across)-w, extent(pts, p.up)-h) > 1e-6 {
			t.Errorf("case %d: over %.2f, bound %.2f; brute force %.2f", i, p.over, p.bound, best)
		}
		if p.over > 0 && p.over > best+searchTolerance {
			t.Errorf("case %d: %.2f too big; brute force finds %.2f", i, p.over, best)
		}
		if math.Abs(p.across.Dot(p.up)) > 1e-9 || math.Abs(p.across.Len()-1) > 1e-9 {
			t.Errorf("case %d: directions %v %v", i, p.across, p.up)
		}
	}
}

func extent(pts []geom.Vec, u geom.Vec) float64 {
	low, high := math.Inf(1), math.Inf(-1)
	for _, p := range pts {
		low, high = math.Min(low, p.Dot(u)), math.Max(high, p.Dot(u))
	}
	return high - low
}

// The least width within an angle is never more than any width there.
func TestWidthBound(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	for range 200 {
		var pts []geom.Vec
		for range 9 {
			pts = append(pts, geom.Vec{X: r.Float64(), Y: 2 * r.Float64(), Z: 3 * r.Float64()})
		}
		s := newSpans(pts)
		u := geom.Vec{X: r.NormFloat64(), Y: r.NormFloat64(), Z: r.NormFloat64()}.Unit()
		angle := 0.5 * r.Float64()
		_, least := s.width(u, angle)
		for range 50 {
			axis := u.Cross(geom.Vec{X: r.NormFloat64(), Y: r.NormFloat64(), Z: r.NormFloat64()}).Unit()
			v := turned(u, axis, angle*r.Float64())
			if w := extent(pts, v); w < least-1e-6 {
				t.Fatalf("width %g within the angle, bound %g", w, least)
			}
		}
	}
}

// The second direction of a cell stays within what turnSpread says, on all faces.
func TestTurnSpread(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 10))
	for range 2000 {
		c := cell{face: r.IntN(3), half: 0.25 * r.Float64(), turn: math.Pi * r.Float64()}
		c.a, c.b = (2*r.Float64()-1)*(1-c.half), (2*r.Float64()-1)*(1-c.half)
		_, v, angle := c.middle()
		d := c
		d.a, d.b, d.half = c.a+c.half*(2*r.Float64()-1), c.b+c.half*(2*r.Float64()-1), 0
		_, w, _ := d.middle()
		if got := math.Atan2(v.Cross(w).Len(), v.Dot(w)); got > turnSpread*angle+1e-9 {
			t.Fatalf("face %d: turns by %g, %g of the cell's angle", c.face, got, got/angle)
		}
	}
}
