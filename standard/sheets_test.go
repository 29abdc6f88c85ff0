package standard_test

import (
	"math"
	"slices"
	"testing"

	"barwright/standard"
)

func TestSheets(t *testing.T) {
	tests := []struct {
		name           string
		width, height  float64
		spaceW, spaceH float64
	}{
		// Source: ISO 216:2007 (trimmed sizes); ISO 5457:1999 table 1 (drawing spaces, A4 upright).
		{"A0", 1189, 841, 1159, 821}, {"A1", 841, 594, 811, 574}, {"A2", 594, 420, 564, 400},
		{"A3", 420, 297, 390, 277}, {"A4", 210, 297, 180, 277},
	}
	for _, test := range tests {
		s, ok := standard.SheetByName(test.name)
		width, height, found := standard.SheetSize(test.name)
		spaceW, spaceH := s.DrawingSpace()
		if !ok || !found || width != test.width || height != test.height || spaceW != test.spaceW || spaceH != test.spaceH {
			t.Errorf("%s: %v x %v, space %v x %v, want %+v", test.name, width, height, spaceW, spaceH, test)
		}
	}
	if _, _, ok := standard.SheetSize("A5"); ok {
		t.Error("A5 found")
	}
}

// TestSheetIdentities: A0 is a square metre, each next sheet half of the one
// before (ISO 216), raw sheets are larger, and there are as many fields as the
// nearest even number of 50 mm (ISO 5457).
func TestSheetIdentities(t *testing.T) {
	all := standard.Sheets()
	if a0 := all[0]; math.Abs(a0.Width*a0.Height/1e6-1) > 0.001 {
		t.Errorf("A0 is %v mm²", a0.Width*a0.Height)
	}
	for i, s := range all {
		long, short := math.Max(s.Width, s.Height), math.Min(s.Width, s.Height)
		if math.Abs(long/short-math.Sqrt2) > 0.003 || s.RawWidth <= s.Width || s.RawHeight <= s.Height {
			t.Errorf("%+v", s)
		}
		if i > 0 {
			before := all[i-1]
			if math.Max(s.Width, s.Height) != math.Min(before.Width, before.Height) ||
				short != math.Floor(math.Max(before.Width, before.Height)/2) {
				t.Errorf("%s is not half of %s", s.Name, before.Name)
			}
		}
		w, h := s.DrawingSpace()
		even := func(side float64) int { return 2 * int(math.Round(side/standard.GridField/2)) }
		if s.FieldsX != even(w) || s.FieldsY != even(h) {
			t.Errorf("%s: %d x %d fields in %v x %v", s.Name, s.FieldsX, s.FieldsY, w, h)
		}
	}
	a4, _ := standard.SheetByName("A4")
	if w, _ := a4.DrawingSpace(); w != standard.TitleBlockWidth {
		t.Errorf("the title block is %v wide in a space of %v", standard.TitleBlockWidth, w)
	}
}

func TestScales(t *testing.T) {
	// Source: ISO 5455:1979 clause 5.
	want := []standard.Scale{{50, 1}, {20, 1}, {10, 1}, {5, 1}, {2, 1}, {1, 1}, {1, 2}, {1, 5}, {1, 10}, {1, 20},
		{1, 50}, {1, 100}, {1, 200}, {1, 500}, {1, 1000}, {1, 2000}, {1, 5000}, {1, 10000}}
	got := standard.Scales()
	if !slices.Equal(got, want) {
		t.Errorf("got %v", got)
	}
	for i := 1; i < len(got); i++ {
		// The series 1, 2, 5: each step is 2 or 2.5.
		if step := got[i-1].Factor() / got[i].Factor(); !near(step, 2, 1e-9) && !near(step, 2.5, 1e-9) {
			t.Errorf("%v to %v is a step of %v", got[i-1], got[i], step)
		}
	}
}

func TestLinesAndLettering(t *testing.T) {
	// Source: ISO 3098-1:2015, nominal heights.
	heights := standard.LetteringHeights()
	if !slices.Equal(heights, []float64{1.8, 2.5, 3.5, 5, 7, 10, 14, 20}) {
		t.Errorf("got %v", heights)
	}
	for i := 1; i < len(heights); i++ {
		if step := heights[i] / heights[i-1]; math.Abs(step/math.Sqrt2-1) > 0.02 {
			t.Errorf("%v to %v is a step of %v", heights[i-1], heights[i], step)
		}
	}
	// Source: ISO 128-24:1999 table 2.
	for wide, narrow := range map[float64]float64{0.25: 0.13, 0.35: 0.18, 0.5: 0.25, 0.7: 0.35, 1: 0.5, 1.4: 0.7, 2: 1} {
		if g, ok := standard.LineGroupOf(wide); !ok || g.Narrow != narrow {
			t.Errorf("%v: got %+v", wide, g)
		}
	}
	for _, g := range standard.LineGroups() {
		if ratio := g.Wide / g.Narrow; math.Abs(ratio-2) > 0.09 || g.Lettering <= g.Narrow || g.Lettering >= g.Wide {
			t.Errorf("%+v", g)
		}
	}
	if g, ok := standard.LineGroupOf(0.6); ok {
		t.Errorf("found %+v", g)
	}
}

func TestTitleFields(t *testing.T) {
	// Source: ISO 7200:2004 tables 1 to 3: the mandatory fields, then the optional ones.
	want := map[string]int{"legal owner": 0, "identification number": 16, "date of issue": 10, "segment or sheet number": 4,
		"title": 25, "approval person": 20, "creator": 20, "document type": 30}
	optional := map[string]int{"revision index": 2, "number of sheets": 4, "language code": 4, "supplementary title": 2 * 25,
		"responsible department": 10, "technical reference": 20, "classification or key words": 0, "document status": 20, "page size": 4}
	mandatory := 0
	for _, f := range standard.TitleFields() {
		length, must := want[f.Name]
		if other, may := optional[f.Name]; !must && may {
			length = other
		} else if !must {
			t.Errorf("%q is no field", f.Name)
		}
		if f.Mandatory != must || f.Characters != length {
			t.Errorf("%+v", f)
		}
		if f.Mandatory {
			mandatory++
		}
	}
	if mandatory != len(want) || len(standard.TitleFields()) != len(want)+len(optional) {
		t.Errorf("%d mandatory fields", mandatory)
	}
}
