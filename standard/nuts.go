package standard

// Nut is a hexagon nut. Lengths in mm.
type Nut struct {
	// Standard is "ISO 4032" (style 1) or "ISO 4035" (thin).
	Standard string
	// Thread is the designation, such as "M8".
	Thread string
	// AcrossFlats is the nominal and largest width s.
	AcrossFlats float64
	// AcrossCorners is the least width e.
	AcrossCorners float64
	// Height and HeightMin are the limits m of the height.
	Height, HeightMin float64
	// BearingDiameter is the least outer diameter dw of the bearing face.
	BearingDiameter float64
	Source          Source
}

var hexNuts = table("hex_nuts.csv", func(r record) Nut {
	return Nut{
		Standard:        r.text("standard"),
		Thread:          r.text("thread"),
		AcrossFlats:     r.float("s_mm"),
		AcrossCorners:   r.float("e_mm"),
		Height:          r.float("m_mm"),
		HeightMin:       r.float("m_min_mm"),
		BearingDiameter: r.float("dw_mm"),
		Source:          r.source(),
	}
})

func findNut(standard, nominal string) (Nut, bool) {
	return find(hexNuts(), func(n Nut) bool { return n.Standard == standard && n.Thread == nominal })
}

// HexNut returns the nut of ISO 4032 for a thread such as "M8".
func HexNut(nominal string) (Nut, bool) { return findNut("ISO 4032", nominal) }

// ThinNut returns the thin nut of ISO 4035 for a thread such as "M8": the lock
// nut of a stud.
func ThinNut(nominal string) (Nut, bool) { return findNut("ISO 4035", nominal) }
