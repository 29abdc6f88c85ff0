package drawing

import (
	"strings"
	"sync"
	"unicode"

	"github.com/go-fonts/liberation/liberationsansregular"
	"github.com/tdewolff/canvas"
)

// Heights of lettering in mm (ISO 3098-1), for sheets A4 to A1 with the line group 0.5.
const (
	SmallText  = 2.5 // notes, tables and the title block's labels; never less on a sheet
	DimText    = 3.5 // dimensions, callouts and values
	ViewText   = 5.0 // names of views, item numbers
	TitleText  = 7.0
	LineSpace  = 1.6 // base line to base line over the height (ISO 3098-1 asks at least 1.5 for text without accents)
	symbolFont = "Barwright Symbols"
)

// Ink is the box round the ink of a text on its base line, and the width that it takes, mm.
type Ink struct {
	Left, Right, Low, High float64
	Width                  float64
}

// glyphBox is a glyph's advance and ink box, in heights of a capital.
type glyphBox struct {
	advance, left, low, right, high float64
	font                            uint8 // 0 the text font, 1 the symbols
	known                           bool
}

// alphabet is what is needed to measure and split texts. It is never written after it is made.
type alphabet struct {
	box     map[rune]glyphBox
	fonts   [2]*canvas.Font
	capital [2]float64 // cap height over em
}

// letters reads the fonts once. The fonts in it serve outlines only; texts are shaped by fonts of
// their own, since a shaper is no reader.
var letters = sync.OnceValue(func() *alphabet {
	a := &alphabet{box: make(map[rune]glyphBox, 1024)}
	a.fonts = loadFonts()
	for i, f := range a.fonts {
		a.capital[i] = float64(f.SFNT.OS2.SCapHeight) / float64(f.SFNT.Head.UnitsPerEm)
	}
	for _, r := range [][2]rune{{0x20, 0x7e}, {0xa0, 0x17f}, {0x370, 0x45f}, {0x2010, 0x2027}, {0x2030, 0x2044}, {0x20a0, 0x20b0}, {0x2190, 0x2199}, {0x2200, 0x2265}} {
		for c := r[0]; c <= r[1]; c++ {
			a.learn(c, 0)
		}
	}
	for _, c := range symbolRunes {
		a.learn(c, 1)
	}
	return a
})

// learn measures a character of a font if the font has it.
func (a *alphabet) learn(c rune, font uint8) {
	s := a.fonts[font].SFNT
	g := s.GlyphIndex(c)
	if g == 0 {
		return
	}
	x0, y0, x1, y1 := s.GlyphBounds(g)
	k := 1 / float64(s.OS2.SCapHeight)
	a.box[c] = glyphBox{float64(s.GlyphAdvance(g)) * k, float64(x0) * k, float64(y0) * k, float64(x1) * k, float64(y1) * k, font, true}
}

// loadFonts parses the text font and the symbols. Both are part of the program, so that they can't fail.
func loadFonts() [2]*canvas.Font {
	text, err := canvas.LoadFont(liberationsansregular.TTF, 0, canvas.FontRegular)
	if err != nil {
		panic("the embedded text font: " + err.Error())
	}
	// Without kerning and ligatures a text is as wide as the sum of its letters, whoever sets it.
	text.SetFeatures("-kern,-liga,-clig,-calt")
	symbols, err := canvas.LoadFont(symbolTTF(), 0, canvas.FontRegular)
	if err != nil {
		panic("the embedded symbols: " + err.Error())
	}
	return [2]*canvas.Font{text, symbols}
}

// Measure returns the ink box and width of a text whose capitals are height mm high. A character that the
// fonts lack counts, and is drawn, as a question mark.
func Measure(text string, height float64) Ink {
	a := letters()
	ink := Ink{}
	first := true
	x := 0.0
	for _, c := range text {
		g, ok := a.box[c]
		if !ok {
			g = a.box['?']
		}
		if g.right > g.left {
			if first {
				ink = Ink{Left: x + g.left, Right: x + g.right, Low: g.low, High: g.high}
				first = false
			}
			ink.Left, ink.Right = min(ink.Left, x+g.left), max(ink.Right, x+g.right)
			ink.Low, ink.High = min(ink.Low, g.low), max(ink.High, g.high)
		}
		x += g.advance
	}
	return Ink{ink.Left * height, ink.Right * height, ink.Low * height, ink.High * height, x * height}
}

// TextWidth returns the width of a text in mm.
func TextWidth(text string, height float64) float64 { return Measure(text, height).Width }

// Wrap splits a text at its spaces into lines no wider than width mm. A single longer word keeps a line of its own.
func Wrap(text string, height, width float64) []string {
	var out []string
	line := ""
	for _, w := range strings.Fields(text) {
		switch {
		case line == "":
			line = w
		case TextWidth(line+" "+w, height) <= width:
			line += " " + w
		default:
			out = append(out, line)
			line = w
		}
	}
	if line != "" {
		out = append(out, line)
	}
	return out
}

// Fit returns the text, shortened with an ellipsis where it is wider than width mm.
func Fit(text string, height, width float64) string {
	text = Clean(text)
	if TextWidth(text, height) <= width {
		return text
	}
	r := []rune(text)
	for len(r) > 0 && TextWidth(string(r)+"…", height) > width {
		r = r[:len(r)-1]
	}
	return strings.TrimSpace(string(r)) + "…"
}

// Clean replaces what can't be lettered: control characters by spaces, characters that the fonts lack by
// question marks.
func Clean(text string) string {
	a := letters()
	return strings.Map(func(c rune) rune {
		if unicode.IsControl(c) || c == unicode.ReplacementChar {
			return ' '
		}
		if _, ok := a.box[c]; !ok {
			return '?'
		}
		return c
	}, text)
}

// run is a piece of a text in one font.
type run struct {
	text  string
	font  uint8
	x     float64 // where it begins, mm
	width float64
}

// runs splits a text by font.
func runs(text string, height float64) []run {
	a := letters()
	var out []run
	x := 0.0
	start := 0
	var font uint8
	begin := 0.0
	for i, c := range text {
		g := a.box[c]
		if g.font != font {
			if i > start {
				out = append(out, run{text[start:i], font, begin, x - begin})
			}
			start, font, begin = i, g.font, x
		}
		x += g.advance * height
	}
	if start < len(text) {
		out = append(out, run{text[start:], font, begin, x - begin})
	}
	return out
}
