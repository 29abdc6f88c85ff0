package statics

import (
	"math"

	"barwright/geom"
)

// mat12 is a 12 × 12 matrix over the movements of both ends: shifts along x, y, z and turns about them.
type mat12 [12][12]float64

// vec12 is movements or forces of both ends.
type vec12 [12]float64

// element is a beam, or a part of one, ready for assembly.
type element struct {
	length  float64
	axes    [3]geom.Vec // local x, y, z in the frame
	section *Section
	mat     *Material
	// phi are the shear parameters 12EI/(G·A_s·L²) of bending in the planes xy and xz.
	phi [2]float64
	// give turns the movements of the arms' tips into those of the beam itself, slip adds what
	// loads between the ends move it against its springs; nil where the ends are rigid.
	give, slip *mat12
	offset     [2]geom.Vec
}

// newElement returns the part of a beam from share a to share b of its length. start and end are the beam's tips.
func newElement(b *Beam, start, end geom.Vec, from, to float64) element {
	d := end.Sub(start)
	x := d.Unit()
	y := b.Y.Sub(x.Scale(x.Dot(b.Y)))
	if y.Len() < 1e-6*b.Y.Len() || y.Len() == 0 {
		y = x.Cross(geom.Vec{X: 1})
		if math.Abs(x.X) > 0.9 {
			y = x.Cross(geom.Vec{Y: 1})
		}
	}
	y = y.Unit()
	e := element{length: d.Len() * (to - from), axes: [3]geom.Vec{x, y, x.Cross(y)}, section: b.Section, mat: b.Material}
	l2 := e.length * e.length
	if s := b.Section; s.ShearY > 0 {
		e.phi[0] = 12 * b.Material.E * s.Iz / (b.Material.G * s.ShearY * l2)
	}
	if s := b.Section; s.ShearZ > 0 {
		e.phi[1] = 12 * b.Material.E * s.Iy / (b.Material.G * s.ShearZ * l2)
	}
	if from == 0 {
		e.offset[0] = b.Offset[0]
	}
	if to == 1 {
		e.offset[1] = b.Offset[1]
	}
	return e
}

// bendingPlane gives the indices of a plane's four movements (shift, turn at each end) and the sign of its
// turns: in the plane xz a positive turn about y lowers the slope.
var bendingPlane = [2]struct {
	at   [4]int
	sign float64
}{{[4]int{1, 5, 7, 11}, 1}, {[4]int{2, 4, 8, 10}, -1}}

// stiffness returns the stiffness in local axes without the give of the ends: Przemieniecki, "Theory of
// Matrix Structural Analysis" (1968), chapter 5.6.
func (e *element) stiffness() *mat12 {
	k := new(mat12)
	l := e.length
	bar := func(i, j int, v float64) { k[i][i], k[j][j], k[i][j], k[j][i] = v, v, -v, -v }
	bar(0, 6, e.mat.E*e.section.Area/l)
	bar(3, 9, e.mat.G*e.section.J/l)
	for p := range bendingPlane {
		inertia := e.inertia(p)
		f := e.phi[p]
		c := e.mat.E * inertia / (l * l * l * (1 + f))
		e.plane(k, p, [10]float64{12 * c, 6 * l * c, -12 * c, 6 * l * c,
			(4 + f) * l * l * c, -6 * l * c, (2 - f) * l * l * c, 12 * c, -6 * l * c, (4 + f) * l * l * c})
	}
	e.toShearCentre(k)
	return k
}

// inertia returns the second moment that resists bending in a plane.
func (e *element) inertia(p int) float64 {
	if p == 0 {
		return e.section.Iz
	}
	return e.section.Iy
}

// plane writes the upper triangle of a bending plane's 4 × 4 matrix, given by rows.
func (e *element) plane(k *mat12, p int, v [10]float64) {
	pl := bendingPlane[p]
	n := 0
	for i := range 4 {
		for j := i; j < 4; j++ {
			s := v[n]
			if (i+j)%2 != 0 { // a shift with a turn
				s *= pl.sign
			}
			k[pl.at[i]][pl.at[j]] = s
			k[pl.at[j]][pl.at[i]] = s
			n++
		}
	}
}

// toShearCentre makes bending act on the shear centre's movements: v - θx·ez and w + θx·ey.
func (e *element) toShearCentre(k *mat12) {
	c := e.section.ShearCentre
	if c == (geom.Vec2{}) {
		return
	}
	for end := range 2 {
		v, w, t := 6*end+1, 6*end+2, 6*end+3
		for i := range 12 {
			k[i][t] += c.X*k[i][w] - c.Y*k[i][v]
		}
		for j := range 12 {
			k[t][j] += c.X*k[w][j] - c.Y*k[v][j]
		}
	}
}

