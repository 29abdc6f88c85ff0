package drawing

import (
	"fmt"
	"math"

	"barwright/geom"
)

// StiffnessData is what the sheet of a frame's stiffness shows. Figures come as texts, so that they read as everywhere else.
type StiffnessData struct {
	Title   TitleBlock
	Views   []StiffnessView // four at most
	Summary [][]string      // what, value, unit, where
	Cases   [][]string      // load case, shift, sag, slope, stress, share of yield
	Feet    [][]string      // foot, least, most, case
	Notes   []string        // limits that are not kept, assumptions
	Caution string
}

// StiffnessView is the frame at rest and as it moves, drawn by the axes of its bars.
type StiffnessView struct {
	Title, Caption string
	Bars           []StiffnessBar
	Peak           *geom.Vec // as drawn
}

// StiffnessBar is the axis of one bar at rest and as it moves, so much larger than true that it shows.
type StiffnessBar struct{ Rest, Moved []geom.Vec }

// Figures of the stiffness sheet, mm.
const (
	stiffViews  = 4
	stiffViewUp = 100.0 // height of a view with its words
	stiffGap    = 5.0
	stiffWords  = 3 * SmallText * LineSpace
	mostCases   = 6
	mostFeet    = 8
	mostSummary = 13
)

// StiffnessSheet draws the stiffness of a frame on one A3 sheet: the frame as it moves, the figures, what was assumed, and the
// caution. Long tables are cut and say so. It returns an error where the sheet fails its proof.
func StiffnessSheet(d StiffnessData, o Options) (*Sheet, error) {
	size, _ := SizeOf("A3")
	s := &Sheet{Name: "stiffness", Title: "Stiffness", Size: size}
	s.DrawBorder()
	t := d.Title
	t.Scale, t.Projection, t.NotForManufacture = "–", o.Projection, o.NotForManufacture
	block := s.DrawTitleBlock(t)
	space := size.Space()
	left, right := space.Low.X+clearMark, space.High.X-clearMark
	top := space.High.Y - clearMark
	views := d.Views[:min(len(d.Views), stiffViews)]
	wide := (right - left - stiffGap*(stiffViews-1)) / stiffViews
	for i := range views {
		x := left + (wide+stiffGap)*float64(i)
		s.stiffnessView(&views[i], Area{geom.Vec2{X: x, Y: top - stiffViewUp}, geom.Vec2{X: x + wide, Y: top}})
	}
	y := top - stiffViewUp - 4
	split := block.Low.X - 4
	summary := summaryList(d)
	s.drawDown(summary.within(split-left), geom.Vec2{X: left, Y: y})
	s.drawRight(d, Area{geom.Vec2{X: split + 4, Y: block.High.Y + 2}, geom.Vec2{X: right, Y: y}})
	s.stiffnessNotes(d, geom.Vec2{X: space.Low.X + 4, Y: space.Low.Y + 2}, y-summary.height()-4)
	if clashes := s.Verify(); len(clashes) > 0 {
		return nil, fmt.Errorf("%s: %v", s.Name, clashes[0])
	}
	return s, nil
}

// summaryList is the table of the extremes.
func summaryList(d StiffnessData) list {
	l := list{title: "Summary", columns: []listColumn{{"Figure", 38, Left}, {"Value", 18, Right}, {"Unit", 14, Left}, {"Where", 60, Left}}}
	for _, r := range d.Summary[:min(len(d.Summary), mostSummary)] {
		l.rows = append(l.rows, cleaned(r))
	}
	return l
}

// within returns the list with a total width: columns as wide as their texts ask for, at full height or the small one; where that
// is too much the columns of words give way, in proportion, and figures stay whole.
func (l list) within(width float64) list {
	wide, sum := l.wanted(DimText)
	if sum > width {
		wide, sum = l.wanted(SmallText)
	}
	words := 0.0
	for _, c := range wide {
		if c.align == Left {
			words += c.width
		}
	}
	if over := sum - width; over > 0 && words > 0 {
		for i := range wide {
			if wide[i].align == Left {
				wide[i].width *= 1 - over/words
			}
		}
		sum = width
	}
	wide[len(wide)-1].width += max(0, width-sum)
	l.columns = wide
	return l
}

func cleaned(row []string) []string {
	out := make([]string, len(row))
	for i, c := range row {
		out[i] = Clean(c)
	}
	return out
}

// drawRight draws the tables of load cases and feet down the right side, as many rows as there is room for.
func (s *Sheet) drawRight(d StiffnessData, a Area) {
	cases := list{title: "Load cases", columns: []listColumn{{"Case", 50, Left}, {"Shift mm", 24, Right}, {"Sag mm", 24, Right},
		{"Slope mm/m", 26, Right}, {"Stress MPa", 25, Right}, {"Of yield %", 26, Right}}}
	cases.rows = firstRows(d.Cases, mostCases, len(cases.columns))
	feet := list{title: "Feet", columns: []listColumn{{"Foot", 60, Left}, {"Least N", 24, Right}, {"Most N", 24, Right}, {"Most in", 60, Left}}}
	feet.rows = firstRows(d.Feet, mostFeet, len(feet.columns))
	for feet.height()+cases.height()+stiffGap > a.Height() && len(feet.rows) > 2 {
		feet.rows = firstRows(d.Feet, len(feet.rows)-1, len(feet.columns))
	}
	s.drawDown(cases.within(a.Width()), geom.Vec2{X: a.Low.X, Y: a.High.Y})
	s.drawDown(feet.within(a.Width()), geom.Vec2{X: a.Low.X, Y: a.High.Y - cases.height() - stiffGap})
}

