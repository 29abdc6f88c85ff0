package drawing

import (
	"math"

	"barwright/geom"
)

// Size is the trimmed size of a sheet in mm with the name of its format.
type Size struct {
	Name          string // "A3"
	Width, Height float64
}

// Sheet is a drawing as a recorded list of operations. Coordinates are millimetres on the
// paper, the origin at the lower left corner of the trimmed sheet, y up. It knows nothing of
// PDF or SVG, so that a test can read what was drawn.
type Sheet struct {
	Name  string // stem of its file: "part-A1"
	Title string // bookmark and title: "A1 – 30x30-8, 840"
	Size  Size
	Ops   []Op
}

// Book is several sheets in their order, written as one PDF.
type Book struct {
	Title, Author, Subject string
	Sheets                 []*Sheet
}

// Op is one thing drawn: a [Stroke], an [Arc] or a [Text].
type Op interface {
	// Bounds returns the lower left and upper right corner of what is drawn, without the width of lines.
	Bounds() (low, high geom.Vec2)
}

// Stroke is a polyline, or a polygon where it is closed. A filled one has no line round it.
type Stroke struct {
	Role           Role
	Points         []geom.Vec2
	Closed, Filled bool
}

// Arc is a circular arc from the angle Start (radians, 0 along +x) through Sweep
// counter-clockwise; a sweep of 2π is a circle. A filled one is a disc and has no line round it.
type Arc struct {
	Role         Role
	Centre       geom.Vec2
	Radius       float64
	Start, Sweep float64
	Filled       bool
}

// Align says which end of a text its place marks.
type Align uint8

// The alignments of a text.
const (
	Left Align = iota
	Centre
	Right
)

// Text is one line of lettering. At lies on the base line.
type Text struct {
	Role   Role
	At     geom.Vec2
	String string
	Height float64 // of capitals, mm (ISO 3098)
	Turn   float64 // radians counter-clockwise; π/2 reads from the right
	Align  Align
	// Shows, Of and Value are for readers of the record and are not drawn: what the text says,
	// of which features, and the length in mm where it is a dimension.
	Shows Shown
	Of    []string
	Value float64
}

// Shown is what a text says of features.
type Shown uint8

// What texts show.
const (
	Nothing  Shown = iota
	Position       // where a feature lies, or the length of the bar
	Across         // where a feature lies across its face
	Spec           // what a feature is: its callout
)

// Bounds returns the box round the points.
func (s *Stroke) Bounds() (low, high geom.Vec2) { return boundsOf(s.Points) }

// Bounds returns the box round the arc.
func (a *Arc) Bounds() (low, high geom.Vec2) {
	pts := []geom.Vec2{a.point(a.Start), a.point(a.Start + a.Sweep)}
	for k := math.Ceil(a.Start / (math.Pi / 2)); k*math.Pi/2 <= a.Start+a.Sweep; k++ {
		pts = append(pts, a.point(k*math.Pi/2))
	}
	return boundsOf(pts)
}

func (a *Arc) point(angle float64) geom.Vec2 {
	return a.Centre.Add(geom.Vec2{X: a.Radius * math.Cos(angle), Y: a.Radius * math.Sin(angle)})
}

// Bounds returns the box round the ink of the text.
func (t *Text) Bounds() (low, high geom.Vec2) {
	c := t.Corners()
	return boundsOf(c[:])
}

// Corners returns the corners of the box round the ink, in the order lower left, lower right, upper
// right, upper left as the text is read.
func (t *Text) Corners() [4]geom.Vec2 {
	ink := Measure(t.String, t.Height)
	shift := t.shift(ink.Width)
	u, v := geom.Vec2{X: math.Cos(t.Turn), Y: math.Sin(t.Turn)}, geom.Vec2{X: -math.Sin(t.Turn), Y: math.Cos(t.Turn)}
	if t.Turn == math.Pi/2 {
		u, v = geom.Vec2{Y: 1}, geom.Vec2{X: -1}
	}
	at := func(x, y float64) geom.Vec2 { return t.At.Add(u.Scale(x + shift)).Add(v.Scale(y)) }
	return [4]geom.Vec2{at(ink.Left, ink.Low), at(ink.Right, ink.Low), at(ink.Right, ink.High), at(ink.Left, ink.High)}
}

