package drawing

import (
	"errors"
	"fmt"
	"math"

	"barwright/geom"
	"barwright/mesh/bracket"
)

// BracketSheet draws a printed part as it lies on the printer: three views with hidden lines removed and their overall sizes, a
// pictorial view, the screws with the places of their seats, and the notes for printing. The block's empty fields for title,
// number, kind, scale, projection, material and mass are filled in. It returns an error where no sheet holds it.
func BracketSheet(r *bracket.Result, b TitleBlock, o Options) (*Sheet, error) {
	if r == nil || r.Mesh == nil {
		return nil, errors.New("no printed part to draw")
	}
	sizes := []string{"A4", "A3", "A2"}
	if o.Size != "" {
		sizes = []string{o.Size}
	}
	var last error = errNoRoom
	for _, least := range []float64{40, 0} { // the drawn part is at least this large, if it can be
		for _, name := range sizes {
			size, ok := SizeOf(name)
			if !ok {
				return nil, fmt.Errorf("sheet size %q: it is A4, A3, A2 or A1", name)
			}
			for _, scale := range []float64{5, 2, 1, 0.5, 0.2} {
				if max(r.Size.X, r.Size.Y, r.Size.Z)*scale < least {
					continue
				}
				s, err := bracketSheet(r, b, o, size, scale)
				if err == nil {
					return s, nil
				}
				last = err
			}
		}
	}
	return nil, fmt.Errorf("printed part %s: no sheet holds its drawing: %w", Clean(r.Name), last)
}

// bracketSheet lays the sheet out in one size and scale.
func bracketSheet(r *bracket.Result, b TitleBlock, o Options, size Size, scale float64) (*Sheet, error) {
	u := units{o.Units == "inch"}
	name := Clean(r.Name)
	s := &Sheet{Name: "bracket-" + fileStem(name), Title: "Printed part " + name, Size: size}
	s.DrawBorder()
	block := s.DrawTitleBlock(b.forBracket(r, o, scale))
	space := size.Space()
	at, width := s.notesPlace(block)
	top := math.Max(block.High.Y, at.Y+s.drawNotes(bracketNotes(r, u), at, width))
	p := &page{Sheet: s, foot: block.High.Y + 4, area: Area{geom.Vec2{X: space.Low.X + clearMark, Y: top + 4}, geom.Vec2{X: space.High.X - clearMark, Y: space.High.Y - clearMark}}}
	views := bracketViews(r, o.Projection == "third", scale, u)
	low, high := boundsOfOps(views)
	if high.X-low.X > p.area.Width() || high.Y-low.Y > p.area.Height() {
		return nil, errNoRoom
	}
	move(views, geom.Vec2{X: p.area.Low.X - low.X, Y: p.area.High.Y - high.Y})
	s.Add(views...)
	for _, ops := range [][]Op{screwTable(r, u), bracketPicture(r, scale)} {
		if len(ops) > 0 && !p.place(ops, len(p.floats) > 0) {
			return nil, errNoRoom
		}
	}
	if clashes := s.Verify(); len(clashes) > 0 {
		return nil, fmt.Errorf("%s at %s: %v", size.Name, scaleName(scale), clashes[0])
	}
	return s, nil
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
	or(&b.Mass, fmt.Sprintf("%.0f g", r.Mass*1000))
	or(&b.Tolerance, "±0.3 mm")
	b.Scale, b.Projection = scaleName(scale), o.Projection
	b.NotForManufacture = b.NotForManufacture || o.NotForManufacture
	return b
}

// bracketNotes returns the notes of the part, the caution last.
func bracketNotes(r *bracket.Result, u units) []string {
	notes := []string{fmt.Sprintf("Dimensions in %s, decimal point; as printed: the lowest face lies on the bed. X, Y, Z run from the left, the front and the bed.", u.name())}
	notes = append(notes, r.Notes...)
	if s := r.Strength; s != nil {
		notes = append(notes, "Strength, "+s.Formula+". From "+s.Source+".")
	}
	return append(notes, "CAUTION: printed parts creep, soften in heat and break without warning. An estimate of strength is no certificate: follow local codes and ask a licensed engineer where people or heavy loads depend on one.")
}

