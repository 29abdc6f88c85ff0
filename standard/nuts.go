package standard

// Nut is a hexagon nut, style 1 (ISO 4032). Lengths in mm.
type Nut struct {
	// Thread is the designation, such as "M8".
	Thread string
	// AcrossFlats is the nominal and largest width s.
	AcrossFlats float64
	// AcrossCorners is the least width e.
	AcrossCorners float64
	// Height and HeightMin are the limits m of the height.
	Height, HeightMin float64
	Source            Source
}

var hexNuts = table("hex_nuts.csv", func(r record) Nut {
	return Nut{
		Thread:        r.text("thread"),
		AcrossFlats:   r.float("s_mm"),
		AcrossCorners: r.float("e_mm"),
		Height:        r.float("m_mm"),
		HeightMin:     r.float("m_min_mm"),
		Source:        r.source(),
	}
})

// HexNut returns the nut of ISO 4032 for a thread such as "M8".
func HexNut(nominal string) (Nut, bool) {
	return find(hexNuts(), func(n Nut) bool { return n.Thread == nominal })
}
