package check

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"barwright/frame"
	"barwright/internal/rulecase"
)

// TestRules goes through the frames in testdata/rules, whose comments are cases (see package rulecase); a file's name up to the first dot
// names the rule. The expected findings were written by hand from the rules'
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
		for _, c := range rulecase.Read(t, path) {
			if len(c.Want) > 0 {
				found[rule]++
			} else {
				silent[rule]++
			}
			t.Run(fmt.Sprintf("%s:%d", filepath.Base(path), c.Line), func(t *testing.T) {
				f, err := frame.Load(path, frame.Options{Set: c.Settings})
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
func compareCase(t *testing.T, c rulecase.Case, findings []Finding, rule string) {
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
	if len(got) != len(c.Want) {
		t.Fatalf("%d findings, want %d:%s", len(got), len(c.Want), show)
	}
	for _, w := range c.Want {
		if !slices.ContainsFunc(got, func(g Finding) bool {
			return w.Fits(rulecase.Found{Severity: string(g.Severity), Members: g.Members, Message: g.Message})
		}) {
			t.Errorf("want %s %v %q; got:%s", w.Severity, w.Members, w.Message, show)
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
