package drawing

// Role says what an operation is on the drawing. It decides the type and width of its line, its layer
// in DXF and what [Sheet.Verify] demands of it.
type Role uint8

// The roles. Widths are those of the line group 0.5 (ISO 128-2).
const (
	Outline    Role = iota // visible edges and outlines, wide
	Edge                   // visible edges of less weight: slot edges along a bar, tangent edges; narrow
	Hidden                 // hidden edges, dashed narrow
	CentreLine             // centre lines and axes, long-dashed dotted narrow
	Phantom                // neighbouring parts, long-dashed double-dotted narrow
	Thread                 // roots of threads, narrow
	Break                  // zigzag ends of broken views, narrow
	Hatch                  // hatching, narrow
	Dimension              // dimension lines with their arrows and values
	Extension              // extension lines
	Leader                 // leaders and reference lines of callouts
	Callout                // text of callouts on leaders
	Balloon                // item references: circles and numbers
	Explode                // lines along which parts come apart
	Label                  // names of views, ends and faces
	Note                   // notes and other running text
	Table                  // inner lines and text of tables
	TableFrame             // outlines of tables and of the title block
	Title                  // text of the title block
	Symbol                 // projection symbol and the like
	Stamp                  // NOT FOR MANUFACTURE
	Border                 // the frame round the drawing space
	Grid                   // grid reference border with its text and the trimmed edge
	Fold                   // lines to fold a template along
	roleCount
)

// LineType is a basic line type of ISO 128-2.
type LineType uint8

// The line types.
const (
	Continuous  LineType = iota // 01
	Dashed                      // 02
	Chain                       // 04, long-dashed dotted
	DoubleChain                 // 05, long-dashed double-dotted
)

// Pen is a line type with its width in mm.
type Pen struct {
	Type  LineType
	Width float64
}

// Widths of lines in mm: the group 0.5 of ISO 128-2, the frame of ISO 5457 and its grid border.
const (
	WideLine   = 0.5
	NarrowLine = 0.25
	frameLine  = 0.7
	gridLine   = 0.35
)

// Pen returns the line of a role.
func (r Role) Pen() Pen {
	switch r {
	case Outline, TableFrame:
		return Pen{Continuous, WideLine}
	case Border:
		return Pen{Continuous, frameLine}
	case Grid, Symbol:
		return Pen{Continuous, gridLine}
	case Stamp:
		return Pen{Continuous, frameLine}
	case Hidden, Fold:
		return Pen{Dashed, NarrowLine}
	case CentreLine:
		return Pen{Chain, NarrowLine}
	case Phantom:
		return Pen{DoubleChain, NarrowLine}
	case Explode:
		return Pen{Chain, NarrowLine}
	}
	return Pen{Continuous, NarrowLine}
}

// roleNames are the names of the layers.
var roleNames = [roleCount]string{
	"OUTLINE", "EDGE", "HIDDEN", "CENTRE", "PHANTOM", "THREAD", "BREAK", "HATCH", "DIMENSION", "EXTENSION",
	"LEADER", "CALLOUT", "BALLOON", "EXPLODE", "LABEL", "NOTE", "TABLE", "TABLE_FRAME", "TITLE", "SYMBOL", "STAMP",
	"BORDER", "GRID", "FOLD",
}

// String returns the name of the role, which is that of its layer in DXF.
func (r Role) String() string { return roleNames[r] }
