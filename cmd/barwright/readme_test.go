package main

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// What README.md shows is what the program prints: the cut list of the starter frame that the page makes, and
// the member that it adds is one that loads.
func TestReadmeShowsWhatIsPrinted(t *testing.T) {
	page, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	block := func(language string) string {
		m := regexp.MustCompile("(?s)```" + language + "\n(.*?)```").FindSubmatch(page)
		if m == nil {
			t.Fatalf("README.md has no %s block", language)
		}
		return string(m[1])
	}
	args := regexp.MustCompile(`(?m)^barwright (new .*)$`).FindSubmatch(page)
	if args == nil {
		t.Fatal("README.md does not show barwright new")
	}
	t.Chdir(t.TempDir())
	call := func(args ...string) string {
		var out, errs bytes.Buffer
		if status := run(args, strings.NewReader(""), &out, &errs); status != 0 {
			t.Fatalf("barwright %s: status %d\n%s%s", strings.Join(args, " "), status, out.String(), errs.String())
		}
		return out.String()
	}
	call(strings.Fields(string(args[1]))...)
	file := filepath.Join("bench", "frame.hcl")
	if got, want := call("parts", file), block("text"); got != want {
		t.Errorf("barwright parts prints\n%s\nREADME.md shows\n%s", got, want)
	}
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(file, append(text, block("hcl")...), 0o644); err != nil {
		t.Fatal(err)
	}
	call("check", file)
}
