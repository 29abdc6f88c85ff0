package drawing

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"barwright/geom"
	"barwright/stock"
)

// CutProfile is the plan of one profile's bars, as the cut-plan sheets show it.
type CutProfile struct {
	Profile string // "" for a plain list
	Problem stock.Problem
	Plan    *stock.Plan
	Verdict string // what it costs and whether that is the least
}

// CutPlan is what the cut-plan sheets show.
type CutPlan struct {
	Title    TitleBlock
	Profiles []CutProfile
	Notes    []string // assumptions and the like, in front of the usual notes
}

// Figures of cut-plan sheets, mm.
const (
	stripHeight  = 12.0
	headWidth    = 92.0 // of what stands before the pieces in words
	tickBox      = 4.0
	pieceTick    = 2.6
	barGap       = 4.5 // under a strip
	maxDrawnBars = 1000
)

// CutPlanSheets draws the bars to scale in the order of sawing, with pieces, kerfs, trims and leftovers, and boxes to tick:
// A3 sheets, as many as it takes. Beyond a thousand bars the list rules, which the last sheet says. It returns an error where a
// sheet fails its proof.
func CutPlanSheets(p CutPlan, o Options) ([]*Sheet, error) {
	w := &cutWriter{p: p, o: o, u: units{o.Units == "inch"}, scale: cutScale(p)}
	w.newSheet()
	if l := buyList(p, w.u); len(l.rows) > 0 {
		w.list(l)
	}
	for i := range p.Profiles {
		w.profile(&p.Profiles[i])
	}
	for _, s := range w.sheets {
		if clashes := s.Verify(); len(clashes) > 0 {
			return nil, fmt.Errorf("%s: %v", s.Name, clashes[0])
		}
	}
	NumberSheets(w.sheets)
	return w.sheets, nil
}

// cutWriter writes bars down the sheets.
type cutWriter struct {
	p      CutPlan
	o      Options
	u      units
	scale  float64
	sheets []*Sheet
	sheet  *Sheet
	y      float64 // top of what is free
	bottom float64
	drawn  int
}

// Left and right ends of what is drawn, clear of the centring marks.
const (
	cutLeft  = marginLeft + clearMark
	cutRight = 420 - margin - clearMark
)

// cutScale returns the largest scale of ISO 5455 at which the longest bar fits the sheet.
func cutScale(p CutPlan) float64 {
	longest := 1.0
	for _, c := range p.Profiles {
		for _, b := range c.Plan.Bars {
			longest = math.Max(longest, b.StockLength)
		}
	}
	for decade := 1.0; ; decade *= 10 {
		for _, k := range []float64{1, 2, 5} {
			if scale := 1 / (k * decade); longest*scale <= cutRight-cutLeft {
				return scale
			}
		}
	}
}

// newSheet begins a sheet with border, title block and notes.
func (w *cutWriter) newSheet() {
	size, _ := SizeOf("A3")
	s := &Sheet{Name: "cutplan", Title: "Cut plan", Size: size}
	if n := len(w.sheets); n > 0 {
		s.Name, s.Title = fmt.Sprintf("cutplan-%d", n+1), fmt.Sprintf("Cut plan, sheet %d", n+1)
	}
	s.DrawBorder()
	t := w.p.Title
	t.Scale, t.Projection = scaleName(w.scale), w.o.Projection
	t.NotForManufacture = w.o.NotForManufacture
	block := s.DrawTitleBlock(t)
	space := size.Space()
	at := geom.Vec2{X: space.Low.X + 4, Y: space.Low.Y + 2}
	high := s.drawNotes(w.notes(), at, math.Min(block.Low.X, size.Width/2)-at.X-4)
	w.sheets, w.sheet = append(w.sheets, s), s
	w.y, w.bottom = space.High.Y-clearMark, math.Max(block.High.Y, at.Y+high)+4
}

// notes returns the notes of every sheet, the caution last.
func (w *cutWriter) notes() []string {
	var notes []string
	for _, n := range w.p.Notes {
		notes = append(notes, Clean(n))
	}
	notes = append(notes,
		fmt.Sprintf("Dimensions in %s. Bars and pieces are in the order of sawing, in which the saw's stop moves least; each bar begins at its left.", w.u.name()),
		"Black ends: the trim, half of it at each end. Wide lines: saw cuts. Hatched: left over.",
		"Measure the first piece of each length before sawing the others. Mark each piece as soon as it is cut, then tick it.")
	return append(notes, "CAUTION: sawn ends and chips are sharp, chips are hot. Clamp the bar on both sides of the cut; wear eye and ear protection; no gloves near the blade. Follow the rules of the shop and of the place.")
}

// room makes sure that a height is free.
func (w *cutWriter) room(height float64) {
	if w.y-height < w.bottom {
		w.newSheet()
	}
}

