package statics

import (
	"math"

	"barwright/geom"
)

// Peak is the place where something is greatest.
type Peak struct {
	Place
	Value float64
	At    geom.Vec // in the frame
	Shift geom.Vec // of that place, mm
}

// peakSamples is how many steps a piece is looked at before its largest value is refined; a polynomial of degree 4, or
// the length of three of them, has no more peaks than that.
const peakSamples = 8

// Largest returns the largest shift of any place on the beams, by its length; or, where along is not zero, by
// its component in that direction.
func (sol *Solution) Largest(along geom.Vec) Peak {
	best := Peak{Value: -1}
	for i := range sol.sys.mesh.parts {
		if sol.bound(i) > best.Value {
			sol.largestIn(i, along, &best)
		}
	}
	if best.Value < 0 {
		best.Value = 0
	}
	return best
}

// largestIn looks for a larger shift in one part.
func (sol *Solution) largestIn(i int, along geom.Vec, best *Peak) {
	p := &sol.sys.mesh.parts[i]
	dir := p.local(along)
	whole := along == (geom.Vec{})
	for _, q := range sol.pieces(i) {
		value := func(x float64) float64 {
			u, v, w := q.shift[0].at(x), q.shift[1].at(x), q.shift[2].at(x)
			if whole {
				return math.Sqrt(u*u + v*v + w*w)
			}
			return u*dir[0] + v*dir[1] + w*dir[2]
		}
		x, v := maximum(q.from, q.to, peakSamples, value)
		if v > best.Value*(1+1e-12) && v > best.Value {
			s := p.state(&q, x)
			start, _ := sol.sys.tips(p.beam)
			*best = Peak{Place: Place{p.beam, p.from + x}, Value: v, Shift: s.Shift, At: start.Add(p.axes[0].Scale(p.from + x))}
		}
	}
}

// bound returns a shift that no place of a part exceeds, from its ends and its loads, so that most parts need no closer look.
// Between its ends a beam follows the straight line, what the turns of its ends lift it off that (each at most a quarter of the
// length), and what the loads would bend it if it were fixed.
func (sol *Solution) bound(i int) float64 {
	p, d := &sol.sys.mesh.parts[i], &sol.ends[i]
	a := math.Sqrt(d[0]*d[0] + d[1]*d[1] + d[2]*d[2])
	b := math.Sqrt(d[6]*d[6] + d[7]*d[7] + d[8]*d[8])
	l := p.length
	chord := math.Hypot(d[7]-d[1], d[8]-d[2]) / l
	turn := math.Hypot(d[4], d[5]) + math.Hypot(d[10], d[11]) + 2*chord
	out := math.Max(a, b) + turn*l/4
	if sc := p.section.ShearCentre; sc != (geom.Vec2{}) {
		out += 2 * sc.Len() * (math.Abs(d[3]) + math.Abs(d[9]))
	}
	q := sol.load.parts[i]
	if q == nil {
		return out
	}
	var force, couple float64
	for _, x := range q.points {
		force += size3(x.force)
		couple += size3(x.moment)
	}
	for _, x := range q.spread {
		force += size3(x.force) * (x.to - x.from)
		couple += size3(x.moment) * (x.to - x.from)
	}
	e := p.mat.E * math.Min(p.section.Iy, p.section.Iz)
	give := l*l*l/(192*e) + l/(4*p.mat.E*p.section.Area)
	for _, as := range []float64{p.section.ShearY, p.section.ShearZ} {
		if as > 0 {
			give += l / (4 * p.mat.G * as)
		}
	}
	sc := p.section.ShearCentre.Len()
	give += sc * sc * l / (4 * p.mat.G * p.section.J)
	out += 2 * (force*give + couple*(l*l/(32*e)+2*sc*l/(4*p.mat.G*p.section.J)))
	return out + math.Abs(q.warm)*p.mat.Expansion*l
}

func size3(v [3]float64) float64 { return math.Sqrt(v[0]*v[0] + v[1]*v[1] + v[2]*v[2]) }

// Slope returns the largest turn of any bar's axis across itself, radians: how far off level or plumb a bar gets somewhere.
func (sol *Solution) Slope() (most float64) {
	for i := range sol.sys.mesh.parts {
		for _, q := range sol.pieces(i) {
			_, v := maximum(q.from, q.to, peakSamples, func(x float64) float64 { return math.Hypot(q.turn[1].at(x), q.turn[2].at(x)) })
			most = math.Max(most, v)
		}
	}
	return most
}

// flat is the width, as a share of where it looked, at which the search for a maximum ends: the value is then good to about
// its square.
const flat = 1e-7

// maximum returns where a smooth function is greatest between a and b: the best of n steps, refined by golden
// sections (Kiefer 1953) between its neighbours.
func maximum(a, b float64, n int, f func(float64) float64) (x, v float64) {
	return maximumWithin(a, b, n, flat, f)
}

// maximumWithin is maximum that ends at a width of its own.
func maximumWithin(a, b float64, n int, flat float64, f func(float64) float64) (x, v float64) {
	best, at := math.Inf(-1), 0
	for i := range n + 1 {
		if y := f(a + (b-a)*float64(i)/float64(n)); y > best {
			best, at = y, i
		}
	}
	x, v = a+(b-a)*float64(at)/float64(n), best
	lo, hi := a+(b-a)*float64(max(at-1, 0))/float64(n), a+(b-a)*float64(min(at+1, n))/float64(n)
	const golden = 0.6180339887498949
	c, d := hi-golden*(hi-lo), lo+golden*(hi-lo)
	fc, fd := f(c), f(d)
	for range 48 {
		if fc > fd {
			hi, d, fd = d, c, fc
			c = hi - golden*(hi-lo)
			fc = f(c)
		} else {
			lo, c, fc = c, d, fd
			d = lo + golden*(hi-lo)
			fd = f(d)
		}
		if hi-lo <= flat*(b-a) {
			break
		}
	}
	if m := (lo + hi) / 2; f(m) > v {
		x, v = m, f(m)
	}
	return x, v
}
