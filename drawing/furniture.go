package drawing

import (
	"fmt"
	"strings"

	"barwright/geom"
	"barwright/standard"
)

// Margins of every sheet in mm (ISO 5457).
const (
	marginLeft = 20.0
	margin     = 10.0
	gridBorder = float64(standard.GridBorder)
)

// Area is a rectangle on the paper.
type Area struct{ Low, High geom.Vec2 }

// Width returns the width of the area in mm.
func (a Area) Width() float64 { return a.High.X - a.Low.X }

// Height returns the height of the area in mm.
func (a Area) Height() float64 { return a.High.Y - a.Low.Y }

// SizeOf returns the sheet size of a name "A0" to "A4", A4 upright and the others lying (ISO 5457).
func SizeOf(name string) (Size, bool) {
	w, h, ok := standard.SheetSize(name)
	return Size{name, w, h}, ok
}

// Space returns the drawing space inside the border.
func (s Size) Space() Area {
	return Area{geom.Vec2{X: marginLeft, Y: margin}, geom.Vec2{X: s.Width - margin, Y: s.Height - margin}}
}

// DrawBorder draws the border, the grid reference border with its fields, and the centring marks
// (ISO 5457). The lower mark stays outside the border on A4, where the title block lies.
func (s *Sheet) DrawBorder() {
	a := s.Size.Space()
	s.Rect(Border, a.Low, a.High)
	g := Area{a.Low.Sub(geom.Vec2{X: gridBorder, Y: gridBorder}), a.High.Add(geom.Vec2{X: gridBorder, Y: gridBorder})}
	s.Rect(Grid, g.Low, g.High)
	cx, cy := s.Size.Width/2, s.Size.Height/2
	const in = float64(standard.CentringMark)
	below := in
	if s.Size.Name == "A4" {
		below = 0
	}
	s.Line(Border, geom.Vec2{X: cx, Y: g.High.Y}, geom.Vec2{X: cx, Y: a.High.Y - in})
	s.Line(Border, geom.Vec2{X: cx, Y: g.Low.Y}, geom.Vec2{X: cx, Y: a.Low.Y + below})
	s.Line(Border, geom.Vec2{X: g.Low.X, Y: cy}, geom.Vec2{X: a.Low.X + in, Y: cy})
	s.Line(Border, geom.Vec2{X: g.High.X, Y: cy}, geom.Vec2{X: a.High.X - in, Y: cy})
	s.drawFields(a, g)
}

// drawFields divides the grid border into fields of 50 mm from the centring marks, numerals left to right and
// letters top to bottom without I and O. A4 carries them on top and right only.
func (s *Sheet) drawFields(a, g Area) {
	const letters = "ABCDEFGHJKLMNPQRSTUVWXYZ"
	a4 := s.Size.Name == "A4"
	columns := fields(a.Low.X, a.High.X, s.Size.Width/2)
	for i := 1; i < len(columns); i++ {
		mid := (columns[i-1] + columns[i]) / 2
		for _, y := range []float64{a.High.Y, a.Low.Y - gridBorder} {
			if a4 && y < a.Low.Y {
				continue
			}
			s.Write(Grid, geom.Vec2{X: mid, Y: y + (gridBorder-DimText)/2}, DimText, Centre, fmt.Sprint(i))
			if i+1 < len(columns) && columns[i] != s.Size.Width/2 {
				s.Line(Grid, geom.Vec2{X: columns[i], Y: y}, geom.Vec2{X: columns[i], Y: y + gridBorder})
			}
		}
	}
	rows := fields(a.Low.Y, a.High.Y, s.Size.Height/2)
	for i := 1; i < len(rows); i++ {
		mid := (rows[i-1] + rows[i]) / 2
		letter := string(letters[len(rows)-1-i])
		for _, x := range []float64{a.High.X, a.Low.X - gridBorder} {
			if a4 && x < a.Low.X {
				continue
			}
			s.Write(Grid, geom.Vec2{X: x + gridBorder/2, Y: mid - DimText/2}, DimText, Centre, letter)
			if i+1 < len(rows) && rows[i] != s.Size.Height/2 {
				s.Line(Grid, geom.Vec2{X: x, Y: rows[i]}, geom.Vec2{X: x + gridBorder, Y: rows[i]})
			}
		}
	}
}

