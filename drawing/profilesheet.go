package drawing

import (
	"errors"
	"fmt"
	"math"

	"barwright/geom"
)

// ProfileProperties are the figures of a section that its sheet shows beside the drawing. Lengths are mm, the
// second moments are about the centroid.
type ProfileProperties struct {
	Area     float64   // mm²
	Mass     float64   // kg/m
	Ix, Iy   float64   // about the axes along x and y, mm⁴
	J        float64   // torsion constant, mm⁴; 0: not shown
	Centroid geom.Vec2 // from the middle of the outside rectangle
	Alloy    string
}

// rows returns the table of properties.
func (q ProfileProperties) rows() [][3]string {
	rows := [][3]string{
		{"Area", trimmed(q.Area, 2), "mm²"},
		{"Mass", trimmed(q.Mass, 3), "kg/m"},
		{"Ix", trimmed(q.Ix, 0), "mm⁴"},
		{"Iy", trimmed(q.Iy, 0), "mm⁴"},
	}
	if q.J > 0 {
		rows = append(rows, [3]string{"J", trimmed(q.J, 0), "mm⁴"})
	}
	return append(rows, [3]string{"Centroid x", trimmed(q.Centroid.X, 2), "mm"}, [3]string{"Centroid y", trimmed(q.Centroid.Y, 2), "mm"})
}

// ProfileSheet draws the section of a profile with all its sizes, and its properties in a table. The block's empty fields
// for title, number, scale, projection and material are filled in. It returns an error where the profile is not sound
// or no sheet holds it.
func ProfileSheet(p *geom.Profile, q ProfileProperties, b TitleBlock, o Options) (*Sheet, error) {
	if p == nil {
		return nil, errors.New("no profile to draw")
	}
	if err := p.Validate(); err != nil {
		return nil, fmt.Errorf("profile %s: %w", p.Name, err)
	}
	sizes := []string{"A3", "A2", "A1"}
	if o.Size != "" {
		sizes = []string{o.Size}
	}
	var last error
	for _, size := range sizes {
		for _, scale := range []float64{5, 2, 1, 0.5, 0.2} {
			s, err := profileSheet(p, q, b, o, size, scale)
			if err == nil {
				return s, nil
			}
			last = err
		}
	}
	return nil, fmt.Errorf("profile %s: no sheet holds its drawing: %w", p.Name, last)
}

// profileSheet lays the sheet out in one size and scale.
func profileSheet(p *geom.Profile, q ProfileProperties, b TitleBlock, o Options, size string, scale float64) (*Sheet, error) {
	paper, ok := SizeOf(size)
	if !ok {
		return nil, fmt.Errorf("sheet size %q: it is A4, A3, A2 or A1", size)
	}
	name := Clean(p.Name)
	s := &Sheet{Name: "profile-" + fileStem(name), Title: "Profile " + name, Size: paper}
	s.DrawBorder()
	block := s.DrawTitleBlock(b.forProfile(p, o, scale))
	sec := newSectionView(p, -1, scale)
	sec.draw()
	if !sec.allSizes(units{o.Units == "inch"}) {
		return nil, errNoRoom
	}
	if !s.placeProfile(sec.Ops, drawProperties(q.rows()).Ops, block) {
		return nil, errNoRoom
	}
	if clashes := s.Verify(); len(clashes) > 0 {
		return nil, fmt.Errorf("%s at %s: %v", size, scaleName(scale), clashes[0])
	}
	return s, nil
}

