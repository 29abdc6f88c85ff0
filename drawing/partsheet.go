package drawing

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"barwright/frame"
	"barwright/geom"
)

// Options say how sheets are made. The zero Options take everything from the frame.
type Options struct {
	Projection        string // "first" or "third" angle; "": as the frame says
	Size              string // "A4" to "A1", a larger one only where it cannot hold the drawing; "": chosen to fit
	Units             string // "mm" or "inch"; "": as the frame says
	NotForManufacture bool   // stamp the sheets: the frame has findings of severity error
}

// settle fills in what the options leave to the frame.
func (o Options) settle(f *frame.Frame) (Options, error) {
	if o.Projection == "" {
		o.Projection = f.Projection
	}
	if o.Projection == "" {
		o.Projection = "first"
	}
	if o.Units == "" {
		o.Units = f.Units
	}
	switch {
	case o.Projection != "first" && o.Projection != "third":
		return o, fmt.Errorf("projection %q: it is \"first\" or \"third\"", o.Projection)
	case o.Units != "" && o.Units != "mm" && o.Units != "inch":
		return o, fmt.Errorf("units %q: they are \"mm\" or \"inch\"", o.Units)
	}
	if o.Size != "" {
		if _, ok := SizeOf(o.Size); !ok || o.Size == "A0" {
			return o, fmt.Errorf("sheet size %q: it is A4, A3, A2 or A1", o.Size)
		}
	}
	return o, nil
}

// PartSheets returns the sheets of all parts in the order of their marks: one for each part, more where one
// does not hold it. It returns an error where an option is wrong or a part cannot be drawn.
func PartSheets(f *frame.Frame, o Options) ([]*Sheet, error) {
	o, err := o.settle(f)
	if err != nil {
		return nil, err
	}
	var out []*Sheet
	for _, p := range f.Parts {
		sheets, err := partSheets(f, p, o)
		if err != nil {
			return nil, fmt.Errorf("part %s: %w", p.Mark, err)
		}
		out = append(out, sheets...)
	}
	NumberSheets(out)
	return out, nil
}

// attempt is one way to lay out a part's sheets.
type attempt struct {
	f      *frame.Frame
	part   *frame.Part
	bar    *frame.Bar
	o      Options
	u      units
	size   Size
	scale  float64
	table  bool
	split  bool // a further sheet may be taken
	breaks int  // most breaks of the bar
	faces  []geom.Side
	main   geom.Side
	pages  []*page
}

// page is a sheet with the area left for views.
type page struct {
	*Sheet
	area   Area    // for the views: over title block and notes
	foot   float64 // lowest y of blocks: over the title block, beside the notes
	y      float64 // top of the free area under the views
	views  []Op
	floats []Op
}

// errNoRoom says that an attempt does not hold the part.
var errNoRoom = errors.New("the drawing does not fit the sheet")

// partSheets tries layouts from the plainest on: one sheet before several, readable holes and few breaks before
// small holes and many breaks, a small sheet before a large one, callouts before a hole table, a large scale before a
// small one. The first that fits and that [Sheet.Verify] passes is taken.
func partSheets(f *frame.Frame, p *frame.Part, o Options) ([]*Sheet, error) {
	var last error
	for _, l := range levels(o.Size) {
		for _, table := range []bool{false, true} {
			if !table && needsTable(&p.Bar) || table && len(p.Bar.Holes) == 0 {
				continue
			}
			for _, scale := range []float64{1, 0.5, 0.2, 0.1} {
				if l.tooSmall(&p.Bar, scale) {
					continue
				}
				a := newAttempt(f, p, o, l.size, scale, table, l.split)
				a.breaks = l.breaks
				sheets, err := a.run()
				if err == nil {
					return sheets, nil
				}
				last = err
			}
		}
	}
	return nil, fmt.Errorf("no sheet holds its drawing: %w", last)
}

// level is how much a layout may ask of its reader.
type level struct {
	size   string
	split  bool // further sheets
	breaks int  // most breaks of the bar
	small  bool // holes down to [smallDrawn] at any scale
	tiny   bool // holes of any size
}

