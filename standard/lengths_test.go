package standard_test

import (
	"math"
	"slices"
	"testing"

	"barwright/standard"
)

// iso888 is the series of nominal lengths (ISO 888:1976, without the second
// choice in brackets).
var iso888 = []float64{2, 2.5, 3, 4, 5, 6, 8, 10, 12, 16, 20, 25, 30, 35, 40, 45, 50, 55, 60, 65, 70, 80, 90,
	100, 110, 120, 130, 140, 150, 160}

func TestLengthRanges(t *testing.T) {
	tests := []struct {
		standard, thread string
		first, last      float64
		checked          bool
		source           string
	}{
		{"ISO 4762", "M3", 5, 30, true, "ISO 4762:2004 table 1"},
		{"ISO 4762", "M5", 8, 50, true, "ISO 4762:2004 table 1"},
		{"ISO 4762", "M6", 10, 60, false, "ISO 4762:2004 table 1, recalled"},
		{"ISO 4762", "M8", 12, 80, false, "ISO 4762:2004 table 1, recalled"},
		{"ISO 4762", "M10", 16, 100, true, "ISO 4762:2004 table 1"},
		{"ISO 7380-1", "M6", 10, 60, true, "ISO 7380-1:2011 table 1"},
		{"ISO 7380-1", "M8", 12, 80, true, "ISO 7380-1:2011 table 1"},
		{"ISO 10642", "M8", 10, 80, true, "ISO 10642:2004 table 1"},
	}
	for _, test := range tests {
		lengths, source, ok := standard.LengthsOf(test.standard, test.thread)
		if !ok || lengths[0] != test.first || lengths[len(lengths)-1] != test.last || source.Checked != test.checked {
			t.Errorf("%s %s: got %v (%+v), want %+v", test.standard, test.thread, lengths, source, test)
		}
	}
}

// TestLengthsAreTheSeries: every screw has a list of lengths, and each list is
// a stretch of ISO 888 without a hole.
func TestLengthsAreTheSeries(t *testing.T) {
	for _, s := range standard.Screws() {
		lengths, _, ok := standard.LengthsOf(s.Standard, s.Thread)
		if !ok {
			t.Errorf("%s %s: no lengths", s.Standard, s.Thread)
			continue
		}
		first := slices.Index(iso888, lengths[0])
		if first < 0 || !slices.Equal(lengths, iso888[first:first+len(lengths)]) {
			t.Errorf("%s %s: %v is no stretch of ISO 888", s.Standard, s.Thread, lengths)
		}
		if s.Standard != "ISO 4762" {
			continue
		}
		full, ok := standard.FullThreadLength(s.Thread)
		if !ok || !slices.Contains(lengths, full) || full <= s.ThreadLength-nominal(t, s.Thread) {
			t.Errorf("%s: threaded to the head up to %v, else over %v", s.Thread, full, s.ThreadLength)
		}
	}
}

func TestRounding(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	tests := []struct {
		thread           string
		length, up, down float64 // 0: none
	}{
		{"M8", 37, 40, 35}, {"M8", 40, 40, 40}, {"M8", 40.001, 45, 40}, {"M8", 12, 12, 12},
		{"M8", 11.9, 12, 0}, {"M8", 80, 80, 80}, {"M8", 80.1, 0, 80}, {"M8", -5, 12, 0},
		{"M8", nan, 0, 0}, {"M8", inf, 0, 80}, {"M8", -inf, 12, 0}, {"M7", 20, 0, 0}, {"", 20, 0, 0},
	}
	for _, test := range tests {
		up, okUp := standard.RoundUpLength(test.thread, test.length)
		down, okDown := standard.RoundDownLength(test.thread, test.length)
		if up != test.up || down != test.down || okUp != (test.up > 0) || okDown != (test.down > 0) {
			t.Errorf("%s x %v: up %v %v, down %v %v", test.thread, test.length, up, okUp, down, okDown)
		}
	}
	if l, ok := standard.RoundUpLengthOf("ISO 7380-1", "M10", 91); ok {
		t.Errorf("a button head of %v mm", l)
	}
	if l, ok := standard.RoundDownLengthOf("ISO 7380-1", "M10", 91); !ok || l != 90 {
		t.Errorf("longest button head %v mm", l)
	}
}

func TestStockLengthsAreCopies(t *testing.T) {
	standard.StockLengths("M8")[0] = 1
	if got := standard.StockLengths("M8")[0]; got != 12 {
		t.Errorf("the table was changed: %v", got)
	}
	if got := standard.StockLengths("M9"); got != nil {
		t.Errorf("M9: %v", got)
	}
}