// placeProfile puts the section in the middle of its room, the table of properties in the upper right corner, or on A4
// over the title block, and the note. It reports false where the section has no room.
func (s *Sheet) placeProfile(section, table []Op, block Area) bool {
	space := s.Size.Space()
	area := Area{geom.Vec2{X: space.Low.X + clearMark, Y: block.High.Y + 4}, geom.Vec2{X: space.High.X - clearMark, Y: space.High.Y - clearMark}}
	low, high := boundsOfOps(section)
	tableLow, tableHigh := boundsOfOps(table)
	tableSize := tableHigh.Sub(tableLow)
	width := high.X - low.X
	const gap = 8.0
	room, at := area, geom.Vec2{X: area.High.X - tableSize.X, Y: area.High.Y}
	note := geom.Vec2{X: space.Low.X + 4, Y: space.Low.Y + 3}
	if block.Low.X-space.Low.X < 100 { // A4: the block takes the whole width
		note.Y = block.High.Y + 2
		room.Low.Y += tableSize.Y + gap + 3
		at = geom.Vec2{X: area.Low.X, Y: area.Low.Y + 3 + tableSize.Y}
	} else {
		room.High.X -= tableSize.X + gap
		if left := block.Low.X - 4 - room.Low.X; width <= left { // it may stand beside the title block
			room.Low.Y = space.Low.Y + clearMark
			room.High.X = room.Low.X + left
		}
	}
	if width > room.Width() || high.Y-low.Y > room.Height() {
		return false
	}
	move(section, room.Low.Add(room.High).Scale(0.5).Sub(low.Add(high).Scale(0.5)))
	move(table, at)
	s.Add(section...)
	s.Add(table...)
	s.Write(Note, note, SmallText, Left, "Generic sizes: measure the bars at hand before ordering or drilling.")
	return true
}

// forProfile fills in what follows from the profile.
func (b TitleBlock) forProfile(p *geom.Profile, o Options, scale float64) TitleBlock {
	or := func(s *string, v string) {
		if *s == "" {
			*s = v
		}
	}
	or(&b.Title, "Profile "+p.Name)
	or(&b.Number, p.Name)
	or(&b.DocumentType, "Profile drawing")
	or(&b.Material, p.Alloy)
	b.Scale, b.Projection, b.Tolerance = scaleName(scale), o.Projection, "EN 12020-2"
	b.NotForManufacture = b.NotForManufacture || o.NotForManufacture
	return b
}

// drawProperties draws the table of properties with its upper left corner at the origin.
func drawProperties(rows [][3]string) *Sheet {
	s := &Sheet{}
	var widths [3]float64
	for _, r := range rows {
		for i, c := range r {
			widths[i] = max(widths[i], TextWidth(c, DimText)+2*tablePad)
		}
	}
	total := widths[0] + widths[1] + widths[2]
	bottom := -tableRow * float64(len(rows))
	s.Rect(TableFrame, geom.Vec2{Y: bottom}, geom.Vec2{X: total})
	s.Line(Table, geom.Vec2{X: widths[0]}, geom.Vec2{X: widths[0], Y: bottom})
	s.Line(Table, geom.Vec2{X: widths[0] + widths[1]}, geom.Vec2{X: widths[0] + widths[1], Y: bottom})
	for i, r := range rows {
		y := -tableRow * float64(i+1)
		if i > 0 {
			s.Line(Table, geom.Vec2{Y: y + tableRow}, geom.Vec2{X: total, Y: y + tableRow})
		}
		s.Write(Table, geom.Vec2{X: tablePad, Y: y + 1.4}, DimText, Left, r[0])
		s.Write(Table, geom.Vec2{X: widths[0] + widths[1] - tablePad, Y: y + 1.4}, DimText, Right, r[1])
		s.Write(Table, geom.Vec2{X: widths[0] + widths[1] + tablePad, Y: y + 1.4}, DimText, Left, r[2])
	}
	return s
}

// nextDim is the distance from one dimension line to the next, mm.
const nextDim = 8.0

