package job

import (
	"fmt"
	"io"

	"barwright/check"
)

// WriteFindings prints the findings for a terminal, the worst first, each with its line of the frame file. What the
// file allows comes last, with its reason.
func WriteFindings(w io.Writer, findings []check.Finding, colour bool) {
	paint := map[check.Severity]string{check.Error: "\x1b[1;31m", check.Warning: "\x1b[1;33m", check.Note: "\x1b[1;36m"}
	for _, g := range findings {
		word := string(g.Severity)
		if g.Allowed != "" {
			word = "allowed " + word
		} else if colour {
			word = paint[g.Severity] + word + "\x1b[0m"
		}
		where := ""
		if g.Origin.Start.Line > 0 {
			where = fmt.Sprintf("%s:%d: ", g.Origin.Filename, g.Origin.Start.Line)
		}
		fmt.Fprintf(w, "%s%s: %s [%s]\n", where, word, g.Message, g.Rule)
		fmt.Fprintf(w, "    at %s, %s, %s\n", Length(g.At.X), Length(g.At.Y), Length(g.At.Z))
		switch {
		case g.Allowed != "":
			fmt.Fprintf(w, "    reason: %s\n", g.Allowed)
		case g.Remedy != "":
			fmt.Fprintf(w, "    remedy: %s\n", g.Remedy)
		}
	}
	if len(findings) > 0 {
		fmt.Fprintln(w)
	}
}

// Pressing returns the findings above a note that the file does not allow: what every command shows. All of them are shown
// by check.
func Pressing(findings []check.Finding) []check.Finding {
	var out []check.Finding
	for _, g := range findings {
		if g.Severity != check.Note && g.Allowed == "" {
			out = append(out, g)
		}
	}
	return out
}
