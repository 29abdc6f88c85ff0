package statics

import (
	"cmp"
	"slices"

	"barwright/geom"
)

// Everything inside a part follows exactly from its ends: forces by equilibrium, and movements by integrating
// the bending with Macaulay's brackets. All are polynomials between the places where a load begins or ends.

// poly is a polynomial c[0] + c[1]·x + … of degree 4 at most.
type poly [5]float64

func (p poly) at(x float64) float64 {
	return p[0] + x*(p[1]+x*(p[2]+x*(p[3]+x*p[4])))
}

// addPower adds c·(x - a)^n.
func (p *poly) addPower(c, a float64, n int) {
	if c == 0 {
		return
	}
	// Binomial coefficients times powers of -a.
	b, pw := 1.0, 1.0
	for k := n; k >= 0; k-- {
		p[k] += c * b * pw
		b = b * float64(k) / float64(n-k+1)
		pw *= -a
	}
}

// piece is the state of a part between two places where loads change, as polynomials of the distance from the part's start.
type piece struct {
	from, to float64
	shift    [3]poly // of the axis, local x, y, z
	turn     [3]poly
	normal   poly    // tension, N
	shear    [2]poly // along y and z, N
	torque   poly
	moment   [2]poly // about z (bending in xy) and about -y (bending in xz)
}

// pieces returns the state along a part.
func (sol *Solution) pieces(i int) []piece {
	p := &sol.sys.mesh.parts[i]
	d, f := &sol.ends[i], &sol.forces[i]
	load := sol.load.parts[i]
	if load == nil {
		load = &partLoad{}
	}
	breaks := load.breaks(p.length)
	out := make([]piece, 0, len(breaks)-1)
	for b := 1; b < len(breaks); b++ {
		q := piece{from: breaks[b-1], to: breaks[b]}
		mid := (q.from + q.to) / 2
		p.stretch(&q, d, f, load, mid)
		p.twist(&q, d, f, load, mid)
		for plane := range 2 {
			p.bend(&q, plane, d, f, load, mid)
		}
		c := p.section.ShearCentre
		if c != (geom.Vec2{}) {
			for k := range q.shift[1] {
				q.shift[1][k] += c.Y * q.turn[0][k]
				q.shift[2][k] -= c.X * q.turn[0][k]
			}
		}
		out = append(out, q)
	}
	return out
}

// breaks returns the places where loads change, from 0 to the part's end.
func (l *partLoad) breaks(length float64) []float64 {
	out := []float64{0, length}
	for _, q := range l.points {
		out = append(out, q.x)
	}
	for _, s := range l.spread {
		out = append(out, s.from, s.to)
	}
	slices.SortFunc(out, cmp.Compare[float64])
	kept := out[:1]
	for _, x := range out[1:] {
		if x-kept[len(kept)-1] > shortest*length {
			kept = append(kept, x)
		}
	}
	kept[len(kept)-1] = length
	if len(kept) == 1 {
		kept = append(kept, length)
	}
	return kept
}

// sum adds up what acts left of mid in one direction, integrated n times: forces are 0 times integrated.
func (l *partLoad) sum(mid float64, n int, point func(*localPoint) float64, spread func(*localSpread) float64) (out poly) {
	fact := [6]float64{1, 1, 2, 6, 24, 120}
	for i := range l.points {
		if q := &l.points[i]; q.x < mid {
			out.addPower(point(q)/fact[n], q.x, n)
		}
	}
	for i := range l.spread {
		s := &l.spread[i]
		if s.from < mid {
			out.addPower(spread(s)/fact[n+1], s.from, n+1)
		}
		if s.to < mid {
			out.addPower(-spread(s)/fact[n+1], s.to, n+1)
		}
	}
	return out
}

// stretch fills normal force and shift along the axis.
func (p *part) stretch(q *piece, d, f *vec12, l *partLoad, mid float64) {
	pt := func(a *localPoint) float64 { return a.force[0] }
	sp := func(a *localSpread) float64 { return a.force[0] }
	ea := p.mat.E * p.section.Area
	n0, n1 := l.sum(mid, 0, pt, sp), l.sum(mid, 1, pt, sp)
	for k := range n0 {
		q.normal[k] = -n0[k]
		q.shift[0][k] = -n1[k] / ea
	}
	q.normal[0] -= f[0]
	q.shift[0][0] += d[0]
	q.shift[0][1] += -f[0]/ea + p.mat.Expansion*l.warm
}

// offCentre returns the torque about the shear centre of a force on the axis.
func (p *part) offCentre(force *[3]float64) float64 {
	c := p.section.ShearCentre
	return c.Y*force[1] - c.X*force[2]
}

