package drawing

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"barwright/geom"
	"barwright/mesh/bracket"
)

// dimStep is the distance between parallel dimension lines, mm.
const dimStep = 8.0

// dimensions draws the lengths, places and angles that a view shows. It returns an error where one finds no place.
func (v *drawnView) dimensions(all []bracket.Measure) error {
	var lengths, angles []bracket.Measure
	var rows [][]bracket.Measure
	for _, m := range all {
		if m.Face.Dot(v.face) < 0.999 {
			continue
		}
		switch m.Kind {
		case bracket.Length:
			lengths = append(lengths, m)
		case bracket.Angle:
			angles = append(angles, m)
		case bracket.Place:
			k := slices.IndexFunc(rows, func(r []bracket.Measure) bool { return sameRow(r[0], m) })
			if k < 0 {
				rows = append(rows, []bracket.Measure{m})
			} else {
				rows[k] = append(rows[k], m)
			}
		}
	}
	slices.SortStableFunc(lengths, func(a, b bracket.Measure) int { return cmp.Compare(a.Value, b.Value) })
	var wanted []dimension
	for _, r := range rows {
		wanted = append(wanted, dimension{r[0].Name, v.runnings(r)})
	}
	for _, m := range lengths {
		wanted = append(wanted, dimension{m.Name, v.lengthWays(m)})
	}
	for _, m := range angles {
		wanted = append(wanted, dimension{m.Name, v.angleWays(m)})
	}
	tries := mostTries
	if deep := v.settle(wanted, &tries, 0); deep < len(wanted) {
		return v.crowded(wanted[deep].name)
	}
	return nil
}

// dimension is a dimension with the ways in which it may be drawn, the best first.
type dimension struct {
	name string
	ways []func() []Op
}

// mostTries bounds the search for places of a view's dimensions.
const mostTries = 3000

// settle draws dimensions one after the other, each in the first way that is clear, and takes back what leaves a later one no place. It
// returns how far it came: the number of dimensions where all is well.
func (v *drawnView) settle(wanted []dimension, tries *int, at int) (deepest int) {
	if at == len(wanted) {
		return at
	}
	deepest = at
	ops, texts, lines := len(v.Ops), len(v.scene.texts), len(v.scene.lines)
	for _, way := range wanted[at].ways {
		if *tries--; *tries < 0 {
			return deepest
		}
		drawn := way()
		if !v.clear(drawn) {
			continue
		}
		v.put(drawn...)
		d := v.settle(wanted, tries, at+1)
		if deepest = max(deepest, d); d == len(wanted) {
			return d
		}
		v.Ops, v.scene.texts, v.scene.lines = v.Ops[:ops], v.scene.texts[:texts], v.scene.lines[:lines]
	}
	return deepest
}

// crowded is the error of something that finds no place.
func (v *drawnView) crowded(what string) error {
	return fmt.Errorf("no room for %q in the view from %s at %s: %w", what, v.name, scaleName(v.scale), errNoRoom)
}

// sameRow reports whether two places count from one datum on one side of the view.
func sameRow(a, b bracket.Measure) bool {
	return a.Along.Dot(b.Along) > 0.999 && a.Out.Dot(b.Out) > 0.999 && math.Abs(a.From.Sub(b.From).Dot(a.Along)) < 1e-6
}

// rule is a direction of measuring on the paper with the side of the view on which its dimension lines lie.
type rule struct {
	along, out geom.Vec2
	edge       float64 // of the view along out
}

func (v *drawnView) rule(m bracket.Measure) rule {
	r := rule{along: v.flat(m.Along), out: v.flat(m.Out)}
	r.edge = math.Inf(-1)
	for _, l := range v.lines {
		for _, p := range l.Points {
			r.edge = max(r.edge, p.Dot(r.out)*v.scale)
		}
	}
	return r
}

// at returns a paper point by its coordinates along the rule and away from the view.
func (r rule) at(along, out float64) geom.Vec2 { return r.along.Scale(along).Add(r.out.Scale(out)) }

// turned returns the rule on the other side of the view.
func (v *drawnView) turned(m bracket.Measure) rule {
	m.Out = m.Out.Scale(-1)
	return v.rule(m)
}

// lengthWays returns the ways to draw a length: at growing distances from the view, its value on either side where it does not fit
// between the extension lines, and then on the other side of the view.
func (v *drawnView) lengthWays(m bracket.Measure) (ways []func() []Op) {
	for _, r := range []rule{v.rule(m), v.turned(m)} {
		for level := range 6 {
			for _, align := range []Align{Left, Right} {
				ways = append(ways, func() []Op { return v.length(m, r, r.edge+firstDim-1+dimStep*float64(level), align) })
			}
		}
	}
	return ways
}

