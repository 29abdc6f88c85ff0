package mesh

import (
	"math"

	"github.com/fogleman/fauxgl"
)

// fauxgl leaves out a sample that lies on the border of two triangles where rounding puts it outside of both, and what lies behind shows
// as a speck. Most samples on a border were those on the diagonal of a tile: where fauxgl clips a triangle that covers
// the tile it cuts the square in two, from corner to corner, right through the samples. So triangles are clipped here, and each piece
// is drawn larger by swell, which is more than any rounding and less than anybody sees.

// swell is by how much a piece is drawn larger, from its middle.
const swell = 1 + 1e-6

// clipMargin is how far, in samples, pieces reach short of a tile's rim; the samples nearest to it lie half a sample inside.
const clipMargin = 0.25

// spot is a corner of a triangle: its place in samples from the tile's corner, its depth as the depth buffer counts, its colour.
type spot struct {
	x, y, z float64
	colour  fauxgl.Color
}

// between returns the spot at a fraction of the way to another.
func (a spot) between(b spot, f float64) spot {
	mix := func(p, q float64) float64 { return p + float64(f*(q-p)) }
	return spot{mix(a.x, b.x), mix(a.y, b.y), mix(a.z, b.z),
		fauxgl.Color{R: mix(a.colour.R, b.colour.R), G: mix(a.colour.G, b.colour.G), B: mix(a.colour.B, b.colour.B), A: mix(a.colour.A, b.colour.A)}}
}

// fauxgl walks along every row of samples of a triangle's box until it has left the triangle, and where the triangle slips between the samples
// of a row, to the end of the box. The many facets of a long bar that are seen nearly edge-on would cost more than all
// others, so triangles that fill little of their box are drawn band by band.
const (
	bandWide = 16   // samples
	bandFill = 0.25 // of the box, from which on bands don't pay
)

// clipper cuts triangles to a square of samples, in room that it keeps.
type clipper struct{ from, to []spot }

// clip returns what lies of a triangle within the square from low to high on both axes (Sutherland and Hodgman 1974). The
// result holds until the next call.
func (c *clipper) clip(t [3]spot, low, high float64) []spot {
	c.from = append(c.from[:0], t[:]...)
	c.between(low, high, false)
	c.between(low, high, true)
	return c.from
}

// between cuts off what lies outside of two places on x, or upright on y.
func (c *clipper) between(low, high float64, upright bool) {
	for side := range 2 {
		in := func(s *spot) float64 { // how far inside
			v := s.x
			if upright {
				v = s.y
			}
			if side == 0 {
				return v - low
			}
			return high - v
		}
		c.to = c.to[:0]
		for i := range c.from {
			a, b := &c.from[(i+len(c.from)-1)%len(c.from)], &c.from[i]
			da, db := in(a), in(b)
			if (da < 0) != (db < 0) {
				c.to = append(c.to, a.between(*b, da/(da-db)))
			}
			if db >= 0 {
				c.to = append(c.to, *b)
			}
		}
		c.from, c.to = c.to, c.from
	}
}

// triangle draws a triangle into the tile's context.
func (t *tile) triangle(corners [3]spot) {
	side := float64(t.context.Width)
	low, high := clipMargin, side-clipMargin
	a, b, c := &corners[0], &corners[1], &corners[2]
	if min(a.x, b.x, c.x, a.y, b.y, c.y) >= low && max(a.x, b.x, c.x, a.y, b.y, c.y) <= high {
		t.piece(a, b, c)
		return
	}
	list := t.clipper.clip(corners, low, high)
	for i := 2; i < len(list); i++ {
		t.piece(&list[0], &list[i-1], &list[i])
	}
}

// piece draws a triangle that lies within the tile, in bands where it is thin and aslant.
func (t *tile) piece(a, b, c *spot) {
	x0, x1, y0, y1 := min(a.x, b.x, c.x), max(a.x, b.x, c.x), min(a.y, b.y, c.y), max(a.y, b.y, c.y)
	area := math.Abs(float64((b.x-a.x)*(c.y-a.y))-float64((b.y-a.y)*(c.x-a.x))) / 2
	if min(x1-x0, y1-y0) < bandWide || area > bandFill*(x1-x0)*(y1-y0) {
		t.swollen(a, b, c)
		return
	}
	upright := y1-y0 > x1-x0
	if upright {
		x0, x1 = y0, y1
	}
	for low := bandWide * math.Floor(x0/bandWide); low < x1; low += bandWide {
		t.bands.from = append(t.bands.from[:0], *a, *b, *c)
		t.bands.between(low, low+bandWide, upright)
		list := t.bands.from
		for i := 2; i < len(list); i++ {
			t.swollen(&list[0], &list[i-1], &list[i])
		}
	}
}

// swollen draws a triangle that lies within the tile a little larger than it is.
func (t *tile) swollen(a, b, c *spot) {
	mx, my := (a.x+b.x+c.x)/3, (a.y+b.y+c.y)/3
	k := 2 / float64(t.context.Width)
	set := func(v *fauxgl.Vertex, s *spot) {
		x, y := mx+float64(swell*(s.x-mx)), my+float64(swell*(s.y-my))
		// fauxgl would clip what lies beyond its depths.
		z := math.Min(math.Max(2*s.z-1, -1), 1)
		v.Output = fauxgl.VectorW{X: float64(x*k) - 1, Y: 1 - float64(y*k), Z: z, W: 1}
		v.Color = s.colour
	}
	set(&t.out.V1, a)
	set(&t.out.V2, b)
	set(&t.out.V3, c)
	t.context.DrawTriangle(&t.out)
}