// fields returns the bounds of the reference fields along one side.
func fields(low, high, middle float64) []float64 {
	const step = float64(standard.GridField)
	out := []float64{low}
	// The end fields take the remainder; one shorter than half a field joins its neighbour.
	first := middle
	for first-step > low+step/4 {
		first -= step
	}
	for x := first; x < high-step/4; x += step {
		out = append(out, x)
	}
	return append(out, high)
}

// TitleBlock is what stands in the title block (ISO 7200) and the fields over it (scale, projection,
// tolerances, material, mass), which that standard leaves to the drawing space. Empty fields stay blank.
type TitleBlock struct {
	Owner, Number, Revision, Date       string
	Title, Supplement, DocumentType     string
	Creator, Approver, Department       string
	Scale, Projection                   string // Projection: "first" or "third"
	Tolerance, Material, Mass, Quantity string
	Fingerprint, Settings               string
	NotForManufacture                   bool
}

// field is one cell of the title block.
type field struct {
	label, value string
	width        float64
	height       float64 // of the value's lettering

}

// sheetNumber marks the text that [NumberSheets] fills in.
const sheetNumber = "sheet-number"

// NumberSheets writes "n / of" into the title blocks of sheets in their order.
func NumberSheets(sheets []*Sheet) {
	for i, s := range sheets {
		for _, t := range s.Texts(Title) {
			if len(t.Of) == 1 && t.Of[0] == sheetNumber {
				t.String = fmt.Sprintf("%d / %d", i+1, len(sheets))
			}
		}
	}
}

// DrawTitleBlock draws the title block in the lower right corner and returns the area that it takes.
func (s *Sheet) DrawTitleBlock(b TitleBlock) Area {
	const width = float64(standard.TitleBlockWidth)
	a := s.Size.Space()
	left := a.High.X - width
	y := a.Low.Y
	rows := []struct {
		height float64
		cells  []field
	}{
		{12, []field{{"Legal owner", b.Owner, 68, DimText}, {"Identification number", b.Number, 60, ViewText},
			{"Revision", b.Revision, 22, DimText}, {"Sheet", "", 30, DimText}}},
		{15, []field{{"Title", b.Title, 100, DimText}, {"Document type", b.DocumentType, 50, DimText}, {"Date of issue", b.Date, 30, DimText}}},
		{10.5, []field{{"Created by", b.Creator, 50, DimText}, {"Approved by", b.Approver, 50, DimText},
			{"Department", b.Department, 50, DimText}, {"Fingerprint", b.Fingerprint, 30, DimText}}},
		{11, []field{{"Scale", b.Scale, 20, DimText}, {"Projection", "", 24, DimText},
			{"General tolerances", b.Tolerance, 38, DimText}, {"Material", b.Material, 50, DimText},
			{"Mass", b.Mass, 26, DimText}, {"Quantity", b.Quantity, 22, DimText}}},
	}
	for i, r := range rows {
		x := left
		if i > 0 {
			s.Line(Table, geom.Vec2{X: left, Y: y}, geom.Vec2{X: left + width, Y: y})
		}
		for j, c := range r.cells {
			if j > 0 {
				s.Line(Table, geom.Vec2{X: x, Y: y}, geom.Vec2{X: x, Y: y + r.height})
			}
			s.drawField(c, Area{geom.Vec2{X: x, Y: y}, geom.Vec2{X: x + c.width, Y: y + r.height}}, b)
			x += c.width
		}
		y += r.height
	}
	if b.Settings != "" {
		y = s.settingsRow(b.Settings, left, y, width)
	}
	if b.NotForManufacture {
		s.Line(Table, geom.Vec2{X: left, Y: y}, geom.Vec2{X: left + width, Y: y})
		s.Write(Stamp, geom.Vec2{X: left + width/2, Y: y + 3}, TitleText, Centre, "NOT FOR MANUFACTURE")
		y += 13
	}
	block := Area{geom.Vec2{X: left, Y: a.Low.Y}, geom.Vec2{X: a.High.X, Y: y}}
	s.Polyline(TableFrame, block.Low, geom.Vec2{X: left, Y: y}, geom.Vec2{X: a.High.X, Y: y})
	return block
}

