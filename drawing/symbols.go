package drawing

import (
	"bytes"
	"encoding/binary"
	"math"
	"unicode/utf16"

	"barwright/geom"
)

// The signs of ISO 129-1 that the text font lacks. They are letters of a small font made here, so that a
// PDF finds them as text.
const (
	Diameter   = '⌀' // U+2300
	BoreSign   = '⌴' // U+2334, counterbore
	DepthSign  = '↧' // U+21A7, depth
	SinkSign   = '⌵' // U+2335, countersink
	symbolsEm  = 1000
	symbolsCap = 700
)

// symbolRunes are the letters of the symbol font by rising code.
var symbolRunes = []rune{DepthSign, Diameter, BoreSign, SinkSign}

// symbolPen is the half width of the strokes, near that of the text font's.
const symbolPen = 32.0

type contour []geom.Vec2

// symbolGlyph is one letter: its advance and its outlines, clockwise round ink as TrueType wants.
type symbolGlyph struct {
	advance  int
	contours []contour
}

// bar returns the outline of a straight stroke.
func bar(ax, ay, bx, by float64) contour {
	a, b := geom.Vec2{X: ax, Y: ay}, geom.Vec2{X: bx, Y: by}
	d := b.Sub(a).Scale(symbolPen / b.Dist(a))
	n := geom.Vec2{X: -d.Y, Y: d.X}
	a, b = a.Sub(d), b.Add(d)
	return contour{a.Add(n), b.Add(n), b.Sub(n), a.Sub(n)}
}

// circle returns the outline of a circle as a polygon, clockwise or, for a hole, counter-clockwise.
func circle(x, y, r float64, hole bool) contour {
	const n = 48
	out := make(contour, n)
	for i := range out {
		t := -2 * math.Pi * float64(i) / n
		if hole {
			t = -t
		}
		out[i] = geom.Vec2{X: x + r*math.Cos(t), Y: y + r*math.Sin(t)}
	}
	return out
}

// symbolGlyphs draws the letters; the first is the one for unknown characters.
func symbolGlyphs() []symbolGlyph {
	const mid, r = 350.0, 270.0
	return []symbolGlyph{
		{500, []contour{{{X: 50, Y: 0}, {X: 50, Y: 700}, {X: 450, Y: 700}, {X: 450, Y: 0}}}},
		// Depth: a bar over an arrow that points down.
		{620, []contour{bar(110, 660, 510, 660), bar(310, 660, 310, 200),
			{{X: 310, Y: 0}, {X: 190, Y: 260}, {X: 430, Y: 260}}}},
		{700, []contour{circle(mid, mid, r+symbolPen, false), circle(mid, mid, r-symbolPen, true),
			bar(mid-330, mid-330, mid+330, mid+330)}},
		{760, []contour{bar(90, 480, 90, 40), bar(90, 40, 670, 40), bar(670, 40, 670, 480)}},
		{760, []contour{bar(90, 480, 380, 40), bar(380, 40, 670, 480)}},
	}
}

// symbolTTF returns the symbols as a TrueType font (OpenType 1.9, "Required tables").
func symbolTTF() []byte {
	glyphs := symbolGlyphs()
	var glyf bytes.Buffer
	var loca, hmtx []byte
	maxPoints, maxContours := 0, 0
	for _, g := range glyphs {
		loca = binary.BigEndian.AppendUint32(loca, uint32(glyf.Len()))
		data, points := g.encode()
		glyf.Write(data)
		maxPoints, maxContours = max(maxPoints, points), max(maxContours, len(g.contours))
		low, _ := g.bounds()
		hmtx = binary.BigEndian.AppendUint16(hmtx, uint16(g.advance))
		hmtx = binary.BigEndian.AppendUint16(hmtx, uint16(int16(low.X)))
	}
	loca = binary.BigEndian.AppendUint32(loca, uint32(glyf.Len()))
	n := len(glyphs)
	return assembleTTF([]table{
		{"OS/2", os2Table()},
		{"cmap", cmapTable()},
		{"glyf", glyf.Bytes()},
		{"head", words(0x00010000, 0x00010000, 0, 0x5F0F3CF5, uint16(0x000B), uint16(symbolsEm), 0, 0, 0, 0,
			int16(0), int16(-60), int16(760), int16(760), uint16(0), uint16(8), int16(2), int16(1), int16(0))},
		{"hhea", words(0x00010000, int16(900), int16(-200), int16(0), uint16(760), int16(0), int16(0), int16(760),
			int16(1), int16(0), int16(0), int16(0), int16(0), int16(0), int16(0), int16(0), uint16(n))},
		{"hmtx", hmtx},
		{"loca", loca},
		{"maxp", words(0x00010000, uint16(n), uint16(maxPoints), uint16(maxContours), uint16(0), uint16(0), uint16(1),
			uint16(0), uint16(0), uint16(0), uint16(0), uint16(0), uint16(0), uint16(0), uint16(0))},
		{"name", nameTable()},
		{"post", words(0x00030000, 0, int16(-100), int16(50), 0, 0, 0, 0, 0)},
	})
}

// words writes plain ints as four bytes and sized ones in their size, all big-endian.
func words(values ...any) []byte {
	var b bytes.Buffer
	for _, v := range values {
		if i, ok := v.(int); ok {
			v = uint32(i)
		}
		binary.Write(&b, binary.BigEndian, v) // a bytes.Buffer does not fail
	}
	return b.Bytes()
}

