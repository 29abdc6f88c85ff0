package standard

// HeadlessScrew is a hexagon socket set screw with flat point (ISO 4026).
// Lengths in mm.
type HeadlessScrew struct {
	// Thread is the designation, such as "M8".
	Thread string
	// Key is the nominal width across flats of the hexagon key.
	Key float64
	// SocketDepth is the least socket depth t of the shortest screws.
	SocketDepth float64
	// Point is the largest diameter of the flat point.
	Point float64
	// LengthMin and LengthMax bound the nominal lengths. They are recalled
	// and published tables differ: treat them as soft.
	LengthMin, LengthMax float64
	// Source covers all but the lengths.
	Source Source
}

var setScrews = table("set_screws.csv", func(r record) HeadlessScrew {
	return HeadlessScrew{
		Thread:      r.text("thread"),
		Key:         r.float("s_mm"),
		SocketDepth: r.float("t_mm"),
		Point:       r.float("point_mm"),
		LengthMin:   r.float("length_min_mm"),
		LengthMax:   r.float("length_max_mm"),
		Source:      r.source(),
	}
})

// SetScrew returns the set screw of ISO 4026 for a thread such as "M8".
func SetScrew(nominal string) (HeadlessScrew, bool) {
	return find(setScrews(), func(s HeadlessScrew) bool { return s.Thread == nominal })
}
