package drawing

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"barwright/frame"
	"barwright/geom"
	"barwright/mesh/bracket"
)

// printedParts returns a part of every kind on a profile, and some in other choices.
func printedParts(t testing.TB, p *geom.Profile) []*bracket.Result {
	t.Helper()
	var out []*bracket.Result
	build := func(s bracket.Spec) {
		r, err := bracket.BuildAll(s)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, r...)
	}
	for _, k := range bracket.Kinds() {
		spec := bracket.Spec{Kind: k.Name, Profile: p, Text: "B1"}
		if k.Name == "drill-jig" { // it is for a bar
			spec.Part = part("B1", frame.Bar{Profile: p, Length: 900, Holes: []frame.Hole{{Z: 15, Diameter: 7}, {Z: 310, Diameter: 7}, {Side: 1, Z: 40, Diameter: 7}, {Side: 3, Z: 880, Diameter: 5}}}, 1)
		}
		build(spec)
	}
	return out
}

// printedChoices returns parts whose sheets are fuller or emptier than the usual ones.
func printedChoices(t testing.TB) []*bracket.Result {
	t.Helper()
	var out []*bracket.Result
	for _, c := range []struct {
		profile, kind string
		params        map[string]float64
	}{
		{"30x30-8", "angle", map[string]float64{"cells": 2, "screws": 2}}, {"30x30-8", "angle", map[string]float64{"cells": 3}}, {"30x30-8", "angle", map[string]float64{"cells": 4, "screws": 3}},
		{"20x20-6", "plate-tee", map[string]float64{"cells": 2}}, {"20x20-6", "plate-cross", map[string]float64{"cells": 3, "screws": 1}}, {"30x30-8", "plate-straight", map[string]float64{"cells": 4, "screws": 3}},
		{"30x30-8", "plate-ell", map[string]float64{"head": 1, "ribs": 0}}, {"30x30-8", "caster-plate", map[string]float64{"insert": 1}}, {"30x30-8", "caster-plate", map[string]float64{"insert": 2, "pattern_x": 90}},
		{"30x30-8", "brace-foot", map[string]float64{"angle": 20, "screws": 2}}, {"40x40-10", "brace-foot", map[string]float64{"angle": 75}}, {"30x60-8", "end-cap", map[string]float64{"hold": 1}},
		{"30x30-8", "slot-cover", map[string]float64{"length": 210}}, {"30x30-8", "spacer", map[string]float64{"height": 5.5}}, {"30x30-8", "cable-clip", map[string]float64{"cable": 20}},
		{"30x30-8", "square", map[string]float64{"arm": 180}},
	} {
		r, err := bracket.Build(bracket.Spec{Kind: c.kind, Profile: profile(t, c.profile), Params: c.params})
		if err != nil {
			t.Fatalf("%s %v: %v", c.kind, c.params, err)
		}
		out = append(out, r)
	}
	return out
}

