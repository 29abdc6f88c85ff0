package drawing

import (
	"fmt"

	"barwright/geom"
	"barwright/standard"
)

// Widths of the notes in mm.
const (
	noteWidth  = 126.0
	leastNotes = 48.0
)

// noteHeight returns the height of notes of a width in mm.
func noteHeight(notes []string, width float64) float64 {
	return (&Sheet{}).drawNotes(notes, geom.Vec2{}, width)
}

// tables returns the tables besides the parts list that have rows.
func (a *arrangement) tables() []list {
	var out []list
	for _, l := range []list{measureList(a.f, a.u), braceList(a.f, a.u), hardwareList(a.f)} {
		if len(l.rows) > 0 {
			out = append(out, l.fitted(noteWidth))
		}
	}
	return out
}

// leftOver is what found no place on the first sheet.
type leftOver struct {
	parts  bool
	tables []list
	notes  []string
}

// drawLists puts the notes where the first sheet has room, with as many of the tables under them as go there, and returns the rest.
func (a *arrangement) drawLists(s *Sheet, p plan) leftOver {
	rest := leftOver{parts: p.ownList}
	notes, blocks := arrangementNotes(a.f, a.u), a.tables()
	for k := len(blocks); k >= 0; k-- {
		for _, free := range p.free {
			if s.drawColumn(notes, blocks[:k], free) {
				rest.tables = blocks[k:]
				return rest
			}
		}
	}
	rest.tables, rest.notes = blocks, notes
	return rest
}

// drawColumn puts notes and tables under them at the foot of a free area, if they fit there.
func (s *Sheet) drawColumn(notes []string, blocks []list, free Area) bool {
	width := noteWidth
	if len(blocks) == 0 {
		width = min(noteWidth, free.Width())
	}
	tall := noteHeight(notes, width)
	wide := max(width, leastNotes)
	for _, l := range blocks {
		tall += listGap + l.height()
		wide = max(wide, l.width())
	}
	if tall > free.Height() || wide > free.Width() {
		return false
	}
	at := free.Low
	for i := len(blocks) - 1; i >= 0; i-- {
		at.Y += blocks[i].height()
		s.drawDown(blocks[i], at)
		at.Y += listGap
	}
	s.drawNotes(notes, at, width)
	return true
}

// listSheets returns A4 sheets with what found no place on the first sheet. Tables that are too long go on on the next sheet with
// their headings.
func (a *arrangement) listSheets(rest leftOver) []*Sheet {
	w := listWriter{a: a}
	if rest.parts {
		l := partsList(a.f, a.u, listSheetWidth)
		l.title = "Parts list"
		w.table(l)
	}
	for _, l := range rest.tables {
		w.table(l.fitted(listSheetWidth))
	}
	if rest.notes != nil {
		h := noteHeight(rest.notes, listSheetWidth)
		w.room(h)
		w.sheet.drawNotes(rest.notes, geom.Vec2{X: w.x, Y: w.y - h}, listSheetWidth)
	}
	return w.sheets
}

// listSheetWidth is the width of tables on a list sheet, clear of the centring marks, mm.
const listSheetWidth = float64(standard.TitleBlockWidth) - 2*listEdge

// listEdge is how far lists on a sheet of their own keep off the border, mm.
const listEdge = edgeGap + 2

// listWriter writes tables down A4 sheets.
type listWriter struct {
	a      *arrangement
	sheets []*Sheet
	sheet  *Sheet
	x, y   float64 // where the next table begins
	bottom float64
}

// room makes sure that a height is free, on a new sheet if need be.
func (w *listWriter) room(height float64) {
	if w.sheet != nil && w.y-height >= w.bottom {
		return
	}
	size, _ := SizeOf("A4")
	name := "arrangement-lists"
	if k := len(w.sheets); k > 0 {
		name = fmt.Sprintf("%s-%d", name, k+1)
	}
	w.sheet = &Sheet{Name: name, Title: "Lists", Size: size}
	w.sheets = append(w.sheets, w.sheet)
	w.sheet.DrawBorder()
	t := w.a.titleBlock("–", "Lists")
	t.DocumentType = "Parts list"
	block := w.sheet.DrawTitleBlock(t)
	w.x = size.Space().Low.X + listEdge
	w.y = size.Space().High.Y - edgeGap
	w.bottom = block.High.Y + listGap
}

// table writes a table, split over sheets where it is too long.
func (w *listWriter) table(l list) {
	for first := true; len(l.rows) > 0; first = false {
		least := min(len(l.rows), 4)
		w.room(list{title: l.title, rows: l.rows[:least]}.height())
		n := min(len(l.rows), int((w.y-w.bottom-listTitle)/rowHeight)-1)
		part := list{title: l.title, columns: l.columns, rows: l.rows[:n]}
		if !first {
			part.title += " (continued)"
		}
		w.sheet.drawDown(part, geom.Vec2{X: w.x, Y: w.y})
		w.y -= part.height() + listGap
		l.rows = l.rows[n:]
	}
}
