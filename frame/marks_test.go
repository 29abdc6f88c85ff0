package frame

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// rack is a frame whose bars differ by their lengths, so that the marks can be told from them.
func rack(lengths ...float64) string {
	var b strings.Builder
	b.WriteString("frame { profile = \"30x30-8\" }\n")
	for i, l := range lengths {
		fmt.Fprintf(&b, "member \"m%d\" {\n  left = 0\n  length = %g\n  along = \"x\"\n  front = 0\n  bottom = %d\n}\n", i, l, 100*i)
	}
	return b.String()
}

// marksOf returns "length=mark" of all parts in their order.
func marksOf(f *Frame) string {
	var out []string
	for _, p := range f.Parts {
		out = append(out, fmt.Sprintf("%g=%s", p.Bar.Length, p.Mark))
	}
	return strings.Join(out, " ")
}

func parseWith(t *testing.T, src string, lock []byte) *Frame {
	t.Helper()
	o := Options{}
	if lock != nil {
		m, err := ParseMarks("frame.marks", lock)
		if err != nil {
			t.Fatalf("%v\n%s", err, lock)
		}
		o.Marks = m
	}
	f, err := Parse("frame.hcl", []byte(src), o)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// A part that stays keeps its mark, one that changes gets a number that none has had, and one that comes
// back gets its own again.
func TestLockedMarks(t *testing.T) {
	first := parseWith(t, rack(900, 700, 500), nil)
	if got := marksOf(first); got != "900=A1 700=A2 500=A3" {
		t.Fatalf("without a record: %s", got)
	}
	lock := first.Lock()
	for _, c := range []struct {
		name    string
		lengths []float64
		want    string
	}{
		{"nothing changed", []float64{900, 700, 500}, "900=A1 700=A2 500=A3"},
		{"a longer bar is added", []float64{900, 700, 500, 1000}, "900=A1 700=A2 500=A3 1000=A4"},
		{"the middle one is changed", []float64{900, 710, 500}, "900=A1 500=A3 710=A5"},
		{"and comes back", []float64{900, 700, 500}, "900=A1 700=A2 500=A3"},
		{"the longest goes, two come", []float64{700, 500, 450, 940}, "700=A2 500=A3 940=A6 450=A7"},
	} {
		f := parseWith(t, rack(c.lengths...), lock)
		if got := marksOf(f); got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
		next := f.Lock()
		body := strings.TrimRight(string(lock), "\n")
		if !strings.HasPrefix(string(next), body) {
			t.Errorf("%s: the record lost lines:\n%s", c.name, next)
		}
		if again := parseWith(t, rack(c.lengths...), next).Lock(); string(again) != string(next) {
			t.Errorf("%s: written again, the record differs", c.name)
		}
		lock = next
	}
}

// Without the record the middle change renumbers what follows: this is what the record is for.
func TestMarksWithoutRecordMove(t *testing.T) {
	if got := marksOf(parseWith(t, rack(1000, 900, 700), nil)); got != "1000=A1 900=A2 700=A3" {
		t.Errorf("marks %s", got)
	}
}

// A second profile keeps its letter when the first one goes.
func TestLockedLetters(t *testing.T) {
	two := rack(900) + "member \"n\" {\n  profile = \"40x40-10\"\n  left = 0\n  length = 800\n  along = \"x\"\n  front = 500\n  bottom = 0\n}\n"
	f := parseWith(t, two, nil)
	if got := marksOf(f); got != "900=A1 800=B1" {
		t.Fatalf("marks %s", got)
	}
	lock := f.Lock()
	only := strings.Replace(two[strings.Index(two, "member \"n\""):], "800", "790", 1)
	if got := marksOf(parseWith(t, only, lock)); got != "790=B2" {
		t.Errorf("marks %s; the letter of a profile stays", got)
	}
	if got := marksOf(parseWith(t, strings.Replace(only, "40x40-10", "20x20-6", 1), lock)); got != "790=C1" {
		t.Errorf("marks %s; letters that had a profile are not used for another", got)
	}
}

// A mark that the file asks for wins over the record, and the record takes it in.
func TestAskedMarkBeforeRecord(t *testing.T) {
	lock := parseWith(t, rack(900, 700), nil).Lock()
	asked := strings.Replace(rack(900, 700), "length = 700", "length = 700\n  mark = \"A1\"", 1)
	f := parseWith(t, asked, lock)
	if got := marksOf(f); got != "700=A1 900=A3" {
		t.Fatalf("marks %s", got)
	}
	if got := marksOf(parseWith(t, rack(900, 700), f.Lock())); got != "700=A1 900=A3" {
		t.Errorf("marks %s; the last line of a shape holds", got)
	}
}

// The record changes the fingerprint only where it changes a mark.
func TestRecordAndFingerprint(t *testing.T) {
	plain := parseWith(t, rack(900, 700), nil)
	if f := parseWith(t, rack(900, 700), plain.Lock()); f.Fingerprint != plain.Fingerprint {
		t.Error("the fingerprint changed though no mark did")
	}
	longer := parseWith(t, rack(900, 700, 1000), nil)
	if f := parseWith(t, rack(900, 700, 1000), plain.Lock()); f.Fingerprint == longer.Fingerprint {
		t.Error("other marks, the same fingerprint")
	}
}

// The record outlives the program that wrote it: this text must always be read as it is.
func TestShapeStays(t *testing.T) {
	f := parseWith(t, rack(900), nil)
	if got := string(f.Lock()); !strings.HasSuffix(got, "mark,profile,length_mm,shape\nA1,30x30-8,900,"+pinnedShape+"\n") {
		t.Errorf("a plain bar of 900 mm is written\n%s; if shapes are named in a new way, everybody's marks change", got)
	}
}

// pinnedShape is the shape of a plain 30x30-8 of 900 mm, as this program wrote it first.
const pinnedShape = "aa7b33cbc391f468"

func TestLoadReadsRecord(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "rack.hcl")
	write := func(name, text string) {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	write("rack.hcl", rack(900, 700))
	write("rack.marks", string(parseWith(t, rack(900, 700), nil).Lock()))
	write("rack.hcl", rack(900, 700, 1000))
	f, err := Load(path, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if got := marksOf(f); got != "900=A1 700=A2 1000=A3" {
		t.Errorf("marks %s", got)
	}
	if g, err := f.Again(nil); err != nil || marksOf(g) != marksOf(f) || g.Fingerprint != f.Fingerprint {
		t.Errorf("worked out again: %v", err)
	}
	write("rack.marks", "mark,profile,length_mm,shape\nA1,30x30-8,900,xyz\n")
	_, err = Load(path, Options{})
	var bad *MarksError
	if !errors.As(err, &bad) || bad.Line != 2 {
		t.Errorf("a damaged record: %v", err)
	}
}

func TestDamagedRecords(t *testing.T) {
	const head = "mark,profile,length_mm,shape\n"
	const shape = "0123456789abcdef"
	for _, c := range []struct {
		name, text string
		line       int
	}{
		{"another heading", "marks\n", 1},
		{"a heading of the right width", "a,b,c,d\n", 1},
		{"too few cells", head + "A1,30x30-8\n", 2},
		{"too many cells", head + "A1,30x30-8,900," + shape + ",\n", 2},
		{"no mark", head + ",30x30-8,900," + shape + "\n", 2},
		{"a mark with a control character", head + "\"A\x01\",30x30-8,900," + shape + "\n", 2},
		{"a mark that leaves its folder", head + "../x,30x30-8,900," + shape + "\n", 2},
		{"a long mark", head + strings.Repeat("A", 61) + ",30x30-8,900," + shape + "\n", 2},
		{"a short shape", head + "# note\nA1,30x30-8,900,0123\n", 3},
		{"a shape in capitals", head + "A1,30x30-8,900,0123456789ABCDEF\n", 2},
		{"an open quote", head + "\"A1,30x30-8,900," + shape + "\n", 2},
		{"a merge left in it", head + "<<<<<<< ours\n", 2},
	} {
		_, err := ParseMarks("x.marks", []byte(c.text))
		var bad *MarksError
		if !errors.As(err, &bad) || bad.Line != c.line {
			t.Errorf("%s: %v; want an error on line %d", c.name, err, c.line)
		}
	}
	if m, err := ParseMarks("x.marks", nil); err != nil || len(m.entries) != 0 {
		t.Errorf("an empty record: %v", err)
	}
	if _, err := ParseMarks("x.marks", []byte("\xef\xbb\xbf"+head+"\"A-1\",\"a,b\",900,"+shape+"\r\n")); err != nil {
		t.Errorf("a record that a spreadsheet has saved: %v", err)
	}
}

func TestSupplier(t *testing.T) {
	f := parseWith(t, rack(900)+`supplier "30x30-8" {
  per_metre = 11.5
  per_cut   = 1.2
  per_tap   = 2
  per_hole  = 3
  longest   = 3000
}
`, nil)
	if len(f.Suppliers) != 1 {
		t.Fatalf("%d suppliers", len(f.Suppliers))
	}
	if s := *f.Suppliers[0]; s.Profile != "30x30-8" || s.PerMetre != 11.5 || s.PerCut != 1.2 || s.PerTap != 2 || s.PerHole != 3 || s.Longest != 3000 {
		t.Errorf("%+v", s)
	}
	for _, c := range []struct{ text, want string }{
		{`supplier "30x30-8" {}`, "per_metre"},
		{`supplier "31x30-8" { per_metre = 1 }`, "31x30-8"},
		{`supplier "30x30-8" { per_metre = -1 }`, "per_metre"},
		{"supplier \"30x30-8\" { \n per_metre = 1 \n longest = 0 \n}", "longest"},
		{"supplier \"30x30-8\" { per_metre = 1 }\nsupplier \"generic-30-slot8\" { per_metre = 1 }", "second supplier"},
	} {
		if _, err := Parse("x.hcl", []byte(rack(900)+c.text), Options{}); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v; want %q", c.text, err, c.want)
		}
	}
}

// Through any history of changes a mark means one shape, and a shape keeps its mark.
func TestMarksAreNeverReused(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 7))
	lock := []byte(nil)
	meant, has := map[string]float64{}, map[float64]string{}
	for step := range 60 {
		lengths := map[float64]bool{}
		for range 1 + r.IntN(6) {
			lengths[float64(300+50*r.IntN(14))] = true
		}
		var list []float64
		for l := range lengths {
			list = append(list, l)
		}
		slices.Sort(list)
		f := parseWith(t, rack(list...), lock)
		for _, p := range f.Parts {
			if l, ok := meant[p.Mark]; ok && l != p.Bar.Length {
				t.Fatalf("step %d: %s was %g and is %g", step, p.Mark, l, p.Bar.Length)
			}
			if m, ok := has[p.Bar.Length]; ok && m != p.Mark {
				t.Fatalf("step %d: %g was %s and is %s", step, p.Bar.Length, m, p.Mark)
			}
			meant[p.Mark], has[p.Bar.Length] = p.Bar.Length, p.Mark
		}
		lock = f.Lock()
	}
	if len(meant) != 14 {
		t.Errorf("%d marks for 14 lengths", len(meant))
	}
}

