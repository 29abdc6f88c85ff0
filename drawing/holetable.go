package drawing

import (
	"math"
	"strings"

	"barwright/frame"
	"barwright/geom"
)

// holeRow is one row of the hole table.
type holeRow struct {
	id, label, face, x, y, spec string
	hole                        frame.Hole
	across                      float64
}

// holeRows returns the table's rows, sorted by face and place as the bar's holes are. Y runs from the lower
// edge of the view; it stands in brackets where the hole lies on a slot's centre line.
func holeRows(b *frame.Bar, u units) []holeRow {
	labels := holeLabels(b)
	out := make([]holeRow, len(b.Holes))
	for i, h := range b.Holes {
		y := b.Profile.Along(h.Side)/2 - h.Offset
		out[i] = holeRow{
			id: holeID(i), label: labels[i], face: labels[i][:1], x: u.place(h.Z), hole: h, across: y,
			y:    inBrackets(u.place(y), onSlot(b.Profile, h.Side, h.Offset)),
			spec: strings.Join(kindOf(h).lines(u), ", "),
		}
	}
	return out
}

// Figures of the hole table, mm.
const (
	tableRow  = 6.0
	tablePad  = 2.0
	tableHead = 7.0
)

// drawHoleTable draws rows of the hole table with its upper left corner at the origin.
func drawHoleTable(rows []holeRow) *Sheet {
	s := &Sheet{}
	heads := []string{"Hole", "Face", "X", "Y", "Machining"}
	widths := make([]float64, len(heads))
	cells := make([][]string, len(rows))
	for i, h := range heads {
		widths[i] = TextWidth(h, DimText)
	}
	for r, row := range rows {
		cells[r] = []string{row.label, row.face, row.x, row.y, row.spec}
		for i, c := range cells[r] {
			widths[i] = max(widths[i], TextWidth(c, DimText))
		}
	}
	total := 0.0
	for i := range widths {
		widths[i] += 2 * tablePad
		total += widths[i]
	}
	bottom := -tableHead - tableRow*float64(len(rows))
	s.Rect(TableFrame, geom.Vec2{Y: bottom}, geom.Vec2{X: total})
	s.Line(TableFrame, geom.Vec2{Y: -tableHead}, geom.Vec2{X: total, Y: -tableHead})
	x := 0.0
	for i, h := range heads {
		if i > 0 {
			s.Line(Table, geom.Vec2{X: x}, geom.Vec2{X: x, Y: bottom})
		}
		s.Write(Table, geom.Vec2{X: x + tablePad, Y: -tableHead + 1.8}, DimText, Left, h)
		x += widths[i]
	}
	for r, row := range rows {
		y := -tableHead - tableRow*float64(r+1)
		if r > 0 {
			s.Line(Table, geom.Vec2{Y: y + tableRow}, geom.Vec2{X: total, Y: y + tableRow})
		}
		x := 0.0
		for i, c := range cells[r] {
			t := &Text{Role: Table, At: geom.Vec2{X: x + tablePad, Y: y + 1.3}, String: c, Height: DimText}
			switch i {
			case 2:
				t.Role, t.Shows, t.Of, t.Value = Dimension, Position, []string{row.id}, row.hole.Z
			case 3:
				t.Role, t.Shows, t.Of, t.Value = Dimension, Across, []string{row.id}, row.across
			case 4:
				t.Role, t.Shows, t.Of = Callout, Spec, []string{row.id}
			}
			if i == 2 || i == 3 {
				t.Align, t.At.X = Right, x+widths[i]-tablePad
			}
			s.Add(t)
			x += widths[i]
		}
	}
	return s
}

// holeMark is the label over the holes of a face in one place along the bar: over one another they stand as the holes do.
type holeMark struct {
	x, top float64
	labels []string
}

// holeMarks returns the marks of a face along the bar.
func (v *faceView) holeMarks() []holeMark {
	var out []holeMark
	for i, h := range v.bar.Holes {
		if h.Side != v.side {
			continue
		}
		c := v.centre(h)
		top := c.Y + max(h.Diameter, h.Bore)/2*v.scale
		if k := len(out) - 1; k >= 0 && math.Abs(out[k].x-c.X) < 0.05 {
			// Holes are sorted by place, then from the top of the view down.
			out[k].labels, out[k].top = append(out[k].labels, v.labels[i]), max(out[k].top, top)
			continue
		}
		out = append(out, holeMark{c.X, top, []string{v.labels[i]}})
	}
	return out
}

// labelHoles writes the labels of a face's holes over the view, each on a line from its hole.
func (v *faceView) labelHoles() {
	marks := v.holeMarks()
	if len(marks) == 0 {
		return
	}
	width := 0.0
	for _, m := range marks {
		for _, l := range m.labels {
			width = max(width, TextWidth(l, DimText))
		}
	}
	// Crowded labels stand upright; where even that is too much only every so many are named, since they count along the bar.
	pitch, upright := width+2, false
	if pitch*float64(len(marks)) > v.along.width() {
		pitch, upright = valuePitch, true
	}
	step := 1
	for pitch*math.Ceil(float64(len(marks))/float64(step)) > v.along.width()+pitch {
		step++
	}
	named := marks[:0]
	for i := 0; i < len(marks); i += step {
		named = append(named, marks[i])
	}
	want := make([]float64, len(named))
	for i, m := range named {
		want[i] = m.x
	}
	for i, x := range spread(want, pitch, 0, v.along.width()) {
		v.labelAt(named[i], x, upright)
	}
}

// labelAt writes the labels of a mark over a place x, on a line from the uppermost hole.
func (v *faceView) labelAt(m holeMark, x float64, upright bool) {
	y := v.half + 5
	v.Polyline(Leader, geom.Vec2{X: m.x, Y: m.top}, geom.Vec2{X: m.x, Y: v.half + 2}, geom.Vec2{X: x, Y: y}, geom.Vec2{X: x, Y: y + 2})
	if upright {
		v.Add(&Text{Role: Label, At: geom.Vec2{X: x + DimText/2, Y: y + 3}, String: strings.Join(m.labels, ", "), Height: DimText, Turn: math.Pi / 2})
		return
	}
	for k, l := range m.labels {
		up := float64(len(m.labels)-1-k) * DimText * LineSpace
		v.Add(&Text{Role: Label, At: geom.Vec2{X: x, Y: y + 2 + overShelf + up}, String: l, Height: DimText, Align: Centre})
	}
}

// axes draws the origin of the table's X and Y at the lower corner of the datum end.
func (v *faceView) axes() {
	o := geom.Vec2{X: 0, Y: -v.half}
	v.Circle(Dimension, o, originRadius)
	const reach = 13.0
	x, y := o.Add(geom.Vec2{X: reach}).Sub(geom.Vec2{Y: 5}), o.Add(geom.Vec2{X: -5, Y: reach})
	v.Polyline(Extension, o.Sub(geom.Vec2{Y: originRadius}), o.Sub(geom.Vec2{Y: 5}))
	v.Line(Extension, o.Sub(geom.Vec2{Y: 5}), x)
	v.Arrow(Extension, x, geom.Vec2{X: 1})
	v.Write(Label, x.Add(geom.Vec2{X: 1.5, Y: -DimText / 2}), DimText, Left, "X")
	v.Polyline(Extension, o.Sub(geom.Vec2{X: originRadius}), o.Sub(geom.Vec2{X: 5}))
	v.Line(Extension, o.Sub(geom.Vec2{X: 5}), y)
	v.Arrow(Extension, y, geom.Vec2{Y: 1})
	v.Write(Label, y.Add(geom.Vec2{Y: 1}), DimText, Centre, "Y")
}
