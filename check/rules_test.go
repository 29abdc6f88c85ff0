package check

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"barwright/frame"
)

// ruleCase is one line of a frame file in testdata/rules: settings of its parameters and what the rule must find.
//
//	# case x=20 y=3: error a, b ~ part of the message
//	# case x=30: silent
//
// Several lines with the same settings are findings of one run. The file's name up to the first dot or the first dash
// behind it names the rule.
type ruleCase struct {
	line     int
	settings []string
	want     []wanted
}

type wanted struct {
	severity Severity
	members  []string
	text     string
}

var caseLine = regexp.MustCompile(`^# case ?([^:]*): (silent|error|warning|note) ?([^~]*)(?:~ (.*))?$`)

// readCases reads the case lines of a frame file.
func readCases(t *testing.T, path string) []ruleCase {
	t.Helper()
	src, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	var out []ruleCase
	for i, line := range strings.Split(string(src), "\n") {
		if !strings.HasPrefix(line, "# case") {
			continue
		}
		m := caseLine.FindStringSubmatch(line)
		if m == nil {
			t.Fatalf("%s:%d: can't read %q", path, i+1, line)
		}
		c := ruleCase{line: i + 1, settings: strings.Fields(m[1])}
		if k := slices.IndexFunc(out, func(o ruleCase) bool { return slices.Equal(o.settings, c.settings) }); k >= 0 {
			out[k].want = append(out[k].want, wantedOf(m))
			continue
		}
		if m[2] != "silent" {
			c.want = append(c.want, wantedOf(m))
		}
		out = append(out, c)
	}
	if len(out) == 0 {
		t.Fatalf("%s has no cases", path)
	}
	return out
}

func wantedOf(m []string) wanted {
	w := wanted{severity: Severity(m[2]), text: strings.TrimSpace(m[4])}
	for _, name := range strings.Split(m[3], ",") {
		if name = strings.TrimSpace(name); name != "" {
			w.members = append(w.members, name)
		}
	}
	slices.Sort(w.members)
	return w
}

// TestRules goes through the frames in testdata/rules. The expected findings were written by hand from the rules'
// words and the sizes in each file (common practice, no source, unless a file's comment names one).
func TestRules(t *testing.T) {
	files, err := filepath.Glob("testdata/rules/*.hcl")
	if err != nil || len(files) == 0 {
		t.Fatalf("no rule files: %v", err)
	}
	found, silent := map[string]int{}, map[string]int{}
	for _, path := range files {
		rule := strings.TrimSuffix(filepath.Base(path), ".hcl")
		rule, _, _ = strings.Cut(rule, ".")
		if !slices.Contains(frame.RuleNames(), rule) {
			t.Fatalf("%s names no rule", path)
		}
		for _, c := range readCases(t, path) {
			if len(c.want) > 0 {
				found[rule]++
			} else {
				silent[rule]++
			}
			t.Run(fmt.Sprintf("%s:%d", filepath.Base(path), c.line), func(t *testing.T) {
				f, err := frame.Load(path, frame.Options{Set: c.settings})
				if err != nil {
					t.Fatal(err)
				}
				compareCase(t, c, Run(f), rule)
			})
		}
	}
	for _, r := range Rules() {
		if found[r.Name] < 5 || silent[r.Name] < 3 {
			t.Errorf("%s has %d failing and %d passing cases; want at least 5 and 3", r.Name, found[r.Name], silent[r.Name])
		}
	}
}

// compareCase compares the findings of one rule with what a case wants.
func compareCase(t *testing.T, c ruleCase, findings []Finding, rule string) {
	t.Helper()
	var got []Finding
	for _, g := range findings {
		if g.Rule == rule {
			got = append(got, g)
		}
	}
	show := ""
	for _, g := range got {
		show += fmt.Sprintf("\n  %s %v: %s (%s)", g.Severity, g.Members, g.Message, g.Remedy)
	}
	if len(got) != len(c.want) {
		t.Fatalf("%d findings, want %d:%s", len(got), len(c.want), show)
	}
	for _, w := range c.want {
		ok := slices.ContainsFunc(got, func(g Finding) bool {
			members := slices.Clone(g.Members)
			slices.Sort(members)
			members = slices.Compact(members)
			return g.Severity == w.severity && (len(w.members) == 0 || slices.Equal(members, w.members)) && strings.Contains(g.Message, w.text)
		})
		if !ok {
			t.Errorf("want %s %v %q; got:%s", w.severity, w.members, w.text, show)
		}
	}
	for _, g := range got {
		if g.Message == "" || g.Remedy == "" || g.Origin.Start.Line == 0 || !strings.ContainsAny(g.Message, "0123456789") {
			t.Errorf("a finding lacks message with numbers, remedy or line: %+v", g)
		}
	}
}

func TestRulesAreListed(t *testing.T) {
	var list []string
	for _, r := range Rules() {
		list = append(list, r.Name)
		if !strings.HasPrefix(r.Explain, r.Name+" (") || !strings.Contains(r.Explain, "Remedy:") && !strings.Contains(r.Explain, "Remedy ") {
			t.Errorf("the page of %s does not begin with its name and severity or has no remedy", r.Name)
		}
	}
	if !slices.Equal(list, frame.RuleNames()) {
		t.Errorf("rules %v\nframe knows %v", list, frame.RuleNames())
	}
}
