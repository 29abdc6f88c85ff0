package drawing_test

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"barwright/assembly"
	"barwright/drawing"
	"barwright/frame"
	"barwright/mesh"
)

// guideOf plans and draws the guide of an example.
func guideOf(t testing.TB, name string) (*frame.Frame, *mesh.Scene, *assembly.Plan, []*drawing.Sheet) {
	t.Helper()
	f, err := frame.Load("../examples/"+name+"/frame.hcl", frame.Options{})
	if err != nil {
		t.Fatal(err)
	}
	scene, err := mesh.NewScene(f, mesh.DefaultTolerance)
	if err != nil {
		t.Fatal(err)
	}
	p, err := assembly.New(f, assembly.Options{})
	if err != nil {
		t.Fatal(err)
	}
	sheets, err := drawing.GuideSheets(f, scene, p, drawing.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return f, scene, p, sheets
}

// textOf returns all that the pages say, wrapped lines joined.
func textOf(sheets []*drawing.Sheet) string {
	var b strings.Builder
	for _, s := range sheets {
		for _, t := range s.Texts() {
			b.WriteString(t.String + " ")
		}
	}
	return b.String()
}

func TestGuidePages(t *testing.T) {
	files, err := filepath.Glob("../examples/*/frame.hcl")
	if err != nil || len(files) < 2 {
		t.Fatalf("%d examples found (%v)", len(files), err)
	}
	for _, path := range files {
		name := filepath.Base(filepath.Dir(path))
		t.Run(name, func(t *testing.T) {
			f, _, p, sheets := guideOf(t, name)
			for _, s := range sheets {
				for _, c := range s.Verify() {
					t.Errorf("%s: %v", s.Name, c)
				}
			}
			text := textOf(sheets)
			p.Each(func(s *assembly.Step) {
				if head := s.Headline(); !strings.Contains(text, head[:min(len(head), 40)]) {
					t.Errorf("step %d, %q, is not in the guide", s.Number, s.Headline())
				}
			})
			for _, m := range f.Parts {
				if want := fmt.Sprintf("× %s, ", m.Mark); !strings.Contains(text, want) {
					t.Errorf("%s is never taken", m.Mark)
				}
			}
			// Cautions stand where the danger is: lifting, folding, pinching, torque, sharp ends.
			for _, want := range []string{"CAUTION", "sharp", "fingers", "torque wrench", "Retighten after", "ISO 11228-1", "VDI 2230-1"} {
				if !strings.Contains(text, want) {
					t.Errorf("the guide does not speak of %q", want)
				}
			}
		})
	}
}

// The page stands by itself, and the same plan gives the same bytes.
func TestGuideHTML(t *testing.T) {
	f, scene, p, sheets := guideOf(t, "foam-cutter")
	write := func() string {
		var b bytes.Buffer
		if err := drawing.WriteGuideHTML(&b, f, scene, p, drawing.Options{}); err != nil {
			t.Fatal(err)
		}
		return b.String()
	}
	page := write()
	if page != write() {
		t.Error("two pages of one plan differ")
	}
	// No address but the name of the SVG language, nothing that is loaded.
	for _, u := range regexp.MustCompile(`(?i)(https?:|src=|url\(|@import|<script|<link)[^" ]*`).FindAllString(page, -1) {
		if u != "http://www.w3.org/2000/svg" {
			t.Fatalf("the page refers to %q", u)
		}
	}
	steps := 0
	p.Each(func(s *assembly.Step) { steps++ })
	if n := strings.Count(page, "<section "); n != steps {
		t.Errorf("%d sections for %d steps", n, steps)
	}
	if n := strings.Count(page, "<svg "); n < steps {
		t.Errorf("%d pictures for %d steps", n, steps)
	}
	if n := strings.Count(page, "<svg "); n != strings.Count(page, "</svg>") {
		t.Errorf("%d pictures begin, %d end", n, strings.Count(page, "</svg>"))
	}
	for _, use := range regexp.MustCompile(`href="#(c[0-9a-f]+)"`).FindAllStringSubmatch(page, -1) {
		if !strings.Contains(page, `id="`+use[1]+`"`) {
			t.Fatalf("the letter %s is used and not there", use[1])
		}
	}
	var a, b bytes.Buffer
	for _, w := range []*bytes.Buffer{&a, &b} {
		_, _, _, s := guideOf(t, "foam-cutter")
		if err := drawing.WritePDF(w, &drawing.Book{Title: "Guide", Sheets: s}); err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.Equal(a.Bytes(), b.Bytes()) {
		t.Error("two PDFs of one plan differ")
	}
	if len(sheets) < 5 {
		t.Errorf("%d pages", len(sheets))
	}
}

// The places where someone who followed the guide of the foam cutter page by page would have stopped, and what mends them: each
// mended one names words that the guide must hold.
func TestNewUser(t *testing.T) {
	src, err := os.ReadFile("testdata/guide-new-user.csv")
	if err != nil {
		t.Fatal(err)
	}
	_, _, _, sheets := guideOf(t, "foam-cutter")
	text := strings.Join(strings.Fields(textOf(sheets)), " ")
	rows := 0
	for _, line := range strings.Split(strings.TrimSpace(string(src)), "\n")[1:] {
		cells := strings.Split(line, ";")
		if len(cells) != 4 {
			t.Fatalf("%q has %d cells", line, len(cells))
		}
		rows++
		if cells[2] == "mended" && !strings.Contains(text, cells[3]) {
			t.Errorf("%s: the guide does not say %q", cells[1], cells[3])
		}
	}
	if rows < 8 {
		t.Errorf("%d rows", rows)
	}
}

func BenchmarkGuide(b *testing.B) {
	f, scene, p, _ := guideOf(b, "foam-cutter")
	b.ReportAllocs()
	for b.Loop() {
		if _, err := drawing.GuideSheets(f, scene, p, drawing.Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
