package drawing

import (
	"fmt"
	"math"

	"barwright/geom"
	"barwright/stock"
)

// bar draws one bar: a line of words with a box to tick, and the strip.
func (w *cutWriter) bar(c *CutProfile, i int) {
	b := &c.Plan.Bars[i]
	left := "left " + w.u.size(b.Left)
	if b.Keep && c.Problem.Keep > 0 {
		left += ", keep"
	}
	words := Wrap(w.words(b)+"; "+left, SmallText, cutRight-cutLeft-headWidth)
	for len(words) > 6 {
		words = append(words[:5], "… and more: see cutplan.csv; "+left)
	}
	above := math.Max(DimText*1.5, float64(len(words))*noteLine) + 1.5
	w.room(above + stripHeight + barGap)
	s := w.sheet
	base := w.y - DimText - 0.5
	s.Rect(Table, geom.Vec2{X: cutLeft, Y: base - 0.4}, geom.Vec2{X: cutLeft + tickBox, Y: base - 0.4 + tickBox})
	head := fmt.Sprintf("Bar %d   %s", i+1, w.u.size(b.StockLength))
	switch {
	case b.Offcut:
		head += "   offcut"
	case b.Price > 0:
		head += "   " + fixed(b.Price, 2)
	}
	s.Write(Label, geom.Vec2{X: cutLeft + tickBox + 2, Y: base}, DimText, Left, head)
	y := base
	for _, l := range words {
		s.Write(Note, geom.Vec2{X: cutLeft + headWidth, Y: y}, SmallText, Left, Fit(l, SmallText, cutRight-cutLeft-headWidth))
		y -= noteLine
	}
	w.strip(c, b, geom.Vec2{X: cutLeft, Y: w.y - above - stripHeight})
	w.y -= above + stripHeight + barGap
}

// strip draws the bar to scale with its lower left corner at a place.
func (w *cutWriter) strip(c *CutProfile, b *stock.PlannedBar, at geom.Vec2) {
	s, k := w.sheet, w.scale
	point := func(mm, y float64) geom.Vec2 { return geom.Vec2{X: at.X + mm*k, Y: at.Y + y} }
	s.Rect(Outline, at, point(b.StockLength, stripHeight))
	trim := c.Problem.Trim / 2
	for _, from := range []float64{0, b.StockLength - trim} {
		if trim*k > 0.05 {
			s.Fill(Outline, point(from, 0), point(from+trim, 0), point(from+trim, stripHeight), point(from, stripHeight))
		}
	}
	z, end := trim, b.StockLength-trim
	for _, cut := range b.Cuts {
		w.piece(cut, Area{point(z, 0), point(z+cut.Length, stripHeight)})
		z += cut.Length
		w.kerf(point, z, math.Min(c.Problem.Kerf, end-z))
		z += c.Problem.Kerf
	}
	if z < end {
		w.leftover(b, c.Problem.Keep, Area{point(z, 0), point(end, stripHeight)})
	}
}

// kerf draws a saw cut at z, as wide as it is or at least as a wide line.
func (w *cutWriter) kerf(point func(mm, y float64) geom.Vec2, z, width float64) {
	switch {
	case width <= 1e-6: // the last piece ends with the bar
	case width*w.scale > WideLine:
		w.sheet.Fill(Outline, point(z, 0), point(z+width, 0), point(z+width, stripHeight), point(z, stripHeight))
	default:
		w.sheet.Line(Outline, point(z+width/2, 0), point(z+width/2, stripHeight))
	}
}

// piece writes mark and length into a piece, as large as they fit, and a box to tick.
func (w *cutWriter) piece(c stock.Cut, a Area) {
	s := w.sheet
	mark, length := Clean(c.Mark), w.u.size(c.Length)
	const clear = 1.4 // from the lines at both sides
	width := a.Width() - 2*clear
	mid := a.Low.Add(a.High).Scale(0.5)
	wide := math.Max(TextWidth(mark, DimText), TextWidth(length, DimText))
	switch {
	case width >= wide+pieceTick+2:
		box := geom.Vec2{X: a.Low.X + clear, Y: mid.Y - pieceTick/2}
		s.Rect(Table, box, box.Add(geom.Vec2{X: pieceTick, Y: pieceTick}))
		mid.X += (pieceTick + 2) / 2
		w.twoLines(mark, length, mid, DimText)
	case width >= wide:
		w.twoLines(mark, length, mid, DimText)
	case width >= math.Max(TextWidth(mark, SmallText), TextWidth(length, SmallText)):
		w.twoLines(mark, length, mid, SmallText)
	default:
		text := pieceName(w.u, c.Mark, c.Length)
		for _, t := range []string{text, mark, length} {
			if t != "" && width >= SmallText && TextWidth(t, SmallText) <= stripHeight-2 {
				s.Add(&Text{Role: Callout, At: geom.Vec2{X: mid.X + SmallText/2, Y: mid.Y}, String: t, Height: SmallText, Turn: math.Pi / 2, Align: Centre})
				return
			}
		}
	}
}

// twoLines writes the mark over the length, or the length alone.
func (w *cutWriter) twoLines(mark, length string, mid geom.Vec2, height float64) {
	if mark == "" {
		w.sheet.Write(Callout, mid.Sub(geom.Vec2{Y: height / 2}), height, Centre, length)
		return
	}
	w.sheet.Write(Callout, mid.Add(geom.Vec2{Y: 0.9}), height, Centre, mark)
	w.sheet.Write(Callout, mid.Sub(geom.Vec2{Y: height + 0.9}), height, Centre, length)
}

// leftover hatches what is left of a bar and writes how long it is where that fits.
func (w *cutWriter) leftover(b *stock.PlannedBar, keep float64, a Area) {
	s := w.sheet
	text := w.u.size(b.Left)
	if b.Keep && keep > 0 {
		text = "keep " + text
	}
	if TextWidth(text, DimText)+5 > a.Width() {
		text = w.u.size(b.Left)
	}
	wide := TextWidth(text, DimText) + 3
	if b.Left <= 0 || a.Width() < wide+2 {
		w.hatch(a)
		return
	}
	mid := a.Low.Add(a.High).Scale(0.5)
	s.Write(Callout, mid.Sub(geom.Vec2{Y: DimText / 2}), DimText, Centre, text)
	w.hatch(Area{a.Low, geom.Vec2{X: mid.X - wide/2, Y: a.High.Y}})
	w.hatch(Area{geom.Vec2{X: mid.X + wide/2, Y: a.Low.Y}, a.High})
}

// hatch fills an area with lines at 45°, which meet over the whole sheet.
func (w *cutWriter) hatch(a Area) {
	const step = 3.0
	first := math.Ceil((a.Low.X-a.High.Y)/step) * step
	for d := first; d < a.High.X-a.Low.Y; d += step { // the line x − y = d
		low := geom.Vec2{X: math.Max(a.Low.X, a.Low.Y+d)}
		low.Y = low.X - d
		high := geom.Vec2{X: math.Min(a.High.X, a.High.Y+d)}
		high.Y = high.X - d
		if high.X-low.X > 0.3 {
			w.sheet.Line(Hatch, low, high)
		}
	}
}
