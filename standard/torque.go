package standard

import "math"

// Torque is how hard a screw is tightened, by the method of VDI 2230-1 at 90 %
// of yield. These are upper values without a safety margin. Forces in N,
// torques in N·mm, pressures in MPa.
type Torque struct {
	// Thread is the designation, such as "M8", and Class the property class.
	Thread, Class string
	// Friction is the coefficient taken for thread and head alike.
	Friction float64
	// Preload is the assembly preload.
	Preload float64
	// Torque is for the bearing face of a hexagon head (ISO 4014), as the VDI
	// tables print it; 0 in a row limited by bearing.
	Torque float64
	// TorqueSocket is for the larger face of an ISO 4762 head.
	TorqueSocket float64
	// HeadPressure is what a bare ISO 4762 head presses on the part around a
	// medium clearance hole, WasherPressure the same under an ISO 7089
	// washer (0 if not given). Aluminium yields under the first: use a washer.
	HeadPressure, WasherPressure float64
	Source                       Source
}

type torqueRow struct {
	kind string
	Torque
}

var torqueRows = table("torque.csv", func(r record) torqueRow {
	return torqueRow{kind: r.text("kind"), Torque: Torque{
		Thread:         r.text("thread"),
		Class:          r.text("class"),
		Friction:       r.float("mu"),
		Preload:        1000 * r.float("preload_kn"),
		Torque:         1000 * r.float("torque_nm"),
		TorqueSocket:   1000 * r.float("torque_socket_nm"),
		HeadPressure:   r.float("head_pressure_mpa"),
		WasherPressure: r.float("washer_pressure_mpa"),
		Source:         r.source(),
	}}
})

// TighteningTorque returns the row for a thread ("M3" to "M16"), a property
// class ("8.8", "10.9", "12.9") and a friction coefficient (0.10, 0.12, 0.14).
// Other coefficients: [AssemblyPreload].
func TighteningTorque(thread, class string, mu float64) (Torque, bool) {
	row, ok := find(torqueRows(), func(t torqueRow) bool {
		return t.kind == "full" && t.Thread == thread && t.Class == class && math.Abs(t.Friction-mu) < sameFriction
	})
	return row.Torque, ok
}

// sameFriction is half of the last digit in which friction is tabulated.
const sameFriction = 0.005

// BearingTorque returns preload and torque scaled down so that a bare
// ISO 4762 head of class 8.8 presses aluminium with 150 MPa only, at friction
// 0.14. Common practice, no source.
func BearingTorque(thread string) (Torque, bool) {
	row, ok := find(torqueRows(), func(t torqueRow) bool {
		return t.kind == "bearing_150" && t.Thread == thread
	})
	return row.Torque, ok
}

// ButtonHeadFactor is what an ISO 7380-1 screw carries in tension, as a part
// of As·Rm: its head breaks first (ISO 7380-1:2011 table 3).
const ButtonHeadFactor = 0.8

// AssemblyPreload returns the preload in N that uses 90 % of the yield
// strength in MPa under tension and thread friction mu (VDI 2230-1).
func AssemblyPreload(t Thread, yield, mu float64) float64 {
	d2, d3 := t.PitchDiameter, t.Root
	d0 := (d2 + d3) / 2
	twist := 1.5 * d2 / d0 * (t.Pitch/(math.Pi*d2) + 1.155*mu)
	return 0.9 * yield * math.Pi / 4 * d0 * d0 / math.Sqrt(1+3*twist*twist)
}

// AssemblyTorque returns the torque in N·mm that makes the preload in N with
// friction mu in thread and under the head, whose bearing face reaches from
// the hole to the bearing diameter, both in mm (VDI 2230-1).
func AssemblyTorque(t Thread, preload, mu, bearing, hole float64) float64 {
	head := (bearing + hole) / 4
	return preload * (0.16*t.Pitch + mu*(0.58*t.PitchDiameter+head))
}

// Engagement is a usual length of tapped thread and the force that strips it.
type Engagement struct {
	// Thread is the designation, such as "M8".
	Thread string
	// Length is the full thread in mm: 2·d.
	Length float64
	// StripForce in N strips the thread in EN AW-6060 T66, an estimate.
	StripForce float64
	Source     Source
}

var engagements = table("engagement.csv", func(r record) Engagement {
	return Engagement{
		Thread:     r.text("thread"),
		Length:     r.float("engagement_mm"),
		StripForce: 1000 * r.float("strip_force_kn"),
		Source:     r.source(),
	}
})

// ThreadEngagement returns the usual engagement in an aluminium core bore.
func ThreadEngagement(thread string) (Engagement, bool) {
	return find(engagements(), func(e Engagement) bool { return e.Thread == thread })
}

// ShearFactor is the shear strength of aluminium as a part of its tensile
// strength. Common practice, no source.
const ShearFactor = 0.6

// StripForce returns the force in N that strips a thread tapped over the given
// length in mm in a material with the given tensile strength in MPa: shear on
// [Thread.ShearArea]. An estimate; tolerances take 10 to 25 % off.
func StripForce(t Thread, engagement, ultimate float64) float64 {
	return ShearFactor * ultimate * t.ShearArea(engagement)
}