// bracketViews draws the view from the front with the view from the side at its right and the view from above below it, or over it in
// third angle, with the overall sizes.
func bracketViews(r *bracket.Result, third bool, scale float64, u units) []Op {
	const gap = 22.0
	s := &Sheet{}
	w, d, h := r.Size.X*scale, r.Size.Y*scale, r.Size.Z*scale
	side := fromLeft
	top := geom.Vec2{Y: -gap - d}
	if third {
		side, top.Y = fromRight, h+gap
	}
	for _, v := range []struct {
		view View
		at   geom.Vec2
	}{{fromFront, geom.Vec2{}}, {side, geom.Vec2{X: w + gap}}, {fromAbove, top}} {
		s.drawPicture(PartPictorial(r.Mesh, geom.Identity(), v.view, 0, 0, scale), v.at)
	}
	at := func(x, y float64) geom.Vec2 { return geom.Vec2{X: x, Y: y} }
	across := func(x, y0, size, mm float64) { // over a view
		y := y0 + firstDim - 1
		s.ext(at(x, y0), at(x, y))
		s.ext(at(x+size, y0), at(x+size, y))
		s.linear(at(x, y), at(x+size, y), u.place(mm), Text{Shows: Position, Of: []string{lengthID}, Value: mm})
	}
	upright := func(y0, size, mm float64) { // left of a view
		s.ext(at(0, y0), at(-firstDim, y0))
		s.ext(at(0, y0+size), at(-firstDim, y0+size))
		s.linear(at(-firstDim, y0), at(-firstDim, y0+size), u.place(mm), Text{Shows: Position, Of: []string{lengthID}, Value: mm})
	}
	if third {
		across(0, top.Y+d, w, r.Size.X)
	} else {
		across(0, h, w, r.Size.X)
	}
	upright(0, h, r.Size.Z)
	upright(top.Y, d, r.Size.Y)
	return s.Ops
}

// drawPicture draws the lines of a picture with its lower left corner at a point.
func (s *Sheet) drawPicture(p Picture, at geom.Vec2) {
	placedView{lines: p.Lines}.draw(s, at)
}

// bracketPicture returns the pictorial view, half as large as the other views where they are large.
func bracketPicture(r *bracket.Result, scale float64) []Op {
	s := &Sheet{}
	large := max(r.Size.X, r.Size.Y, r.Size.Z) * scale
	p := PartPictorial(r.Mesh, geom.Identity(), Pictorial(), 0, 0, scale*math.Min(1, 55/large))
	s.drawPicture(p, geom.Vec2{})
	s.Write(Label, geom.Vec2{X: p.Size.X / 2, Y: -4 - SmallText}, SmallText, Centre, "Pictorial view, not to scale")
	return s.Ops
}

// screwTable returns the table of screws: where the middle of each seat lies and what hole stands there.
func screwTable(r *bracket.Result, u units) []Op {
	if len(r.Screws) == 0 {
		return nil
	}
	l := list{title: "Screws: middle of the seat", columns: []listColumn{
		{"Screw", 18, Left}, {"Standard", 22, Left}, {"Hole", 14, Right}, {"X", 14, Right}, {"Y", 14, Right}, {"Z", 14, Right}}}
	for _, x := range r.Screws {
		p := r.Place.Unapply(x.Seat)
		l.rows = append(l.rows, []string{fmt.Sprintf("%s × %s", x.Thread, trimmed(x.Length, 1)), x.Standard, "⌀" + u.size(x.Hole), u.place(p.X), u.place(p.Y), u.place(p.Z)})
	}
	s := &Sheet{}
	s.drawDown(l.fitted(0), geom.Vec2{})
	return s.Ops
}