// settingsRow writes the values given on the command line.
func (s *Sheet) settingsRow(settings string, left, y, width float64) float64 {
	s.Line(Table, geom.Vec2{X: left, Y: y}, geom.Vec2{X: left + width, Y: y})
	lines := Wrap(Clean("Set: "+settings), SmallText, width-3)
	if len(lines) > 4 {
		lines = append(lines[:3], Fit(strings.Join(lines[3:], " "), SmallText, width-3))
	}
	for i := len(lines) - 1; i >= 0; i-- {
		s.Write(Title, geom.Vec2{X: left + 1.5, Y: y + 1.5}, SmallText, Left, Fit(lines[i], SmallText, width-3))
		y += SmallText * LineSpace
	}
	return y + 1
}

// labelGap is the room between a label of the title block and its value, mm.
const labelGap = 1.5

// drawField writes the label and value of a cell.
func (s *Sheet) drawField(c field, a Area, b TitleBlock) {
	const in = 1.5
	inner := a.Width() - 2*in
	s.Write(Title, geom.Vec2{X: a.Low.X + in, Y: a.High.Y - SmallText - 1}, SmallText, Left, c.label)
	at := geom.Vec2{X: a.Low.X + in, Y: a.Low.Y + 1.4}
	switch c.label {
	case "Projection":
		s.drawProjection(geom.Vec2{X: a.Low.X + a.Width()/2, Y: a.Low.Y + 3.7}, b.Projection)
		return
	case "Sheet":
		s.Add(&Text{Role: Title, At: at, String: "1 / 1", Height: c.height, Of: []string{sheetNumber}})
		return
	case "Title":
		s.Write(Title, at.Add(geom.Vec2{Y: 4.8}), c.height, Left, Fit(c.value, c.height, inner))
		if b.Supplement != "" {
			s.Write(Title, at, SmallText, Left, Fit(b.Supplement, SmallText, inner))
		}
		return
	}
	if c.value == "" {
		return
	}
	h := c.height
	for _, less := range []float64{DimText, SmallText} {
		ink := Measure(Clean(c.value), h)
		if less >= h || ink.Width <= inner && a.Low.Y+max(1.4, 0.6-ink.Low)+ink.High <= a.High.Y-SmallText-1-labelGap {
			continue
		}
		h = less
	}
	value := Fit(c.value, h, inner)
	// Descenders stay off the line below.
	at.Y = a.Low.Y + max(1.4, 0.6-Measure(value, h).Low)
	s.Write(Title, at, h, Left, value)
}

// drawProjection draws the symbol of the projection method (ISO 5456-2): a truncated cone seen from its
// side and from its small end. That end view shows the small end and lies on the side away
// from it in first angle, on its own side in third angle.
func (s *Sheet) drawProjection(mid geom.Vec2, projection string) {
	const d = 2.0 // small diameter; the large one and the cone's length are twice that
	cone, rings := mid.Sub(geom.Vec2{X: d * 1.7}), mid.Add(geom.Vec2{X: d * 1.7})
	if projection == "third" {
		cone, rings = rings, cone
	}
	s.Polygon(Symbol, cone.Add(geom.Vec2{X: -d, Y: -d / 2}), cone.Add(geom.Vec2{X: d, Y: -d}),
		cone.Add(geom.Vec2{X: d, Y: d}), cone.Add(geom.Vec2{X: -d, Y: d / 2}))
	s.Circle(Symbol, rings, d/2)
	s.Circle(Symbol, rings, d)
	s.Line(CentreLine, cone.Sub(geom.Vec2{X: d + 1}), cone.Add(geom.Vec2{X: d + 1}))
	s.Line(CentreLine, rings.Sub(geom.Vec2{X: d + 0.6}), rings.Add(geom.Vec2{X: d + 0.6}))
	s.Line(CentreLine, rings.Sub(geom.Vec2{Y: d + 0.6}), rings.Add(geom.Vec2{Y: d + 0.6}))
}
