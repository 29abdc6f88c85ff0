package standard

import "slices"

// lengthRow is the nominal lengths of one standard's screws with one thread.
type lengthRow struct {
	standard   string
	thread     string
	lengths    []float64
	fullThread float64
	source     Source
}

var screwLengths = table("screw_lengths.csv", func(r record) lengthRow {
	return lengthRow{
		standard:   r.text("standard"),
		thread:     r.text("thread"),
		lengths:    r.floats("lengths_mm"),
		fullThread: r.float("full_thread_mm"),
		source:     r.source(),
	}
})

func findLengths(standard, thread string) (lengthRow, bool) {
	return find(screwLengths(), func(row lengthRow) bool {
		return row.standard == standard && row.thread == thread
	})
}

// LengthsOf returns the nominal lengths in mm, rising, of the screws of a
// standard ("ISO 4762", "ISO 7380-1", "ISO 10642") with a thread, and the
// source of their range. The length is measured under the head, for the
// countersunk ISO 10642 over all.
func LengthsOf(standard, thread string) ([]float64, Source, bool) {
	row, ok := findLengths(standard, thread)
	return slices.Clone(row.lengths), row.source, ok
}

// RoundUpLengthOf returns the shortest nominal length of a standard's screws
// that is not under the given one in mm; it is false if the standard or the
// thread is unknown or no screw is long enough.
func RoundUpLengthOf(standard, thread string, length float64) (float64, bool) {
	row, _ := findLengths(standard, thread)
	return find(row.lengths, func(l float64) bool { return l >= length })
}

// RoundDownLengthOf returns the longest nominal length of a standard's screws
// that is not over the given one in mm; it is false if the standard or the
// thread is unknown or no screw is short enough.
func RoundDownLengthOf(standard, thread string, length float64) (float64, bool) {
	row, _ := findLengths(standard, thread)
	for _, l := range slices.Backward(row.lengths) {
		if l <= length {
			return l, true
		}
	}
	return 0, false
}

// StockLengths returns the nominal lengths in mm, rising, of ISO 4762 cap
// screws with a thread, nil if it is unknown. ISO 7380-1 button heads share the
// series, end at 90 mm and lack M2, M2.5 and M14: see [LengthsOf].
func StockLengths(thread string) []float64 {
	lengths, _, _ := LengthsOf("ISO 4762", thread)
	return lengths
}

// RoundUpLength is [RoundUpLengthOf] for ISO 4762 cap screws.
func RoundUpLength(thread string, length float64) (float64, bool) {
	return RoundUpLengthOf("ISO 4762", thread, length)
}

// RoundDownLength is [RoundDownLengthOf] for ISO 4762 cap screws.
func RoundDownLength(thread string, length float64) (float64, bool) {
	return RoundDownLengthOf("ISO 4762", thread, length)
}

// FullThreadLength returns the longest ISO 4762 screw of a thread that is
// threaded up to the head, in mm; longer ones are threaded over
// [Screw.ThreadLength]. The figure is recalled, not checked.
func FullThreadLength(thread string) (float64, bool) {
	row, ok := findLengths("ISO 4762", thread)
	return row.fullThread, ok
}