// list writes a table, split over sheets where it is too long.
func (w *cutWriter) list(l list) {
	for first := true; len(l.rows) > 0; first = false {
		part := l
		w.room(list{title: l.title, rows: l.rows[:1]}.height())
		n := min(len(l.rows), max(1, int((w.y-w.bottom-listTitle)/rowHeight)-1))
		part.rows = l.rows[:n]
		if !first {
			part.title += " (continued)"
		}
		w.sheet.drawDown(part, geom.Vec2{X: cutLeft, Y: w.y})
		w.y -= part.height() + listGap
		l.rows = l.rows[n:]
	}
}

// buyList is the table of bars to buy.
func buyList(p CutPlan, u units) list {
	l := list{title: "Bars", columns: []listColumn{{"Profile", 40, Left}, {"Length", 24, Right}, {"Quantity", 24, Right}, {"From", 24, Left},
		{"Price each", 28, Right}, {"Price", 28, Right}}}
	priced := false
	for _, c := range p.Profiles {
		type kind struct {
			length, price float64
			offcut        bool
		}
		var order []kind
		count := map[kind]int{}
		for _, b := range c.Plan.Bars {
			k := kind{b.StockLength, b.Price, b.Offcut}
			if count[k] == 0 {
				order = append(order, k)
			}
			count[k]++
		}
		for _, k := range order {
			row := []string{Clean(c.Profile), u.size(k.length), fmt.Sprint(count[k]), "to buy", "", ""}
			if k.offcut {
				row[3] = "offcut"
			}
			if k.price > 0 {
				row[4], row[5] = fixed(k.price, 2), fixed(k.price*float64(count[k]), 2)
				priced = true
			}
			l.rows = append(l.rows, row)
		}
	}
	named := slices.ContainsFunc(p.Profiles, func(c CutProfile) bool { return c.Profile != "" })
	if !named {
		l.columns = l.columns[1:]
		for i := range l.rows {
			l.rows[i] = l.rows[i][1:]
		}
	}
	if !priced {
		l.columns = l.columns[:len(l.columns)-2]
		for i := range l.rows {
			l.rows[i] = l.rows[i][:len(l.columns)]
		}
	}
	return l
}

// profile draws the bars of a profile.
func (w *cutWriter) profile(c *CutProfile) {
	head := []string{}
	pieces := 0
	for _, b := range c.Plan.Bars {
		pieces += len(b.Cuts)
	}
	if c.Profile != "" {
		head = append(head, Clean(c.Profile))
	}
	head = append(head, fmt.Sprintf("%s from %s, kerf %s, trim %s, stop moved %s", counted(pieces, "piece"), counted(len(c.Plan.Bars), "bar"),
		w.u.size(c.Problem.Kerf), w.u.size(c.Problem.Trim), counted(stopMoves(c.Plan), "time")))
	if c.Verdict != "" {
		head = append(head, Clean(c.Verdict))
	}
	lines := Wrap(strings.Join(head, "; "), DimText, cutRight-cutLeft)
	w.room(float64(len(lines))*DimText*LineSpace + 30)
	for _, l := range lines {
		w.y -= DimText * LineSpace
		w.sheet.Write(Label, geom.Vec2{X: cutLeft, Y: w.y}, DimText, Left, Fit(l, DimText, cutRight-cutLeft))
	}
	w.y -= 4
	for i := range c.Plan.Bars {
		if w.drawn++; w.drawn > maxDrawnBars {
			w.text(fmt.Sprintf("%d more bars of this profile are not drawn: the list cutplan.csv has them all.", len(c.Plan.Bars)-i))
			break
		}
		w.bar(c, i)
	}
	for _, p := range c.Plan.Unplaced {
		w.text(fmt.Sprintf("WITHOUT A BAR: %d× %s", p.Quantity, pieceName(w.u, p.Mark, p.Length)))
	}
	w.y -= 3
}

// text writes a line of its own.
func (w *cutWriter) text(s string) {
	w.room(DimText * 2)
	w.y -= DimText * 1.6
	w.sheet.Write(Label, geom.Vec2{X: cutLeft, Y: w.y}, DimText, Left, Fit(s, DimText, cutRight-cutLeft))
	w.y -= 2
}

// counted writes a number with its noun.
func counted(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

// stopMoves counts how often the saw's stop is set to another length after the first.
func stopMoves(p *stock.Plan) int {
	n, last := 0, -1.0
	for _, b := range p.Bars {
		for _, c := range b.Cuts {
			if c.Length != last && last >= 0 {
				n++
			}
			last = c.Length
		}
	}
	return n
}

// pieceName is the mark and length of a piece.
func pieceName(u units, mark string, length float64) string {
	if mark == "" {
		return u.size(length)
	}
	return Clean(mark) + " " + u.size(length)
}

// words lists the pieces of a bar in their order.
func (w *cutWriter) words(b *stock.PlannedBar) string {
	var out []string
	for i := 0; i < len(b.Cuts); {
		k := i
		for k < len(b.Cuts) && b.Cuts[k] == b.Cuts[i] {
			k++
		}
		out = append(out, times(k-i)+pieceName(w.u, b.Cuts[i].Mark, b.Cuts[i].Length))
		i = k
	}
	return strings.Join(out, ", ")
}
