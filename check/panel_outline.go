package check

import (
	"math"

	"barwright/frame"
	"barwright/geom"
)

// solid returns the sheet as it is cut, notches and all; where the cut is not known, its box.
func (s *sheet) solid() []prism {
	cut := s.panel.Sheet
	if cut == nil || len(cut.Outline) < 3 {
		return []prism{boxPrism(s.box)}
	}
	u, v := cut.Normal.Others()
	half := cut.Size.Scale(0.5)
	polygon := make([]geom.Vec2, 0, len(cut.Outline))
	for _, q := range cut.Outline {
		polygon = append(polygon, q.Sub(half))
	}
	p := prism{polygons: [][]geom.Vec2{polygon}, half: half, ends: [2]float64{0, s.panel.Thickness},
		place: geom.Motion{EX: u.Unit(), EY: v.Unit(), EZ: cut.Normal.Unit(), T: cut.At(half, 0)}}
	p.box = cut.Box
	return []prism{p}
}

// spans returns the stretches of a bar, in frame coordinates along it, in whose slot an edge of the sheet stands, without the corners that lie
// outside of the opening.
func (s *sheet) spans(b *frame.Member) [][2]float64 {
	low, high := s.open.Low.Along(b.Axis), s.open.High.Along(b.Axis)
	cut := s.panel.Sheet
	if cut == nil {
		return [][2]float64{{low, high}}
	}
	across := geom.Axis(3 - int(s.normal) - int(b.Axis))
	edge := cut.Box.Low.Along(across)
	if b.Box.Centre().Along(across) > cut.Box.Centre().Along(across) {
		edge = cut.Box.High.Along(across)
	}
	var out [][2]float64
	for i, q := range cut.Outline {
		a, c := cut.At(q, 0), cut.At(cut.Outline[(i+1)%len(cut.Outline)], 0)
		if math.Abs(a.Along(across)-edge) > geom.Coincident || math.Abs(c.Along(across)-edge) > geom.Coincident {
			continue
		}
		from := math.Max(low, math.Min(a.Along(b.Axis), c.Along(b.Axis)))
		to := math.Min(high, math.Max(a.Along(b.Axis), c.Along(b.Axis)))
		if to-from > geom.Coincident {
			out = append(out, [2]float64{from, to})
		}
	}
	return out
}
