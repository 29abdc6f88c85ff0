package frame

import (
	"fmt"
	"io"
	"strings"
)

// Colours of a terminal, from its own palette.
const (
	colourError = "\x1b[1;31m"
	colourDim   = "\x1b[2m"
	colourOff   = "\x1b[0m"
)

// Format writes all errors for people: the place, what is wrong, the source line with the piece marked, and
// the remedy. Text is wrapped at width characters (80 where width is 0 or less); colour
// is for terminals only. It returns the writer's error.
func (d *Diagnostics) Format(w io.Writer, color bool, width int) error {
	if width <= 0 {
		width = 80
	}
	paint := func(code, s string) string {
		if !color {
			return s
		}
		return code + s + colourOff
	}
	var b strings.Builder
	for i, e := range d.List {
		if i > 0 {
			b.WriteByte('\n')
		}
		summary := string(printable(e.Summary))
		if e.Subject == nil {
			fmt.Fprintf(&b, "%s\n", paint(colourError, summary))
		} else {
			r := *e.Subject
			fmt.Fprintf(&b, "%s:%d:%d: %s\n", string(printable(r.Filename)), r.Start.Line, r.Start.Column, paint(colourError, summary))
			number := fmt.Sprintf("%5d", r.Start.Line)
			line := d.snippet(r, max(width-len(number)-3, 20))
			fmt.Fprintf(&b, "%s %s\n", paint(colourDim, number+" |"), line.text)
			mark := strings.Repeat(" ", line.from) + paint(colourError, strings.Repeat("^", line.to-line.from))
			fmt.Fprintf(&b, "%s %s\n", paint(colourDim, strings.Repeat(" ", len(number))+" |"), mark)
		}
		for _, line := range wrap(string(printable(e.Detail)), width-2) {
			fmt.Fprintf(&b, "  %s\n", line)
		}
	}
	if d.Omitted > 0 {
		fmt.Fprintf(&b, "\n%d more errors are not shown.\n", d.Omitted)
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// wrap breaks a text into lines of at most width characters where words allow it.
func wrap(text string, width int) []string {
	var lines []string
	line, size := "", 0
	for _, word := range strings.Fields(text) {
		n := len([]rune(word))
		if size > 0 && size+1+n > width {
			lines, line, size = append(lines, line), "", 0
		}
		if size > 0 {
			line, size = line+" ", size+1
		}
		line, size = line+word, size+n
	}
	if size > 0 {
		lines = append(lines, line)
	}
	return lines
}
