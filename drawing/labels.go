package drawing

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"barwright/geom"

	"github.com/boombuler/barcode/qr"
)

// Sticker is the label of one piece: the piece, its place in the frame, and which frame that is.
type Sticker struct {
	Mark    string
	Length  float64 // mm
	Profile string
	Member  string   // where it goes
	Way     string   // how it lies there: ends and faces
	Frame   string   // name of the frame
	Input   string   // fingerprint
	Set     []string // "name = value" of what was set on the command line
}

// LabelOptions are the grid of a sheet of labels, mm. The grid stands in the middle of the sheet.
type LabelOptions struct {
	Width, Height float64
	Gap           float64 // between labels, both ways
	Sheet         string  // "A4"
}

// DefaultLabels is a grid of 3 by 7 labels on A4.
func DefaultLabels() LabelOptions { return LabelOptions{Width: 60, Height: 40, Sheet: "A4"} }

// MaxLabels is the most labels that one file holds.
const MaxLabels = 5000

// Limits of labels, mm.
const (
	leastLabelWidth  = 45.0
	leastLabelHeight = 25.0
	labelPad         = 2.5
	labelEdge        = 4.0  // what printers leave white at the edge of a sheet
	leastModule      = 0.33 // of a QR code that a telephone reads from paper (common practice, no source)
	quietModules     = 4    // white round a QR code (ISO/IEC 18004)

)

// QRText is what the code of a label holds: the same as its text, a line each. No line is longer than a number of
// letters; 0 is any length.
func (l Sticker) QRText(most int) string {
	var lines []string
	for _, s := range []string{l.Mark + " " + trimmed(l.Length, 2) + " " + l.Profile, l.Member, l.Frame + " " + l.Input} {
		s = strings.TrimSpace(s)
		if r := []rune(s); most > 0 && len(r) > most {
			s = string(r[:most-1]) + "…"
		}
		if s != "" {
			lines = append(lines, s)
		}
	}
	return strings.Join(lines, "\n")
}

// LabelSheets lays labels out on sheets of stickers, row by row. It returns an error where the grid holds no
// label, a label is too small for its code, or a sheet fails its proof.
func LabelSheets(labels []Sticker, o LabelOptions) ([]*Sheet, error) {
	size, ok := SizeOf(o.Sheet)
	switch {
	case !ok:
		return nil, fmt.Errorf("label sheet %q: it is A4, A3, A2, A1 or A0", o.Sheet)
	case !(o.Width >= leastLabelWidth && o.Height >= leastLabelHeight && o.Gap >= 0):
		return nil, fmt.Errorf("labels of %g × %g mm: they need at least %g × %g, and no gap below 0", o.Width, o.Height, leastLabelWidth, leastLabelHeight)
	case len(labels) > MaxLabels:
		return nil, fmt.Errorf("%d labels are more than the %d of one file", len(labels), MaxLabels)
	}
	columns := int((size.Width - 2*labelEdge + o.Gap + 1e-6) / (o.Width + o.Gap))
	rows := int((size.Height - 2*labelEdge + o.Gap + 1e-6) / (o.Height + o.Gap))
	if columns < 1 || rows < 1 {
		return nil, fmt.Errorf("labels of %g × %g mm do not fit on %s", o.Width, o.Height, size.Name)
	}
	start := geom.Vec2{X: (size.Width - float64(columns)*(o.Width+o.Gap) + o.Gap) / 2, Y: (size.Height + float64(rows)*(o.Height+o.Gap) - o.Gap) / 2}
	var out []*Sheet
	for i, l := range labels {
		k := i % (columns * rows)
		if k == 0 {
			n := len(out) + 1
			s := &Sheet{Name: "labels", Title: "Labels", Size: size}
			if n > 1 {
				s.Name, s.Title = fmt.Sprintf("labels-%d", n), fmt.Sprintf("Labels, sheet %d", n)
			}
			out = append(out, s)
		}
		high := start.Add(geom.Vec2{X: float64(k%columns) * (o.Width + o.Gap), Y: -float64(k/columns) * (o.Height + o.Gap)})
		a := Area{high.Sub(geom.Vec2{Y: o.Height}), high.Add(geom.Vec2{X: o.Width})}
		if err := out[len(out)-1].drawLabel(l, a); err != nil {
			return nil, fmt.Errorf("label of %s: %w", l.Mark, err)
		}
	}
	for _, s := range out {
		for _, c := range s.Verify() {
			if c.Rule != "outside" { // a sheet of stickers has no border
				return nil, fmt.Errorf("%s: %v", s.Name, c)
			}
		}
	}
	return out, nil
}

