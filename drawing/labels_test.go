package drawing

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/boombuler/barcode/qr"

	"barwright/geom"
)

func stickers(n int) []Sticker {
	var out []Sticker
	for i := range n {
		out = append(out, Sticker{Mark: fmt.Sprintf("A%d", i+1), Length: 1110.5, Profile: "30x30-8", Member: "leg.front_left",
			Way: "end 1 bottom, face 1 left, 2 front", Frame: "foam-cutter", Input: "7c4d621f", Set: []string{"width = 905"}})
	}
	return out
}

// A label says mark, length, member and fingerprint in every size that is accepted, and stays in its place.
func TestLabelsSayWhatTheyMust(t *testing.T) {
	for _, o := range []LabelOptions{DefaultLabels(), {45, 25, 0, "A4"}, {63.5, 38.1, 2.5, "A4"}, {99, 57, 3, "A4"}, {200, 280, 0, "A4"}, {70, 36, 0, "A3"}} {
		sheets, err := LabelSheets(stickers(30), o)
		if err != nil {
			t.Errorf("%g × %g: %v", o.Width, o.Height, err)
			continue
		}
		marks := 0
		for _, s := range sheets {
			for _, x := range s.Texts() {
				low, high := x.Bounds()
				if low.X < 0 || low.Y < 0 || high.X > s.Size.Width || high.Y > s.Size.Height {
					t.Errorf("%g × %g: %q leaves the sheet", o.Width, o.Height, x.String)
				}
				if strings.HasPrefix(x.String, "A") {
					marks++
				}
			}
			all, labels := allText(s), strings.Count(allText(s), "1110.5\n")
			for _, want := range []string{"leg.front_left", "7c4d621f"} {
				if strings.Count(all, want) != labels || labels == 0 {
					t.Errorf("%g × %g: %q stands on %d labels of %d", o.Width, o.Height, want, strings.Count(all, want), labels)
				}
			}
			if o.Height >= 38 && strings.Count(all, "width = 905") != labels {
				t.Errorf("%g × %g: what was set is not on each label", o.Width, o.Height)
			}
		}
		if marks != 30 {
			t.Errorf("%g × %g: %d labels of 30", o.Width, o.Height, marks)
		}
	}
}

// Labels stand in a grid in the middle of the sheet.
func TestLabelGrid(t *testing.T) {
	sheets, err := LabelSheets(stickers(22), DefaultLabels()) // 60 × 40: 3 across, 7 down
	if err != nil || len(sheets) != 2 {
		t.Fatalf("%d sheets, %v", len(sheets), err)
	}
	seen := map[geom.Vec2]bool{}
	for _, op := range sheets[0].Ops {
		if st, ok := op.(*Stroke); ok && st.Role == Edge {
			seen[st.Points[1]] = true
		}
	}
	for i := range 4 {
		for k := range 8 {
			at := geom.Vec2{X: 15 + 60*float64(i), Y: 8.5 + 40*float64(k)} // (210−180)/2, (297−280)/2
			found := false
			for p := range seen {
				found = found || p.Dist(at) < 1e-6
			}
			if !found {
				t.Errorf("no corner at %v", at)
			}
		}
	}
}

func TestLabelsThatCannotBe(t *testing.T) {
	for _, o := range []LabelOptions{{44, 40, 0, "A4"}, {60, 24, 0, "A4"}, {250, 40, 0, "A4"}, {60, 400, 0, "A4"}, {60, 40, -1, "A4"}, {60, 40, 0, "B4"}, {math.NaN(), 40, 0, "A4"}, {60, math.Inf(1), 0, "A4"}} {
		if s, err := LabelSheets(stickers(1), o); err == nil {
			t.Errorf("%+v gives %d sheets", o, len(s))
		}
	}
	if s, err := LabelSheets(nil, DefaultLabels()); err != nil || len(s) != 0 {
		t.Errorf("no labels: %d sheets, %v", len(s), err)
	}
}

// Names as long as a file may hold them are cut, so that the code stays coarse enough to be read.
func TestLabelsWithLongNames(t *testing.T) {
	l := stickers(1)
	l[0].Member, l[0].Mark, l[0].Frame = strings.Repeat("näme_", 100), strings.Repeat("M", 300), strings.Repeat("f ", 300)
	if _, err := LabelSheets(l, DefaultLabels()); err != nil {
		t.Error(err)
	}
}

// The squares that are drawn are the code's own, module by module.
func TestCodeIsDrawnWhole(t *testing.T) {
	for _, text := range []string{"A1", "A1 1110.5 30x30-8\nleg.front_left\nfoam-cutter 7c4d621f", strings.Repeat("ä", 150)} {
		code, err := qr.Encode(text, qr.M, qr.Unicode)
		if err != nil {
			t.Fatal(err)
		}
		n := code.Bounds().Dx()
		side := float64(n + 8) // one millimetre a module
		s := &Sheet{}
		if err := s.drawQR(text, Area{geom.Vec2{}, geom.Vec2{X: side, Y: side}}); err != nil {
			t.Fatal(err)
		}
		for y := -4; y < n+4; y++ {
			for x := -4; x < n+4; x++ {
				want := false
				if x >= 0 && y >= 0 && x < n && y < n {
					r, _, _, _ := code.At(x, y).RGBA()
					want = r == 0
				}
				at := geom.Vec2{X: float64(x) + 4.5, Y: side - float64(y) - 4.5}
				covered := 0
				for _, op := range s.Ops {
					if low, high := op.Bounds(); low.X < at.X && at.X < high.X && low.Y < at.Y && at.Y < high.Y {
						covered++
					}
				}
				if (covered == 1) != want || covered > 1 {
					t.Fatalf("%q: the module at %d, %d is drawn %d times; dark: %v", text, x, y, covered, want)
				}
			}
		}
	}
}
