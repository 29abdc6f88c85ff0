package geom

import "math"

// orientError bounds the rounding of the plain determinant of three points against the sum of its
// products' sizes: (3 + 16ε)ε of Shewchuk, "Adaptive precision floating-point arithmetic and fast
// robust geometric predicates" (1997).
const orientError = 3.3306690738754716e-16

// orient returns a number with the exact sign of the doubled area of the triangle a, b, c: positive where it runs
// counter-clockwise, zero only where the points lie on one line.
func orient(a, b, c Vec2) float64 {
	l := float64((a.X - c.X) * (b.Y - c.Y))
	r := float64((a.Y - c.Y) * (b.X - c.X))
	det := l - r
	if math.Abs(det) > orientError*(math.Abs(l)+math.Abs(r)) {
		return det
	}
	return orientExact(a, b, c)
}

// orientExact adds the twelve parts of the six products without any rounding.
func orientExact(a, b, c Vec2) float64 {
	var sum [12]float64
	n := 0
	grow := func(v float64) {
		for i := range n {
			s := sum[i] + v
			back := s - v
			sum[i] = (sum[i] - back) + (v - (s - back))
			v = s
		}
		sum[n] = v
		n++
	}
	product := func(x, y float64) {
		p := x * y
		grow(math.FMA(x, y, -p))
		grow(p)
	}
	product(a.X, b.Y)
	product(-a.Y, b.X)
	product(b.X, c.Y)
	product(-b.Y, c.X)
	product(c.X, a.Y)
	product(-c.Y, a.X)
	for i := n - 1; i >= 0; i-- {
		if sum[i] != 0 {
			return sum[i]
		}
	}
	return 0
}

// circleError bounds the rounding of inCircle's determinant, generously.
const circleError = 2e-15

// inCircle reports whether d lies inside the circle through a, b, c (counter-clockwise) beyond any doubt of rounding. A
// doubtful point counts as outside: either diagonal of four points on a circle will do.
func inCircle(a, b, c, d Vec2) bool {
	a, b, c = a.Sub(d), b.Sub(d), c.Sub(d)
	la, lb, lc := a.Dot(a), b.Dot(b), c.Dot(c)
	bc, ca, ab := b.Cross(c), c.Cross(a), a.Cross(b)
	det := float64(la*bc) + float64(lb*ca) + float64(lc*ab)
	size := la*(math.Abs(b.X*c.Y)+math.Abs(b.Y*c.X)) + lb*(math.Abs(c.X*a.Y)+math.Abs(c.Y*a.X)) +
		lc*(math.Abs(a.X*b.Y)+math.Abs(a.Y*b.X))
	return det > circleError*size
}