// drawLabel draws one label: the mark and the length large, the code beside them, and under them the place in the frame.
func (s *Sheet) drawLabel(l Sticker, a Area) error {
	s.corners(a)
	inner := Area{a.Low.Add(geom.Vec2{X: labelPad, Y: labelPad}), a.High.Sub(geom.Vec2{X: labelPad, Y: labelPad})}
	side := math.Min(a.Height()*0.56, math.Min(inner.Height(), inner.Width()*0.55))
	var err error
	for _, most := range []int{0, 60, 40, 24, 12, 6} { // long names are cut so that the code stays coarse
		if err = s.drawQR(l.QRText(most), Area{geom.Vec2{X: inner.High.X - side, Y: inner.High.Y - side}, inner.High}); err == nil {
			break
		}
	}
	if err != nil {
		return err
	}
	y, beside := inner.High.Y, inner.Width()-side-1
	// put writes a line in the largest of some heights in which it fits.
	put := func(text string, heights ...float64) {
		for i, h := range heights {
			width := beside
			if y <= inner.High.Y-side {
				width = inner.Width()
			}
			if i < len(heights)-1 && TextWidth(text, h) > width {
				continue
			}
			if text != "" && y-h >= inner.Low.Y+0.28*h { // room for what hangs under the line
				y -= h
				s.Write(Label, geom.Vec2{X: inner.Low.X, Y: y}, h, Left, Fit(text, h, width))
				y -= math.Min(0.5*h, 2)
			}
			return
		}
	}
	mark, length := Clean(l.Mark), trimmed(l.Length, 2)
	large, small := TitleText, SmallText
	if a.Height() < 32 {
		large = ViewText
	} else if a.Height() > 48 {
		small = DimText
	}
	if mark != "" {
		put(mark, large, ViewText, DimText, SmallText)
		put(length, min(large-1.5, ViewText), DimText, SmallText)
	} else {
		put(length, large, ViewText, DimText, SmallText)
	}
	input := Clean(strings.TrimSpace(l.Input + " " + l.Profile))
	if l.Input != "" && TextWidth(input, SmallText) > beside {
		input = Clean(l.Input)
	}
	put(input, SmallText)
	y = math.Min(y, inner.High.Y-side-0.4) // the rest stands under the code, over the whole width
	for _, text := range []string{l.Member, l.Way, strings.TrimPrefix(strings.Join(append([]string{l.Frame}, l.Set...), ", "), ", ")} {
		for _, line := range Wrap(Clean(text), small, inner.Width()) {
			put(line, small, SmallText)
		}
	}
	return nil
}

// corners draws the corners of a label, by which plain paper is cut and a sheet of stickers is lined up.
func (s *Sheet) corners(a Area) {
	const tick = 1.5
	for _, c := range []struct{ at, in geom.Vec2 }{
		{a.Low, geom.Vec2{X: 1, Y: 1}}, {geom.Vec2{X: a.High.X, Y: a.Low.Y}, geom.Vec2{X: -1, Y: 1}},
		{a.High, geom.Vec2{X: -1, Y: -1}}, {geom.Vec2{X: a.Low.X, Y: a.High.Y}, geom.Vec2{X: 1, Y: -1}},
	} {
		s.Polyline(Edge, c.at.Add(geom.Vec2{X: tick * c.in.X}), c.at, c.at.Add(geom.Vec2{Y: tick * c.in.Y}))
	}
}

// drawQR draws a QR code (ISO/IEC 18004, level M) with its white border into a square.
func (s *Sheet) drawQR(text string, a Area) error {
	code, err := qr.Encode(text, qr.M, qr.Unicode)
	if err != nil {
		return fmt.Errorf("its text is too long for a code: %w", err)
	}
	n := code.Bounds().Dx()
	module := a.Width() / float64(n+2*quietModules)
	if module < leastModule {
		return errors.New("it is too small for its code; choose larger labels or shorter names")
	}
	dark := func(x, y int) bool {
		r, _, _, _ := code.At(x, y).RGBA()
		return r < 0x8000
	}
	const over = 0.02 // of a module, so that no viewer shows seams
	at := func(x, y float64) geom.Vec2 {
		return geom.Vec2{X: a.Low.X + (x+quietModules)*module, Y: a.High.Y - (y+quietModules)*module}
	}
	taken := make([]bool, n*n)
	for y := range n {
		for x := 0; x < n; x++ {
			if taken[y*n+x] || !dark(x, y) {
				continue
			}
			w, h := darkBlock(n, x, y, func(x, y int) bool { return dark(x, y) && !taken[y*n+x] })
			for i := range h {
				for j := range w {
					taken[(y+i)*n+x+j] = true
				}
			}
			x0, y0, x1, y1 := float64(x)-over, float64(y)-over, float64(x+w)+over, float64(y+h)+over
			s.Fill(Symbol, at(x0, y0), at(x1, y0), at(x1, y1), at(x0, y1))
		}
	}
	return nil
}

// darkBlock returns the size of the larger of two rectangles of free squares with their corner at x, y: the widest run made high,
// or the highest made wide.
func darkBlock(n, x, y int, free func(x, y int) bool) (w, h int) {
	grow := func(turned bool) (int, int) {
		at := func(i, j int) bool {
			if turned {
				i, j = j, i
			}
			return x+i < n && y+j < n && free(x+i, y+j)
		}
		w, h := 1, 1
		for at(w, 0) {
			w++
		}
		for ; ; h++ {
			for i := range w {
				if !at(i, h) {
					return w, h
				}
			}
		}
	}
	w1, h1 := grow(false)
	h2, w2 := grow(true)
	if w2*h2 > w1*h1 {
		return w2, h2
	}
	return w1, h1
}
