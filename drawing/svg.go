package drawing

import (
	"bytes"
	"encoding/base64"
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"sort"
	"strconv"
	"strings"

	"barwright/geom"

	"github.com/tdewolff/canvas"
	"github.com/tdewolff/font"
)

// WriteSVG writes one sheet as SVG 1.1, one element a line, lines of one role grouped. With textAsPaths each letter is
// an outline that stands once in the file, so that no font is needed; else texts are text elements, stretched to
// the measured width, and the letters that they use are embedded as fonts.
func WriteSVG(w io.Writer, s *Sheet, textAsPaths bool) error {
	v := svgWriter{height: s.Size.Height, paths: textAsPaths}
	size := fmt.Sprintf(`width="%smm" height="%smm" viewBox="0 0 %s %s"`, svgNumber(s.Size.Width), svgNumber(s.Size.Height), svgNumber(s.Size.Width), svgNumber(s.Size.Height))
	v.WriteString(`<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" version="1.1" ` + size + ">\n<title>")
	xml.EscapeText(&v, []byte(Clean(s.Title)))
	v.WriteString("</title>\n")
	if textAsPaths {
		v.letters(s)
	} else if err := v.fonts(s); err != nil {
		return err
	}
	for _, op := range s.Ops {
		switch op := op.(type) {
		case *Stroke:
			v.stroke(op)
		case *Arc:
			v.arc(op)
		case *Text:
			v.text(op)
		}
	}
	v.group("")
	v.WriteString("</svg>\n")
	_, err := w.Write(v.Bytes())
	return err
}

// svgWriter writes operations; y runs down in SVG.
type svgWriter struct {
	bytes.Buffer
	height float64
	paths  bool
	open   string // the start tag of the open group
	d      []byte // path data under way
}

// svgNumber prints a length to 0.001 mm.
func svgNumber(v float64) string { return string(appendSVG(nil, v)) }

// appendSVG appends a number with at most three decimals and no trailing zeros.
func appendSVG(b []byte, v float64) []byte {
	n := len(b)
	b = strconv.AppendFloat(b, v, 'f', 3, 64)
	for b[len(b)-1] == '0' {
		b = b[:len(b)-1]
	}
	if b[len(b)-1] == '.' {
		b = b[:len(b)-1]
	}
	if string(b[n:]) == "-0" {
		b = append(b[:n], '0')
	}
	return b
}

// group closes the open group and opens another, unless it is the same.
func (v *svgWriter) group(tag string) {
	if tag == v.open {
		return
	}
	if v.open != "" {
		v.WriteString("</g>\n")
	}
	v.open = tag
	if tag != "" {
		v.WriteString(tag + "\n")
	}
}

// pen opens the group for lines or fills of a role.
func (v *svgWriter) pen(r Role, filled bool) {
	name := strings.ToLower(strings.ReplaceAll(r.String(), "_", "-"))
	if filled {
		v.group(`<g class="` + name + `" fill="#000">`)
		return
	}
	v.group(`<g class="` + name + `" fill="none" stroke="#000" stroke-width="` + svgNumber(r.Pen().Width) + `" stroke-linecap="round" stroke-linejoin="round">`)
}

func (v *svgWriter) point(command byte, p geom.Vec2) {
	v.d = append(v.d, command)
	v.d = appendSVG(v.d, p.X)
	v.d = append(v.d, ' ')
	v.d = appendSVG(v.d, v.height-p.Y)
}

func (v *svgWriter) polyline(pts []geom.Vec2, closed bool) {
	for i, p := range pts {
		command := byte('L')
		if i == 0 {
			command = 'M'
		}
		v.point(command, p)
	}
	if closed {
		v.d = append(v.d, 'z')
	}
}

// path writes the path data gathered.
func (v *svgWriter) path() {
	v.WriteString(`<path d="`)
	v.Write(v.d)
	v.WriteString("\"/>\n")
	v.d = v.d[:0]
}

func (v *svgWriter) stroke(s *Stroke) {
	v.pen(s.Role, s.Filled)
	if pen := s.Role.Pen(); pen.Type != Continuous && !s.Filled {
		pts := s.Points
		if s.Closed {
			pts = append(pts[:len(pts):len(pts)], pts[0])
		}
		for _, d := range dash(pts, pen) {
			v.polyline(d, false)
		}
	} else {
		v.polyline(s.Points, s.Closed)
	}
	v.path()
}

func (v *svgWriter) arc(a *Arc) {
	v.pen(a.Role, a.Filled)
	if pen := a.Role.Pen(); pen.Type != Continuous && !a.Filled {
		for _, d := range pattern(a.Sweep*a.Radius, pen) {
			v.arcPiece(a, a.Start+d[0]/a.Radius, (d[1]-d[0])/a.Radius)
		}
		v.path()
		return
	}
	if a.full() {
		v.WriteString(`<circle cx="` + svgNumber(a.Centre.X) + `" cy="` + svgNumber(v.height-a.Centre.Y) + `" r="` + svgNumber(a.Radius) + "\"/>\n")
		return
	}
	v.arcPiece(a, a.Start, a.Sweep)
	v.path()
}

