package drawing

import (
	"bytes"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"testing"

	"barwright/frame"
	"barwright/geom"
	"barwright/mesh/bracket"
)

// printedParts returns a part of every kind on a profile.
func printedParts(t testing.TB, p *geom.Profile) []*bracket.Result {
	t.Helper()
	var out []*bracket.Result
	for _, k := range bracket.Kinds() {
		spec := bracket.Spec{Kind: k.Name, Profile: p, Text: "B1"}
		if k.Name == "drill-jig" { // it is for a bar
			spec.Part = part("B1", frame.Bar{Profile: p, Length: 400, Holes: []frame.Hole{{Z: 15, Diameter: 7}, {Side: 1, Z: 40, Diameter: 7}}}, 1)
		}
		r, err := bracket.BuildAll(spec)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, r...)
	}
	return out
}

// TestBracketSheets: a sheet of every kind is clean, shows the overall sizes of the mesh once each, and an outside reader finds its words.
func TestBracketSheets(t *testing.T) {
	for _, o := range []Options{{}, {Projection: "third", Size: "A3"}, {Units: "inch", NotForManufacture: true}} {
		var sheets []*Sheet
		for _, r := range printedParts(t, profile(t, "30x30-8")) {
			s, err := BracketSheet(r, TitleBlock{Owner: "Workshop"}, o)
			if err != nil {
				t.Errorf("%+v: %v", o, err)
				continue
			}
			for _, c := range s.Verify() {
				t.Errorf("%s: %v", s.Name, c)
			}
			checkLines(t, s)
			low, high := meshBox(r)
			want := []float64{high[0] - low[0], high[1] - low[1], high[2] - low[2]}
			var got []float64
			for _, x := range s.Texts(Dimension) {
				v, err := strconv.ParseFloat(x.String, 64)
				if err != nil {
					t.Errorf("%s: %v", s.Name, err)
				}
				if o.Units == "inch" {
					v *= 25.4
				}
				got = append(got, v)
			}
			slices.Sort(want)
			slices.Sort(got)
			for i := range want {
				if len(got) != 3 || math.Abs(got[i]-want[i]) > 0.051 {
					t.Errorf("%s: sizes %v shown, the mesh has %v", s.Name, got, want)
					break
				}
			}
			if n := len(r.Screws); n > 0 && len(s.Texts(Table)) < 6*(n+1) {
				t.Errorf("%s: %d texts in the table of %d screws", s.Name, len(s.Texts(Table)), n)
			}
			sheets = append(sheets, s)
		}
		NumberSheets(sheets)
		var b bytes.Buffer
		if err := WritePDF(&b, &Book{Title: "Printed parts", Sheets: sheets}); err != nil {
			t.Fatal(err)
		}
		path := filepath.Join(t.TempDir(), "brackets.pdf")
		if err := os.WriteFile(path, b.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
		checkWords(t, sheets, pdfWords(t, path))
	}
}

// meshBox returns the box round a print, from its points.
func meshBox(r *bracket.Result) (low, high [3]float64) {
	for k := range 3 {
		low[k], high[k] = math.Inf(1), math.Inf(-1)
		for _, p := range r.Mesh.Points {
			low[k], high[k] = min(low[k], float64(p[k])), max(high[k], float64(p[k]))
		}
	}
	return low, high
}

func TestBracketSheetRefuses(t *testing.T) {
	if _, err := BracketSheet(nil, TitleBlock{}, Options{}); err == nil {
		t.Error("nothing was drawn")
	}
	r := printedParts(t, profile(t, "30x30-8"))[0]
	if _, err := BracketSheet(r, TitleBlock{}, Options{Size: "B5"}); err == nil {
		t.Error("a sheet of an unknown size was drawn")
	}
}
