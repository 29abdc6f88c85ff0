package drawing

import (
	"math"
	"slices"

	"barwright/geom"
)

// listColumn is one column of a list with its width in mm.
type listColumn struct {
	head  string
	width float64
	align Align
}

// list is a table of texts.
type list struct {
	title   string // over the table; "" where the place says what it is
	columns []listColumn
	rows    [][]string
	small   bool // small lettering, also where the large one would fit: a piece of a longer list
}

// Sizes of lists in mm. ISO 7573 leaves them open; ISO 7200 sets the width of a list that stands on the title block.
const (
	rowHeight = 7.0
	cellPad   = 1.5
	listTitle = 9.0 // height of the line that names a table
	listGap   = 8.0 // between lists, and between a list and a view
)

// width returns the width of the table.
func (l list) width() float64 {
	w := 0.0
	for _, c := range l.columns {
		w += c.width
	}
	return w
}

// height returns the height of the table with its title.
func (l list) height() float64 {
	h := rowHeight * float64(len(l.rows)+1)
	if l.title != "" {
		h += listTitle
	}
	return h
}

// drawDown draws the table from its upper left corner downward, headings at the top.
func (s *Sheet) drawDown(l list, at geom.Vec2) {
	if l.title != "" {
		s.Write(Label, geom.Vec2{X: at.X, Y: at.Y - DimText - 1}, DimText, Left, l.title)
		at.Y -= listTitle
	}
	bottom := at.Y - rowHeight*float64(len(l.rows)+1)
	s.gridLines(l, at.X, bottom, at.Y, at.Y-rowHeight)
	s.rowTexts(l, l.heads(), SmallText, at.X, at.Y-rowHeight)
	height := l.lettering()
	for i, r := range l.rows {
		s.rowTexts(l, r, height, at.X, at.Y-rowHeight*float64(i+2))
	}
}

// drawUp draws the table upward from its lower left corner, headings at the bottom, as a parts list stands on a title
// block (ISO 7573).
func (s *Sheet) drawUp(l list, at geom.Vec2) {
	top := at.Y + rowHeight*float64(len(l.rows)+1)
	s.gridLines(l, at.X, at.Y, top, at.Y+rowHeight)
	s.rowTexts(l, l.heads(), SmallText, at.X, at.Y)
	height := l.lettering()
	for i, r := range l.rows {
		s.rowTexts(l, r, height, at.X, at.Y+rowHeight*float64(i+1))
	}
}

// heads returns the headings.
func (l list) heads() []string {
	var out []string
	for _, c := range l.columns {
		out = append(out, c.head)
	}
	return out
}

// gridLines draws the frame, the line of the headings and the other lines of a table.
func (s *Sheet) gridLines(l list, x, bottom, top, head float64) {
	right := x + l.width()
	s.Rect(TableFrame, geom.Vec2{X: x, Y: bottom}, geom.Vec2{X: right, Y: top})
	for y := bottom + rowHeight; y < top-rowHeight/2; y += rowHeight {
		role := Table
		if y > head-0.1 && y < head+0.1 {
			role = TableFrame
		}
		s.Line(role, geom.Vec2{X: x, Y: y}, geom.Vec2{X: right, Y: y})
	}
	for _, c := range l.columns[:len(l.columns)-1] {
		x += c.width
		s.Line(Table, geom.Vec2{X: x, Y: bottom}, geom.Vec2{X: x, Y: top})
	}
}

// lettering returns the height of the texts: smaller where one of them would not fit.
func (l list) lettering() float64 {
	if l.small {
		return SmallText
	}
	for i, c := range l.columns {
		for _, r := range l.rows {
			if TextWidth(Clean(r[i]), DimText) > c.width-2*cellPad {
				return SmallText
			}
		}
	}
	return DimText
}

// fitted returns the list with a total width: each column as wide as its texts ask for at full height, or at the small one where that
// would be too much, and what is left given to the last. Where even small texts need more, the widest column gives way, so that
// figures stay whole.
func (l list) fitted(width float64) list {
	wide, sum := l.wanted(DimText)
	if sum > width {
		wide, sum = l.wanted(SmallText)
	}
	if sum > width && width > 0 {
		k := 0
		for i, c := range wide {
			if c.width > wide[k].width {
				k = i
			}
		}
		give := min(sum-width, wide[k].width/2)
		wide[k].width -= give
		sum -= give
	}
	wide[len(wide)-1].width += max(0, width-sum)
	l.columns = wide
	return l
}

// wanted returns the columns as wide as their texts at a height ask for, and the sum of their widths.
func (l list) wanted(height float64) (columns []listColumn, sum float64) {
	columns = slices.Clone(l.columns)
	for i := range columns {
		w := TextWidth(columns[i].head, SmallText)
		for _, r := range l.rows {
			w = max(w, TextWidth(Clean(r[i]), height))
		}
		columns[i].width = math.Ceil(w + 2*cellPad + 1)
		sum += columns[i].width
	}
	return columns, sum
}

// rowTexts writes the cells of a row whose lower edge is at y. A text that is still too long for its cell is cut.
func (s *Sheet) rowTexts(l list, cells []string, height, x, y float64) {
	for i, c := range l.columns {
		text := Fit(cells[i], height, c.width-2*cellPad)
		at := geom.Vec2{X: x + cellPad, Y: y + (rowHeight-height)/2}
		switch c.align {
		case Centre:
			at.X = x + c.width/2
		case Right:
			at.X = x + c.width - cellPad
		}
		if text != "" {
			s.Write(Table, at, height, c.align, text)
		}
		x += c.width
	}
}
