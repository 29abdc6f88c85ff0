package drawing

import (
	"math"
	"sort"

	"barwright/geom"
)

// Figures of dimensions along the bar, mm on the paper.
const (
	firstDim     = 10.0 // first dimension line from the outline (DIN 406-11)
	overrun      = 2.0  // extension lines run past the dimension line (ISO 129-1)
	originRadius = 1.5  // of the open circle at the origin of running dimensions (ISO 129-1)
	valuePitch   = 5.0  // least distance of two values written along their extension lines
	bend         = 4.0  // height of the bend to a value that had to move aside
)

// runningStop is one value of a running dimension: a place along the bar and the features there.
type runningStop struct {
	z, x, from float64 // from: where its extension line starts, y
	of         []string
}

// stops returns the places of a face's holes, merged where they coincide.
func (v *faceView) stops() []runningStop {
	var out []runningStop
	for i, h := range v.bar.Holes {
		if h.Side != v.side {
			continue
		}
		from := v.centre(h).Y - math.Max(h.Diameter, h.Bore)/2*v.scale - 3.5
		if n := len(out); n > 0 && math.Abs(out[n-1].z-h.Z) < geom.Coincident {
			out[n-1].of = append(out[n-1].of, holeID(i))
			out[n-1].from = math.Min(out[n-1].from, from)
			continue
		}
		out = append(out, runningStop{h.Z, v.along.at(h.Z), from, []string{holeID(i)}})
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].z < out[j].z })
	return out
}

// running draws the running dimensions of a face's holes from end 1 under the view (ISO 129-1): one line from the
// origin circle, an arrow at each extension line, the value at the end of the extension line, turned
// along it. It returns the lowest y that it takes.
func (v *faceView) running(u units) float64 {
	stops := v.stops()
	if len(stops) == 0 {
		return -v.half
	}
	y := -v.half - firstDim
	v.Line(Extension, geom.Vec2{X: 0, Y: -v.half - 1}, geom.Vec2{X: 0, Y: y - overrun - originRadius})
	v.Circle(Dimension, geom.Vec2{X: 0, Y: y}, originRadius)
	v.Write(Dimension, geom.Vec2{X: -originRadius - 1, Y: y - DimText/2}, DimText, Right, "0")
	v.Line(Dimension, geom.Vec2{X: originRadius, Y: y}, geom.Vec2{X: stops[len(stops)-1].x, Y: y})
	want := make([]float64, len(stops))
	last := originRadius
	for i, s := range stops {
		want[i] = s.x
		tip := geom.Vec2{X: s.x, Y: y}
		if s.x-last >= ArrowLength+1 {
			v.Arrow(Dimension, tip, geom.Vec2{X: 1})
		} else {
			v.Dot(Dimension, tip, 0.6)
		}
		last = s.x
	}
	places := spread(want, valuePitch, 3.5, v.along.width()-3.5)
	low := y
	text := y - overrun - bend - 1
	for i, s := range stops {
		x := places[i]
		pts := []geom.Vec2{{X: s.x, Y: math.Min(s.from, -v.half-1)}, {X: s.x, Y: y - overrun}}
		if math.Abs(x-s.x) > 1e-6 {
			pts = append(pts, geom.Vec2{X: x, Y: y - overrun - bend})
		} else {
			pts = append(pts, geom.Vec2{X: x, Y: y - overrun - bend})
		}
		v.Polyline(Extension, pts...)
		t := &Text{Role: Dimension, At: geom.Vec2{X: x + DimText/2, Y: text}, String: u.place(s.z), Height: DimText,
			Turn: math.Pi / 2, Align: Right, Shows: Position, Of: s.of, Value: s.z}
		v.Add(t)
		low = math.Min(low, text-TextWidth(t.String, DimText))
	}
	return low
}

// overall draws the length of the bar under everything else.
func (v *faceView) overall(u units, below float64) {
	y := math.Min(below-DimText-3.5, -v.half-firstDim)
	// The long points carry the length where an end is mitred.
	for end, x := range [2]float64{0, v.along.width()} {
		from := -v.half - 1
		if w := v.half / v.scale; math.Abs(math.Min(v.endAt(end, w, true), v.endAt(end, w, false))-x) > 1e-6 && end == 0 ||
			end == 1 && math.Abs(math.Max(v.endAt(end, w, true), v.endAt(end, w, false))-x) > 1e-6 {
			from = v.half - 1
		}
		v.Line(Extension, geom.Vec2{X: x, Y: from}, geom.Vec2{X: x, Y: y - overrun})
	}
	v.linear(geom.Vec2{X: 0, Y: y}, geom.Vec2{X: v.along.width(), Y: y}, u.place(v.bar.Length), Text{Shows: Position, Of: []string{lengthID}, Value: v.bar.Length})
}

// linear draws a dimension line from a to b with arrows and its value above the middle, readable from below or
// from the right (ISO 129-1). Where there is no room between the extension lines, arrows come from outside and the
// value stands beyond b, or beyond a where about is aligned right. about says what the value shows.
func (s *Sheet) linear(a, b geom.Vec2, value string, about Text) {
	d := b.Sub(a)
	length := d.Len()
	d = d.Scale(1 / length)
	n := geom.Vec2{X: -d.Y, Y: d.X} // above the text
	n = n.Scale(math.Max(1, 0.7-Measure(value, DimText).Low))
	about.Role, about.String, about.Height, about.Turn = Dimension, value, DimText, math.Atan2(d.Y, d.X)
	width := TextWidth(value, DimText)
	if length >= 2*ArrowLength+2 && width <= length-1 {
		s.Line(Dimension, a, b)
		s.Arrow(Dimension, a, d.Scale(-1))
		s.Arrow(Dimension, b, d)
		about.Align, about.At = Centre, a.Add(b).Scale(0.5).Add(n)
		s.Add(&about)
		return
	}
	tail := 2 * ArrowLength
	s.Arrow(Dimension, a, d)
	s.Arrow(Dimension, b, d.Scale(-1))
	if about.Align == Right {
		s.Line(Dimension, a.Sub(d.Scale(tail+width+1)), b.Add(d.Scale(tail)))
		about.At = a.Sub(d.Scale(tail)).Add(n)
	} else {
		s.Line(Dimension, a.Sub(d.Scale(tail)), b.Add(d.Scale(tail+width+1)))
		about.At = b.Add(d.Scale(tail)).Add(n)
	}
	s.Add(&about)
}
