package standard

import "slices"

// lengthRow is one thread's row of nominal lengths.
type lengthRow struct {
	thread     string
	lengths    []float64
	fullThread float64
	source     Source
}

var screwLengths = table("screw_lengths.csv", func(r record) lengthRow {
	return lengthRow{
		thread:     r.text("thread"),
		lengths:    r.floats("lengths_mm"),
		fullThread: r.float("full_thread_mm"),
		source:     r.source(),
	}
})

func lengthsOf(thread string) (lengthRow, bool) {
	return find(screwLengths(), func(row lengthRow) bool { return row.thread == thread })
}

// StockLengths returns the nominal lengths in mm of ISO 4762 cap screws for a
// thread, rising, or nil for an unknown thread. Lengths are measured under the
// head. The same series (ISO 888) serves ISO 7380-1 and ISO 10642, whose
// ranges are shorter: see [ButtonHeadLengths].
func StockLengths(thread string) []float64 {
	row, _ := lengthsOf(thread)
	return slices.Clone(row.lengths)
}

// StockLengthSource returns the source of the thread's length range.
func StockLengthSource(thread string) (Source, bool) {
	row, ok := lengthsOf(thread)
	return row.source, ok
}

// RoundUpLength returns the shortest stock length of ISO 4762 that is not
// under the given one, false if the thread is unknown or none is long enough.
func RoundUpLength(thread string, length float64) (float64, bool) {
	row, _ := lengthsOf(thread)
	return find(row.lengths, func(l float64) bool { return l >= length })
}

// RoundDownLength returns the longest stock length of ISO 4762 that is not
// over the given one, false if the thread is unknown or none is short enough.
func RoundDownLength(thread string, length float64) (float64, bool) {
	row, _ := lengthsOf(thread)
	for _, l := range slices.Backward(row.lengths) {
		if l <= length {
			return l, true
		}
	}
	return 0, false
}

// FullThreadLength returns the longest ISO 4762 screw of a thread that is
// threaded up to the head, in mm. The figure is recalled, not checked.
func FullThreadLength(thread string) (float64, bool) {
	row, ok := lengthsOf(thread)
	return row.fullThread, ok
}