// Whatever a record holds, it is refused with a line or gives every part one mark of its own.
func FuzzParseMarks(f *testing.F) {
	f.Add([]byte("mark,profile,length_mm,shape\nA1,30x30-8,900," + pinnedShape + "\nA1,30x30-8,900,0123456789abcdef\n"))
	f.Add([]byte("mark,profile,length_mm,shape\nZZ999999,30x30-8,900," + pinnedShape + "\n"))
	f.Add([]byte("\xef\xbb\xbf#\n\"mark\",profile,length_mm,shape\r\n"))
	f.Fuzz(func(t *testing.T, src []byte) {
		m, err := ParseMarks("x.marks", src)
		if err != nil {
			var bad *MarksError
			if !errors.As(err, &bad) || bad.Line < 0 || bad.Line > 1+strings.Count(string(src), "\n") {
				t.Fatalf("%v", err)
			}
			return
		}
		g, err := Parse("frame.hcl", []byte(rack(900, 700)), Options{Marks: m})
		if err != nil {
			t.Fatal(err)
		}
		if a, b := g.Parts[0].Mark, g.Parts[1].Mark; a == b || !goodMark(a) || !goodMark(b) {
			t.Fatalf("marks %q and %q", a, b)
		}
		if _, err := ParseMarks("x.marks", g.Lock()); err != nil {
			t.Fatalf("its own record is refused: %v", err)
		}
	})
}