func (g symbolGlyph) bounds() (low, high geom.Vec2) {
	var all []geom.Vec2
	for _, c := range g.contours {
		all = append(all, c...)
	}
	low, high = boundsOf(all)
	return geom.Vec2{X: math.Floor(low.X), Y: math.Floor(low.Y)}, geom.Vec2{X: math.Ceil(high.X), Y: math.Ceil(high.Y)}
}

// encode returns a simple glyph description with every point on the curve and two-byte coordinates.
func (g symbolGlyph) encode() (data []byte, points int) {
	low, high := g.bounds()
	b := words(int16(len(g.contours)), int16(low.X), int16(low.Y), int16(high.X), int16(high.Y))
	var xs, ys []byte
	var last [2]int16
	for _, c := range g.contours {
		points += len(c)
		b = binary.BigEndian.AppendUint16(b, uint16(points-1))
		for _, p := range c {
			x, y := int16(math.Round(p.X)), int16(math.Round(p.Y))
			xs = binary.BigEndian.AppendUint16(xs, uint16(x-last[0]))
			ys = binary.BigEndian.AppendUint16(ys, uint16(y-last[1]))
			last = [2]int16{x, y}
		}
	}
	b = append(b, 0, 0) // no instructions
	for range points {
		b = append(b, 1) // on the curve, both coordinates two bytes
	}
	b = append(append(b, xs...), ys...)
	for len(b)%4 != 0 {
		b = append(b, 0)
	}
	return b, points
}

// cmapTable maps the symbols' codes to glyphs 1, 2, … (format 4, one segment a code).
func cmapTable() []byte {
	var ends, starts, deltas, offsets []byte
	add := func(code rune, delta int) {
		ends = binary.BigEndian.AppendUint16(ends, uint16(code))
		starts = binary.BigEndian.AppendUint16(starts, uint16(code))
		deltas = binary.BigEndian.AppendUint16(deltas, uint16(delta))
		offsets = append(offsets, 0, 0)
	}
	for i, r := range symbolRunes {
		add(r, i+1-int(r))
	}
	add(0xffff, 1)
	n := len(symbolRunes) + 1
	search := 1
	for search*2 <= n {
		search *= 2
	}
	length := 16 + 8*n
	sub := words(uint16(4), uint16(length), uint16(0), uint16(2*n), uint16(2*search), uint16(math.Log2(float64(search))), uint16(2*(n-search)))
	sub = append(append(append(append(append(sub, ends...), 0, 0), starts...), deltas...), offsets...)
	return append(words(uint16(0), uint16(1), uint16(3), uint16(1), 12), sub...)
}

func nameTable() []byte {
	names := []struct {
		id   uint16
		text string
	}{{1, symbolFont}, {2, "Regular"}, {4, symbolFont}, {6, "BarwrightSymbols"}}
	var dir, data []byte
	for _, n := range names {
		var s []byte
		for _, u := range utf16.Encode([]rune(n.text)) {
			s = binary.BigEndian.AppendUint16(s, u)
		}
		dir = append(dir, words(uint16(3), uint16(1), uint16(0x409), n.id, uint16(len(s)), uint16(len(data)))...)
		data = append(data, s...)
	}
	head := words(uint16(0), uint16(len(names)), uint16(6+len(dir)))
	return append(append(head, dir...), data...)
}

func os2Table() []byte {
	return words(uint16(4), int16(600), uint16(400), uint16(5), uint16(0), int16(650), int16(600), int16(0), int16(75),
		int16(650), int16(600), int16(0), int16(350), int16(50), int16(300), int16(0), [10]byte{}, 0, 0, 0, 0,
		[4]byte{'n', 'o', 'n', 'e'}, uint16(0x40), uint16(symbolRunes[0]), uint16(symbolRunes[len(symbolRunes)-1]),
		int16(900), int16(-200), int16(0), uint16(900), uint16(200), 0, 0, int16(500), int16(symbolsCap), uint16(0), uint16(0x20), uint16(1))
}

type table struct {
	tag  string
	data []byte
}

// assembleTTF puts the tables, given by rising tag, behind their directory.
func assembleTTF(tables []table) []byte {
	n := len(tables)
	head := words(0x00010000, uint16(n), uint16(128), uint16(3), uint16(16*n-128))
	var dir, body []byte
	offset := len(head) + 16*n
	headAt := 0
	for _, t := range tables {
		if t.tag == "head" {
			headAt = offset + len(body)
		}
		padded := t.data
		for len(padded)%4 != 0 {
			padded = append(padded[:len(padded):len(padded)], 0)
		}
		dir = append(dir, t.tag...)
		dir = append(dir, words(int(checksum(padded)), offset+len(body), len(t.data))...)
		body = append(body, padded...)
	}
	out := append(append(head, dir...), body...)
	binary.BigEndian.PutUint32(out[headAt+8:], 0xB1B0AFBA-checksum(out))
	return out
}

func checksum(b []byte) uint32 {
	var sum uint32
	for i := 0; i+4 <= len(b); i += 4 {
		sum += binary.BigEndian.Uint32(b[i:])
	}
	return sum
}