// massMatrix returns the consistent mass in tonnes (so that N, mm and s go together) with rotary inertia, in local
// axes: Przemieniecki, chapter 11.3, with the shape functions of a beam flexible in shear.
func (e *element) massMatrix() *mat12 {
	m := new(mat12)
	l := e.length
	mass := e.mat.Density * e.section.Area * l / 1000
	bar := func(i, j int, v float64) { m[i][i], m[j][j], m[i][j], m[j][i] = v/3, v/3, v/6, v/6 }
	bar(0, 6, mass)
	bar(3, 9, mass*e.section.polar()/e.section.Area)
	for p := range bendingPlane {
		inertia := e.inertia(p)
		f := e.phi[p]
		t := mass / ((1 + f) * (1 + f))
		r := t * inertia / (e.section.Area * l * l)
		a := t*(13./35+f*(7./10+f/3)) + r*6/5
		b := l * (t*(11./210+f*(11./120+f/24)) + r*(1./10-f/2))
		c := t*(9./70+f*(3./10+f/6)) - r*6/5
		d := l * (-t*(13./420+f*(3./40+f/24)) + r*(1./10-f/2))
		g := l * l * (t*(1./105+f*(1./60+f/120)) + r*(2./15+f*(1./6+f/3)))
		h := l * l * (-t*(1./140+f*(1./60+f/120)) + r*(-1./30+f*(-1./6+f/6)))
		e.plane(m, p, [10]float64{a, b, c, d, g, -d, h, a, -b, g})
	}
	return m
}

// shapeAt returns the rows of the shape functions at x: the shifts (x, y, z) and turns of the section there, as
// combinations of the ends' movements. They are the exact static shapes of a beam flexible in shear.
func (e *element) shapeAt(x float64) (n [6]vec12) {
	l := e.length
	s := x / l
	for _, i := range [2]int{0, 3} {
		n[i][i], n[i][i+6] = 1-s, s
	}
	for p, pl := range bendingPlane {
		f := e.phi[p]
		k := 1 / (1 + f)
		shift := [4]float64{
			k * (1 - 3*s*s + 2*s*s*s + f*(1-s)),
			k * l * (s - 2*s*s + s*s*s + f/2*(s-s*s)),
			k * (3*s*s - 2*s*s*s + f*s),
			k * l * (-s*s + s*s*s - f/2*(s-s*s)),
		}
		turn := [4]float64{
			k * 6 / l * (s*s - s),
			k * (1 - 4*s + 3*s*s + f*(1-s)),
			k * 6 / l * (s - s*s),
			k * (3*s*s - 2*s + f*s),
		}
		for i, at := range pl.at {
			sign := 1.0
			if i%2 != 0 {
				sign = pl.sign
			}
			n[1+p][at] += sign * shift[i]
			n[5-p][at] += sign * pl.sign * turn[i]
		}
	}
	e.shapeToShearCentre(&n)
	return n
}

// shapeToShearCentre turns shapes of the shear centre's movements into those of the centroid.
func (e *element) shapeToShearCentre(n *[6]vec12) {
	c := e.section.ShearCentre
	if c == (geom.Vec2{}) {
		return
	}
	for end := range 2 {
		v, w, t := 6*end+1, 6*end+2, 6*end+3
		for i := range n {
			n[i][t] += c.X*n[i][w] - c.Y*n[i][v]
		}
	}
	for j := range 12 {
		n[1][j] += c.Y * n[3][j]
		n[2][j] -= c.X * n[3][j]
	}
}

// soften puts the springs of both ends in line with the beam: each is eliminated in turn. k becomes the stiffness
// against the arms' tips, and give and slip are filled.
func (e *element) soften(k *mat12, ends [2]*Release) {
	for end, r := range ends {
		if r == nil || r.rigid() {
			continue
		}
		for c, s := range r {
			if !math.IsInf(s, 1) {
				e.eliminate(k, 6*end+c, s)
			}
		}
	}
}

// tinyPivot is the share of a beam's own stiffness under which an end that its springs let go of turns freely.
const tinyPivot = 1e-12

// eliminate takes out movement r behind a spring s.
func (e *element) eliminate(k *mat12, r int, s float64) {
	if e.give == nil {
		e.give, e.slip = new(mat12), new(mat12)
		for i := range 12 {
			e.give[i][i] = 1
		}
	}
	sum := k[r][r] + s
	g := k[r]
	if !(sum > tinyPivot*e.scale(r)) {
		for i := range 12 { // already free: it carries nothing
			k[i][r], k[r][i] = 0, 0
		}
		return
	}
	var col vec12 // how the beam's own movements follow the one eliminated
	for i := range 12 {
		col[i] = e.give[i][r]
	}
	for i := range 12 {
		for j := range 12 {
			e.slip[i][j] += col[i] * col[j] / sum
		}
		for j := range 12 {
			if j == r {
				e.give[i][r] = col[i] * s / sum
			} else {
				e.give[i][j] -= col[i] * g[j] / sum
			}
		}
	}
	for i := range 12 {
		for j := range 12 {
			if i != r && j != r {
				k[i][j] -= g[i] * g[j] / sum
			}
		}
	}
	for j := range 12 {
		if j != r {
			k[r][j] = s * g[j] / sum
			k[j][r] = k[r][j]
		}
	}
	k[r][r] = s * g[r] / sum
}

// scale returns the size of the stiffness that movement r would have in a rigidly held beam.
func (e *element) scale(r int) float64 {
	switch r % 6 {
	case 0:
		return e.mat.E * e.section.Area / e.length
	case 3:
		return e.mat.G * e.section.J / e.length
	case 1, 2:
		return e.mat.E * math.Min(e.section.Iy, e.section.Iz) / (e.length * e.length * e.length)
	}
	return e.mat.E * math.Min(e.section.Iy, e.section.Iz) / e.length
}
