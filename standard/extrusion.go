package standard

import "math"

// Limit is a tolerance of a delivered bar in mm, with its source. The figures
// of EN 12020-2 here are recalled: warn on them, never refuse.
type Limit struct {
	Value  float64
	Source Source
}

type extrusionRow struct {
	kind                 string
	sizeOver, sizeUpTo   float64
	lengthOver, lengthTo float64
	limit                Limit
}

var extrusionRows = table("extrusion_tolerances.csv", func(r record) extrusionRow {
	return extrusionRow{
		kind:       r.text("kind"),
		sizeOver:   r.float("size_over_mm"),
		sizeUpTo:   r.upTo("size_up_to_mm", math.Inf(1)),
		lengthOver: r.float("length_over_mm"),
		lengthTo:   r.upTo("length_up_to_mm", math.Inf(1)),
		limit:      Limit{Value: r.float("limit_mm"), Source: r.source()},
	}
})

// extrusionLimit looks up a kind of limit; a table without a size or a length
// column leaves that range open, so any positive number finds its row.
func extrusionLimit(kind string, size, length float64) (Limit, bool) {
	row, ok := find(extrusionRows(), func(e extrusionRow) bool {
		return e.kind == kind && size > e.sizeOver && size <= e.sizeUpTo &&
			length > e.lengthOver && length <= e.lengthTo
	})
	return row.limit, ok
}

// ProfileStraightness returns the bow in mm that EN 12020-2 allows a bar of
// the given length in mm over its whole length.
func ProfileStraightness(length float64) (Limit, bool) {
	return extrusionLimit("straightness", 1, length)
}

// ProfileLocalStraightness returns the bow in mm that EN 12020-2 allows over
// any 300 mm of a bar.
func ProfileLocalStraightness() Limit {
	limit, _ := extrusionLimit("straightness_300", 1, 1)
	return limit
}

// ProfileTwist returns how far in mm a corner of a bar of the given width and
// length in mm may lift off a flat plate (EN 12020-2).
func ProfileTwist(width, length float64) (Limit, bool) {
	return extrusionLimit("twist", width, length)
}

// ProfileOutside returns the plus-or-minus tolerance in mm of an outside size
// in mm of the section (EN 12020-2).
func ProfileOutside(size float64) (Limit, bool) {
	return extrusionLimit("outside", size, 1)
}

// ProfileFlatness returns how far in mm a face of the given width in mm may be
// hollow or domed (EN 12020-2).
func ProfileFlatness(width float64) (Limit, bool) {
	return extrusionLimit("flatness", width, 1)
}

// MillLength returns by how much in mm a bar cut to length by the mill may be
// too long, never too short, for the circle in mm around its section and its
// length in mm (EN 12020-2). Its ends may be out of square by half of that.
func MillLength(circle, length float64) (Limit, bool) {
	return extrusionLimit("length", circle, length)
}

// SawLength returns the plus-or-minus tolerance in mm of a workshop cut with a
// stop, for lengths up to 2000 mm. Common practice, no source.
func SawLength(length float64) (Limit, bool) {
	return extrusionLimit("saw_length", 1, length)
}

// SawSquareness is how far out of square a workshop cut may be, in mm per mm
// of width: 0.2 in 100. Common practice, no source.
const SawSquareness = 0.2 / 100
