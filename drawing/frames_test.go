package drawing

import (
	"bytes"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"barwright/frame"
	"barwright/geom"
	"barwright/internal/outside"
	"barwright/mesh"
)

// frameFile returns the text of a frame in testdata.
func frameFile(t testing.TB, name string) string {
	t.Helper()
	b, err := os.ReadFile(filepath.Join("testdata", "frames", name+".hcl"))
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// realFrames returns the examples and the frames in testdata by name.
func realFrames(t testing.TB) map[string]string {
	t.Helper()
	out := map[string]string{}
	for _, pattern := range []string{"../examples/*/frame.hcl", "testdata/frames/*.hcl"} {
		files, err := filepath.Glob(pattern)
		if err != nil || len(files) < 2 {
			t.Fatalf("%d files match %s: %v", len(files), pattern, err)
		}
		for _, path := range files {
			b, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			name := strings.TrimSuffix(filepath.Base(path), ".hcl")
			if name == "frame" {
				name = filepath.Base(filepath.Dir(path))
			}
			out[name] = string(b)
		}
	}
	return out
}

// bookOf returns all sheets of a frame as draw writes them.
func bookOf(t testing.TB, f *frame.Frame, scene *mesh.Scene, o Options) (all, parts []*Sheet) {
	t.Helper()
	a, e := sheetsOf(t, f, scene, o)
	parts, err := PartSheets(f, o)
	if err != nil {
		t.Fatal(err)
	}
	all = slices.Concat(a, e, parts)
	NumberSheets(all)
	return all, parts
}

// TestRealFrames holds all sheets of the examples and of a dozen frames against the rules of the sheets, the model of each part and an
// outside reader of the PDF.
func TestRealFrames(t *testing.T) {
	frames := realFrames(t)
	if len(frames) < 12 {
		t.Fatalf("%d frames", len(frames))
	}
	for name, text := range frames {
		t.Run(name, func(t *testing.T) {
			f, scene := load(t, text)
			all, parts := bookOf(t, f, scene, Options{})
			checkAssembly(t, all[:len(all)-len(parts)])
			checkPositions(t, f, all[:len(all)-len(parts)])
			for _, p := range f.Parts {
				checkSheetsIn(t, p, sheetsFor(parts, p), units{f.Units == "inch"})
			}
			for _, s := range all {
				checkLines(t, s)
				for _, x := range s.Texts() {
					if strings.HasSuffix(x.String, "…") {
						t.Errorf("%s: %q is cut short", s.Name, x.String)
					}
				}
			}
			pages, err := DrillTemplates(f, Options{})
			if err != nil {
				t.Fatal(err)
			}
			for _, s := range pages {
				for _, c := range s.Verify() {
					t.Errorf("template %s: %v", s.Name, c)
				}
			}
			var b bytes.Buffer
			if err := WritePDF(&b, &Book{Title: name, Sheets: all}); err != nil {
				t.Fatal(err)
			}
			if per := b.Len() / len(all); per > 150_000 {
				t.Errorf("%d bytes a page", per)
			}
			path := filepath.Join(t.TempDir(), "all.pdf")
			if err := os.WriteFile(path, b.Bytes(), 0o644); err != nil {
				t.Fatal(err)
			}
			checkWords(t, all, pdfWords(t, path))
			if out := runReader(t, outside.Program(t, "qpdf"), "--check", path); !strings.Contains(out, "No syntax or stream encoding errors") {
				t.Error(out)
			}
		})
	}
}

// TestRealFramesOtherwise draws the same frames on the smallest sheet, in the other projection, and stamped.
func TestRealFramesOtherwise(t *testing.T) {
	for name, text := range realFrames(t) {
		t.Run(name, func(t *testing.T) {
			f, scene := load(t, text)
			o := Options{Size: "A4", Projection: "third", NotForManufacture: true, Units: "mm"}
			if f.Projection == "third" {
				o.Projection = "first"
			}
			all, parts := bookOf(t, f, scene, o)
			checkAssembly(t, all[:len(all)-len(parts)])
			for _, p := range f.Parts {
				checkSheets(t, p, sheetsFor(parts, p))
			}
			for _, s := range all {
				checkLines(t, s)
				if n := len(s.Texts(Stamp)); n != 1 {
					t.Errorf("%s has %d stamps", s.Name, n)
				}
			}
		})
	}
}

// sheetsFor returns the sheets of a part.
func sheetsFor(sheets []*Sheet, p *frame.Part) []*Sheet {
	var out []*Sheet
	for _, s := range sheets {
		if stem := "part-" + p.Mark; s.Name == stem || strings.HasPrefix(s.Name, stem+"-") {
			out = append(out, s)
		}
	}
	return out
}

// checkLines measures what [Sheet.Verify] promises by another way: neighbouring dimension lines that run along the paper's
// axes and share a stretch are 7 mm apart (DIN 406-11, common practice), and capitals are 2.5 mm high (ISO 3098-1).
func checkLines(t *testing.T, s *Sheet) {
	t.Helper()
	type line struct{ at, low, high float64 }
	var lines [2][]line
	for _, op := range s.Ops {
		switch op := op.(type) {
		case *Text:
			if op.Height < 2.5 {
				t.Errorf("%s: %q is %g mm high", s.Name, op.String, op.Height)
			}
		case *Stroke:
			if op.Role != Dimension || op.Filled || len(op.Points) != 2 {
				continue
			}
			a, b := op.Points[0], op.Points[1]
			switch {
			case math.Abs(a.Y-b.Y) < 1e-9:
				lines[0] = append(lines[0], line{a.Y, min(a.X, b.X), max(a.X, b.X)})
			case math.Abs(a.X-b.X) < 1e-9:
				lines[1] = append(lines[1], line{a.X, min(a.Y, b.Y), max(a.Y, b.Y)})
			case !strings.HasSuffix(s.Name, "brace-foot"): // one of its legs slants
				t.Errorf("%s: a dimension line runs from %v to %v", s.Name, a, b)
			}
		}
	}
	for _, group := range lines {
		for i, a := range group {
			for _, b := range group[:i] {
				if gap := math.Abs(a.at - b.at); gap > 1e-6 && gap < 7-1e-6 && a.low < b.high-1e-6 && b.low < a.high-1e-6 {
					t.Errorf("%s: dimension lines %.2f apart", s.Name, gap)
				}
			}
		}
	}
}

// checkPositions compares the positions and sizes that the arrangement shows with the members' boxes.
func checkPositions(t *testing.T, f *frame.Frame, sheets []*Sheet) {
	t.Helper()
	box := f.Box()
	datum := [3]float64{box.Low.X, box.Low.Y, box.Low.Z}
	if len(f.Feet) > 0 {
		datum[2] = f.Floor
	}
	u := units{f.Units == "inch"}
	n := 0
	for _, s := range sheets {
		for _, x := range s.Texts(Dimension) {
			if x.Shows != Position || len(x.Of) == 0 {
				continue
			}
			n++
			if x.String != u.place(x.Value) {
				t.Errorf("%s: %q shown for %g", s.Name, x.String, x.Value)
			}
			for _, name := range x.Of {
				if name == "overall" {
					size := geom.Vec{X: box.High.X - datum[0], Y: box.High.Y - datum[1], Z: box.High.Z - datum[2]}
					if d := min(math.Abs(x.Value-size.X), math.Abs(x.Value-size.Y), math.Abs(x.Value-size.Z)); d > 0.001 {
						t.Errorf("%s: overall %g, the frame is %v", s.Name, x.Value, size)
					}
					continue
				}
				m := f.Member(name)
				if m == nil {
					t.Errorf("%s: %q is of %q, which is no member", s.Name, x.String, name)
					continue
				}
				d := math.Inf(1)
				for k, axis := range []geom.Axis{geom.X, geom.Y, geom.Z} {
					d = min(d, math.Abs(m.Box.Low.Along(axis)-datum[k]-x.Value))
				}
				if d > 0.06 {
					t.Errorf("%s: %g shown for %s, which is off by %g", s.Name, x.Value, name, d)
				}
			}
		}
	}
	if n < 3 {
		t.Errorf("the arrangement shows %d positions", n)
	}
}
