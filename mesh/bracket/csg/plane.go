package csg

import (
	"math"

	"barwright/geom"
)

// unit is how many grid steps make a millimetre: planes square to the axes lie on a grid of 0.25 µm.
const unit = 4000

// maxNormal is the size to which a slanting plane's integer normal is scaled; that of a bevel is up to twice as large. With
// it every determinant of the evaluation fits in 128 bits for bodies up to reach; slanting planes turn by less than
// 2⁻¹⁴, which is 6 µm over 200 mm.
const maxNormal = 1 << 14

// reach is the largest coordinate in mm that a plane's distance may have.
const reach = 2000

// ivec is a vector of integers.
type ivec [3]int64

func (a ivec) cross(b ivec) ivec {
	return ivec{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}

func (a ivec) dot(b ivec) int64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }

func (a ivec) zero() bool { return a == ivec{} }

// float returns the vector in floats.
func (a ivec) float() geom.Vec { return geom.Vec{X: float64(a[0]), Y: float64(a[1]), Z: float64(a[2])} }

// plane is the points with n·p = d, p in grid steps. Its form is canonical: no common divisor, and the first
// component of n that is not zero is positive.
type plane struct {
	n ivec
	d int64
}

// Half is the half-space N·p ≤ D; N is a unit vector pointing out of the material, D is mm.
type Half struct {
	N geom.Vec
	D float64
	// Bevel, if not nil, makes this the half-space under the plane that halves the angle between N·p = D and the
	// plane of Bevel. It holds their common line exactly, also after rounding: where a chamfer begins on a side, no
	// sliver remains.
	Bevel *Half
	// At, if not nil, is a point of the plane where it must lie true: a slanting plane is turned a little by rounding,
	// about this point instead of the one nearest to the origin.
	At *geom.Vec
}

// Facing returns the half-space under the plane through p with the outward normal n of any length.
func Facing(n, p geom.Vec) Half {
	n = n.Unit()
	return Half{N: n, D: n.Dot(p)}
}

// round returns the plane of a half-space and whether the canonical normal points out of it (1) or into it (-1);
// 0 if the half-space is out of reach or has no direction.
func (h Half) round() (plane, int) {
	p, ok := h.integers()
	if ok && h.Bevel != nil {
		q, ok2 := h.Bevel.integers()
		lp, lq := math.Sqrt(float64(p.n.dot(p.n))), math.Sqrt(float64(q.n.dot(q.n)))
		kp, kq := int64(1), int64(1)
		if math.Abs(lp-lq) > 1e-9*lp {
			kp, kq = int64(math.Round(maxNormal/lp)), int64(math.Round(maxNormal/lq))
		}
		for i := range p.n {
			p.n[i] = kp*p.n[i] + kq*q.n[i]
		}
		p.d = kp*p.d + kq*q.d
		ok = ok2 && !p.n.zero()
	}
	if !ok {
		return plane{}, 0
	}
	return p.canonical()
}

// integers returns the plane N·p = D on integers, its normal pointing out.
func (h Half) integers() (plane, bool) {
	m := math.Max(math.Abs(h.N.X), math.Max(math.Abs(h.N.Y), math.Abs(h.N.Z)))
	if !(m > 0) || !(math.Abs(h.D) <= reach) || math.IsInf(m, 0) {
		return plane{}, false
	}
	n := h.N.Scale(1 / m)
	var p plane
	for _, k := range [...]float64{1, 2, 3, maxNormal} {
		a, b, c := n.X*k, n.Y*k, n.Z*k
		p.n = ivec{int64(math.Round(a)), int64(math.Round(b)), int64(math.Round(c))}
		off := math.Max(math.Abs(a-math.Round(a)), math.Max(math.Abs(b-math.Round(b)), math.Abs(c-math.Round(c))))
		if off < 1e-9 {
			break
		}
	}
	l := math.Sqrt(float64(p.n.dot(p.n)))
	p.d = int64(math.Round(h.D * unit * l / h.N.Len()))
	if h.At != nil {
		p.d = int64(math.Round(p.n.float().Dot(*h.At) * unit))
	}
	return p, true
}

// canonical divides by the common divisor and makes the first component positive, and tells whether it turned the plane.
func (p plane) canonical() (plane, int) {
	g := gcd(gcd(p.n[0], p.n[1]), gcd(p.n[2], p.d))
	sign := 1
	for _, v := range p.n {
		if v != 0 {
			if v < 0 {
				sign = -1
			}
			break
		}
	}
	g *= int64(sign)
	return plane{ivec{p.n[0] / g, p.n[1] / g, p.n[2] / g}, p.d / g}, sign
}

func gcd(a, b int64) int64 {
	if a < 0 {
		a = -a
	}
	if b < 0 {
		b = -b
	}
	for b != 0 {
		a, b = b, a%b
	}
	return a
}
