package standard

// PlainWasher is a plain washer of the normal series (ISO 7089). Lengths in mm.
type PlainWasher struct {
	// Thread is the designation of the screw, such as "M8".
	Thread string
	// Inner is the least hole d1 and Outer the largest outer diameter d2.
	Inner, Outer float64
	// Thickness is the nominal thickness h.
	Thickness float64
	Source    Source
}

var washers = table("washers.csv", func(r record) PlainWasher {
	return PlainWasher{
		Thread:    r.text("thread"),
		Inner:     r.float("inner_mm"),
		Outer:     r.float("outer_mm"),
		Thickness: r.float("thickness_mm"),
		Source:    r.source(),
	}
})

// Washer returns the washer of ISO 7089 for a thread such as "M8".
func Washer(nominal string) (PlainWasher, bool) {
	return find(washers(), func(w PlainWasher) bool { return w.Thread == nominal })
}
