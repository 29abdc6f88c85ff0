package standard

import (
	"math"
	"slices"
)

// CountersunkAngle is the full cone angle of an ISO 10642 head, in radians.
const CountersunkAngle = math.Pi / 2

// Screw is the head and socket of one hexagon socket screw. Lengths in mm.
type Screw struct {
	// Standard is "ISO 4762", "ISO 7380-1" or "ISO 10642".
	Standard string
	// Thread is the designation, such as "M8".
	Thread string
	// HeadDiameter is the largest head diameter dk: of the plain head
	// (ISO 4762), of the dome (ISO 7380-1), of the theoretical sharp corner
	// to which the countersink is made (ISO 10642).
	HeadDiameter float64
	// HeadDiameterMax is the largest head the standard allows at all: the
	// knurled head of ISO 4762, else HeadDiameter. Use it for access.
	HeadDiameterMax float64
	// HeadDiameterMin is the least head diameter where the standard gives
	// one, else 0. For ISO 10642 it is the head after the rim is flattened.
	HeadDiameterMin float64
	// HeadHeight is the largest head height k.
	HeadHeight float64
	// BearingDiameter is the least outer diameter dw of the bearing face
	// under the head where known, else 0; it is then under HeadDiameterMin.
	BearingDiameter float64
	// Key is the nominal width across flats s of the hexagon key.
	Key float64
	// SocketDepth is the least depth t of the socket.
	SocketDepth float64
	// Floor is the least thickness w between the socket and the bearing face
	// (ISO 4762), else 0.
	Floor float64
	// ThreadLength is the thread length b of screws too long to be threaded
	// to the head (ISO 4762), else 0.
	ThreadLength float64
	Source       Source
}

var socketCapScrews = table("socket_cap_screws.csv", func(r record) Screw {
	s := readScrew("ISO 4762", r)
	s.HeadDiameterMax = r.float("dk_knurled_mm")
	s.BearingDiameter = r.float("dw_mm")
	s.Floor = r.float("w_mm")
	s.ThreadLength = r.float("b_mm")
	return s
})

var buttonHeadScrews = table("button_head_screws.csv", func(r record) Screw {
	s := readScrew("ISO 7380-1", r)
	s.HeadDiameterMin = r.float("dk_min_mm")
	return s
})

var countersunkScrews = table("countersunk_screws.csv", func(r record) Screw {
	s := readScrew("ISO 10642", r)
	s.HeadDiameterMin = r.float("dk_min_mm")
	return s
})

func readScrew(standard string, r record) Screw {
	return Screw{
		Standard:        standard,
		Thread:          r.text("thread"),
		HeadDiameter:    r.float("dk_mm"),
		HeadDiameterMax: r.float("dk_mm"),
		HeadHeight:      r.float("k_mm"),
		Key:             r.float("s_mm"),
		SocketDepth:     r.float("t_mm"),
		Source:          r.source(),
	}
}

// Screws returns all screws: ISO 4762, then ISO 7380-1, then ISO 10642, each
// by rising size.
func Screws() []Screw {
	return slices.Concat(socketCapScrews(), buttonHeadScrews(), countersunkScrews())
}

// ScrewOf returns the screw of a standard ("ISO 4762", "ISO 7380-1",
// "ISO 10642") with a thread such as "M8".
func ScrewOf(standard, nominal string) (Screw, bool) {
	switch standard {
	case "ISO 4762":
		return SocketCapScrew(nominal)
	case "ISO 7380-1":
		return ButtonHeadScrew(nominal)
	case "ISO 10642":
		return CountersunkScrew(nominal)
	}
	return Screw{}, false
}

func findScrew(rows []Screw, nominal string) (Screw, bool) {
	return find(rows, func(s Screw) bool { return s.Thread == nominal })
}

// SocketCapScrew returns the hexagon socket head cap screw of ISO 4762.
func SocketCapScrew(nominal string) (Screw, bool) {
	return findScrew(socketCapScrews(), nominal)
}

// ButtonHeadScrew returns the hexagon socket button head screw of ISO 7380-1.
// Its thin dome carries less than a cap screw: full torque is not for it.
func ButtonHeadScrew(nominal string) (Screw, bool) {
	return findScrew(buttonHeadScrews(), nominal)
}

// CountersunkScrew returns the hexagon socket countersunk head screw of ISO 10642.
func CountersunkScrew(nominal string) (Screw, bool) {
	return findScrew(countersunkScrews(), nominal)
}
