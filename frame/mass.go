package frame

import (
	"math"
	"sort"

	"barwright/geom"
	"barwright/standard"
)

// massTolerance is the chord tolerance at which holes are measured for the mass, mm.
const massTolerance = 0.02

// Mass returns the mass of the machined bar in kg: the section swept over its length less the
// holes. Where two holes cross, the piece common to both counts once too often,
// which is under a gram for every hole of this trade.
func (b *Bar) Mass() float64 {
	alloy, ok := standard.Alloy(b.Profile.Alloy)
	if !ok {
		alloy, _ = standard.Alloy(geom.DefaultAlloy)
	}
	region := b.Profile.Region()
	// A mitre takes off the middle of the section what the long point adds.
	length := b.Plane(1) - b.Plane(0)
	volume := region.Area() * length
	polygons := region.Polygons(massTolerance)
	for _, h := range b.Holes {
		volume -= holeVolume(b.Profile, polygons, h)
	}
	for _, t := range b.Taps {
		volume -= math.Pi / 4 * (t.Drill*t.Drill - b.Profile.Core*b.Profile.Core) * t.DrillDepth
	}
	return volume * alloy.Density
}

// holeVolume returns the volume of metal in mm³ that a cross hole removes: strips across the hole, each as
// long as the section is thick along its line.
func holeVolume(p *geom.Profile, polygons [][]geom.Vec2, h Hole) float64 {
	cut := func(diameter, from, to float64) float64 {
		const strips = 64
		r, sum := diameter/2, 0.0
		for i := range strips {
			// Midpoints in the angle, so that the chord's ends are sampled finely.
			a := math.Pi * (float64(i) + 0.5) / strips
			t, chord := r*math.Cos(a), 2*r*math.Sin(a)
			sum += thickness(p, polygons, h.Side, h.Offset+t, from, to) * chord * r * math.Sin(a) * math.Pi / strips
		}
		return sum
	}
	depth := h.Depth
	if depth == 0 {
		depth = p.Across(h.Side)
	}
	v := 0.0
	if h.Bore > 0 {
		v += cut(h.Bore, 0, h.BoreDepth)
	}
	if depth > h.BoreDepth {
		v += cut(h.Diameter, h.BoreDepth, depth)
	}
	return v
}

// thickness returns how much metal lies between two depths on a line square to a side at an offset.
func thickness(p *geom.Profile, polygons [][]geom.Vec2, s geom.Side, offset, from, to float64) float64 {
	n, t := s.Normal(), s.Toward()
	face := p.Across(s) / 2
	var depths []float64
	for _, poly := range polygons {
		for i, a := range poly {
			b := poly[(i+1)%len(poly)]
			ua, ub := a.Dot(t)-offset, b.Dot(t)-offset
			if (ua < 0) == (ub < 0) {
				continue
			}
			w := ua / (ua - ub)
			depths = append(depths, face-(a.Dot(n)*(1-w)+b.Dot(n)*w))
		}
	}
	sort.Float64s(depths)
	sum := 0.0
	for i := 0; i+1 < len(depths); i += 2 {
		sum += math.Max(0, math.Min(depths[i+1], to)-math.Max(depths[i], from))
	}
	return sum
}
