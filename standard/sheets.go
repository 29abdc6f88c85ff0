package standard

import "slices"

// Sheet is a drawing sheet as it is used: A4 upright, the others lying
// (ISO 5457, ISO 216). Lengths in mm.
type Sheet struct {
	// Name is "A0" to "A4".
	Name string
	// Width and Height are the trimmed size.
	Width, Height float64
	// MarginLeft is the filing margin, Margin the three others, from the
	// trimmed edge to the frame of the drawing space.
	MarginLeft, Margin float64
	// RawWidth and RawHeight are the untrimmed size.
	RawWidth, RawHeight float64
	// FieldsX and FieldsY count the reference fields along width and height.
	// They are recalled.
	FieldsX, FieldsY int
	// Source covers all but the fields.
	Source Source
}

var sheets = table("sheets.csv", func(r record) Sheet {
	return Sheet{
		Name:       r.text("name"),
		Width:      r.float("width_mm"),
		Height:     r.float("height_mm"),
		MarginLeft: r.float("left_mm"),
		Margin:     r.float("other_mm"),
		RawWidth:   r.float("raw_width_mm"),
		RawHeight:  r.float("raw_height_mm"),
		FieldsX:    int(r.float("fields_x")),
		FieldsY:    int(r.float("fields_y")),
		Source:     r.source(),
	}
})

// Sheets returns the sheets from A0, the largest, to A4.
func Sheets() []Sheet { return slices.Clone(sheets()) }

// SheetByName returns the sheet named "A0" to "A4".
func SheetByName(name string) (Sheet, bool) {
	return find(sheets(), func(s Sheet) bool { return s.Name == name })
}

// SheetSize returns the trimmed width and height in mm of a sheet as it is
// used, A4 upright and the others lying.
func SheetSize(name string) (width, height float64, ok bool) {
	s, ok := SheetByName(name)
	return s.Width, s.Height, ok
}

// DrawingSpace returns the width and height in mm inside the frame.
func (s Sheet) DrawingSpace() (width, height float64) {
	return s.Width - s.MarginLeft - s.Margin, s.Height - 2*s.Margin
}

// Figures of ISO 5457 and ISO 7200 that hold for every sheet, in mm.
const (
	// TitleBlockWidth fills the A4 drawing space exactly (ISO 7200).
	TitleBlockWidth = 180
	// FrameLine is the width of the line round the drawing space (recalled).
	FrameLine = 0.7
	// GridBorder is the width of the border that holds the reference fields,
	// GridField the length of one, counted from the centring marks (recalled).
	GridBorder = 5
	GridField  = 50
	// CentringMark is how far the mark runs past the frame (recalled).
	CentringMark = 10
)

// Scale is Num:Den, so 1:5 draws at a fifth of the true size (ISO 5455).
type Scale struct {
	Num, Den int
}

// Factor returns drawing size over true size.
func (s Scale) Factor() float64 { return float64(s.Num) / float64(s.Den) }

var scales = table("scales.csv", func(r record) Scale {
	return Scale{Num: int(r.float("num")), Den: int(r.float("den"))}
})

// Scales returns the recommended scales of ISO 5455 from 50:1 to 1:10000.
func Scales() []Scale { return slices.Clone(scales()) }

// LineGroup is a set of line widths in mm for one drawing (ISO 128-2).
type LineGroup struct {
	// Wide is for visible edges, Narrow for dimensions, hatching, hidden and
	// centre lines, Lettering for figures.
	Wide, Narrow, Lettering float64
	Source                  Source
}

var lineGroups = table("line_groups.csv", func(r record) LineGroup {
	return LineGroup{
		Wide:      r.float("wide_mm"),
		Narrow:    r.float("narrow_mm"),
		Lettering: r.float("lettering_mm"),
		Source:    r.source(),
	}
})

// LineGroups returns the groups by rising width. 0.5 is preferred on A4 to A2,
// 0.7 on A1 and A0.
func LineGroups() []LineGroup { return slices.Clone(lineGroups()) }

// LineGroupOf returns the group with the given wide line in mm.
func LineGroupOf(wide float64) (LineGroup, bool) {
	return find(lineGroups(), func(g LineGroup) bool { return g.Wide == wide })
}

var letteringHeights = table("lettering.csv", func(r record) float64 { return r.float("height_mm") })

// LetteringHeights returns the nominal heights of capitals in mm (ISO 3098-1).
func LetteringHeights() []float64 { return slices.Clone(letteringHeights()) }
