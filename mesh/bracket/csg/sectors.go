package csg

import (
	"math"
	"slices"
)

// holding returns the planes that hold the line and bound a piece there, in order.
func (t *tracer) holding() []int32 {
	var out []int32
	for _, s := range t.stretches {
		for _, sd := range s.on {
			if !slices.Contains(out, sd.plane) {
				out = append(out, sd.plane)
			}
		}
	}
	slices.Sort(out)
	return out
}

// ray is a half of a plane that ends in the line: the plane, and whether the plane's normal was turned to lie within
// half a turn counter-clockwise of the first one's.
type ray struct {
	plane  int32
	turned bool
}

// sectors sorts the planes round the line and fills the masks of the stretches. Ray j is turned from its normal by a quarter
// counter-clockwise seen against the direction; sector j follows ray j; ray j + m is opposite.
func (t *tracer) sectors(holding []int32) []ray {
	first := t.planes[holding[0]].n
	turn := func(a, b ivec) bool { return (a.cross(b)[t.main] > 0) == (t.dir[t.main] > 0) }
	normal := func(r ray) ivec {
		n := t.planes[r.plane].n
		if r.turned {
			return ivec{-n[0], -n[1], -n[2]}
		}
		return n
	}
	rays := []ray{{plane: holding[0]}}
	for _, h := range holding[1:] {
		rays = append(rays, ray{h, !turn(first, t.planes[h].n)})
	}
	slices.SortFunc(rays[1:], func(a, b ray) int {
		switch {
		case a == b:
			return 0
		case turn(normal(a), normal(b)):
			return -1
		}
		return 1
	})
	m := len(rays)
	all := uint64(1)<<(2*m) - 1
	if m == 32 {
		all = math.MaxUint64
	}
	half := uint64(1)<<m - 1
	for i := range t.stretches {
		s := &t.stretches[i]
		s.mask = all
		for _, sd := range s.on {
			j := slices.IndexFunc(rays, func(r ray) bool { return r.plane == sd.plane })
			under := half << j // the sectors against the ray's normal
			if (sd.sign < 0) != rays[j].turned {
				under = all &^ under
			}
			s.mask &= under
		}
	}
	return rays
}
