// Package rulecase reads the cases of design rules that stand as comments in frame files, for tests.
//
//	# case x=20 y=3: error a, b ~ part of the message
//	# case x=30: silent
//
// A line gives settings of the file's parameters and what a rule must find with them; several lines with the same settings
// are findings of one run.
package rulecase

import (
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// Case is one set of settings and what a rule must find.
type Case struct {
	Line     int
	Settings []string
	Want     []Found // none where the rule must be silent
}

// Found is one finding: of a case, Members may be empty and Message is a part of the message.
type Found struct {
	Severity string
	Members  []string
	Message  string
}

var line = regexp.MustCompile(`^# case ?([^:]*): (silent|error|warning|note) ?([^~]*)(?:~ (.*))?$`)

// Read reads the case lines of a frame file.
func Read(t testing.TB, path string) []Case {
	t.Helper()
	src, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	var out []Case
	for i, text := range strings.Split(string(src), "\n") {
		if !strings.HasPrefix(text, "# case") {
			continue
		}
		m := line.FindStringSubmatch(text)
		if m == nil {
			t.Fatalf("%s:%d: can't read %q", path, i+1, text)
		}
		c := Case{Line: i + 1, Settings: strings.Fields(m[1])}
		if k := slices.IndexFunc(out, func(o Case) bool { return slices.Equal(o.Settings, c.Settings) }); k >= 0 {
			out[k].Want = append(out[k].Want, wanted(m))
			continue
		}
		if m[2] != "silent" {
			c.Want = append(c.Want, wanted(m))
		}
		out = append(out, c)
	}
	if len(out) == 0 {
		t.Fatalf("%s has no cases", path)
	}
	return out
}

func wanted(m []string) Found {
	w := Found{Severity: m[2], Message: strings.TrimSpace(m[4])}
	for _, name := range strings.Split(m[3], ",") {
		if name = strings.TrimSpace(name); name != "" {
			w.Members = append(w.Members, name)
		}
	}
	slices.Sort(w.Members)
	return w
}

// Fits reports whether a finding is what a case wants.
func (w *Found) Fits(g Found) bool {
	members := slices.Clone(g.Members)
	slices.Sort(members)
	members = slices.Compact(members)
	return g.Severity == w.Severity && (len(w.Members) == 0 || slices.Equal(members, w.Members)) && strings.Contains(g.Message, w.Message)
}
