package drawing

import (
	"bytes"
	"encoding/base64"
	"fmt"
	"io"

	"github.com/tdewolff/canvas"
	"github.com/tdewolff/canvas/renderers/svg"
	"github.com/tdewolff/font"
)

// WriteSVG writes one sheet as SVG, one element a line. With textAsPaths the letters are outlines and need no
// font; else texts are text elements and the letters that they use are embedded as fonts.
func WriteSVG(w io.Writer, s *Sheet, textAsPaths bool) error {
	var buf bytes.Buffer
	out := svg.New(&buf, s.Size.Width, s.Size.Height, &svg.Options{SizeUnits: "mm"})
	p := painter{r: out, faces: map[faceKey]*canvas.FontFace{}}
	if !textAsPaths {
		p.fonts = loadFonts()
		style, err := fontStyle(s, p.fonts)
		if err != nil {
			return err
		}
		out.SetCustomStyle(style)
	}
	p.paint(s)
	if err := out.Close(); err != nil {
		return fmt.Errorf("writing the SVG: %w", err)
	}
	data := buf.Bytes()
	for _, element := range []string{"path", "text", "style", "/svg"} {
		data = bytes.ReplaceAll(data, []byte("><"+element), []byte(">\n<"+element))
	}
	_, err := w.Write(append(data, '\n'))
	return err
}

// fontStyle returns the CSS that embeds the letters used on a sheet.
func fontStyle(s *Sheet, fonts [2]*canvas.Font) (string, error) {
	var used [2][]uint16
	seen := [2]map[uint16]bool{{}, {}}
	for i := range used {
		used[i] = []uint16{0}
		seen[i][0] = true
	}
	for _, t := range s.Texts() {
		for _, r := range runs(t.String, t.Height) {
			for _, c := range r.text {
				g := fonts[r.font].SFNT.GlyphIndex(c)
				if !seen[r.font][g] {
					seen[r.font][g] = true
					used[r.font] = append(used[r.font], g)
				}
			}
		}
	}
	var css bytes.Buffer
	for i, f := range fonts {
		if len(used[i]) == 1 {
			continue
		}
		sub, err := f.SFNT.Subset(used[i], font.SubsetOptions{Tables: font.KeepMinTables})
		if err != nil {
			return "", fmt.Errorf("embedding the font of an SVG: %w", err)
		}
		program := sub.Write()
		if err := stopFontClock(program); err != nil {
			return "", fmt.Errorf("embedding the font of an SVG: %w", err)
		}
		fmt.Fprintf(&css, "\n@font-face{font-family:'%s';src:url('data:font/ttf;base64,%s');}", f.Name(), base64.StdEncoding.EncodeToString(program))
	}
	return css.String(), nil
}
