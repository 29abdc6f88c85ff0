package geom

import "math"

// sizeField says how long edges may be at a place: short at the corners that the material turns round, where the
// stresses of torsion and shear have no bound, and growing with the distance from them.
type sizeField struct {
	corners []sizedCorner
	most    float64
}

type sizedCorner struct {
	at   Vec2
	size float64
}

const (
	// sizeGrowth is how much an edge may grow per length away from a corner.
	sizeGrowth = 0.7
	// cornerShare is the size at a right-angled inner corner over the mean thickness of the walls, for a tolerance of
	// 0.1 %. Blunter corners take larger ones, as their stresses grow more slowly. The error that such a corner leaves
	// goes with the power 4/3 of the size.
	cornerShare = 0.045
	// bluntCorner is the turn under which an inner corner is not worth a size of its own: 10°.
	bluntCorner = math.Pi / 18
)

// newSizeField returns the field of a region of an area and a span for a relative tolerance of J.
func newSizeField(r Region, area, span, tolerance float64) *sizeField {
	f := &sizeField{most: span / 8}
	var around float64
	for _, l := range r {
		for _, e := range l {
			around += e.Length()
		}
	}
	size := 2 * area / around * cornerShare * math.Pow(tolerance/TorsionTolerance, 0.75)
	for _, l := range r {
		for i, e := range l {
			next := l[(i+1)%len(l)]
			a, b := e.heading(1), next.heading(0)
			turn := -math.Atan2(a.Cross(b), a.Dot(b)) // to the right: round the corner
			if turn > bluntCorner {
				f.corners = append(f.corners, sizedCorner{e.To, size * math.Pow(math.Pi/2/turn, 2)})
			}
		}
	}
	return f
}

// heading returns the direction of an edge at its beginning (0) or end (1).
func (e *Edge) heading(end int) Vec2 {
	if e.Turn == 0 {
		return e.To.Sub(e.From)
	}
	p := e.From
	if end == 1 {
		p = e.To
	}
	return p.Sub(e.Centre).Quarter(e.Turn)
}

// at returns the longest edge wanted at a place.
func (f *sizeField) at(p Vec2) float64 {
	h := f.most
	for i := range f.corners {
		c := &f.corners[i]
		if c.size < h {
			if d := c.size + float64(sizeGrowth*p.Dist(c.at)); d < h {
				h = d
			}
		}
	}
	return h
}
