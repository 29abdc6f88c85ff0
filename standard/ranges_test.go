package standard

import (
	"math"
	"testing"
)

// TestExtrusionRangesMeet: the ranges of EN 12020-2 as kept here tile each
// table: along the lengths of one size without a gap, and from size to size.
func TestExtrusionRangesMeet(t *testing.T) {
	rows := extrusionRows()
	for i, row := range rows[1:] {
		before := rows[i]
		if row.kind != before.kind || row.kind == "straightness_300" {
			if row.sizeOver != 0 || row.lengthOver != 0 {
				t.Errorf("%+v does not start at 0", row)
			}
			continue
		}
		sameSize := row.sizeOver == before.sizeOver && row.sizeUpTo == before.sizeUpTo
		nextLength := sameSize && row.lengthOver == before.lengthTo
		nextSize := row.sizeOver == before.sizeUpTo && row.lengthOver == 0
		if !nextLength && !nextSize {
			t.Errorf("%+v does not meet %+v", row, before)
		}
	}
	last := map[string][2]float64{"twist": {300, 6000}, "length": {350, 10000}, "outside": {300, math.Inf(1)}}
	for i, row := range rows {
		end, ok := last[row.kind]
		if ok && (i+1 == len(rows) || rows[i+1].kind != row.kind) && (row.sizeUpTo != end[0] || row.lengthTo != end[1]) {
			t.Errorf("%+v is not the last of its table", row)
		}
		// Every size of a table ends at the same length.
		if ok && (i+1 == len(rows) || rows[i+1].sizeOver != row.sizeOver) && row.lengthTo != end[1] {
			t.Errorf("%+v ends early", row)
		}
	}
}