// levels returns the levels from the best on: few breaks, holes that are easily seen and a sheet that a desk's printer takes come
// before many breaks, small holes, a large sheet and a further sheet. A given size comes first in every way; larger
// ones follow for a part that it cannot hold.
func levels(given string) []level {
	names := []string{"A4", "A3", "A2", "A1"}
	i := slices.Index(names, given)
	if i < 0 {
		return levelsOf("A3", "A2", "A1")
	}
	var out []level
	for _, size := range names[i:] {
		out = append(out, levelsOf(size)...)
	}
	return out
}

// levelsOf returns the levels of some sizes, the smallest first.
func levelsOf(sizes ...string) []level {
	var out []level
	desk := sizes[:min(2, len(sizes))]
	add := func(sizes []string, l level, breaks ...int) {
		for _, l.size = range sizes {
			for _, l.breaks = range breaks {
				out = append(out, l)
			}
		}
	}
	add(desk, level{}, 2, 4, 6)
	add(desk, level{small: true}, 2, 4, 6, 9)
	add(desk, level{split: true}, 2, 4, 6)
	add(sizes, level{}, 2, 4, 6)
	add(sizes, level{split: true, small: true}, 2, 4, 6)
	add(sizes, level{tiny: true}, math.MaxInt)
	add(sizes, level{split: true, tiny: true}, math.MaxInt)
	return out
}

// The smallest diameter in mm that a hole should have on the paper (common practice).
const (
	leastDrawn = 2.0
	smallDrawn = 1.5 // at 1:2, where the section is still easily read, and where nothing else fits
)

// tooSmall reports whether a scale draws a hole or a core too small for a level.
func (l level) tooSmall(b *frame.Bar, scale float64) bool {
	if l.tiny || scale >= 1 {
		return false
	}
	least := b.Profile.Core
	for _, h := range b.Holes {
		least = math.Min(least, h.Diameter)
	}
	if l.small || scale >= 0.5 {
		return least*scale < smallDrawn
	}
	return least*scale < leastDrawn
}

func newAttempt(f *frame.Frame, p *frame.Part, o Options, size string, scale float64, table, split bool) *attempt {
	a := &attempt{f: f, part: p, bar: &p.Bar, o: o, u: units{o.Units == "inch"}, scale: scale, table: table, split: split}
	a.size, _ = SizeOf(size)
	a.chooseFaces()
	return a
}

// chooseFaces takes the faces with machining, and one that shows each mitre in its true angle, in the order
// in which rolling the bar shows them from top to bottom of the sheet; the one with the most holes is the main view.
func (a *attempt) chooseFaces() {
	var count [4]int
	var use [4]bool
	for _, h := range a.bar.Holes {
		count[h.Side]++
		use[h.Side] = true
	}
	for end := range 2 {
		for _, s := range mitreFaces(a.bar, end, use) {
			use[s] = true
		}
	}
	for s := range geom.Side(4) {
		if count[s] > count[a.main] || !use[a.main] && use[s] && count[a.main] == 0 {
			a.main = s
		}
	}
	use[a.main] = true
	// The shortest run of faces that holds all in use begins after the longest run that is not.
	start := geom.Side(0)
	longest := -1
	for s := range geom.Side(4) {
		if !use[s] {
			continue
		}
		gap := 0
		for k := (s + 3) % 4; !use[k] && gap < 4; k = (k + 3) % 4 {
			gap++
		}
		if gap > longest {
			longest, start = gap, s
		}
	}
	for i := range geom.Side(4) {
		if s := (start + i) % 4; use[s] {
			a.faces = append(a.faces, s)
		}
	}
	if a.o.Projection != "third" {
		// First angle: the view from above lies below, so that the numbers fall from top to bottom.
		for i, j := 0, len(a.faces)-1; i < j; i, j = i+1, j-1 {
			a.faces[i], a.faces[j] = a.faces[j], a.faces[i]
		}
	}
}

