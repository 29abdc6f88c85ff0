package drawing

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"barwright/geom"
	"barwright/mesh/bracket"
)

// BracketSheet draws a printed part with all sizes that its model states: the views and cuts that show its holes round and its sizes
// true, a pictorial view as it lies on the printer, and the notes for printing. It takes another size of sheet than asked for where that
// is too small. The block's empty fields for title,
// number, kind, scale, projection, material and mass are filled in. It returns an error where no sheet holds it.
func BracketSheet(r *bracket.Result, b TitleBlock, o Options) (*Sheet, error) {
	if r == nil || r.Mesh == nil {
		return nil, errors.New("no printed part to draw")
	}
	if o.Units != "" && o.Units != "mm" && o.Units != "inch" {
		return nil, fmt.Errorf("units %q: they are mm or inch", o.Units)
	}
	part, err := newPrintedPart(r)
	if err != nil {
		return nil, err
	}
	var last error = errNoRoom
	for _, w := range sheetChoices(o.Size) {
		size, ok := SizeOf(w.size)
		if !ok {
			return nil, fmt.Errorf("sheet size %q: it is A4, A3, A2 or A1", w.size)
		}
		for _, scale := range []float64{5, 2, 1, 0.5, 0.2} {
			if large := part.large(scale); large < w.least || large >= w.most || w.least > 0 && scale < 0.5 && !part.long() {
				continue
			}
			s, err := bracketSheet(part, b, o, size, scale, w.loose)
			if err == nil {
				return s, nil
			}
			last = err
		}
	}
	return nil, fmt.Errorf("printed part %s: no sheet holds its drawing: %w", Clean(r.Name), last)
}

// sheetChoice is a size of sheet for drawings whose largest view has a size on the paper: the side of a square as large, mm.
type sheetChoice struct {
	size        string
	least, most float64
	loose       bool // views stand where there is room, under their names
}

// sheetChoices returns what to try in turn: a drawing that is large enough to read at ease comes first, then the smaller sheet.
func sheetChoices(size string) []sheetChoice {
	const ease, readable = 36.0, 22.0
	inf := math.Inf(1)
	all := []sheetChoice{{"A4", ease, inf, false}, {"A3", ease, inf, false}, {"A3", ease, inf, true}, {"A4", readable, ease, false}, {"A3", readable, ease, false}, {"A3", readable, inf, true},
		{"A2", readable, inf, false}, {"A2", readable, inf, true}, {"A3", 0, readable, false}, {"A3", 0, readable, true}, {"A2", 0, readable, true}}
	if size == "" {
		return all
	}
	own := []sheetChoice{{size, ease, inf, false}, {size, ease, inf, true}, {size, readable, ease, false}, {size, readable, inf, true}, {size, 0, readable, false}, {size, 0, readable, true}}
	return append(own, all...)
}

// bracketSheet lays the sheet out in one size and scale.
func bracketSheet(r *printedPart, b TitleBlock, o Options, size Size, scale float64, loose bool) (*Sheet, error) {
	u := units{o.Units == "inch"}
	name := Clean(r.Name)
	s := &Sheet{Name: "bracket-" + fileStem(name), Title: "Printed part " + name, Size: size}
	space := size.Space()
	if w, h := r.least(scale); w > space.Width() || h > space.Height() {
		return nil, errNoRoom
	}
	s.DrawBorder()
	block := s.DrawTitleBlock(b.forBracket(r.Result, o, scale))
	at, width := s.notesPlace(block)
	top := math.Max(block.High.Y, at.Y+s.drawNotes(bracketNotes(r.Result, u), at, width))
	p := &page{Sheet: s, foot: block.High.Y + 4, area: Area{geom.Vec2{X: space.Low.X + clearMark, Y: top + 4}, geom.Vec2{X: space.High.X - clearMark, Y: space.High.Y - clearMark}}}
	d := r.drawn(scale, o.Projection == "third", loose, u)
	if d.err != nil {
		return nil, d.err
	}
	pictures := [][]Op{r.picture(scale, 55, u), r.picture(scale, 32, u)}
	if !(loose && p.inRow(d.views, d.floats, pictures)) && !p.compose(d.views, d.floats, pictures) {
		return nil, errNoRoom
	}
	if clashes := s.Verify(); len(clashes) > 0 {
		return nil, fmt.Errorf("%s at %s: %v", size.Name, scaleName(scale), clashes[0])
	}
	return s, nil
}

