package drawing

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"io"
	"regexp"
	"testing"

	"barwright/geom"
)

var fontStart = regexp.MustCompile(`/Length1 \d+>>stream\n`)

// Neither the file nor a font in it holds the time of its writing: in every head table the time of change
// (ISO/IEC 14496-22, head.modified) is that of the font's making, and the checksums fit.
func TestPDFHoldsNoClock(t *testing.T) {
	s := &Sheet{Name: "a", Title: "a", Size: Size{"A4", 210, 297}}
	s.Write(Title, geom.Vec2{X: 50, Y: 50}, 3.5, 0, "4× ⌀7 through")
	var b bytes.Buffer
	if err := WritePDF(&b, &Book{Title: "t", Sheets: []*Sheet{s}}); err != nil {
		t.Fatal(err)
	}
	if regexp.MustCompile(`/(CreationDate|ModDate)`).Match(b.Bytes()) {
		t.Error("the file holds a date")
	}
	objects, _, _, err := splitObjects(b.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	fonts := 0
	for _, o := range objects {
		m := fontStart.FindIndex(o.text)
		if m == nil {
			continue
		}
		z, err := zlib.NewReader(bytes.NewReader(o.text[m[1]:]))
		if err != nil {
			t.Fatal(err)
		}
		font, err := io.ReadAll(z)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.HasPrefix(font, []byte{0, 1, 0, 0}) {
			continue
		}
		fonts++
		for i := range int(binary.BigEndian.Uint16(font[4:])) {
			e := font[12+16*i:]
			if string(e[:4]) != "head" {
				continue
			}
			head := font[binary.BigEndian.Uint32(e[8:]):]
			if !bytes.Equal(head[20:28], head[28:36]) {
				t.Error("a font's time of change is not that of its making")
			}
		}
		if sum := wordSum(font); sum != 0xB1B0AFBA {
			t.Errorf("the whole font sums to %#x; want 0xB1B0AFBA", sum)
		}
	}
	if fonts == 0 {
		t.Error("no embedded font was found")
	}
}
