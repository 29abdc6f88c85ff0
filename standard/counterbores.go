package standard

// Bore is a counterbore in which an ISO 4762 head sits flush or just under the
// surface (DIN 974-1 series 1). Lengths in mm.
type Bore struct {
	// Thread is the designation of the screw, such as "M8".
	Thread string
	// Diameter is the bore, tolerance H13.
	Diameter float64
	// Depth is the least depth for a head without a washer. It is recalled,
	// see DepthSource.
	Depth float64
	// Source covers the diameter.
	Source Source
	// DepthSource covers the depth.
	DepthSource Source
}

var counterbores = table("counterbores.csv", func(r record) Bore {
	return Bore{
		Thread:      r.text("thread"),
		Diameter:    r.float("bore_mm"),
		Depth:       r.float("depth_mm"),
		Source:      r.source(),
		DepthSource: Source{Text: r.text("source"), Checked: false},
	}
})

// Counterbore returns the counterbore of DIN 974-1 series 1 for an ISO 4762
// screw with the given thread, such as "M8".
func Counterbore(nominal string) (Bore, bool) {
	return find(counterbores(), func(b Bore) bool { return b.Thread == nominal })
}