// firstRows returns at most n rows; where some are left out the last one says how many.
func firstRows(rows [][]string, n, columns int) [][]string {
	var out [][]string
	for i, r := range rows {
		if len(rows) > n && i == n-1 {
			more := make([]string, columns)
			more[0] = fmt.Sprintf("… and %d more", len(rows)-i)
			return append(out, more)
		}
		out = append(out, cleaned(r[:columns]))
	}
	return out
}

// stiffnessNotes writes the notes from a place up, left of the centring mark: as many as stay under a height.
func (s *Sheet) stiffnessNotes(d StiffnessData, at geom.Vec2, under float64) {
	notes := []string{"Dashed: at rest. Wide: as it moves, drawn so much larger than true as each view says. Places are X, Y, Z in mm."}
	for _, n := range d.Notes {
		notes = append(notes, Clean(n))
	}
	width := s.Size.Width/2 - 4 - at.X
	for {
		high := new(Sheet).drawNotes(append(notes[:len(notes):len(notes)], d.Caution), at, width)
		if len(notes) == 1 || at.Y+high <= under {
			s.drawNotes(append(notes, d.Caution), at, width)
			return
		}
		notes = notes[:len(notes)-1]
	}
}

// The direction from which the views are seen: azimuth from the front toward the right and elevation, as in the pictures.
const (
	stiffAzimuth   = 32 * math.Pi / 180
	stiffElevation = 22 * math.Pi / 180
)

// stiffnessView draws a view into an area, its words under it.
func (s *Sheet) stiffnessView(v *StiffnessView, a Area) {
	y := a.Low.Y + stiffWords
	s.Write(Label, geom.Vec2{X: a.Low.X, Y: y - SmallText*LineSpace + 0.5}, SmallText, Left, Fit(v.Title, SmallText, a.Width()))
	for i, l := range Wrap(Clean(v.Caption), SmallText, a.Width()) {
		if i == 2 {
			break
		}
		s.Write(Note, geom.Vec2{X: a.Low.X, Y: y - SmallText*LineSpace*float64(i+2) + 0.5}, SmallText, Left, Fit(l, SmallText, a.Width()))
	}
	place := newStiffnessPlace(v, Area{geom.Vec2{X: a.Low.X, Y: y + 2}, a.High})
	for _, b := range v.Bars {
		if len(b.Rest) > 1 {
			s.Polyline(Hidden, place.line(b.Rest)...)
		}
	}
	for _, b := range v.Bars {
		if len(b.Moved) > 1 {
			s.Polyline(Outline, place.line(b.Moved)...)
		}
	}
	if v.Peak != nil {
		s.Dot(Symbol, place.point(*v.Peak), 1.1)
	}
}

// stiffnessPlace maps the frame onto the paper.
type stiffnessPlace struct {
	right, up geom.Vec
	scale     float64
	at        geom.Vec2
}

// newStiffnessPlace fits everything that a view draws into an area.
func newStiffnessPlace(v *StiffnessView, a Area) *stiffnessPlace {
	sa, ca := math.Sincos(stiffAzimuth)
	se, ce := math.Sincos(stiffElevation)
	p := &stiffnessPlace{right: geom.Vec{X: ca, Y: sa}, up: geom.Vec{X: -float64(sa * se), Y: float64(ca * se), Z: ce}, scale: 1}
	var pts []geom.Vec2
	for _, b := range v.Bars {
		pts = append(pts, p.line(b.Rest)...)
		pts = append(pts, p.line(b.Moved)...)
	}
	if len(pts) == 0 {
		return p
	}
	low, high := boundsOf(pts)
	const edge = 3.0
	w, h := math.Max(high.X-low.X, 1e-6), math.Max(high.Y-low.Y, 1e-6)
	p.scale = math.Min((a.Width()-2*edge)/w, (a.Height()-2*edge)/h)
	mid := low.Add(high).Scale(p.scale / 2)
	p.at = a.Low.Add(a.High).Scale(0.5).Sub(mid)
	return p
}

func (p *stiffnessPlace) point(v geom.Vec) geom.Vec2 {
	return geom.Vec2{X: p.right.Dot(v) * p.scale, Y: p.up.Dot(v) * p.scale}.Add(p.at)
}

func (p *stiffnessPlace) line(pts []geom.Vec) []geom.Vec2 {
	out := make([]geom.Vec2, len(pts))
	for i, v := range pts {
		out[i] = p.point(v)
	}
	return out
}
