package frame

import (
	"fmt"
	"sort"
	"strings"
	"unicode/utf8"

	"github.com/hashicorp/hcl/v2"
)

// maxDiagnostics is how many errors of one file are kept; a file with more is not a frame file.
const maxDiagnostics = 500

// Diagnostics is everything that is wrong with a frame file, in the order of the file. It is the error
// that [Load] and [Parse] return for a file that could be read but is not a frame.
type Diagnostics struct {
	// List is HCL's own kind: the summary says what is wrong in a builder's
	// words, the detail the remedy.
	List hcl.Diagnostics
	// Omitted counts further errors that were not kept.
	Omitted int
	src     []byte
}

// DiagnosticEntry is one error for other programs to read.
type DiagnosticEntry struct {
	File    string `json:"file"`
	Line    int    `json:"line"`   // from 1
	Column  int    `json:"column"` // in characters, from 1
	Summary string `json:"summary"`
	Remedy  string `json:"remedy,omitempty"`
	Snippet string `json:"snippet,omitempty"` // the source line
}

// newDiagnostics sorts and bounds what was found.
func newDiagnostics(list hcl.Diagnostics, src []byte) *Diagnostics {
	sort.SliceStable(list, func(i, j int) bool { return startOf(list[i]).Byte < startOf(list[j]).Byte })
	d := &Diagnostics{src: src}
	for i, e := range list {
		if i > 0 && sameDiagnostic(e, list[i-1]) {
			continue
		}
		if len(d.List) == maxDiagnostics {
			d.Omitted++
			continue
		}
		d.List = append(d.List, e)
	}
	return d
}

func startOf(d *hcl.Diagnostic) hcl.Pos {
	if d.Subject == nil {
		return hcl.InitialPos
	}
	return d.Subject.Start
}

func sameDiagnostic(a, b *hcl.Diagnostic) bool {
	return a.Summary == b.Summary && a.Detail == b.Detail && startOf(a) == startOf(b)
}

// Error returns the first error with its place, and how many more there are.
func (d *Diagnostics) Error() string {
	if len(d.List) == 0 {
		return "no errors"
	}
	e := d.List[0]
	text := e.Summary
	if e.Subject != nil {
		text = fmt.Sprintf("%s:%d:%d: %s", e.Subject.Filename, e.Subject.Start.Line, e.Subject.Start.Column, text)
	}
	if n := len(d.List) + d.Omitted - 1; n == 1 {
		text += " (and one more error)"
	} else if n > 1 {
		text += fmt.Sprintf(" (and %d more errors)", n)
	}
	return text
}

// Entries returns every error with its place, in the order of the file.
func (d *Diagnostics) Entries() []DiagnosticEntry {
	out := make([]DiagnosticEntry, 0, len(d.List))
	for _, e := range d.List {
		entry := DiagnosticEntry{Summary: e.Summary, Remedy: e.Detail}
		if e.Subject != nil {
			entry.File, entry.Line, entry.Column = e.Subject.Filename, e.Subject.Start.Line, e.Subject.Start.Column
			entry.Snippet = d.snippet(*e.Subject, 200).text
		}
		out = append(out, entry)
	}
	return out
}

// marked is one line of source with the piece that an error speaks of.
type marked struct {
	text     string
	from, to int // in characters of text
}

// snippet returns the line on which a range begins, cut to a width round the place. It trusts nothing
// about the range: one outside the source gives an empty line.
func (d *Diagnostics) snippet(r hcl.Range, width int) marked {
	at := min(max(r.Start.Byte, 0), len(d.src))
	const reach = 4096 // bytes looked at on either side: a line may be the whole file
	begin := max(at-reach, 0)
	if i := strings.LastIndexByte(string(d.src[begin:at]), '\n'); i >= 0 {
		begin += i + 1
	}
	end := min(at+reach, len(d.src))
	if i := strings.IndexByte(string(d.src[at:end]), '\n'); i >= 0 {
		end = at + i
	}
	before := printable(string(d.src[begin:at]))
	stop := min(max(r.End.Byte, at), end)
	inside := printable(strings.TrimRight(string(d.src[at:stop]), "\r"))
	after := printable(strings.TrimRight(string(d.src[stop:end]), "\r"))
	return cutToWidth(before, inside, after, width)
}

// cutToWidth puts the pieces of a line together so that the marked piece is in sight.
func cutToWidth(before, inside, after []rune, width int) marked {
	width = max(width, 20)
	if room := width - min(len(inside), width/2); len(before) > room-5 {
		before = append([]rune("…"), before[len(before)-max(room-6, 0):]...)
	}
	if room := width - len(before); len(inside) > room {
		inside, after = append(append([]rune{}, inside[:max(room-1, 1)]...), '…'), nil
	}
	if room := width - len(before) - len(inside); len(after) > room {
		after = append(append([]rune{}, after[:max(room-1, 0)]...), '…')
	}
	text := string(before) + string(inside) + string(after)
	return marked{text: strings.TrimRight(text, " "), from: len(before), to: len(before) + max(len(inside), 1)}
}

// printable returns the characters of a piece of source with tabs as two blanks and
// everything that could upset a terminal as a replacement character.
func printable(s string) []rune {
	out := make([]rune, 0, len(s))
	for _, r := range s {
		switch {
		case r == '\t':
			out = append(out, ' ', ' ')
		case r < ' ' || r == 0x7f || r == utf8.RuneError || r >= 0x80 && r < 0xa0 || r >= 0x202a && r <= 0x202e || r >= 0x2066 && r <= 0x2069:
			out = append(out, '\uFFFD')
		default:
			out = append(out, r)
		}
	}
	return out
}