// arcPiece adds an arc in pieces under a half turn. Counter-clockwise with y up is sweep flag 0 with y down.
func (v *svgWriter) arcPiece(a *Arc, start, sweep float64) {
	v.point('M', a.point(start))
	n := int(math.Ceil(sweep / (math.Pi * 0.75)))
	for i := 1; i <= n; i++ {
		v.d = append(v.d, 'A')
		v.d = appendSVG(v.d, a.Radius)
		v.d = append(v.d, ' ')
		v.d = appendSVG(v.d, a.Radius)
		v.d = append(v.d, " 0 0 0"...)
		v.point(' ', a.point(start+sweep*float64(i)/float64(n)))
	}
}

// transform returns the attribute that puts a text's origin in its place.
func (v *svgWriter) transform(t *Text, scale string) string {
	s := `transform="translate(` + svgNumber(t.At.X) + " " + svgNumber(v.height-t.At.Y) + ")"
	if t.Turn != 0 {
		s += " rotate(" + svgNumber(-t.Turn*180/math.Pi) + ")"
	}
	return s + scale + `"`
}

// letterScale is units of a letter's outline for a capital's height.
const letterScale = 1409.0 // the text font's own units, so that its outlines are whole numbers

func (v *svgWriter) text(t *Text) {
	text := Clean(t.String)
	if text == "" {
		return
	}
	v.group(`<g class="text" fill="#000">`)
	if !v.paths {
		v.plainText(t, text)
		return
	}
	k := t.Height / letterScale
	a := letters()
	v.WriteString("<g " + v.transform(t, " scale("+strconv.FormatFloat(k, 'f', 6, 64)+")") + ">")
	x := t.shift(TextWidth(text, t.Height)) / k
	for _, c := range text {
		g := a.box[c]
		if g.right > g.left {
			v.WriteString(`<use xlink:href="#c` + strconv.FormatInt(int64(c), 16) + `" x="` + svgNumber(math.Round(x*10)/10) + `"/>`)
		}
		x += g.advance * letterScale
	}
	v.WriteString("</g>\n")
}

// plainText writes a text as text, each run in its font and as wide as measured.
func (v *svgWriter) plainText(t *Text, text string) {
	shift := t.shift(TextWidth(text, t.Height))
	for _, r := range runs(text, t.Height) {
		size := t.Height / letters().capital[r.font]
		v.WriteString("<text " + v.transform(t, "") + ` x="` + svgNumber(shift+r.x) + `" textLength="` + svgNumber(r.width) +
			`" lengthAdjust="spacingAndGlyphs" xml:space="preserve" font-size="` + svgNumber(size) + `" font-family="` + svgFamily(letters().fonts[r.font]) + `">`)
		xml.EscapeText(v, []byte(r.text))
		v.WriteString("</text>\n")
	}
}

// svgFamily names a font with what may stand in for it.
func svgFamily(f *canvas.Font) string {
	return f.Name() + ", Liberation Sans, Arial, Helvetica, sans-serif"
}

// used returns the characters of a sheet's texts in their order.
func used(s *Sheet) []rune {
	seen := map[rune]bool{}
	var out []rune
	for _, t := range s.Texts() {
		for _, c := range Clean(t.String) {
			if !seen[c] {
				seen[c] = true
				out = append(out, c)
			}
		}
	}
	sort.Slice(out, func(i, j int) bool { return out[i] < out[j] })
	return out
}

// letters writes the outline of each letter used, y down.
func (v *svgWriter) letters(s *Sheet) {
	a := letters()
	v.WriteString("<defs>\n")
	for _, c := range used(s) {
		g := a.box[c]
		if g.right <= g.left {
			continue
		}
		f := a.fonts[g.font].SFNT
		path := &canvas.Path{}
		f.GlyphPath(path, f.GlyphIndex(c), 0, 0, 0, letterScale/float64(f.OS2.SCapHeight), 0) // a letter of the embedded fonts does not fail
		path = path.Transform(canvas.Identity.Scale(1, -1))
		v.WriteString(`<path id="c` + strconv.FormatInt(int64(c), 16) + `" d="` + path.ToSVG() + "\"/>\n")
	}
	v.WriteString("</defs>\n")
}

// fonts writes the style that embeds the letters used on a sheet.
func (v *svgWriter) fonts(s *Sheet) error {
	fonts := loadFonts()
	glyphs := [2][]uint16{{0}, {0}}
	a := letters()
	for _, c := range used(s) {
		i := a.box[c].font
		glyphs[i] = append(glyphs[i], fonts[i].SFNT.GlyphIndex(c))
	}
	v.WriteString("<style>\n")
	for i, f := range fonts {
		if len(glyphs[i]) == 1 {
			continue
		}
		sub, err := f.SFNT.Subset(glyphs[i], font.SubsetOptions{Tables: font.KeepMinTables})
		if err != nil {
			return fmt.Errorf("embedding the font of an SVG: %w", err)
		}
		program := sub.Write()
		if err := stopFontClock(program); err != nil {
			return fmt.Errorf("embedding the font of an SVG: %w", err)
		}
		fmt.Fprintf(v, "@font-face{font-family:'%s';src:url('data:font/ttf;base64,%s')}\n", f.Name(), base64.StdEncoding.EncodeToString(program))
	}
	v.WriteString("</style>\n")
	return nil
}
