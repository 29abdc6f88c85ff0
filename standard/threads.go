package standard

import (
	"math"
	"slices"
)

// Thread is one ISO metric coarse thread (ISO 261, ISO 724), with the limits
// of a hole tapped to tolerance class 6H (ISO 965-1). Lengths are in mm.
type Thread struct {
	// Name is the designation, such as "M8".
	Name string
	// Nominal is the major diameter d.
	Nominal float64
	// Pitch is the coarse pitch P.
	Pitch float64
	// Choice is 1 for the preferred sizes of ISO 261 and 2 for the second choice.
	Choice int
	// PitchDiameter is the basic pitch diameter D2 = d2.
	PitchDiameter float64
	// MinorMin and MinorMax are the limits of the minor diameter D1 of the
	// tapped hole at 6H: a bore between them can be tapped as it is.
	MinorMin, MinorMax float64
	// Root is the minor diameter d3 of the screw's thread.
	Root float64
	// StressArea is the tensile stress area As of ISO 898-1, in mm².
	StressArea float64
	// TapDrill is the drill for the core hole, ISO 2306.
	TapDrill float64
	// Source covers the whole row.
	Source Source
}

var threads = table("threads.csv", func(r record) Thread {
	return Thread{
		Name:          r.text("thread"),
		Nominal:       r.float("nominal_mm"),
		Pitch:         r.float("pitch_mm"),
		Choice:        int(r.float("choice")),
		PitchDiameter: r.float("pitch_diameter_mm"),
		MinorMin:      r.float("minor_min_mm"),
		MinorMax:      r.float("minor_max_6h_mm"),
		Root:          r.float("root_mm"),
		StressArea:    r.float("stress_area_mm2"),
		TapDrill:      r.float("tap_drill_mm"),
		Source:        r.source(),
	}
})

// Threads returns all threads, M2 to M16, by rising size.
func Threads() []Thread { return slices.Clone(threads()) }

// ThreadByName returns the thread with the given designation, such as "M8".
func ThreadByName(name string) (Thread, bool) {
	return find(threads(), func(t Thread) bool { return t.Name == name })
}

// Accepts reports whether a bore of the given diameter in mm can be tapped to
// 6H without drilling, that is, lies within the limits of D1.
func (t Thread) Accepts(bore float64) bool {
	return bore >= t.MinorMin && bore <= t.MinorMax
}

// ShearArea returns the area in mm² on which the tapped thread shears when
// engaged over the given length in mm: the internal thread of the basic profile
// at the screw's major diameter, 7/8 of the cylinder π·d·length (FED-STD-H28).
// Tolerances take 10 to 25 % off; see [StripForce].
func (t Thread) ShearArea(engagement float64) float64 {
	return 7.0 / 8.0 * math.Pi * t.Nominal * engagement
}