// allSizes dimensions everything that makes the section: outside sizes and pitch, the slot's opening, cavity, lip, depth
// and chamfer, the core and the corner. It reports false where a callout finds no place.
func (v *sectionView) allSizes(u units) bool {
	p := v.profile
	w, h := v.half.X, v.half.Y
	across := func(x0, x1, from0, from1, y, mm float64) {
		v.ext(geom.Vec2{X: x0, Y: from0}, geom.Vec2{X: x0, Y: y})
		v.ext(geom.Vec2{X: x1, Y: from1}, geom.Vec2{X: x1, Y: y})
		v.linear(geom.Vec2{X: x0, Y: y}, geom.Vec2{X: x1, Y: y}, u.size(mm), Text{Value: mm, Align: Right})
	}
	upright := func(y0, y1, from0, from1, x, mm float64) {
		v.ext(geom.Vec2{X: from0, Y: y0}, geom.Vec2{X: x, Y: y0})
		v.ext(geom.Vec2{X: from1, Y: y1}, geom.Vec2{X: x, Y: y1})
		v.linear(geom.Vec2{X: x, Y: y0}, geom.Vec2{X: x, Y: y1}, u.size(mm), Text{Value: mm})
	}
	pitch := p.Pitch * v.scale
	y, x := -h-firstDim, -w-firstDim
	// The width goes over the slot's sizes, so that the callouts have the room below.
	if p.Cells[0] > 1 {
		across(-w+pitch/2, -w+pitch*1.5, -h-2, -h-2, y, p.Pitch)
	}
	across(-w, w, h, h, h+firstDim+2*nextDim, p.Size().X)
	if p.Cells[1] > 1 {
		upright(-h+pitch/2, -h+pitch*1.5, -w-2, -w-2, x, p.Pitch)
		x -= nextDim
	}
	upright(-h, h, -w, -w, x, p.Size().Y)
	callouts := v.bottomCallouts(u)
	if side, offset, ok := v.slotAt(geom.Vec2{Y: 1}); ok {
		at := func(o, d float64) geom.Vec2 { return v.point(p.Point(side, offset+o, d)) }
		mid := at(0, 0).X
		half := func(size float64) float64 { return size / 2 * v.scale }
		lip, floor := h-p.Slot.Lip*v.scale, h-p.Slot.Depth*v.scale
		across(mid-half(p.Slot.Opening), mid+half(p.Slot.Opening), h, h, h+firstDim, p.Slot.Opening)
		across(mid-half(p.Slot.Cavity), mid+half(p.Slot.Cavity), lip, lip, h+firstDim+nextDim, p.Slot.Cavity)
		upright(lip, h, mid+half(p.Slot.Cavity), w, w+firstDim, p.Slot.Lip)
		upright(floor, h, mid+half(p.Slot.Cavity)-p.Slot.Chamfer*v.scale, w, w+firstDim+nextDim, p.Slot.Depth)
	}
	return placeCallouts(v.Sheet, callouts, -math.Inf(1), math.Inf(1))
}

// bottomCallouts returns the callouts of core, chamfer and corner, which stand under the section.
func (v *sectionView) bottomCallouts(u units) []callout {
	p := v.profile
	w, h := v.half.X, v.half.Y
	below := -h
	if p.Cells[0] > 1 {
		below -= firstDim + overrun
	}
	leader := func(text string, tip geom.Vec2, radius float64) callout {
		return callout{anchors: []anchor{{tip, radius}}, variants: [][]string{{text}}, above: math.Inf(1), below: below, down: true}
	}
	core := v.point(p.Cores()[p.Cells[0]-1])
	text := "⌀" + u.size(p.Core)
	if p.Thread != "" {
		text += ", takes " + Clean(p.Thread)
	}
	out := []callout{leader(text, core, p.Core/2*v.scale)}
	if p.CornerRadius > 0 {
		r := p.CornerRadius * v.scale
		corner := geom.Vec2{X: -w + r, Y: -h + r}.Add(geom.Vec2{X: -r, Y: -r}.Scale(math.Sqrt2 / 2))
		out = append(out, leader("R"+u.size(p.CornerRadius), corner, 0))
	}
	if side, offset, ok := v.slotAt(geom.Vec2{Y: -1}); ok && p.Slot.Chamfer > 0 {
		q := p.Slot.Cavity/2 - p.Slot.Chamfer/2
		at := v.point(p.Point(side, offset+q, p.Slot.Depth-p.Slot.Chamfer/2))
		if other := v.point(p.Point(side, offset-q, p.Slot.Depth-p.Slot.Chamfer/2)); other.X > at.X {
			at = other
		}
		out = append(out, leader(u.size(p.Slot.Chamfer)+" × 45°", at, 0))
	}
	return out
}
