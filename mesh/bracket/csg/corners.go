package csg

import (
	"math"

	"barwright/geom"
)

// corner is the meeting of three planes: (x, y, z)/w in grid steps.
type corner struct {
	x, y, z int128
	w       int64
	at      geom.Vec // in floats, grid steps
}

// corners numbers distinct corners.
type corners struct {
	list  []corner
	cells map[[3]int64][]int32
}

// cellSteps is how many cells make a grid step in the table of corners.
const cellSteps = 64

// fringe is the part of a cell, as a fraction, in which a corner may also be found in the next cell.
const fringe = 1e-3

// intern returns the number of the corner where three planes meet.
func (c *corners) intern(p, q, r *plane) int32 {
	v := meet(p, q, r)
	if c.cells == nil {
		c.cells = map[[3]int64][]int32{}
	}
	var own, lo, hi [3]int64
	for k, x := range [3]float64{v.at.X, v.at.Y, v.at.Z} {
		x = x*cellSteps + 0.5 // grid points lie in the middle of cells
		own[k], lo[k], hi[k] = int64(math.Floor(x)), int64(math.Floor(x-fringe)), int64(math.Floor(x+fringe))
	}
	for i := lo[0]; i <= hi[0]; i++ {
		for j := lo[1]; j <= hi[1]; j++ {
			for k := lo[2]; k <= hi[2]; k++ {
				for _, n := range c.cells[[3]int64{i, j, k}] {
					if c.list[n].same(&v) {
						return n
					}
				}
			}
		}
	}
	n := int32(len(c.list))
	c.list = append(c.list, v)
	c.cells[own] = append(c.cells[own], n)
	return n
}

// meet returns the corner of three planes by Cramer's rule.
func meet(p, q, r *plane) corner {
	pq, qr, rp := p.n.cross(q.n), q.n.cross(r.n), r.n.cross(p.n)
	w := r.n.dot(pq)
	sum := func(k int) int128 { return mul64(p.d, qr[k]).add(mul64(q.d, rp[k])).add(mul64(r.d, pq[k])) }
	v := corner{x: sum(0), y: sum(1), z: sum(2), w: w}
	f := float64(w)
	v.at = geom.Vec{X: v.x.float() / f, Y: v.y.float() / f, Z: v.z.float() / f}
	return v
}

// same reports whether two corners are one place, exactly.
func (v *corner) same(u *corner) bool {
	return v.x.times(u.w) == u.x.times(v.w) && v.y.times(u.w) == u.y.times(v.w) && v.z.times(u.w) == u.z.times(v.w)
}

// place returns a corner in mm.
func (c *corners) place(n int32) geom.Vec { return c.list[n].at.Scale(1.0 / unit) }
