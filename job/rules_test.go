package job

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"barwright/check"
	"barwright/frame"
	"barwright/internal/rulecase"
)

// TestRulesSeePrintedParts goes through the frames in testdata/rules, whose comments are cases (see package rulecase); a file's name up to
// the first dot names the rule. The expected findings were written by hand from the rules' words and the sizes in each file (common
// practice, no source). They stand here, not with the other cases in check, because printed parts are made by this package.
func TestRulesSeePrintedParts(t *testing.T) {
	files, err := filepath.Glob("testdata/rules/*.hcl")
	if err != nil || len(files) < 8 {
		t.Fatalf("%d rule files: %v", len(files), err)
	}
	for _, path := range files {
		rule, _, _ := strings.Cut(filepath.Base(path), ".")
		if !slices.Contains(frame.RuleNames(), rule) {
			t.Fatalf("%s names no rule", path)
		}
		failing, silent := 0, 0
		for _, c := range rulecase.Read(t, path) {
			if len(c.Want) > 0 {
				failing++
			} else {
				silent++
			}
			t.Run(fmt.Sprintf("%s:%d", filepath.Base(path), c.Line), func(t *testing.T) {
				j, err := Open(path, c.Settings)
				if err != nil {
					t.Fatal(err)
				}
				compareCase(t, c, j.Findings, rule)
			})
		}
		if failing == 0 || silent == 0 {
			t.Errorf("%s has %d failing and %d silent cases", path, failing, silent)
		}
	}
}

// compareCase compares the findings of one rule with what a case wants.
func compareCase(t *testing.T, c rulecase.Case, findings []check.Finding, rule string) {
	t.Helper()
	var got []rulecase.Found
	show := ""
	for _, g := range findings {
		if g.Rule == rule {
			got = append(got, rulecase.Found{Severity: string(g.Severity), Members: g.Members, Message: g.Message})
			show += fmt.Sprintf("\n  %s %v: %s (%s)", g.Severity, g.Members, g.Message, g.Remedy)
			if g.Message == "" || g.Remedy == "" || g.Origin.Start.Line == 0 {
				t.Errorf("a finding lacks message, remedy or line: %+v", g)
			}
		}
	}
	if len(got) != len(c.Want) {
		t.Fatalf("%d findings, want %d:%s", len(got), len(c.Want), show)
	}
	for _, w := range c.Want {
		if !slices.ContainsFunc(got, w.Fits) {
			t.Errorf("want %s %v %q; got:%s", w.Severity, w.Members, w.Message, show)
		}
	}
}