// length draws a length with its dimension line at a place along out.
func (v *drawnView) length(m bracket.Measure, r rule, off float64, align Align) []Op {
	f, t := v.at(m.From), v.at(m.To)
	a, b := f.Dot(r.along), t.Dot(r.along)
	s := &Sheet{}
	s.Line(Extension, r.at(a, f.Dot(r.out)+outlineGap), r.at(a, off+overrun))
	s.Line(Extension, r.at(b, t.Dot(r.out)+outlineGap), r.at(b, off+overrun))
	p, q := r.at(a, off), r.at(b, off)
	if d := q.Sub(p); d.X < -1e-9 || math.Abs(d.X) < 1e-9 && d.Y < 0 {
		p, q = q, p
	}
	s.linear(p, q, inBrackets(v.print(m.Value), m.Reference), Text{Shows: Position, Of: []string{m.Name}, Value: m.Value, Align: align})
	return s.Ops
}

// print prints a length: small ones to a hundredth, as walls and ribs need it.
func (v *drawnView) print(mm float64) string {
	if mm < 10 {
		return v.units.size(mm)
	}
	return v.units.place(mm)
}

// clear reports whether operations may be added: texts stand off all else, lines off all texts, and dimension lines off one another.
func (v *drawnView) clear(ops []Op) bool {
	for _, op := range ops {
		switch op := op.(type) {
		case *Text:
			if !v.scene.fits(op) {
				return false
			}
		case *Stroke:
			for i := 1; i < len(op.Points); i++ {
				if !v.scene.clear(op.Points[i-1], op.Points[i]) || op.Role == Dimension && !op.Filled && v.crowds(op.Points[i-1], op.Points[i]) {
					return false
				}
			}
		case *Arc:
			for _, s := range segments(op, 0) {
				if !v.scene.clear(s.a, s.b, Dimension) {
					return false
				}
			}
		}
	}
	return true
}

// crowds reports whether a dimension line would run beside another one too closely, or on it, or cross the mark of a cut.
func (v *drawnView) crowds(a, b geom.Vec2) bool {
	d := b.Sub(a)
	d = d.Scale(1 / d.Len())
	for _, l := range v.scene.lines {
		if l.role == Leader && cross(a, b, l.a, l.b) {
			return true
		}
		long := l.b.Dist(l.a)
		if l.role != Dimension || l.arc || long < 1e-9 || math.Abs(d.Cross(l.b.Sub(l.a))) > 1e-6*long {
			continue
		}
		gap := math.Abs(d.Cross(l.a.Sub(a)))
		if gap < LeastDimGap && !apart(d, []geom.Vec2{a, b}, []geom.Vec2{l.a, l.b}) {
			return true
		}
	}
	return false
}

// stop is one value of a running dimension.
type stop struct {
	at, start float64 // along the rule, and where its extension line begins along out; paper mm
	value     float64
	of        []string
}

// stops returns the places of a row, each once, the datum first. An extension line begins at the feature that lies farthest out.
func (v *drawnView) stops(row []bracket.Measure, r rule) []stop {
	zero := v.at(row[0].From)
	out := []stop{{zero.Dot(r.along), zero.Dot(r.out) + outlineGap, 0, nil}}
	slices.SortStableFunc(row, func(a, b bracket.Measure) int { return cmp.Compare(a.Value, b.Value) })
	for _, m := range row {
		p := v.at(m.To)
		start := p.Dot(r.out) + max(outlineGap, v.beyondHole(m.To, r))
		last := &out[len(out)-1]
		if m.Value-last.value < 0.02 {
			last.start = max(last.start, start)
			last.of = append(last.of, m.Name)
			continue
		}
		out = append(out, stop{p.Dot(r.along), start, m.Value, []string{m.Name}})
	}
	return out
}

// beyondHole returns how far from the middle of a hole its centre line ends, 0 where no hole lies at a point.
func (v *drawnView) beyondHole(p geom.Vec, r rule) float64 {
	c := v.at(p)
	for _, l := range v.scene.lines {
		if l.role != CentreLine {
			continue
		}
		if math.Abs(l.a.Add(l.b).Scale(0.5).Dist(c)) < 0.02 && math.Abs(l.b.Sub(l.a).Dot(r.along)) < 1e-3 {
			return l.a.Dist(l.b)/2 + 0.5
		}
	}
	return 0
}

// runnings returns the ways to draw the places of a row as running dimensions from their datum (ISO 129-1), farther out and on the
// other side where something is in the way.
func (v *drawnView) runnings(row []bracket.Measure) (ways []func() []Op) {
	for _, r := range []rule{v.rule(row[0]), v.turned(row[0])} {
		stops := v.stops(row, r)
		for level := range 4 {
			ways = append(ways, func() []Op { return v.runningAt(stops, r, r.edge+firstDim+dimStep*float64(level)) })
		}
	}
	return ways
}