// inRow puts views that stand by themselves beside each other with even gaps, and the first of the pictures that finds room with them
// or elsewhere.
func (p *page) inRow(views []Op, blocks, pictures [][]Op) bool {
	all := append([][]Op{views}, blocks...)
	for _, picture := range pictures {
		if p.row(append(slices.Clone(all), picture)) {
			return true
		}
	}
	before := len(p.Ops)
	if p.row(all) {
		for _, picture := range pictures {
			if p.place(picture, true) {
				return true
			}
		}
	}
	p.Ops = p.Ops[:before]
	return false
}

// row puts blocks beside each other with even gaps at the middle of what is free, if they find room so.
func (p *page) row(blocks [][]Op) bool {
	gap := p.area.Width()
	for _, b := range blocks {
		low, high := boundsOfOps(b)
		if gap -= high.X - low.X; high.Y-low.Y > p.area.Height() {
			return false
		}
	}
	if gap /= float64(len(blocks) + 1); gap < printedGap {
		return false
	}
	x, middle := p.area.Low.X, (p.area.Low.Y+p.area.High.Y)/2
	for _, b := range blocks {
		low, high := boundsOfOps(b)
		move(b, geom.Vec2{X: x + gap - low.X, Y: middle - (low.Y+high.Y)/2})
		x += gap + high.X - low.X
		p.Add(b...)
	}
	return true
}

// compose puts the views into the middle of what is free, or nearer to its upper left corner where the other blocks need that.
// Of the pictures the first is taken that finds room.
func (p *page) compose(views []Op, blocks, pictures [][]Op) bool {
	low, high := boundsOfOps(views)
	free := geom.Vec2{X: p.area.Width() - (high.X - low.X), Y: p.area.Height() - (high.Y - low.Y)}
	if free.X < 0 || free.Y < 0 {
		return false
	}
	before := len(p.Ops)
next:
	for _, share := range []float64{0.5, 0.25, 0} {
		low, high = boundsOfOps(views)
		move(views, geom.Vec2{X: p.area.Low.X + share*free.X - low.X, Y: p.area.High.Y - share*free.Y - high.Y})
		p.Ops = append(p.Ops[:before], views...)
		for _, b := range blocks {
			if !p.place(b, true) {
				continue next
			}
		}
		for _, b := range pictures {
			if p.place(b, true) {
				return true
			}
		}
	}
	return false
}

// forBracket fills in what follows from the part.
func (b TitleBlock) forBracket(r *bracket.Result, o Options, scale float64) TitleBlock {
	or := func(s *string, v string) {
		if *s == "" {
			*s = v
		}
	}
	or(&b.Title, "Printed part "+r.Name)
	or(&b.Number, r.Name)
	or(&b.DocumentType, "Printed part")
	or(&b.Material, r.Material)
	or(&b.Mass, bracket.Grams(r.Mass))
	or(&b.Tolerance, "±0.3 mm")
	b.Scale, b.Projection = scaleName(scale), o.Projection
	b.NotForManufacture = b.NotForManufacture || o.NotForManufacture
	return b
}

