package assembly

import (
	"slices"
	"testing"

	"barwright/frame"
)

// A sheet over bars of two sizes takes two screws; the guide names each with its washers.
func TestSheetScrewsByKind(t *testing.T) {
	hole := func(thread string, length float64, washers int) frame.PanelHole {
		return frame.PanelHole{Thread: thread, Length: length, Washers: washers}
	}
	got := sheetScrews(&frame.PanelSheet{Holes: []frame.PanelHole{
		hole("M5", 10, 1), hole("M6", 12, 0), hole("M5", 10, 1), hole("M6", 12, 2),
	}})
	want := []string{"2 × M5×10 with a washer under each head", "1 × M6×12", "1 × M6×12 with 2 washers under each head"}
	if !slices.Equal(got, want) {
		t.Errorf("%q; want %q", got, want)
	}
}
