package frame

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// seeds returns the frame files of the examples and of testdata. It fails where there are none.
func seeds(t testing.TB) [][]byte {
	t.Helper()
	var out [][]byte
	for _, pattern := range []string{"../examples/*/*.hcl", "testdata/*.hcl"} {
		paths, err := filepath.Glob(pattern)
		if err != nil || len(paths) == 0 {
			t.Fatalf("no seeds in %s: %v", pattern, err)
		}
		for _, p := range paths {
			src, err := os.ReadFile(p)
			if err != nil {
				t.Fatal(err)
			}
			out = append(out, src)
		}
	}
	return out
}

// checkLaws parses a text and sees that the reader keeps its promises whatever it is.
func checkLaws(t *testing.T, src []byte) {
	t.Helper()
	f, err := Parse("fuzz.hcl", src, Options{})
	if err == nil {
		for _, m := range f.Members {
			checkPlace(t, m)
			if !(m.Length() > 0) {
				t.Errorf("%s is %g long", m.Name, m.Length())
			}
		}
		return
	}
	var d *Diagnostics
	if !errors.As(err, &d) || len(d.List) == 0 {
		t.Fatalf("error %v of type %T; want diagnostics", err, err)
	}
	size := len(bytes.TrimPrefix(src, []byte("\xef\xbb\xbf")))
	for _, e := range d.List {
		if e.Subject == nil || e.Summary == "" {
			t.Fatalf("an error without place or text: %+v", e)
		}
		if r := e.Subject; r.Start.Byte < 0 || r.Start.Byte > r.End.Byte || r.End.Byte > size || r.Start.Line < 1 {
			t.Errorf("%s: range %+v leaves the %d bytes of the file", e.Summary, r, size)
		}
	}
	var b strings.Builder
	if err := d.Format(&b, true, 60); err != nil || b.Len() == 0 {
		t.Errorf("printing gives %v", err)
	}
	d.Entries()
}

func FuzzParse(f *testing.F) {
	for _, src := range seeds(f) {
		f.Add(src)
		// Single blocks reach further than whole files once something is changed.
		for _, piece := range bytes.Split(src, []byte("\n\n")) {
			f.Add(append([]byte("frame { profile = \"30x30-8\" }\n"), piece...))
		}
	}
	for _, s := range hostile() {
		f.Add([]byte(s))
	}
	f.Fuzz(checkLaws)
}

// hostile are texts that would hang, overflow or exhaust a reader that trusts its input.
func hostile() []string {
	row := "frame { profile = \"20x20-6\" }\nrow \"r\" {\n left=0\n right=99\n bottom=0\n count=2000\n first={mid_y=0}\n step=50\n}\n"
	let := func(s string) string { return "let \"a\" { value = " + s + " }\n" }
	return []string{
		let("1e999999999"), let("-\"1e999999999\""), let("\"${1e300000000}\" == \"1\" ? 1 : 2"), let("1e-999999999"),
		let("1e9 * 1e9 * 1e9"), let("0 * (1/0)"), let("(1/0) - (1/0)"), let("7 % 1e-300"), let("1e12 % 1e-14"),
		let("[for a in range(2000) : [for b in range(2000) : [for c in range(2000) : 1]]]"),
		let("[for a in [for b in range(2000) : [b,b,b]] : [a,a,a]]"),
		let("[for a in [\"x\"] : \"${a}${a}\"]"),
		let("range(2000)[*][range(2000)[*][range(2000)[*][0]]]"),
		row + let("[for a in range(2000) : r == r ? 1 : 2][0]"),
		row + let("[for a in range(2000) : r[*].left][0][0]"),
		row + strings.Repeat("let \"a\" { value = length(r == r ? r : r) }\n", 50),
		row + let("r[*][r[*][r[*][0].left].left].left"),
		row + let("r[1e300].left"), row + let("r[-1].left"), row + let("r[0.5].left"), row + let("r[\"0\"].left"), row + let("r.0.left"),
		"member \"a\" \"b\" {", "member a {}", "member \"\" {}", "member \"\\u0000\" {}", "member \"${x}\" {}",
		"posts \"p\" {\n tops = 3\n}", "posts \"p\" {\n tops = { a.b = 3 }\n}", "ring \"r\" {\n corners = {}\n within = r\n}",
		"brace \"b\" {\n from = { on = b, at = 0 }\n to = { on = b, at = 0 }\n}",
		"frame { profile = null }\nmember \"a\" {\n left = null\n}", "frame { title = \"${frame}\" }",
		"group \"g\" { members = g }\ngroup \"h\" { members = [g] }\njoint {\n on = [g, h]\n with = \"none\"\n}",
		"stock \"30x30-8\" { bar = [{ length = null }, {}, 3, null] }", "foot { under = [] }", "foot { under = null }",
		"mass \"m\" {\n kg = 1\n on = [m]\n}", "profile \"p\" {\n pitch = 1e-9\n}", "\xef\xbb\xbf", "\ufeff\ufeff", "/*", "<<EOT\n", "a = <<-X\n${\n",
	}
}

// The hostile texts are tried on every run, not only by the fuzzer.
func TestHostile(t *testing.T) {
	for _, s := range hostile() {
		checkLaws(t, []byte(s))
	}
}

// Each file with one byte gone, and cut at each place, must be read or refused.
func TestCutFiles(t *testing.T) {
	src := []byte(base)
	for i := range src {
		checkLaws(t, src[:i])
		checkLaws(t, append(append([]byte{}, src[:i]...), src[i+1:]...))
	}
}