// runningAt draws a running dimension with its line at a place along out.
func (v *drawnView) runningAt(stops []stop, r rule, line float64) []Op {
	s := &Sheet{}
	want := make([]float64, len(stops))
	for i, st := range stops {
		want[i] = st.at
	}
	places := spread(want, valuePitch, math.Inf(-1), math.Inf(1))
	bent := 0.0
	for i := range want {
		if math.Abs(places[i]-want[i]) > 0.05 {
			bent = bentLength
		}
	}
	zero, last := stops[0].at, stops[0].at+originRadius
	s.Circle(Dimension, r.at(zero, line), originRadius)
	s.Line(Dimension, r.at(zero+originRadius, line), r.at(stops[len(stops)-1].at, line))
	for i, st := range stops {
		if i > 0 {
			if st.at-last >= ArrowLength+1 {
				s.Arrow(Dimension, r.at(st.at, line), r.along)
			} else {
				s.Dot(Dimension, r.at(st.at, line), 0.6)
			}
			last = st.at
		}
		end := r.at(st.at, line+overrun)
		pts := []geom.Vec2{r.at(st.at, st.start), end}
		if i == 0 { // the circle is open
			s.Line(Extension, r.at(zero, st.start), r.at(zero, line-originRadius))
			pts[0] = r.at(zero, line+originRadius)
		}
		if bent > 0 {
			end = r.at(places[i], line+overrun+bent)
			pts = append(pts, end)
		}
		s.Polyline(Extension, pts...)
		t := &Text{Role: Dimension, Height: DimText, String: v.units.place(st.value), Shows: Position, Value: st.value, Of: st.of}
		t.endAt(end.Add(r.out.Scale(valueGap)), r.out)
		s.Add(t)
	}
	return s.Ops
}

// endAt lets a text begin, or end, at a point and run away from it along a direction, so that it reads from below or from the right.
func (t *Text) endAt(p, away geom.Vec2) {
	t.Turn, t.Align = math.Atan2(away.Y, away.X), Left
	if t.Turn <= -math.Pi/2+1e-9 || t.Turn > math.Pi/2+1e-9 {
		t.Turn, t.Align = t.Turn+math.Pi, Right
		if t.Turn > math.Pi {
			t.Turn -= 2 * math.Pi
		}
	}
	if math.Abs(t.Turn) < 1e-9 {
		t.Turn = 0
	} else if math.Abs(t.Turn-math.Pi/2) < 1e-9 {
		t.Turn = math.Pi / 2
	}
	t.At = p.Sub(geom.Vec2{X: -math.Sin(t.Turn), Y: math.Cos(t.Turn)}.Scale(DimText / 2))
}

// angleWays returns the ways to draw an angle between two directions of the view: arcs beyond the part.
func (v *drawnView) angleWays(m bracket.Measure) (ways []func() []Op) {
	at, a, b := v.at(m.From), v.flat(m.Along), v.flat(m.Out)
	from := math.Atan2(a.Y, a.X)
	sweep := math.Mod(math.Atan2(b.Y, b.X)-from+4*math.Pi, 2*math.Pi)
	far := 0.0
	for _, d := range []geom.Vec2{a, b} {
		for _, l := range v.lines {
			for _, p := range l.Points {
				if q := p.Scale(v.scale).Sub(at); math.Abs(d.Cross(q)) < 0.02 {
					far = max(far, q.Dot(d))
				}
			}
		}
	}
	for radius := far + 6; radius < far+50; radius += 3 {
		ways = append(ways, func() []Op { return v.angle(m, far, radius, from, sweep) })
	}
	return ways
}

// angle draws an angle as an arc with a radius from a start through a sweep, its value outside the arc's middle. The part ends at far.
func (v *drawnView) angle(m bracket.Measure, far, radius, from, sweep float64) []Op {
	s := &Sheet{}
	at, legs := v.at(m.From), []geom.Vec2{v.flat(m.Along), v.flat(m.Out)}
	s.Arc(Dimension, at, radius, from, sweep)
	for i, d := range legs {
		s.Line(Extension, at.Add(d.Scale(far+outlineGap)), at.Add(d.Scale(radius+overrun)))
		way := geom.Vec2{X: -d.Y, Y: d.X}
		lean := ArrowLength / (2 * radius) // the arrow lies along the chord of its length
		if i == 0 {
			way, lean = way.Scale(-1), -lean
		}
		c, sn := math.Cos(lean), math.Sin(lean)
		s.Arrow(Dimension, at.Add(d.Scale(radius)), geom.Vec2{X: way.X*c + way.Y*sn, Y: way.Y*c - way.X*sn})
	}
	mid := geom.Vec2{X: math.Cos(from + sweep/2), Y: math.Sin(from + sweep/2)}
	t := &Text{Role: Dimension, String: fmt.Sprintf("%s°", trimmed(m.Value*180/math.Pi, 1)), Height: DimText, Align: Centre, Shows: Spec, Of: []string{m.Name}, Value: m.Value}
	t.At = at.Add(mid.Scale(radius + 1.5 + DimText)).Sub(geom.Vec2{Y: DimText / 2})
	s.Add(t)
	return s.Ops
}
