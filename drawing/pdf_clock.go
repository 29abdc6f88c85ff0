package drawing

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strconv"
)

var (
	creationDate = regexp.MustCompile(`/CreationDate\(D:[0-9]{14}[^)]*\)`)
	startXref    = regexp.MustCompile(`startxref\n([0-9]+)\n`)
	streamStart  = regexp.MustCompile(`^(\d+ 0 obj\n)<<(.*)/Length (\d+)>>stream\n`)
)

// withoutClock takes out the times that the PDF renderer stamps, into the information dictionary and into
// the head table of each embedded font, and writes the cross-reference table anew. It returns an error where
// the file does not look as the renderer writes it.
func withoutClock(b []byte) ([]byte, error) {
	objects, xref, trailer, err := splitObjects(b)
	if err != nil {
		return nil, err
	}
	dated := false
	for i, o := range objects {
		if cut := creationDate.FindIndex(o.text); cut != nil && !streamStart.Match(o.text) {
			objects[i].text = slices.Concat(o.text[:cut[0]], o.text[cut[1]:])
			dated = true
			continue
		}
		if objects[i].text, err = fontWithoutClock(o.text); err != nil {
			return nil, err
		}
	}
	if !dated {
		return nil, errors.New("the PDF renderer's time stamp was not found, so that it cannot be taken out")
	}
	return joinObjects(b[:objects[0].offset], objects, xref, trailer), nil
}

// object is one numbered object of a PDF with everything up to the next.
type object struct {
	number, offset int
	text           []byte
}

// splitObjects takes a PDF with one plain cross-reference table apart. It returns the objects
// by their place, the number of table entries and the trailer.
func splitObjects(b []byte) ([]object, int, []byte, error) {
	bad := errors.New("the PDF renderer's cross-reference table was not found")
	start := startXref.FindAllSubmatchIndex(b, -1)
	if len(start) == 0 {
		return nil, 0, nil, bad
	}
	at := start[len(start)-1]
	xref, err := strconv.Atoi(string(b[at[2]:at[3]]))
	if err != nil || xref <= 0 || xref >= at[0] {
		return nil, 0, nil, bad
	}
	table, trailer, ok := bytes.Cut(b[xref:at[0]], []byte("trailer\n"))
	if !ok {
		return nil, 0, nil, bad
	}
	var objects []object
	entries := 0
	for _, line := range bytes.SplitAfter(table, []byte("\n")) {
		if len(line) != 20 {
			continue
		}
		if bytes.HasSuffix(line, []byte(" n \n")) {
			offset, err := strconv.Atoi(string(line[:10]))
			if err != nil || offset <= 0 || offset >= xref {
				return nil, 0, nil, bad
			}
			objects = append(objects, object{number: entries, offset: offset})
		}
		entries++
	}
	if len(objects) == 0 {
		return nil, 0, nil, bad
	}
	slices.SortFunc(objects, func(a, b object) int { return a.offset - b.offset })
	for i := range objects {
		end := xref
		if i+1 < len(objects) {
			end = objects[i+1].offset
		}
		objects[i].text = b[objects[i].offset:end]
	}
	return objects, entries, trailer, nil
}

// joinObjects puts a PDF together again.
func joinObjects(head []byte, objects []object, entries int, trailer []byte) []byte {
	var out bytes.Buffer
	out.Write(head)
	offsets := make([]int, entries)
	for _, o := range objects {
		offsets[o.number] = out.Len()
		out.Write(o.text)
	}
	xref := out.Len()
	fmt.Fprintf(&out, "xref\n0 %d\n0000000000 65535 f \n", entries)
	for _, offset := range offsets[1:] {
		fmt.Fprintf(&out, "%010d 00000 n \n", offset)
	}
	fmt.Fprintf(&out, "trailer\n%sstartxref\n%d\n%%%%EOF\n", trailer, xref)
	return out.Bytes()
}

// fontWithoutClock returns an object with the time of change taken out if it is the
// stream of a TrueType font, and other objects as they are.
func fontWithoutClock(text []byte) ([]byte, error) {
	m := streamStart.FindSubmatchIndex(text)
	if m == nil || !bytes.Contains(text[m[4]:m[5]], []byte("/Filter/FlateDecode")) {
		return text, nil
	}
	length, err := strconv.Atoi(string(text[m[6]:m[7]]))
	if err != nil || m[1]+length > len(text) {
		return nil, errors.New("a stream of the PDF is cut short")
	}
	z, err := zlib.NewReader(bytes.NewReader(text[m[1] : m[1]+length]))
	if err != nil {
		return nil, fmt.Errorf("a stream of the PDF cannot be read: %w", err)
	}
	magic := make([]byte, 4)
	if _, err := io.ReadFull(z, magic); err != nil || !bytes.Equal(magic, []byte{0, 1, 0, 0}) {
		return text, nil
	}
	rest, err := io.ReadAll(z)
	if err != nil {
		return nil, fmt.Errorf("a font of the PDF cannot be read: %w", err)
	}
	font := append(magic, rest...)
	if err := stopFontClock(font); err != nil {
		return nil, err
	}
	var packed bytes.Buffer
	w := zlib.NewWriter(&packed)
	if _, err := w.Write(font); err != nil {
		return nil, err
	}
	if err := w.Close(); err != nil {
		return nil, err
	}
	var out bytes.Buffer
	out.Write(text[m[2]:m[3]])
	// ISO 32000-1 table 127: a FontFile2 stream states the length of the plain font.
	fmt.Fprintf(&out, "<<%s/Length %d/Length1 %d>>stream\n", text[m[4]:m[5]], packed.Len(), len(font))
	out.Write(packed.Bytes())
	out.Write(text[m[1]+length:])
	return out.Bytes(), nil
}

// stopFontClock sets the time of change in a TrueType font's head table to that of its making, and both
// checksums to fit (ISO/IEC 14496-22, "head" and "Calculating checksums").
func stopFontClock(font []byte) error {
	bad := errors.New("a font of the PDF has no head table")
	if len(font) < 12 {
		return bad
	}
	for i := range int(binary.BigEndian.Uint16(font[4:])) {
		if 28+16*i > len(font) {
			return bad
		}
		entry := font[12+16*i : 28+16*i]
		if string(entry[:4]) != "head" {
			continue
		}
		offset, size := int(binary.BigEndian.Uint32(entry[8:])), int(binary.BigEndian.Uint32(entry[12:]))
		if size < 54 || offset < 0 || offset+size > len(font) {
			return bad
		}
		head := font[offset : offset+size]
		copy(head[28:36], head[20:28])
		binary.BigEndian.PutUint32(head[8:], 0)
		binary.BigEndian.PutUint32(entry[4:], wordSum(head))
		binary.BigEndian.PutUint32(head[8:], 0xB1B0AFBA-wordSum(font))
		return nil
	}
	return bad
}

// wordSum returns the sum of the big-endian words of a table, filled up with zeros.
func wordSum(b []byte) uint32 {
	var sum uint32
	for len(b) >= 4 {
		sum += binary.BigEndian.Uint32(b)
		b = b[4:]
	}
	var last [4]byte
	copy(last[:], b)
	return sum + binary.BigEndian.Uint32(last[:])
}
