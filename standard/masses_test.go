package standard_test

import (
	"math"
	"testing"

	"barwright/standard"
)

// TestScrewMass compares with the masses of ISO 4762 (its annex, reprinted in
// DIN 912 weight tables, kg per 1000 at 7.85 kg/dm³). The estimate takes the
// largest sizes and no chamfers, so it lies above them, by a tenth at most.
func TestScrewMass(t *testing.T) {
	tests := []struct {
		thread           string
		length, thousand float64
	}{
		{"M4", 12, 2.0}, {"M4", 16, 2.3}, {"M5", 20, 4.0}, {"M6", 16, 5.8}, {"M6", 20, 6.5}, {"M6", 30, 8.3},
		{"M8", 16, 12.1}, {"M8", 20, 13.4}, {"M8", 40, 20.9}, {"M8", 80, 37}, {"M10", 25, 25.4}, {"M10", 40, 32.9},
		{"M12", 30, 39.3}, {"M12", 70, 71.3}, {"M16", 50, 106},
	}
	for _, test := range tests {
		s, _ := standard.SocketCapScrew(test.thread)
		if ratio := 1000 * s.Mass(test.length) / test.thousand; ratio < 0.98 || ratio > 1.10 {
			t.Errorf("%s x %v: %.2f kg per 1000, published %v", test.thread, test.length, ratio*test.thousand, test.thousand)
		}
	}
}

func TestScrewMassLaws(t *testing.T) {
	for _, s := range standard.Screws() {
		thread, _ := standard.ThreadByName(s.Thread)
		// Below the full-thread length each millimetre adds a cylinder of d2.
		a, b := s.Mass(s.HeadHeight+6), s.Mass(s.HeadHeight+7)
		slope := math.Pi / 4 * thread.PitchDiameter * thread.PitchDiameter * 7.85e-6
		if s.Standard != "ISO 4762" || s.HeadHeight+7 <= s.ThreadLength {
			if !near(b-a, slope, 1e-12) {
				t.Errorf("%s %s: %v kg per mm, not %v", s.Standard, s.Thread, b-a, slope)
			}
		}
		// A head weighs less than the cylinder around it, and more than a third of it.
		head := a - 6*slope
		if s.Standard != "ISO 10642" {
			head = a - (s.HeadHeight+6)*slope
		}
		if full := math.Pi / 4 * s.HeadDiameter * s.HeadDiameter * s.HeadHeight * 7.85e-6; head < full/3 || head >= full {
			t.Errorf("%s %s: a head of %v kg in a cylinder of %v kg", s.Standard, s.Thread, head, full)
		}
		if s.Mass(0) != 0 || s.Mass(-1) != 0 || s.Mass(math.NaN()) != 0 {
			t.Errorf("%s %s: a mass without a length", s.Standard, s.Thread)
		}
	}
	if (standard.Screw{Thread: "M7"}).Mass(20) != 0 || (standard.Nut{Thread: "M7"}).Mass() != 0 {
		t.Error("an unknown thread has a mass")
	}
}

// TestNutAndWasherMass: kg per 1000 as the weight tables of DIN 125 (the sizes
// of ISO 7089) and DIN 934 print them, from memory. A nut's chamfers and the
// mean height leave 4 %.
func TestNutAndWasherMass(t *testing.T) {
	for thread, want := range map[string]float64{"M6": 1.02, "M8": 1.83, "M10": 3.57, "M12": 6.27, "M16": 11.3} {
		if w, _ := standard.Washer(thread); math.Abs(1000*w.Mass()/want-1) > 0.01 {
			t.Errorf("washer %s: %.3f kg per 1000, want %v", thread, 1000*w.Mass(), want)
		}
	}
	for _, test := range []struct {
		nut  standard.Nut
		want float64
	}{
		{standard.Nut{Thread: "M6", AcrossFlats: 10, Height: 5, HeightMin: 4.7}, 2.5},
		{standard.Nut{Thread: "M8", AcrossFlats: 13, Height: 6.5, HeightMin: 6.14}, 5.2},
		{standard.Nut{Thread: "M10", AcrossFlats: 17, Height: 8, HeightMin: 7.64}, 11.6},
		{standard.Nut{Thread: "M12", AcrossFlats: 19, Height: 10, HeightMin: 9.64}, 17.3},
	} {
		if got := 1000 * test.nut.Mass(); math.Abs(got/test.want-1) > 0.04 {
			t.Errorf("nut %s: %.3f kg per 1000, want %v", test.nut.Thread, got, test.want)
		}
	}
	for _, thread := range standard.Threads() {
		n, _ := standard.HexNut(thread.Name)
		thin, _ := standard.ThinNut(thread.Name)
		if !(0 < thin.Mass() && thin.Mass() < n.Mass()) {
			t.Errorf("%s: thin nut %v kg, nut %v kg", thread.Name, thin.Mass(), n.Mass())
		}
	}
}