// twist fills torque and turn about the axis.
func (p *part) twist(q *piece, d, f *vec12, l *partLoad, mid float64) {
	pt := func(a *localPoint) float64 { return a.moment[0] + p.offCentre(&a.force) }
	sp := func(a *localSpread) float64 { return a.moment[0] + p.offCentre(&a.force) }
	start := f[3] + p.offCentre(&[3]float64{f[0], f[1], f[2]})
	gj := p.mat.G * p.section.J
	t0, t1 := l.sum(mid, 0, pt, sp), l.sum(mid, 1, pt, sp)
	for k := range t0 {
		q.torque[k] = -t0[k]
		q.turn[0][k] = -t1[k] / gj
	}
	q.torque[0] -= start
	q.turn[0][0] += d[3]
	q.turn[0][1] -= start / gj
}

// bend fills shear, moment, turn and shift (of the shear centre) of one plane.
func (p *part) bend(q *piece, plane int, d, f *vec12, l *partLoad, mid float64) {
	pl := bendingPlane[plane]
	c, rot := 1+plane, 2-plane // component of force; axis of the turn: z for xy, y for xz
	force := func(a *localPoint) float64 { return a.force[c] }
	even := func(a *localSpread) float64 { return a.force[c] }
	couple := func(a *localPoint) float64 { return pl.sign * a.moment[rot] }
	evenCouple := func(a *localSpread) float64 { return pl.sign * a.moment[rot] }
	f0, m0 := f[pl.at[0]], pl.sign*f[pl.at[1]]
	v0, t0 := d[pl.at[0]], pl.sign*d[pl.at[1]]
	if sc := p.section.ShearCentre; sc != (geom.Vec2{}) {
		if plane == 0 {
			v0 -= sc.Y * d[3]
		} else {
			v0 += sc.X * d[3]
		}
	}
	ei := p.mat.E * p.inertia(plane)
	var ga float64 // 1/(G·A_s)
	if a := [2]float64{p.section.ShearY, p.section.ShearZ}[plane]; a > 0 {
		ga = 1 / (p.mat.G * a)
	}
	// Forces on the left part balance: shear on its right face is minus their sum, the moment there is
	// what the left part needs about that face.
	var fs, cs [5]poly
	for n := range 4 {
		fs[n] = l.sum(mid, n, force, even)
	}
	for n := range 3 {
		cs[n] = l.sum(mid, n, couple, evenCouple)
	}
	for k := range 5 {
		q.shear[plane][k] = -fs[0][k]
		q.moment[plane][k] = fs[1][k] - cs[0][k]
	}
	q.shear[plane][0] -= f0
	q.moment[plane][0] -= m0
	q.moment[plane][1] += f0
	turn, shift := &q.turn[rot], &q.shift[c]
	for k := range 5 {
		turn[k] = (fs[2][k] - cs[1][k]) / ei
		shift[k] = (fs[3][k]-cs[2][k])/ei - fs[1][k]*ga
	}
	turn[0] += t0
	turn[1] -= m0 / ei
	turn[2] += f0 / (2 * ei)
	shift[0] += v0
	shift[1] += t0 - f0*ga
	shift[2] -= m0 / (2 * ei)
	shift[3] += f0 / (6 * ei)
	if pl.sign < 0 {
		for k := range turn {
			turn[k] = -turn[k]
		}
	}
}

// State is what happens in a beam at one place.
type State struct {
	Shift, Turn geom.Vec // of the section's centroid, in the frame: mm, radians
	// Normal is tension (N); ShearY, ShearZ the shear forces (N); Torque, MomentY and MomentZ the moments (N·mm)
	// about the section's own axes, that the part beyond the place puts on the part before it.
	Normal, ShearY, ShearZ   float64
	Torque, MomentY, MomentZ float64
}

// At returns the state at a place on a beam.
func (sol *Solution) At(at Place) State {
	i, x := sol.sys.mesh.locate(at)
	p := &sol.sys.mesh.parts[i]
	for _, q := range sol.pieces(i) {
		if x <= q.to {
			return p.state(&q, x)
		}
	}
	return State{}
}

func (p *part) state(q *piece, x float64) State {
	return State{
		Shift:  p.global([3]float64{q.shift[0].at(x), q.shift[1].at(x), q.shift[2].at(x)}),
		Turn:   p.global([3]float64{q.turn[0].at(x), q.turn[1].at(x), q.turn[2].at(x)}),
		Normal: q.normal.at(x), ShearY: q.shear[0].at(x), ShearZ: q.shear[1].at(x),
		Torque: q.torque.at(x), MomentZ: q.moment[0].at(x), MomentY: -q.moment[1].at(x),
	}
}
