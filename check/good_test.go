package check

import (
	"path/filepath"
	"testing"

	"barwright/frame"
)

// TestGoodFramesAreSilent runs frames that builders would build; nothing in them is worth more than a note.
func TestGoodFramesAreSilent(t *testing.T) {
	good, _ := filepath.Glob("testdata/good/*.hcl")
	examples, _ := filepath.Glob("../examples/*/frame.hcl")
	if len(good) < 10 || len(examples) < 2 {
		t.Fatalf("%d good frames and %d examples; want 10 and 2 at least", len(good), len(examples))
	}
	for _, path := range append(good, examples...) {
		t.Run(path, func(t *testing.T) {
			f, err := frame.Load(path, frame.Options{})
			if err != nil {
				t.Fatal(err)
			}
			for _, g := range Run(f) {
				if g.Severity != Note {
					t.Errorf("%s: %s [%s]", g.Severity, g.Message, g.Rule)
				}
			}
		})
	}
}