// TestBracketSheets: a sheet of every kind on every size of profile is clean, shows each measure of the part once with its value and
// says of every hole what it is; an outside reader finds its words. That the measures are those of the mesh is the business of
// package bracket's tests.
func TestBracketSheets(t *testing.T) {
	all := printedChoices(t)
	for _, name := range []string{"20x20-6", "30x30-8", "40x40-10", "30x60-8"} {
		all = append(all, printedParts(t, profile(t, name))...)
	}
	for _, o := range []Options{{}, {Projection: "third", Size: "A3"}, {Units: "inch", NotForManufacture: true}, {Projection: "third", Units: "inch", Size: "A4"}} {
		var sheets []*Sheet
		for _, r := range all {
			s, err := BracketSheet(r, TitleBlock{Owner: "Workshop"}, o)
			if err != nil {
				t.Errorf("%+v: %v", o, err)
				continue
			}
			for _, c := range s.Verify() {
				t.Errorf("%s on %s: %v", s.Name, s.Size.Name, c)
			}
			if s.Size.Name != "A3" && s.Size.Name != "A4" {
				t.Errorf("%s takes %s", s.Name, s.Size.Name)
			}
			checkLines(t, s)
			checkShown(t, s, r, o)
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

// checkShown compares what a sheet shows with what its part states: each length and angle once, each place of a row once, and as many
// holes in the callouts as the part has.
func checkShown(t *testing.T, s *Sheet, r *bracket.Result, o Options) {
	t.Helper()
	near := func(a, b float64) bool { return math.Abs(a-b) < 0.051 }
	var want []float64
	type row struct{ face, along, out, at string }
	rows := map[row][]float64{}
	key := func(v geom.Vec) string { return fmt.Sprintf("%.3f %.3f %.3f", v.X+0.0001, v.Y+0.0001, v.Z+0.0001) }
	for _, m := range r.Drawn.Measures {
		switch m.Kind {
		case bracket.Length:
			want = append(want, m.Value)
		case bracket.Angle:
			want = append(want, m.Value*180/math.Pi)
		case bracket.Place:
			k := row{key(m.Face), key(m.Along), key(m.Out), fmt.Sprintf("%.4f", m.From.Dot(m.Along))}
			if _, ok := rows[k]; !ok {
				rows[k] = []float64{0}
			}
			if !slices.ContainsFunc(rows[k], func(v float64) bool { return math.Abs(v-m.Value) < 0.021 }) {
				rows[k] = append(rows[k], m.Value)
			}
		}
	}
	for _, values := range rows {
		want = append(want, values...)
	}
	var got []float64
	for _, x := range s.Texts(Dimension) {
		v, err := strconv.ParseFloat(strings.Trim(x.String, "()°"), 64)
		if err != nil {
			t.Errorf("%s: %v", s.Name, err)
		}
		if o.Units == "inch" && !strings.HasSuffix(x.String, "°") {
			v *= 25.4
		}
		got = append(got, v)
	}
	slices.Sort(want)
	slices.Sort(got)
	if !slices.EqualFunc(got, want, near) {
		t.Errorf("%s %+v: shows %.2f, the part states %.2f", s.Name, o, got, want)
	}
	holes := 0
	for _, x := range s.Texts(Callout) {
		if len(x.Of) == 1 && x.Of[0] == "hole" {
			n := 1
			fmt.Sscanf(x.String, "%d× ", &n)
			holes += n
		}
	}
	if holes != len(r.Holes) {
		t.Errorf("%s: callouts of %d holes, the part has %d", s.Name, holes, len(r.Holes))
	}
}

// TestBracketSheetSizes: the overall sizes of a plate and a spacer stand on their sheets, from the mesh.
func TestBracketSheetSizes(t *testing.T) {
	for _, kind := range []string{"plate-straight", "plate-cross", "spacer", "foot-pad", "caster-plate", "end-cap", "slot-cover"} {
		r, err := bracket.Build(bracket.Spec{Kind: kind, Profile: profile(t, "30x30-8")})
		if err != nil {
			t.Fatal(err)
		}
		s, err := BracketSheet(r, TitleBlock{}, Options{})
		if err != nil {
			t.Fatal(err)
		}
		low, high := meshBox(r)
		for k := range 2 {
			want := high[k] - low[k]
			if !slices.ContainsFunc(s.Texts(Dimension), func(x *Text) bool {
				v, err := strconv.ParseFloat(x.String, 64)
				return err == nil && math.Abs(v-want) < 0.051
			}) {
				t.Errorf("%s: no dimension shows %.2f, which the mesh measures", kind, want)
			}
		}
	}
}

// TestBracketSheetShowsTrueLengths measures the dimension lines themselves: each lies between two extension lines, which are as far apart
// on the paper as its value says in the scale of the sheet.
func TestBracketSheetShowsTrueLengths(t *testing.T) {
	checked := 0
	for _, r := range printedParts(t, profile(t, "30x30-8")) {
		s, err := BracketSheet(r, TitleBlock{}, Options{})
		if err != nil {
			t.Fatal(err)
		}
		scale := 0.0
		for _, x := range s.Texts(Title) {
			var a, b float64
			if n, _ := fmt.Sscanf(x.String, "%g:%g", &a, &b); n == 2 {
				scale = a / b
			}
		}
		for _, x := range s.Texts(Dimension) {
			if x.Value < 0.1 || strings.HasSuffix(x.String, "°") || r.Kind == "slot-cover" && x.Value < 12 { // its legs are drawn larger
				continue
			}
			if !hasGap(s, x.Value*scale) {
				t.Errorf("%s: no extension lines stand %.2f mm apart on the paper for %q at %g", s.Name, x.Value*scale, x.String, scale)
			}
			checked++
		}
	}
	if checked < 100 {
		t.Errorf("%d dimensions measured", checked)
	}
}

// hasGap reports whether two parallel extension lines lie a distance apart.
func hasGap(s *Sheet, want float64) bool {
	var lines [][2]geom.Vec2
	for _, op := range s.Ops {
		if st, ok := op.(*Stroke); ok && st.Role == Extension && len(st.Points) >= 2 {
			lines = append(lines, [2]geom.Vec2{st.Points[0], st.Points[1]})
		}
	}
	for i, a := range lines {
		d := a[1].Sub(a[0])
		d = d.Scale(1 / d.Len())
		for _, b := range lines[:i] {
			if e := b[1].Sub(b[0]); math.Abs(d.Cross(e)) < 1e-6*e.Len() && math.Abs(math.Abs(d.Cross(b[0].Sub(a[0])))-want) < 0.01 {
				return true
			}
		}
	}
	return false
}

// BenchmarkBracketSheet draws the sheet of each kind.
func BenchmarkBracketSheet(b *testing.B) {
	for _, r := range printedParts(b, profile(b, "30x30-8")) {
		b.Run(r.Name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := BracketSheet(r, TitleBlock{}, Options{}); err != nil {
					b.Fatal(err)
				}
			}
		})
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

// TestSmallPartsAreNotReduced: parts that lie in a hand are drawn in full size at least, as ISO 5455 wants where there is room: two to four
// such views find it on A3.
func TestSmallPartsAreNotReduced(t *testing.T) {
	for _, name := range []string{"20x20-6", "30x30-8", "40x40-10"} {
		for _, kind := range []string{"angle", "corner-inside", "brace-foot"} {
			r, err := bracket.Build(bracket.Spec{Kind: kind, Profile: profile(t, name)})
			if err != nil {
				t.Fatal(err)
			}
			s, err := BracketSheet(r, TitleBlock{}, Options{})
			if err != nil {
				t.Fatal(err)
			}
			if !slices.ContainsFunc(s.Texts(), func(x *Text) bool { return x.String == "1:1" || x.String == "2:1" || x.String == "5:1" }) || s.Size.Name != "A3" {
				t.Errorf("%s on %s is reduced, or takes %s", kind, name, s.Size.Name)
			}
		}
	}
}
