package mesh

import "math"

// place returns where three planes meet, on the grid of float32. Coordinates that the input
// gives — of a corner of the section, of a generator of a drill, of a floor or
// square end — are taken as they stand and never computed.
func (e *engine) place(k [3]int32) [3]int64 {
	var v [3]float64
	if i, other, ok := e.cornerIn(k); ok {
		p := &e.planes[other]
		c := e.corner[i]
		v[0], v[1] = float64(c[0]), float64(c[1])
		v[2] = (p.fd - float64(p.f[0]*v[0]) - float64(p.f[1]*v[1])) / p.f[2]
	} else if t, g, other, ok := e.generatorIn(k); ok {
		u, w := acrossAxes(t.axis)
		p := &e.planes[other]
		v[u], v[w] = float64(t.points[g][0]), float64(t.points[g][1])
		v[t.axis] = (p.fd - float64(p.f[u]*v[u]) - float64(p.f[w]*v[w])) / p.f[t.axis]
	} else {
		v = e.meet(k)
		for _, r := range k {
			p := &e.planes[r]
			for i := range v {
				if p.n[(i+1)%3] == 0 && p.n[(i+2)%3] == 0 {
					v[i] = p.fd / p.f[i]
				}
			}
		}
	}
	return [3]int64{onGrid(v[0]), onGrid(v[1]), onGrid(v[2])}
}

// onGrid rounds grid units to a whole number that float32 holds.
func onGrid(v float64) int64 { return int64(float32(math.Round(v))) }

// acrossAxes returns the two axes square to one.
func acrossAxes(axis int) (int, int) {
	switch axis {
	case 0:
		return 1, 2
	case 1:
		return 0, 2
	}
	return 0, 1
}

// cornerIn looks for two neighbouring walls of the section among three planes.
func (e *engine) cornerIn(k [3]int32) (corner, other int32, ok bool) {
	n := int32(len(e.corner))
	for a := range 3 {
		p, q, r := k[a], k[(a+1)%3], k[(a+2)%3]
		if p >= n || q >= n {
			continue
		}
		if e.next[p] == q {
			return q, r, true
		}
		if e.next[q] == p {
			return p, r, true
		}
	}
	return 0, 0, false
}

// generatorIn looks for two neighbouring walls of one tool among three planes.
func (e *engine) generatorIn(k [3]int32) (t *tool, point, other int32, ok bool) {
	for a := range 3 {
		p, q, r := k[a], k[(a+1)%3], k[(a+2)%3]
		j := e.owner[p]
		if j < 0 || e.owner[q] != j {
			continue
		}
		t = &e.tools[j]
		p, q = p-t.first, q-t.first
		switch {
		case p >= t.sides || q >= t.sides:
		case (p+1)%t.sides == q:
			return t, q, r, true
		case (q+1)%t.sides == p:
			return t, p, r, true
		}
	}
	return nil, 0, 0, false
}

// meet solves for the point of three planes by Cramer's rule.
func (e *engine) meet(k [3]int32) [3]float64 {
	a, b, c := &e.planes[k[0]], &e.planes[k[1]], &e.planes[k[2]]
	bc, ca, ab := cross3(b.f, c.f), cross3(c.f, a.f), cross3(a.f, b.f)
	d := dot3(a.f, bc)
	var v [3]float64
	for i := range v {
		v[i] = (float64(a.fd*bc[i]) + float64(b.fd*ca[i]) + float64(c.fd*ab[i])) / d
	}
	return v
}
