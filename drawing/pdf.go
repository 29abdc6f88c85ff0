package drawing

import (
	"bytes"
	"errors"
	"fmt"
	"io"

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