// shift returns how far before At the text of a width begins.
func (t *Text) shift(width float64) float64 {
	switch t.Align {
	case Centre:
		return -width / 2
	case Right:
		return -width
	}
	return 0
}

func boundsOf(pts []geom.Vec2) (low, high geom.Vec2) {
	low, high = geom.Vec2{X: math.Inf(1), Y: math.Inf(1)}, geom.Vec2{X: math.Inf(-1), Y: math.Inf(-1)}
	for _, p := range pts {
		low = geom.Vec2{X: math.Min(low.X, p.X), Y: math.Min(low.Y, p.Y)}
		high = geom.Vec2{X: math.Max(high.X, p.X), Y: math.Max(high.Y, p.Y)}
	}
	return low, high
}

// Add records operations.
func (s *Sheet) Add(ops ...Op) { s.Ops = append(s.Ops, ops...) }

// Line records a straight line.
func (s *Sheet) Line(role Role, a, b geom.Vec2) {
	s.Add(&Stroke{Role: role, Points: []geom.Vec2{a, b}})
}

// Polyline records a run of straight lines.
func (s *Sheet) Polyline(role Role, pts ...geom.Vec2) { s.Add(&Stroke{Role: role, Points: pts}) }

// Polygon records a closed run of straight lines.
func (s *Sheet) Polygon(role Role, pts ...geom.Vec2) {
	s.Add(&Stroke{Role: role, Points: pts, Closed: true})
}

// Fill records a filled polygon.
func (s *Sheet) Fill(role Role, pts ...geom.Vec2) {
	s.Add(&Stroke{Role: role, Points: pts, Closed: true, Filled: true})
}

// Rect records the outline of a rectangle.
func (s *Sheet) Rect(role Role, low, high geom.Vec2) {
	s.Polygon(role, low, geom.Vec2{X: high.X, Y: low.Y}, high, geom.Vec2{X: low.X, Y: high.Y})
}

// Circle records a circle.
func (s *Sheet) Circle(role Role, centre geom.Vec2, radius float64) {
	s.Add(&Arc{Role: role, Centre: centre, Radius: radius, Sweep: 2 * math.Pi})
}

// Dot records a filled disc.
func (s *Sheet) Dot(role Role, centre geom.Vec2, radius float64) {
	s.Add(&Arc{Role: role, Centre: centre, Radius: radius, Sweep: 2 * math.Pi, Filled: true})
}

// Arc records an arc from the angle start through sweep, radians counter-clockwise.
func (s *Sheet) Arc(role Role, centre geom.Vec2, radius, start, sweep float64) {
	s.Add(&Arc{Role: role, Centre: centre, Radius: radius, Start: start, Sweep: sweep})
}

// Arrow proportions: a closed filled arrow (ISO 129-1), 3 mm long for 3.5 mm lettering, 20° wide.
const (
	ArrowLength = 3.0
	arrowHalf   = ArrowLength * 0.1763 // tan 10°
)

// Arrow records a filled arrowhead with its tip at tip, pointing along dir.
func (s *Sheet) Arrow(role Role, tip, dir geom.Vec2) {
	d := dir.Scale(1 / dir.Len())
	back, side := tip.Sub(d.Scale(ArrowLength)), geom.Vec2{X: -d.Y, Y: d.X}.Scale(arrowHalf)
	s.Fill(role, tip, back.Add(side), back.Sub(side))
}

// Write records a text that reads from below.
func (s *Sheet) Write(role Role, at geom.Vec2, height float64, align Align, text string) *Text {
	t := &Text{Role: role, At: at, String: text, Height: height, Align: align}
	s.Add(t)
	return t
}

// Texts returns the texts of a role in their order, all texts where none is given.
func (s *Sheet) Texts(roles ...Role) []*Text {
	var out []*Text
	for _, op := range s.Ops {
		t, ok := op.(*Text)
		if !ok {
			continue
		}
		match := len(roles) == 0
		for _, r := range roles {
			match = match || t.Role == r
		}
		if match {
			out = append(out, t)
		}
	}
	return out
}
