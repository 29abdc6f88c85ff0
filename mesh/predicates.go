package mesh

import (
	"math"
	"math/bits"
)

// Everything that decides the shape of a solid is decided here, in integers: grid
// units of the coordinates, products as wide as they come. Float64 is only a filter in
// front: where it cannot tell, the integers do (the idea of Shewchuk, "Adaptive
// precision floating-point arithmetic and fast robust geometric predicates", 1997). Where even
// they are equal, the planes of the tools are thought to lie outward by amounts that vanish, each much
// smaller than the one of lower rank (Edelsbrunner and Mücke, "Simulation of
// simplicity", 1990), so that a hole which only touches a wall opens it, and a floor which
// just reaches a face goes through. No decision is ever a tie, none contradicts another.

// plane is n·p = d in grid units; the body that it bounds lies where n·p < d.
type plane struct {
	n    [3]int64
	d    int64
	f    [3]float64 // n, rounded
	fd   float64    // d, rounded
	size float64    // length of n
	rank int32      // place in the order of vanishing shifts, 0: stays
}

// newPlane fills in the rounded copies.
func newPlane(n [3]int64, d int64, rank int32) plane {
	p := plane{n: n, d: d, rank: rank, fd: float64(d)}
	for i, v := range n {
		p.f[i] = float64(v)
	}
	p.size = math.Sqrt(dot3(p.f, p.f))
	return p
}

// wide is a signed integer of 192 bits in two's complement, the low word first.
type wide [3]uint64

// product returns a·b.
func product(a, b int64) wide {
	hi, lo := bits.Mul64(uint64(a), uint64(b))
	if a < 0 {
		hi -= uint64(b)
	}
	if b < 0 {
		hi -= uint64(a)
	}
	return wide{lo, hi, uint64(int64(hi) >> 63)}
}

// plus returns a + b.
func (a wide) plus(b wide) wide {
	var c uint64
	a[0], c = bits.Add64(a[0], b[0], 0)
	a[1], c = bits.Add64(a[1], b[1], c)
	a[2], _ = bits.Add64(a[2], b[2], c)
	return a
}

// minus returns a - b.
func (a wide) minus(b wide) wide {
	var c uint64
	a[0], c = bits.Sub64(a[0], b[0], 0)
	a[1], c = bits.Sub64(a[1], b[1], c)
	a[2], _ = bits.Sub64(a[2], b[2], c)
	return a
}

// times returns a·b, which must fit.
func (a wide) times(b int64) wide {
	negative := b < 0
	if negative {
		b = -b
	}
	if a.sign() < 0 {
		a = wide{}.minus(a)
		negative = !negative
	}
	m := uint64(b)
	h0, l0 := bits.Mul64(a[0], m)
	h1, l1 := bits.Mul64(a[1], m)
	_, l2 := bits.Mul64(a[2], m)
	var out wide
	var c uint64
	out[0] = l0
	out[1], c = bits.Add64(l1, h0, 0)
	out[2], _ = bits.Add64(l2, h1, c)
	if negative {
		return wide{}.minus(out)
	}
	return out
}

// sign returns -1, 0 or 1.
func (a wide) sign() int {
	switch {
	case int64(a[2]) < 0:
		return -1
	case a[0]|a[1]|a[2] == 0:
		return 0
	}
	return 1
}

// det returns the determinant of three normals, which the limits on coordinates keep under 2⁹⁵.
func det(a, b, c *[3]int64) wide {
	x := product(a[0], b[1]*c[2]-b[2]*c[1])
	y := product(a[1], b[2]*c[0]-b[0]*c[2])
	z := product(a[2], b[0]*c[1]-b[1]*c[0])
	return x.plus(y).plus(z)
}

// sign returns -1, 0 or 1.
func sign[T int | int32 | int64 | float64](v T) int {
	switch {
	case v < 0:
		return -1
	case v > 0:
		return 1
	}
	return 0
}

// fourth returns the sign of n_s·x − d_s times det(p, q, r), where x is the place at which p, q
// and r meet: the one question behind every order along a line. It is 0 only if none of the four planes
// that matter can shift.
func fourth(p, q, r, s *plane) int {
	sqr, psr := det(&s.n, &q.n, &r.n), det(&p.n, &s.n, &r.n)
	pqs, pqr := det(&p.n, &q.n, &s.n), det(&p.n, &q.n, &r.n)
	v := sqr.times(p.d).plus(psr.times(q.d)).plus(pqs.times(r.d)).minus(pqr.times(s.d))
	if s := v.sign(); s != 0 {
		return s
	}
	// A shift of a plane's d counts with its determinant; the lowest rank that counts decides.
	shifts := [4]struct {
		rank int32
		sign int
	}{{p.rank, sqr.sign()}, {q.rank, psr.sign()}, {r.rank, pqs.sign()}, {s.rank, -pqr.sign()}}
	best, out := int32(math.MaxInt32), 0
	for _, k := range shifts {
		if k.rank > 0 && k.sign != 0 && k.rank < best {
			best, out = k.rank, k.sign
		}
	}
	return out
}

// sideOf returns on which side of the plane r, which stands upright (no z in its normal), the point p of the section lies: 1 outside.
func sideOf(r *plane, p [2]int64) int {
	v := product(r.n[0], p[0]).plus(product(r.n[1], p[1])).minus(product(1, r.d))
	if s := v.sign(); s != 0 || r.rank == 0 {
		return s
	}
	return -1
}

// orient returns twice the signed area of a triangle in the plane: positive counter-clockwise. Exact for coordinates below 2³⁰.
func orient(a, b, c [2]int64) int64 {
	return (b[0]-a[0])*(c[1]-a[1]) - (b[1]-a[1])*(c[0]-a[0])
}
