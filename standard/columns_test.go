package standard_test

import (
	"math"
	"testing"

	"barwright/standard"
)

// column is one line of a published table: a quantity over the sizes.
type column struct {
	what string
	want []float64
}

// check compares the columns of one published table with rows read one by one
// by get, in the order of the sizes.
func check(t *testing.T, source string, sizes []string, columns []column, get func(size string) (map[string]float64, bool)) {
	t.Helper()
	for i, size := range sizes {
		got, ok := get(size)
		if !ok || len(got) != len(columns) {
			t.Errorf("%s %s: found %v, %v", source, size, ok, got)
			continue
		}
		for _, c := range columns {
			if len(c.want) != len(sizes) {
				t.Fatalf("%s: %s has %d figures for %d sizes", source, c.what, len(c.want), len(sizes))
			}
			if got[c.what] != c.want[i] {
				t.Errorf("%s %s: %s is %v, published %v", source, size, c.what, got[c.what], c.want[i])
			}
		}
	}
}

var allSizes = []string{"M2", "M2.5", "M3", "M4", "M5", "M6", "M8", "M10", "M12", "M14", "M16"}

func TestCapScrewColumns(t *testing.T) {
	check(t, "ISO 4762:2004 table 1", allSizes, []column{
		{"dk plain", []float64{3.8, 4.5, 5.5, 7, 8.5, 10, 13, 16, 18, 21, 24}},
		{"dk knurled", []float64{3.98, 4.68, 5.68, 7.22, 8.72, 10.22, 13.27, 16.27, 18.27, 21.33, 24.33}},
		{"k", []float64{2, 2.5, 3, 4, 5, 6, 8, 10, 12, 14, 16}},
		{"s", []float64{1.5, 2, 2.5, 3, 4, 5, 6, 8, 10, 12, 14}},
		{"t", []float64{1, 1.1, 1.3, 2, 2.5, 3, 4, 5, 6, 7, 8}},
		{"w", []float64{0.55, 0.85, 1.15, 1.4, 1.9, 2.3, 3.3, 4, 4.8, 5.8, 6.8}},
		{"dw", []float64{3.48, 4.18, 5.07, 6.53, 8.03, 9.38, 12.33, 15.33, 17.23, 20.17, 23.17}},
		{"b", []float64{16, 17, 18, 20, 22, 24, 28, 32, 36, 40, 44}},
	}, func(size string) (map[string]float64, bool) {
		s, ok := standard.SocketCapScrew(size)
		return map[string]float64{"dk plain": s.HeadDiameter, "dk knurled": s.HeadDiameterMax, "k": s.HeadHeight, "s": s.Key,
			"t": s.SocketDepth, "w": s.Floor, "dw": s.BearingDiameter, "b": s.ThreadLength}, ok
	})
}

func TestButtonHeadColumns(t *testing.T) {
	check(t, "ISO 7380-1:2011 table 1", []string{"M3", "M4", "M5", "M6", "M8", "M10", "M12", "M16"}, []column{
		{"dk", []float64{5.7, 7.6, 9.5, 10.5, 14, 17.5, 21, 28}},
		{"dk min", []float64{5.4, 7.24, 9.14, 10.07, 13.57, 17.07, 20.48, 27.48}},
		{"k", []float64{1.65, 2.2, 2.75, 3.3, 4.4, 5.5, 6.6, 8.8}},
		{"s", []float64{2, 2.5, 3, 4, 5, 6, 8, 10}},
		{"t", []float64{1.04, 1.3, 1.56, 2.08, 2.6, 3.12, 4.16, 5.2}},
	}, screwColumns(standard.ButtonHeadScrew))
	// The head is toleranced h14: ISO 286-2:2010, IT14 over 3, 6, 10, 18 mm.
	for _, s := range standard.Screws() {
		it14 := 0.30
		for over, tolerance := range map[float64]float64{6: 0.36, 10: 0.43, 18: 0.52} {
			if s.HeadDiameter > over {
				it14 = math.Max(it14, tolerance)
			}
		}
		if s.Standard == "ISO 7380-1" && !near(s.HeadDiameter-s.HeadDiameterMin, it14, 1e-9) {
			t.Errorf("%s: dk %v to %v is not h14", s.Thread, s.HeadDiameterMin, s.HeadDiameter)
		}
	}
}

func TestCountersunkColumns(t *testing.T) {
	check(t, "ISO 10642:2004 table 1", []string{"M3", "M4", "M5", "M6", "M8", "M10", "M12", "M14", "M16"}, []column{
		{"dk", []float64{6.72, 8.96, 11.2, 13.44, 17.92, 22.4, 26.88, 30.8, 33.6}},
		{"dk min", []float64{5.54, 7.53, 9.43, 11.34, 15.24, 19.22, 23.12, 26.52, 29.01}},
		{"k", []float64{1.86, 2.48, 3.1, 3.72, 4.96, 6.2, 7.44, 8.4, 8.8}},
		{"s", []float64{2, 2.5, 3, 4, 5, 6, 8, 10, 10}},
		{"t", []float64{1.1, 1.5, 1.9, 2.2, 3, 3.6, 4.3, 4.5, 4.8}},
	}, screwColumns(standard.CountersunkScrew))
}

