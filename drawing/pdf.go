package drawing

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"regexp"
	"strconv"

	"github.com/tdewolff/canvas"
	"github.com/tdewolff/canvas/renderers/pdf"
)

// WritePDF writes the sheets as the pages of one PDF: text as text in embedded fonts, a bookmark for each
// sheet, no clock. It returns an error if there is no sheet or the writer fails.
func WritePDF(w io.Writer, b *Book) error {
	if len(b.Sheets) == 0 {
		return errors.New("a book without a sheet cannot be written")
	}
	var buf bytes.Buffer
	first := b.Sheets[0].Size
	out := pdf.New(&buf, first.Width, first.Height, nil)
	out.SetInfo(Clean(b.Title), Clean(b.Subject), "", Clean(b.Author), "barwright")
	// The fonts are this call's own: a shaper keeps state.
	p := painter{r: out, fonts: loadFonts(), faces: map[faceKey]*canvas.FontFace{}}
	for i, s := range b.Sheets {
		if i > 0 {
			out.NewPage(s.Size.Width, s.Size.Height)
		}
		out.AddOutline(plain(s.Title), 0, 0)
		p.paint(s)
	}
	if err := out.Close(); err != nil {
		return fmt.Errorf("writing the PDF: %w", err)
	}
	data, err := withoutClock(buf.Bytes())
	if err != nil {
		return err
	}
	_, err = w.Write(data)
	return err
}

// plain returns the text in ASCII, as bookmarks want it.
func plain(text string) string {
	out := make([]byte, 0, len(text))
	for _, c := range text {
		switch {
		case c == '–' || c == '−':
			out = append(out, '-')
		case c == '×':
			out = append(out, 'x')
		case c < 0x20 || c > 0x7e:
			out = append(out, '?')
		default:
			out = append(out, byte(c))
		}
	}
	return string(out)
}

var (
	creationDate = regexp.MustCompile(`/CreationDate\(D:[0-9]{14}[^)]*\)`)
	startXref    = regexp.MustCompile(`startxref\n([0-9]+)\n`)
)

// withoutClock cuts the time that the PDF renderer stamps, and moves the offsets behind it.
func withoutClock(b []byte) ([]byte, error) {
	// The date stands in the uncompressed information dictionary near the end.
	all := creationDate.FindAllIndex(b, -1)
	start := startXref.FindAllSubmatchIndex(b, -1)
	if len(all) == 0 || len(start) == 0 {
		return nil, errors.New("the PDF renderer's time stamp was not found, so that it cannot be taken out")
	}
	cut := all[len(all)-1]
	size := cut[1] - cut[0]
	at := start[len(start)-1]
	xref, err := strconv.Atoi(string(b[at[2]:at[3]]))
	if err != nil || xref <= cut[1] || xref > len(b) {
		return nil, errors.New("the PDF renderer's cross-reference table was not found")
	}
	var out bytes.Buffer
	out.Write(b[:cut[0]])
	out.Write(b[cut[1]:xref])
	for _, line := range bytes.SplitAfter(b[xref:at[0]], []byte("\n")) {
		if bytes.HasSuffix(line, []byte(" 00000 n \n")) && len(line) == 20 {
			if offset, err := strconv.Atoi(string(line[:10])); err == nil && offset > cut[0] {
				line = fmt.Appendf(nil, "%010d 00000 n \n", offset-size)
			}
		}
		out.Write(line)
	}
	fmt.Fprintf(&out, "startxref\n%d\n", xref-size)
	out.Write(b[at[1]:])
	return out.Bytes(), nil
}
