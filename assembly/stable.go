package assembly

import (
	"cmp"
	"math"
	"slices"

	"barwright/frame"
	"barwright/geom"
)

// standsOn is how far in mm a point may lie over the lowest one and still carry: the frame rests on it.
const standsOn = 1.0

// steady is how far in mm inside of what carries it the middle of mass must lie (common practice, no source).
const steady = 5.0

// stable reports whether bars stand on a flat table with down pointing along a direction: their middle of mass lies over the
// outline of what they stand on. Upright, the feet, pads or casters under them carry.
func (m *model) stable(s set, down geom.Vec) bool { return m.steadyOn(s, down, steady) }

// steadyOn is stable with how far in mm inside of what carries it the middle of mass must lie.
func (m *model) steadyOn(s set, down geom.Vec, in float64) bool {
	middle := m.middle(s)
	mass, low := 0.0, math.Inf(-1)
	s.each(func(i int) bool {
		mass += m.mass[i]
		_, high := m.bodies[i].span(down)
		low = max(low, high)
		return true
	})
	if mass == 0 {
		return true
	}
	u, v := across(down)
	var feet []geom.Vec2
	flat := func(p geom.Vec) geom.Vec2 { return geom.Vec2{X: u.Dot(p), Y: v.Dot(p)} }
	if down.Z < -0.9 {
		all := true
		for _, f := range m.standing() {
			if s.has(m.index[f.under]) {
				feet = append(feet, flat(f.at))
			} else {
				all = false
			}
		}
		if !all {
			feet = nil
		}
	}
	if len(feet) < 3 {
		feet = feet[:0]
		s.each(func(i int) bool {
			for _, p := range m.bodies[i].points {
				if down.Dot(p) > low-standsOn {
					feet = append(feet, flat(p))
				}
			}
			return true
		})
	}
	return insideHull(feet, flat(middle), in)
}

// foot is a place on which the frame stands.
type foot struct {
	under *frame.Member
	at    geom.Vec
}

// standing lists the feet, and the printed pads and casters.
func (m *model) standing() []foot {
	var out []foot
	for _, f := range m.f.Feet {
		out = append(out, foot{f.Under, f.At})
	}
	for _, b := range m.f.Brackets {
		if b.Stands() {
			for _, bar := range b.On {
				out = append(out, foot{bar, bar.EndPoint(bar.LowEnd())})
			}
		}
	}
	return out
}

// across returns two unit vectors square to a direction.
func across(d geom.Vec) (u, v geom.Vec) {
	u = geom.Vec{X: 1}
	if math.Abs(d.X) > 0.9 {
		u = geom.Vec{Y: 1}
	}
	u = u.Sub(d.Scale(u.Dot(d))).Unit()
	return u, d.Cross(u)
}

// insideHull reports whether a point lies at least some mm inside the hull of points (Andrew's monotone chain, 1979).
func insideHull(pts []geom.Vec2, p geom.Vec2, in float64) bool {
	slices.SortFunc(pts, func(a, b geom.Vec2) int { return cmp.Or(cmp.Compare(a.X, b.X), cmp.Compare(a.Y, b.Y)) })
	pts = slices.Compact(pts)
	if len(pts) < 3 {
		return false
	}
	var hull []geom.Vec2
	for pass := range 2 {
		start := len(hull)
		for k := range pts {
			q := pts[k]
			if pass == 1 {
				q = pts[len(pts)-1-k]
			}
			for len(hull) >= start+2 && hull[len(hull)-1].Sub(hull[len(hull)-2]).Cross(q.Sub(hull[len(hull)-1])) <= 0 {
				hull = hull[:len(hull)-1]
			}
			hull = append(hull, q)
		}
		hull = hull[:len(hull)-1]
	}
	if len(hull) < 3 {
		return false
	}
	for i, a := range hull {
		d := hull[(i+1)%len(hull)].Sub(a)
		if d.Cross(p.Sub(a)) < in*d.Len() {
			return false
		}
	}
	return true
}