// bracketNotes returns the notes of the part, the caution last.
func bracketNotes(r *bracket.Result, u units) []string {
	notes := []string{fmt.Sprintf("Dimensions in %s, decimal point. Values at the ends of extension lines count from the open circle at 0.", u.name())}
	if len(r.Drawn.Alike) > 0 {
		notes = append(notes, strings.Join(r.Drawn.Alike, " "))
	}
	notes = append(notes, r.Notes...)
	if s := r.Strength; s != nil {
		notes = append(notes, "Strength, "+s.Formula+". From "+s.Source+".")
	}
	return append(notes, "CAUTION: printed parts creep, soften in heat and break without warning. An estimate of strength is no certificate: follow local codes and ask a licensed engineer where people or heavy loads depend on one.")
}

// least returns the room in mm that the views take without their sizes.
func (p *printedPart) least(scale float64) (width, height float64) {
	for _, v := range p.views {
		width, height = max(width, (v.high.X-v.low.X)*scale), max(height, (v.high.Y-v.low.Y)*scale)
	}
	return width, height
}

// long reports whether a part is too long for scales that show details.
func (p *printedPart) long() bool {
	const most = 320
	return max(p.Size.X, p.Size.Y, p.Size.Z) > most
}

// large returns how large the largest view is on the paper: the side of a square of its area, mm.
func (p *printedPart) large(scale float64) float64 {
	large := 0.0
	for _, v := range p.views {
		large = max(large, math.Sqrt((v.high.X-v.low.X)*(v.high.Y-v.low.Y))*scale)
	}
	return large
}

// printedGap is the room between the writing of two views, mm.
const printedGap = 8.0

// smallDetail is how large in mm a cut view must be drawn at least before it gets a scale of its own.
const smallDetail = 16.0

// scaleKey is what a drawing without a sheet depends on.
type scaleKey struct {
	scale float64
	loose bool
}

// drawnScale is what a scale gives: the views in line with one another, and those that stand by themselves.
type drawnScale struct {
	views  []Op
	floats [][]Op
	err    error
}

// drawn returns what draw gives, which does not depend on the sheet, and works it out once.
func (p *printedPart) drawn(scale float64, third, loose bool, u units) drawnScale {
	key := scaleKey{scale, loose}
	d, ok := p.scales[key]
	if !ok {
		d.views, d.floats, d.err = p.draw(scale, third, loose, u)
		p.scales[key] = d
	}
	return d
}

// draw draws all views with their sizes, arranged by the method of projection (ISO 5456-2), and those that stand by themselves because
// they would be too small, or all of them but the front.
func (p *printedPart) draw(scale float64, third, loose bool, u units) (views []Op, floats [][]Op, err error) {
	var all []*drawnView
	for _, v := range p.views {
		d := &drawnView{Sheet: &Sheet{}, printedView: v, scale: scale, units: u, floating: loose && v != p.views[0]}
		if size := max(v.high.X-v.low.X, v.high.Y-v.low.Y); v.cut != nil && v != p.views[0] && size*scale < smallDetail {
			for _, larger := range []float64{5, 2, 1, 0.5} {
				if larger > scale && size*larger < 70 {
					d.scale, d.floating = larger, true
					break
				}
			}
		}
		d.low, d.high = v.low.Scale(d.scale), v.high.Scale(d.scale)
		d.draw(p.Holes)
		all = append(all, d)
	}
	for _, d := range all {
		if err := d.dimensions(p.Drawn.Measures); err != nil {
			return nil, nil, err
		}
	}
	if err := markCuts(all, loose); err != nil {
		return nil, nil, err
	}
	said, err := calls(all, p.Result, u)
	if err == nil {
		err = callouts(said)
	}
	if err != nil {
		return nil, nil, err
	}
	for _, d := range all {
		d.title(loose, scale)
	}
	views, floats = arrange(all, third)
	return views, floats, nil
}

// markCuts draws the plane of each cut in the first view that looks along it.
func markCuts(all []*drawnView, loose bool) error {
	for _, v := range all {
		k := slices.IndexFunc(all, func(d *drawnView) bool { return d != v && (loose || !d.floating) && d.sees(v.face) })
		if v.cut == nil || k < 0 {
			continue
		}
		if err := all[k].cutMarks(v.printedView); err != nil {
			return err
		}
	}
	return nil
}

