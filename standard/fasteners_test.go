package standard_test

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"barwright/standard"
)

// nominal reads the diameter from a thread's name.
func nominal(t *testing.T, thread string) float64 {
	t.Helper()
	d, err := strconv.ParseFloat(strings.TrimPrefix(thread, "M"), 64)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func TestClearanceHoles(t *testing.T) {
	// Source: ISO 273:1979, the only table.
	want := map[string][3]float64{
		"M2": {2.2, 2.4, 2.6}, "M2.5": {2.7, 2.9, 3.1}, "M3": {3.2, 3.4, 3.6}, "M4": {4.3, 4.5, 4.8},
		"M5": {5.3, 5.5, 5.8}, "M6": {6.4, 6.6, 7}, "M8": {8.4, 9, 10}, "M10": {10.5, 11, 12},
		"M12": {13, 13.5, 14.5}, "M14": {15, 15.5, 16.5}, "M16": {17, 17.5, 18.5},
	}
	for _, thread := range standard.Threads() {
		hole, ok := standard.ClearanceHole(thread.Name)
		if !ok || [3]float64{hole.Fine, hole.Medium, hole.Coarse} != want[thread.Name] {
			t.Errorf("%s: got %+v, want %v", thread.Name, hole, want[thread.Name])
		}
		if !(thread.Nominal < hole.Fine && hole.Fine < hole.Medium && hole.Medium < hole.Coarse) {
			t.Errorf("%s: out of order: %+v", thread.Name, hole)
		}
		// ISO 7089 washers have the hole of the fine series.
		if washer, ok := standard.Washer(thread.Name); !ok || washer.Inner != hole.Fine {
			t.Errorf("%s: washer hole %v, fine hole %v", thread.Name, washer.Inner, hole.Fine)
		}
	}
}

func TestScrewOf(t *testing.T) {
	for _, s := range standard.Screws() {
		if found, ok := standard.ScrewOf(s.Standard, s.Thread); !ok || found != s {
			t.Errorf("%s %s: found %+v", s.Standard, s.Thread, found)
		}
	}
	for _, bad := range [][2]string{{"ISO 4014", "M8"}, {"", "M8"}, {"ISO 4762", "M7"}, {"ISO 7380-1", "M14"}} {
		if s, ok := standard.ScrewOf(bad[0], bad[1]); ok {
			t.Errorf("%v: found %+v", bad, s)
		}
	}
}

// TestScrewIdentities checks rules that the standards themselves follow.
func TestScrewIdentities(t *testing.T) {
	count := map[string]int{}
	for _, s := range standard.Screws() {
		d := nominal(t, s.Thread)
		count[s.Standard]++
		if s.HeadDiameterMax < s.HeadDiameter || s.HeadDiameterMin > s.HeadDiameter || s.BearingDiameter > s.HeadDiameter ||
			s.HeadDiameter <= d || s.SocketDepth >= s.HeadHeight || s.Key >= d {
			t.Errorf("%s %s: out of order: %+v", s.Standard, s.Thread, s)
		}
		if _, ok := standard.HexKey(s.Key); !ok {
			t.Errorf("%s %s: no key of %v mm", s.Standard, s.Thread, s.Key)
		}
		switch s.Standard {
		case "ISO 4762": // k = d, b = 2 d + 12, socket and floor fit in the head
			if s.HeadHeight != d || s.ThreadLength != 2*d+12 || s.SocketDepth+s.Floor >= s.HeadHeight || s.BearingDiameter <= d {
				t.Errorf("%s: %+v", s.Thread, s)
			}
		case "ISO 7380-1": // k = 0.55 d, t = 0.52 s, and dk = 1.75 d from M6 on
			if !near(s.HeadHeight, 0.55*d, 1e-9) || !near(s.SocketDepth, 0.52*s.Key, 1e-9) || d >= 6 && s.HeadDiameter != 1.75*d {
				t.Errorf("%s: %+v", s.Thread, s)
			}
		case "ISO 10642": // a right-angled cone: k = (dk - d)/2
			if !near(s.HeadHeight, (s.HeadDiameter-d)/2/math.Tan(standard.CountersunkAngle/2), 1e-9) {
				t.Errorf("%s: %+v", s.Thread, s)
			}
		}
	}
	if count["ISO 4762"] != 11 || count["ISO 7380-1"] != 8 || count["ISO 10642"] != 9 {
		t.Errorf("counted %v", count)
	}
}

// TestEndScrewDefaults: the screws that join bars end to side by default are
// button heads of ISO 7380-1 whose key passes the access hole, whose nominal
// length can be bought, and whose shank passes the slot opening.
func TestEndScrewDefaults(t *testing.T) {
	for _, d := range []struct {
		thread              string
		length, access, key float64
		opening             float64
	}{
		{"M6", 16, 5.5, 4, 6.2}, {"M8", 20, 7, 5, 8.2}, {"M10", 25, 8, 6, 10.2},
	} {
		s, ok := standard.ButtonHeadScrew(d.thread)
		key, found := standard.HexKey(d.key)
		if !ok || !found || s.Key != d.key || key.AcrossCorners >= d.access {
			t.Errorf("%s: %+v, key %+v", d.thread, s, key)
		}
		if length, ok := standard.RoundUpLengthOf("ISO 7380-1", d.thread, d.length); !ok || length != d.length {
			t.Errorf("%s x %v: rounded to %v", d.thread, d.length, length)
		}
		if n := nominal(t, d.thread); n >= d.opening || s.HeadDiameterMin <= d.opening {
			t.Errorf("%s: head %v to %v at an opening of %v", d.thread, s.HeadDiameterMin, s.HeadDiameter, d.opening)
		}
	}
}

func TestHexKeys(t *testing.T) {
	previous := standard.Key{}
	for _, k := range standard.HexKeys() {
		if k.Size <= previous.Size || k.ShortArmMax <= previous.ShortArmMax || k.LongArmMax <= previous.LongArmMax ||
			k.ShortArm > k.ShortArmMax || k.LongArm > k.LongArmMax || k.ShortArmMax >= k.LongArmMax {
			t.Errorf("out of order: %+v", k)
		}
		// A hexagon's corners lie on a circle 2/sqrt 3 as wide as its flats.
		if !near(k.AcrossCorners, k.Size*2/math.Sqrt(3), 1e-12) {
			t.Errorf("%v mm: corners %v", k.Size, k.AcrossCorners)
		}
		previous = k
	}
	if k, ok := standard.HexKey(4.5); ok {
		t.Errorf("found %+v", k)
	}
	if _, ok := standard.HexKey(math.NaN()); ok {
		t.Error("found a key of NaN")
	}
}

func TestNutsAndWashers(t *testing.T) {
	for _, thread := range standard.Threads() {
		n, _ := standard.HexNut(thread.Name)
		w, _ := standard.Washer(thread.Name)
		// e is at least 1.13 times the least width across flats, and never the sharp hexagon.
		if n.AcrossCorners < 1.07*n.AcrossFlats || n.AcrossCorners >= n.AcrossFlats*2/math.Sqrt(3) {
			t.Errorf("%s: corners %v of flats %v", thread.Name, n.AcrossCorners, n.AcrossFlats)
		}
		if n.HeightMin >= n.Height || n.BearingDiameter >= n.AcrossFlats || w.Outer <= n.AcrossFlats {
			t.Errorf("%s: %+v, %+v", thread.Name, n, w)
		}
	}
}

func TestSetScrews(t *testing.T) {
	for _, thread := range standard.Threads() {
		s, ok := standard.SetScrew(thread.Name)
		if ok == (thread.Name == "M14") {
			t.Errorf("%s: found %v", thread.Name, ok)
		}
		if !ok {
			continue
		}
		if _, found := standard.HexKey(s.Key); !found || s.Point >= thread.Nominal || s.LengthMin >= s.LengthMax ||
			s.SocketDepth >= s.LengthMin {
			t.Errorf("%s: %+v", thread.Name, s)
		}
	}
}

func TestCounterbores(t *testing.T) {
	for _, thread := range standard.Threads() {
		b, _ := standard.Counterbore(thread.Name)
		s, _ := standard.SocketCapScrew(thread.Name)
		allowance := 0.4 // DIN 974-1: up to d = 6, above it 0.6; recalled
		if thread.Nominal > 6 {
			allowance = 0.6
		}
		if b.Diameter <= s.HeadDiameterMax || !near(b.Depth, s.HeadHeight+allowance, 1e-9) || b.DepthSource.Checked {
			t.Errorf("%s: %+v for %+v", thread.Name, b, s)
		}
	}
}
