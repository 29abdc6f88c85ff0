package mesh

import (
	"math"

	"barwright/geom"
)

// sectionLight tells how much of the sky a place on a bar's outline sees. A bar is long, so that the question is one of its section alone:
// the part of the half circle over the place that no other wall hides, each direction weighted by its cosine (for a
// prism without end this is the exact diffuse view factor, after Hottel's crossed strings, 1954). It makes slots dark
// inside however small the picture is.
type sectionLight struct {
	walls [][2]geom.Vec2
	known map[[4]float32]float64
}

// sectionRays is how many directions are tried, sectionReach how far in mm a wall may hide light.
const (
	sectionRays  = 16
	sectionReach = 60
	// deepest is the light left in a closed chamber.
	deepest = 0.22
)

// newSectionLight prepares a profile's outline.
func newSectionLight(p *geom.Profile) *sectionLight {
	l := &sectionLight{known: make(map[[4]float32]float64)}
	for _, loop := range p.Region().Polygons(0.2) {
		for i, a := range loop {
			l.walls = append(l.walls, [2]geom.Vec2{a, loop[(i+1)%len(loop)]})
		}
	}
	return l
}

// at returns the share of light, deepest to 1, at a point of the section with an outward normal.
func (l *sectionLight) at(x, y, nx, ny float32) float64 {
	key := [4]float32{x, y, nx, ny}
	if v, ok := l.known[key]; ok {
		return v
	}
	n := geom.Vec2{X: float64(nx), Y: float64(ny)}
	v := 1.0
	if size := n.Len(); size > 0.1 {
		v = l.open(geom.Vec2{X: float64(x), Y: float64(y)}, n.Scale(1/size))
		// Facing along the bar, a surface sees past the section.
		v = v*size + 1 - size
	}
	l.known[key] = v
	return v
}

// open casts the rays.
func (l *sectionLight) open(p, n geom.Vec2) float64 {
	p = p.Add(n.Scale(0.05))
	side := n.Quarter(1)
	sum := 0.0
	for i := range sectionRays {
		// Equal steps of the sine weight directions by the cosine.
		sin := 2*(float64(i)+0.5)/sectionRays - 1
		d := n.Scale(math.Sqrt(1 - sin*sin)).Add(side.Scale(sin))
		nearest := float64(sectionReach)
		for _, w := range l.walls {
			if t, ok := hit(p, d, w); ok && t < nearest {
				nearest = t
			}
		}
		sum += nearest / sectionReach
	}
	return deepest + (1-deepest)*sum/sectionRays
}

// hit returns how far along the ray from p toward d a wall lies.
func hit(p, d geom.Vec2, w [2]geom.Vec2) (float64, bool) {
	e, q := w[1].Sub(w[0]), w[0].Sub(p)
	det := d.Cross(e)
	if det == 0 {
		return 0, false
	}
	t, u := q.Cross(e)/det, q.Cross(d)/det
	return t, t > 0 && u >= 0 && u <= 1
}