// title writes the name of a cut over its view, and that of a view which does not stand in its place.
func (v *drawnView) title(loose bool, sheet float64) {
	_, high := boundsOfOps(v.Ops)
	mid := (v.low.X + v.high.X) / 2
	if v.cut == nil {
		if loose {
			from := map[string]string{"front": "the front", "left": "the left", "right": "the right", "rear": "behind"}[v.name]
			if from == "" {
				from = v.name
			}
			v.put(&Text{Role: Label, At: geom.Vec2{X: mid, Y: high.Y + 3}, String: "Seen from " + from, Height: DimText, Align: Centre})
		}
		return
	}
	text := v.letter + "–" + v.letter
	if v.scale != sheet {
		text += " (" + scaleName(v.scale) + ")"
	}
	v.put(&Text{Role: Label, At: geom.Vec2{X: mid, Y: high.Y + 3 + SmallText*LineSpace}, String: text, Height: DimText, Align: Centre},
		&Text{Role: Label, At: geom.Vec2{X: mid, Y: high.Y + 3}, String: v.cut.Name, Height: SmallText, Align: Centre})
}

// arrange puts the views round the front view, each in line with it.
func arrange(all []*drawnView, third bool) (views []Op, floats [][]Op) {
	place := map[string]geom.Vec2{"above": {Y: -1}, "below": {Y: 1}, "left": {X: 1}, "right": {X: -1}, "rear": {X: 2}}
	if third {
		place = map[string]geom.Vec2{"above": {Y: 1}, "below": {Y: -1}, "left": {X: -1}, "right": {X: 1}, "rear": {X: 2}}
	}
	low, high := boundsOfOps(all[0].Ops)
	views = append(views, all[0].Ops...)
	// The row of the front view first, then what stands over and under the whole row.
	for _, upright := range []bool{false, true} {
		for _, want := range []float64{-1, 1, 2} {
			for _, v := range all[1:] {
				at := place[v.name]
				if v.floating || upright && at.Y != want || !upright && at.X != want {
					continue
				}
				l, h := boundsOfOps(v.Ops)
				shift := geom.Vec2{}
				switch {
				case at.X < 0:
					shift.X = low.X - printedGap - h.X
				case at.X > 0:
					shift.X = high.X + printedGap - l.X
				case at.Y < 0:
					shift.Y = low.Y - printedGap - h.Y
				default:
					shift.Y = high.Y + printedGap - l.Y
				}
				move(v.Ops, shift)
				views = append(views, v.Ops...)
				low, high = boundsOfOps(views)
			}
		}
	}
	for _, v := range all {
		if v.floating {
			floats = append(floats, v.Ops)
		}
	}
	return views, floats
}

// picture returns the pictorial view of the part as it lies on the printer, at most so large, with its size there.
func (p *printedPart) picture(scale, most float64, u units) []Op {
	s := &Sheet{}
	size := p.high.Sub(p.low)
	k := min(scale, most/max(size.X, size.Y))
	for _, l := range p.pictorial {
		pts := make([]geom.Vec2, len(l.Points))
		for i, q := range l.Points {
			pts[i] = q.Sub(p.low).Scale(k)
		}
		s.Add(&Stroke{Role: l.Kind.role(), Points: pts})
	}
	for i, line := range []string{"As it lies on the bed, not to scale:", fmt.Sprintf("%s × %s × %s", u.place(p.Size.X), u.place(p.Size.Y), u.place(p.Size.Z))} {
		s.Write(Label, geom.Vec2{X: size.X * k / 2, Y: -4 - SmallText - float64(i)*SmallText*LineSpace}, SmallText, Centre, line)
	}
	return s.Ops
}
