package drawing

import (
	"cmp"
	"math"
	"slices"

	"barwright/geom"
)

// Sizes of dimensions in mm besides those of part sheets.
const (
	outlineGap = 1.0 // extension lines begin off the outline
	valueGap   = 1.0 // between an extension line and the value at its end
	bentLength = 4.0 // of an extension line that makes room for its value
)

// ruler draws dimensions along one side of a view: a turned frame of its own, in which positions run along +x and the
// dimension lines lie above the view, at growing y.
type ruler struct {
	s     *Sheet
	along geom.Vec2 // unit, the way in which positions grow
	out   geom.Vec2 // unit, away from the view
	zero  geom.Vec2 // paper point of position 0 on the outline
	scale float64
	units units
}

// at returns the paper point at a true position in mm and a distance from the outline in paper mm.
func (r ruler) at(position, out float64) geom.Vec2 {
	return r.zero.Add(r.along.Scale(position * r.scale)).Add(r.out.Scale(out))
}

// dimension draws one dimension with a text from a to b (true mm), its line at a distance from the outline.
func (r ruler) dimension(a, b, off float64, text string, of ...string) {
	s := r.s
	s.Line(Extension, r.at(a, outlineGap), r.at(a, off+overrun))
	s.Line(Extension, r.at(b, outlineGap), r.at(b, off+overrun))
	p, q := r.at(a, off), r.at(b, off)
	if r.along.X < 0 || r.along.Y < 0 { // a value reads from below or from the right
		p, q = q, p
	}
	s.linear(p, q, text, Text{Shows: Position, Of: of, Value: b - a})
}

// steps draws the dimension of a row, its text off the extension lines that come from further out at some positions. It reports
// whether there is a place for the text.
func (r ruler) steps(row pitched, off float64, ends []float64, text string) bool {
	half := TextWidth(text, DimText)/2 + 1
	long := (row.to - row.from) * r.scale
	for _, t := range []float64{0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8} {
		mid := row.from*r.scale + long*t
		if long*t < half || long*(1-t) < half || long < 2*ArrowLength+2 {
			continue
		}
		if slices.ContainsFunc(ends, func(e float64) bool { return math.Abs(e*r.scale-mid) < half }) {
			continue
		}
		s := r.s
		p, q := r.at(row.from, off), r.at(row.to, off)
		s.Line(Extension, r.at(row.from, outlineGap), r.at(row.from, off+overrun))
		s.Line(Extension, r.at(row.to, outlineGap), r.at(row.to, off+overrun))
		s.Line(Dimension, p, q)
		s.Arrow(Dimension, p, r.along.Scale(-1))
		s.Arrow(Dimension, q, r.along)
		// The brackets reach under the base line.
		lift := max(valueGap, 0.7-Measure(text, DimText).Low)
		x := &Text{Role: Dimension, String: text, Height: DimText, Align: Centre, Of: []string{row.of}, Value: row.to - row.from,
			At: r.zero.Add(r.along.Scale(mid)).Add(r.out.Scale(off)).Add(geom.Vec2{Y: lift})}
		if math.Abs(r.along.Y) > 0.5 {
			x.Turn = math.Pi / 2
			x.At = x.At.Sub(geom.Vec2{X: lift, Y: lift})
		}
		s.Add(x)
		return true
	}
	return false
}

// station is a position along a ruler with what it belongs to.
type station struct {
	position float64
	of       []string
}

// running draws running dimensions from position 0 (ISO 129-1: superimposed running dimensioning): one line with
// an arrow at each position, the values at the ends of the extension lines and turned along them. Where values
// would stand too close their extension lines bend apart. It returns how far from the outline the drawing reaches.
func (r ruler) running(stations []station) float64 {
	if len(stations) == 0 {
		return 0
	}
	s, all := r.s, append([]station{{}}, stations...)
	places, bend := r.places(all)
	end := firstDim + overrun + bend
	s.Circle(Dimension, r.at(0, firstDim), originRadius)
	s.Line(Dimension, r.at(originRadius/r.scale, firstDim), r.at(all[len(all)-1].position, firstDim))
	reach, last := 0.0, originRadius
	for i, st := range all {
		if at := st.position * r.scale; i > 0 && at-last >= ArrowLength+1 {
			s.Arrow(Dimension, r.at(st.position, firstDim), r.along)
			last = at
		} else if i > 0 {
			s.Dot(Dimension, r.at(st.position, firstDim), 0.6)
			last = at
		}
		line := []geom.Vec2{r.at(st.position, outlineGap), r.at(st.position, firstDim+overrun)}
		if bend > 0 {
			line = append(line, r.zero.Add(r.along.Scale(places[i])).Add(r.out.Scale(end)))
		}
		s.Polyline(Extension, line...)
		reach = max(reach, r.label(st, line[len(line)-1]))
	}
	return end + valueGap + reach
}

// places returns where along the ruler (paper mm) the values stand, and how long the bent ends of the
// extension lines are: 0 where every value stands at its position.
func (r ruler) places(all []station) (places []float64, bend float64) {
	want := make([]float64, len(all))
	for i, st := range all {
		want[i] = st.position * r.scale
	}
	places = spread(want, valuePitch, math.Inf(-1), math.Inf(1))
	for i := range want {
		if math.Abs(places[i]-want[i]) > 0.05 {
			bend = bentLength
		}
	}
	return places, bend
}

// depth returns how far from the outline running dimensions reach.
func (r ruler) depth(stations []station) float64 {
	if len(stations) == 0 {
		return 0
	}
	_, bend := r.places(append([]station{{}}, stations...))
	reach := 0.0
	for _, st := range stations {
		reach = max(reach, TextWidth(r.units.place(st.position), DimText))
	}
	return firstDim + overrun + bend + valueGap + reach
}

// label writes the value of a station from the end of its extension line outward.
func (r ruler) label(st station, end geom.Vec2) float64 {
	text := r.units.place(st.position)
	t := &Text{Role: Dimension, Height: DimText, String: text, Shows: Position, Value: st.position, Of: st.of}
	end = end.Add(r.out.Scale(valueGap))
	if math.Abs(r.out.Y) > 0.5 { // values stand upright and read from the right
		t.Turn = math.Pi / 2
		t.At = end.Add(geom.Vec2{X: DimText / 2})
		t.Align = Left
		if r.out.Y < 0 {
			t.Align = Right
		}
	} else { // values lie and read from below
		t.At = end.Sub(geom.Vec2{Y: DimText / 2})
		t.Align = Left
		if r.out.X < 0 {
			t.Align = Right
		}
	}
	r.s.Add(t)
	return TextWidth(text, DimText)
}

// joinStations sorts stations and joins those in one place.
func joinStations(in []station) []station {
	slices.SortStableFunc(in, func(a, b station) int { return cmp.Compare(a.position, b.position) })
	var out []station
	for _, s := range in {
		if k := len(out) - 1; k >= 0 && s.position-out[k].position < 0.05 {
			out[k].of = append(out[k].of, s.of...)
			continue
		}
		out = append(out, s)
	}
	return out
}

// mainStations returns at most some stations, those that most members share, by position.
func mainStations(in []station, most int) []station {
	if len(in) <= most {
		return in
	}
	out := slices.Clone(in)
	slices.SortStableFunc(out, func(a, b station) int { return cmp.Compare(len(b.of), len(a.of)) })
	return joinStations(out[:most])
}
