package standard

import (
	"math"
	"slices"
)

// ToleranceRow is one range of one class of ISO 2768-1: sizes over Over up to
// and including UpTo. Lengths in mm.
type ToleranceRow struct {
	// Kind is "linear" (table 1), "edge" (table 2, outside radii and chamfer
	// heights) or "angle" (table 3).
	Kind string
	// Class is "f" fine, "m" medium, "c" coarse or "v" very coarse.
	Class string
	// Over is excluded, except that a range from 0.5 includes 0.5; UpTo is
	// included, +Inf for an open range.
	Over, UpTo float64
	// Tolerance is plus or minus: mm, or radians for an angle.
	Tolerance float64
	Source    Source
}

var toleranceRows = table("general_tolerances.csv", func(r record) ToleranceRow {
	row := ToleranceRow{
		Kind:      r.text("kind"),
		Class:     r.text("class"),
		Over:      r.float("over_mm"),
		UpTo:      r.upTo("up_to_mm", math.Inf(1)),
		Tolerance: r.float("tolerance"),
		Source:    r.source(),
	}
	if r.text("unit") == "arcmin" {
		row.Tolerance *= math.Pi / (180 * 60)
	}
	return row
})

// smallestLinear is the size in mm from which ISO 2768-1 tables 1 and 2 speak;
// under it the tolerance is written at the dimension.
const smallestLinear = 0.5

// covers reports whether the range holds the size.
func (t ToleranceRow) covers(size float64) bool {
	return (size > t.Over || size == t.Over && t.Over == smallestLinear) && size <= t.UpTo
}

// ToleranceRows returns all rows of ISO 2768-1 tables 1 to 3. The withdrawn
// ISO 2768-2 is left out on purpose: a drawing states its own geometrical
// tolerances (ISO 22081).
func ToleranceRows() []ToleranceRow { return slices.Clone(toleranceRows()) }

// ToleranceFor returns the row of ISO 2768-1 for a kind ("linear", "edge",
// "angle"), a class and a size in mm, false where the standard gives none.
func ToleranceFor(kind, class string, size float64) (ToleranceRow, bool) {
	return find(toleranceRows(), func(t ToleranceRow) bool {
		return t.Kind == kind && t.Class == class && t.covers(size)
	})
}

// GeneralTolerance returns the plus-or-minus tolerance in mm of a linear size
// in mm (ISO 2768-1 table 1) in class "f", "m", "c" or "v". It is false under
// 0.5 mm, over the last range, and where the class has no value.
func GeneralTolerance(class string, size float64) (float64, bool) {
	row, ok := ToleranceFor("linear", class, size)
	return row.Tolerance, ok
}

// EdgeTolerance returns the plus-or-minus tolerance in mm of a broken edge, an
// outside radius or a chamfer height in mm (ISO 2768-1 table 2).
func EdgeTolerance(class string, size float64) (float64, bool) {
	row, ok := ToleranceFor("edge", class, size)
	return row.Tolerance, ok
}

// AngleTolerance returns the plus-or-minus tolerance in radians of an angle
// whose shorter side has the given length in mm (ISO 2768-1 table 3).
func AngleTolerance(class string, shorterSide float64) (float64, bool) {
	row, ok := ToleranceFor("angle", class, shorterSide)
	return row.Tolerance, ok
}
