package statics

import "math"

// Stress is the largest stress along the axis (tension and bending together) of a bar.
type Stress struct {
	Place
	Value       float64 // MPa, tension positive
	Utilisation float64 // of the yield strength, 0 where it is unknown
}

// Stress returns the place where the stress is largest against the yield strength (or, where
// none is known, largest). Shear and torsion are not in it; nor is what a screw does locally.
func (sol *Solution) Stress() Stress {
	var best Stress
	rank := -1.0
	for i := range sol.sys.mesh.parts {
		p := &sol.sys.mesh.parts[i]
		if len(p.section.Fibres) == 0 {
			continue
		}
		for _, q := range sol.pieces(i) {
			x, v := p.stress(&q)
			r, use := math.Abs(v)*1e-9, 0.0
			if p.mat.Yield > 0 {
				use = math.Abs(v) / p.mat.Yield
				r = use
			}
			if r > rank*(1+1e-12) {
				rank = r
				best = Stress{Place{p.beam, p.from + x}, v, use}
			}
		}
	}
	return best
}

// stress returns the largest stress in a piece: for each fibre it is a parabola along the piece.
func (p *part) stress(q *piece) (at, value float64) {
	s := p.section
	try := func(f *poly, x float64) {
		if x < q.from || x > q.to {
			return
		}
		if v := f.at(x); math.Abs(v) > math.Abs(value) {
			at, value = x, v
		}
	}
	at = q.from
	for _, f := range s.Fibres {
		var c poly
		for k := range c {
			c[k] = q.normal[k]/s.Area - q.moment[0][k]*f.X/s.Iz - q.moment[1][k]*f.Y/s.Iy
		}
		try(&c, q.from)
		try(&c, q.to)
		if c[2] != 0 {
			try(&c, -c[1]/(2*c[2]))
		}
	}
	return at, value
}
