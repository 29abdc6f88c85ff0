package frame

import (
	"encoding/json"
	"errors"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/hashicorp/hcl/v2"
)

// What a builder sees: the place, the line, the mark under it, the remedy.
func TestFormat(t *testing.T) {
	_, err := Parse("stand.hcl", []byte("frame { profile = \"30x30-8\" }\nmember \"rail\" {\n\tlft   = 0\n\tright = 300\n\tfront = 0\n\ttop   = 0\n}\n"), Options{})
	var d *Diagnostics
	if !errors.As(err, &d) {
		t.Fatal(err)
	}
	want := `stand.hcl:2:1: member "rail" has no length
    2 | member "rail" {
      | ^^^^^^^^^^^^^
  Along its axis a bar has two of low face, high face and length: give both left and right, for
  example, or add length and along.

stand.hcl:3:2: member "rail" has no attribute "lft"
    3 |   lft   = 0
      |   ^^^
  Did you mean "left"?
`
	got := formatted(d)
	if got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	var b strings.Builder
	if err := d.Format(&b, true, 80); err != nil || !strings.Contains(b.String(), "\x1b[1;31m") {
		t.Errorf("no colour in %q", b.String())
	}
	if strings.Contains(got, "\x1b") {
		t.Error("colour without being asked for")
	}
}

// A long line is cut round the place; nothing from the file reaches the terminal as a control sign.
func TestFormatLongLine(t *testing.T) {
	line := "let \"a\" { value = " + strings.Repeat("1 + ", 500) + "nobody + \x1b[31m }"
	_, err := Parse("\x1b]0;x.hcl", []byte(base+line), Options{})
	var d *Diagnostics
	if !errors.As(err, &d) {
		t.Fatal(err)
	}
	for _, width := range []int{-1, 1, 40, 80, 200} {
		var b strings.Builder
		if err := d.Format(&b, false, width); err != nil {
			t.Fatal(err)
		}
		if strings.ContainsRune(b.String(), '\x1b') {
			t.Errorf("an escape sign is printed: %q", b.String())
		}
		for _, l := range strings.Split(b.String(), "\n") {
			if n := utf8.RuneCountInString(l); width >= 40 && strings.Contains(l, " | ") && n > width+1 {
				t.Errorf("a line of %d characters at width %d: %q", n, width, l)
			}
		}
	}
}

// Ranges that make no sense, as from another file, do no harm.
func TestSnippetOutOfRange(t *testing.T) {
	for _, r := range []hcl.Range{
		{Start: hcl.Pos{Byte: -5}, End: hcl.Pos{Byte: 900}},
		{Start: hcl.Pos{Byte: 900}, End: hcl.Pos{Byte: 3}},
		{Start: hcl.Pos{Byte: 4}, End: hcl.Pos{Byte: 2}},
	} {
		d := newDiagnostics(hcl.Diagnostics{problem(r, "x", "y")}, []byte("one\ntwo\n"))
		if formatted(d) == "" || len(d.Entries()) != 1 {
			t.Errorf("range %v is not printed", r)
		}
	}
}

func TestEntries(t *testing.T) {
	_, err := Parse("e.hcl", []byte(base+"let \"a\" { value = widht }\n"), Options{})
	var d *Diagnostics
	if !errors.As(err, &d) {
		t.Fatal(err)
	}
	out, err := json.Marshal(d.Entries())
	if err != nil {
		t.Fatal(err)
	}
	want := `[{"file":"e.hcl","line":19,"column":19,"summary":"There is no \"widht\"","remedy":"Did you mean \"width\"?","snippet":"let \"a\" { value = widht }"}]`
	if string(out) != want {
		t.Errorf("got  %s\nwant %s", out, want)
	}
	if d.Error() != `e.hcl:19:19: There is no "widht"` {
		t.Errorf("error text %q", d.Error())
	}
}

// The edit distance is the one of Damerau (1964) in its restricted form: his own four kinds of slips cost one each.
func TestNearestName(t *testing.T) {
	for _, c := range []struct{ wrong, want string }{
		{"mmeber", "member"}, {"membr", "member"}, {"memberr", "member"}, {"mamber", "member"}, {"MEMBER", "member"},
		{"w", ""}, {"xyz", ""}, {"psots", "posts"}, {"entirely", ""},
	} {
		if got := nearestName(c.wrong, []string{"ring", "member", "posts", "x"}); got != c.want {
			t.Errorf("nearest to %q is %q; want %q", c.wrong, got, c.want)
		}
	}
	for _, c := range []struct {
		a, b string
		want int
	}{{"kitten", "sitting", 3}, {"ab", "ba", 1}, {"", "abc", 3}, {"flaw", "lawn", 2}} {
		if got := editDistance([]rune(c.a), []rune(c.b), 9); got != c.want {
			t.Errorf("distance of %q and %q is %d; want %d", c.a, c.b, got, c.want)
		}
	}
}