// screwColumns reads the columns of a screw without bearing face.
func screwColumns(screw func(string) (standard.Screw, bool)) func(string) (map[string]float64, bool) {
	return func(size string) (map[string]float64, bool) {
		s, ok := screw(size)
		return map[string]float64{"dk": s.HeadDiameter, "dk min": s.HeadDiameterMin, "k": s.HeadHeight,
			"s": s.Key, "t": s.SocketDepth}, ok
	}
}

func TestNutColumns(t *testing.T) {
	check(t, "ISO 4032:2012 and ISO 4035:2012 tables 1 and 2", allSizes, []column{
		{"s", []float64{4, 5, 5.5, 7, 8, 10, 13, 16, 18, 21, 24}},
		{"e min", []float64{4.32, 5.45, 6.01, 7.66, 8.79, 11.05, 14.38, 17.77, 20.03, 23.36, 26.75}},
		{"m", []float64{1.6, 2, 2.4, 3.2, 4.7, 5.2, 6.8, 8.4, 10.8, 12.8, 14.8}},
		{"m min", []float64{1.35, 1.75, 2.15, 2.9, 4.4, 4.9, 6.44, 8.04, 10.37, 12.1, 14.1}},
		{"dw", []float64{3.1, 4.1, 4.6, 5.9, 6.9, 8.9, 11.6, 14.6, 16.6, 19.6, 22.5}},
		{"thin m", []float64{1.2, 1.6, 1.8, 2.2, 2.7, 3.2, 4, 5, 6, 7, 8}},
		{"thin m min", []float64{0.95, 1.35, 1.55, 1.95, 2.45, 2.9, 3.7, 4.7, 5.7, 6.42, 7.42}},
	}, func(size string) (map[string]float64, bool) {
		n, ok := standard.HexNut(size)
		thin, found := standard.ThinNut(size)
		same := thin.AcrossFlats == n.AcrossFlats && thin.AcrossCorners == n.AcrossCorners && thin.BearingDiameter == n.BearingDiameter
		return map[string]float64{"s": n.AcrossFlats, "e min": n.AcrossCorners, "m": n.Height, "m min": n.HeightMin,
			"dw": n.BearingDiameter, "thin m": thin.Height, "thin m min": thin.HeightMin}, ok && found && same
	})
}

func TestWasherAndCounterboreColumns(t *testing.T) {
	check(t, "ISO 7089:2000 tables 1 and 2; DIN 974-1:2008 table 1", allSizes, []column{
		{"d2", []float64{5, 6, 7, 9, 10, 12, 16, 20, 24, 28, 30}},
		{"h", []float64{0.3, 0.5, 0.5, 0.8, 1, 1.6, 1.6, 2, 2.5, 2.5, 3}},
		{"bore", []float64{4.4, 5.5, 6.5, 8, 10, 11, 15, 18, 20, 24, 26}}, // over M10 from memory
	}, func(size string) (map[string]float64, bool) {
		w, ok := standard.Washer(size)
		b, found := standard.Counterbore(size)
		return map[string]float64{"d2": w.Outer, "h": w.Thickness, "bore": b.Diameter}, ok && found
	})
}

func TestSetScrewColumns(t *testing.T) {
	check(t, "ISO 4026:2003 table 1", []string{"M2", "M2.5", "M3", "M4", "M5", "M6", "M8", "M10", "M12", "M16"}, []column{
		{"s", []float64{0.9, 1.3, 1.5, 2, 2.5, 3, 4, 5, 6, 8}},
		{"t", []float64{0.8, 1.2, 1.2, 1.5, 2, 2, 3, 4, 4.8, 6.4}},
		{"dp", []float64{1, 1.5, 2, 2.5, 3.5, 4, 5.5, 7, 8.5, 12}},
	}, func(size string) (map[string]float64, bool) {
		s, ok := standard.SetScrew(size)
		return map[string]float64{"s": s.Key, "t": s.SocketDepth, "dp": s.Point}, ok
	})
}

func TestKeyColumns(t *testing.T) {
	sizes := []float64{0.9, 1.3, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10, 12, 14}
	short := []float64{11, 13, 15.5, 18, 20.5, 23, 29, 33, 38, 44, 50, 57, 70}     // ISO 2936:2014 table 1, largest
	long := []float64{33, 41, 46.5, 52, 58.5, 66, 74, 85, 96, 108, 122, 137, 154}  // ISO 2936:2014 table 1, largest
	nominalShort := []float64{0, 0, 14, 16, 18, 20, 25, 28, 32, 36, 40, 45, 56}    // ISO 2936:2001, from memory
	nominalLong := []float64{0, 0, 45, 50, 56, 63, 70, 80, 90, 100, 112, 125, 140} // ISO 2936:2001, from memory
	keys := standard.HexKeys()
	if len(keys) != len(sizes) {
		t.Fatalf("%d keys", len(keys))
	}
	for i, k := range keys {
		if k.Size != sizes[i] || k.ShortArmMax != short[i] || k.LongArmMax != long[i] ||
			k.ShortArm != nominalShort[i] || k.LongArm != nominalLong[i] || !k.Source.Checked {
			t.Errorf("%+v", k)
		}
	}
}
