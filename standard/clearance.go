package standard

// Clearance gives the diameters in mm of a through hole for one thread
// (ISO 273). Medium is the usual choice.
type Clearance struct {
	// Thread is the designation, such as "M8".
	Thread string
	// Fine (H12), Medium (H13) and Coarse (H14) are the three series.
	Fine, Medium, Coarse float64
	Source               Source
}

var clearances = table("clearance_holes.csv", func(r record) Clearance {
	return Clearance{
		Thread: r.text("thread"),
		Fine:   r.float("fine_mm"),
		Medium: r.float("medium_mm"),
		Coarse: r.float("coarse_mm"),
		Source: r.source(),
	}
})

// ClearanceHole returns the clearance holes of ISO 273 for a thread such as "M8".
func ClearanceHole(nominal string) (Clearance, bool) {
	return find(clearances(), func(c Clearance) bool { return c.Thread == nominal })
}
