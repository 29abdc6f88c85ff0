package geom

import "math"

// mod brings a side number back to the four sides.
func (s Side) mod() Side { return s % 4 }

// holds reports whether a point lies in the material, by the winding of finely split loops.
func (r Region) holds(p Vec2) bool {
	var turn float64
	for _, poly := range r.Polygons(1e-4) {
		for i, a := range poly {
			u, v := a.Sub(p), poly[(i+1)%len(poly)].Sub(p)
			turn += math.Atan2(u.Cross(v), u.Dot(v))
		}
	}
	return turn > math.Pi
}