// run lays the sheets out. It returns an error where the part does not fit or a sheet fails its proof.
func (a *attempt) run() ([]*Sheet, error) {
	rows, err := a.rows()
	if err != nil {
		return nil, err
	}
	a.newPage()
	for _, r := range rows {
		if !a.stack(r) {
			return nil, errNoRoom
		}
	}
	for _, b := range a.floats() {
		if !a.float(b) {
			return nil, errNoRoom
		}
	}
	a.pages[0].spreadOut()
	var out []*Sheet
	for i, p := range a.pages {
		if i > 0 {
			p.Name = fmt.Sprintf("%s-%d", p.Name, i+1)
			p.Title = fmt.Sprintf("%s, sheet %d", p.Title, i+1)
		}
		if clashes := p.Verify(); len(clashes) > 0 {
			return nil, fmt.Errorf("%s %s 1:%g: %v", p.Name, a.size.Name, 1/a.scale, clashes[0])
		}
		out = append(out, p.Sheet)
	}
	return out, nil
}

// clearMark is how far views keep off the border, mm: clear of the centring marks.
const clearMark = 11.5

// newPage begins a sheet with border, title block and notes.
func (a *attempt) newPage() {
	mark := Clean(a.part.Mark)
	s := &Sheet{Name: "part-" + fileStem(mark), Size: a.size,
		Title: fmt.Sprintf("%s – %s, %s %s", mark, a.bar.Profile.Name, a.u.place(a.bar.Length), a.u.name())}
	s.DrawBorder()
	block := s.DrawTitleBlock(a.titleBlock())
	space := a.size.Space()
	top := block.High.Y
	if len(a.pages) == 0 {
		at, width := s.notesPlace(block)
		top = math.Max(top, at.Y+s.drawNotes(partNotes(a.f, a.part, a.u, a.table), at, width))
	}
	// The centring marks reach 10 mm into the drawing space.
	area := Area{geom.Vec2{X: space.Low.X + clearMark, Y: top + 4}, geom.Vec2{X: space.High.X - clearMark, Y: space.High.Y - clearMark}}
	a.pages = append(a.pages, &page{Sheet: s, area: area, foot: block.High.Y + 4, y: area.High.Y})
}

func (a *attempt) titleBlock() TitleBlock {
	f, p := a.f, a.part
	kind := f.TitleBlock.DocumentType
	if kind == "" {
		kind = "Part drawing"
	}
	title := f.Title
	if title == "" {
		title = f.Name
	}
	return TitleBlock{
		Owner: f.TitleBlock.Owner, Number: partNumber(f, p), Revision: f.Revision, Date: f.TitleBlock.Date,
		Title: title, Supplement: fmt.Sprintf("Part %s: bar %s, length %s %s", p.Mark, a.bar.Profile.Name, a.u.place(a.bar.Length), a.u.name()),
		DocumentType: kind, Creator: f.TitleBlock.Creator, Approver: f.TitleBlock.Approver, Department: f.TitleBlock.Department,
		Scale: scaleName(a.scale), Projection: a.o.Projection, Tolerance: "ISO 2768-m",
		Material: a.bar.Profile.Alloy, Mass: trimmed(p.Mass, 3) + " kg", Quantity: fmt.Sprint(p.Quantity()),
		Fingerprint: f.Fingerprint, Settings: settingsOf(f), NotForManufacture: a.o.NotForManufacture,
	}
}

// partNumber returns the identification number of a part: its mark after the reference of the design.
func partNumber(f *frame.Frame, p *frame.Part) string {
	if f.Reference == "" {
		return Clean(p.Mark)
	}
	return Clean(f.Reference) + "-" + Clean(p.Mark)
}

// settingsOf returns the values given on the command line.
func settingsOf(f *frame.Frame) string {
	var out []string
	for _, s := range f.Settings {
		out = append(out, fmt.Sprintf("%s = %s", s.Name, trimmed(s.Value, 3)))
	}
	return strings.Join(out, ", ")
}

// scaleName prints a scale (ISO 5455).
func scaleName(scale float64) string {
	if scale >= 1 {
		return trimmed(scale, 0) + ":1"
	}
	return "1:" + trimmed(1/scale, 0)
}

// fileStem makes a mark or a name fit to be part of a file's name: letters, digits, dots and dashes stay.
func fileStem(name string) string {
	return strings.Map(func(c rune) rune {
		if c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9' || c == '-' || c == '.' || c == '_' {
			return c
		}
		return '_'
	}, name)
}
