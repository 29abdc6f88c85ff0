package assembly

import (
	"fmt"
	"math"

	"barwright/frame"
	"barwright/geom"
	"barwright/standard"
)

// Torque is how hard the screws of one kind are tightened.
type Torque struct {
	Thread string
	Key    float64 // hex key across flats, mm
	Length float64 // nominal length of the screw, mm
	Item   string
	Count  int
	// NM is the torque in N·m, rounded down to a half.
	NM float64
	// Preload is what it gives, N.
	Preload float64
	// Limit names what keeps it under the screw's own figure.
	Limit  string
	Source string
	Joints []*frame.Joint // in the order of tightening
}

// Limits of tightening. The pressure lies under the yield strength of EN AW-6060 T66 (common practice, no source); half of the
// force that strips the thread is kept free (common practice, no source).
const (
	mostPressure = 150.0 // MPa
	stripShare   = 0.5
	headShare    = 0.95 // of a button head's diameter that bears: ISO 7380-1 gives no bearing face (common practice, no source)
	friction     = 0.14
	plasticShare = 0.25 // of what metal under the head would stand (common practice, no source)
	screwClass   = "8.8"
)

// TorqueFor returns the torque of a screw: the least of what its class 8.8 stands by VDI 2230-1 with dry threads (a button head
// four fifths of it, ISO 7380-1), what the thread in the aluminium holds by half, and what presses the aluminium with 150 MPa
// on the face that really touches: behind a slot's lips only the two sides of the opening; on a printed part a quarter of that. It returns false for a thread without figures.
func TorqueFor(s *frame.Fastener) (Torque, bool) {
	full, ok := standard.TighteningTorque(s.Thread, screwClass, friction)
	t, ok2 := standard.ThreadByName(s.Thread)
	screw, ok3 := standard.ScrewOf(s.Standard, s.Thread)
	if !ok || !ok2 || !ok3 {
		return Torque{}, false
	}
	out := Torque{Thread: s.Thread, Key: s.Key, Length: s.Length, Item: s.Item,
		Preload: full.Preload, Limit: "the screw", Source: "VDI 2230-1:2015 at 90 % of yield, class 8.8, friction 0.14"}
	if s.Standard == "ISO 7380-1" {
		out.Preload, out.Limit = full.Preload*standard.ButtonHeadFactor, "the button head"
		out.Source += "; button head 0.8 of it (ISO 7380-1)"
	}
	lower := func(v float64, limit, source string) {
		if v < out.Preload {
			out.Preload, out.Limit = v, limit
			out.Source += "; " + source
		}
	}
	bearing := screw.BearingDiameter
	if bearing == 0 {
		bearing = screw.HeadDiameter * headShare
	}
	hole := t.Nominal * 1.1
	if s.InSlot {
		hole = s.HeadIn.Bar.Profile.Slot.Opening
		lower(mostPressure*lipArea(bearing/2, hole/2), "the slot's lips", "150 MPa on the lips under the head, common practice, no source")
	} else {
		if row, ok := standard.BearingTorque(s.Thread); ok {
			lower(row.Preload, "the face under the head", "150 MPa under a bare head, common practice, no source")
		}
		lower(mostPressure*math.Pi/4*(bearing*bearing-hole*hole), "the face under the head", "150 MPa under the head, common practice, no source")
	}
	if !s.SlotNut && s.TipIn != nil {
		engaged := s.Length
		if s.InSlot {
			engaged -= s.HeadIn.Bar.Profile.Slot.Lip
		} else if s.HeadIn != nil {
			engaged = min(2*t.Nominal, s.Length)
		}
		lower(stripShare*standard.StripForce(t, engaged, ultimate(s.TipIn.Bar.Profile)), "the thread in the aluminium",
			"half of what strips the tapped thread (FED-STD-H28), an estimate")
	}
	if s.SlotNut {
		slot := s.TipIn.Bar.Profile.Slot
		lower(mostPressure*2*t.Nominal*(slot.Cavity*0.9-slot.Opening), "the slot's lips", "150 MPa on the lips over the nut, common practice, no source")
	}
	if s.Printed {
		lower(plasticShare*out.Preload, "the plastic under the head", "a quarter on plastic, which creeps, common practice, no source")
	}
	nmm := standard.AssemblyTorque(t, out.Preload, friction, bearing, min(hole, bearing*0.9))
	out.NM = math.Floor(nmm/500) / 2
	return out, true
}

// ultimate returns the tensile strength of a profile's alloy, MPa.
func ultimate(p *geom.Profile) float64 {
	if a, ok := standard.Alloy(p.Alloy); ok {
		return a.Ultimate
	}
	a, _ := standard.Alloy(geom.DefaultAlloy)
	return a.Ultimate
}

// lipArea returns the area in mm² of a round head behind an opening: its disc less the strip over the opening.
func lipArea(r, half float64) float64 {
	if half >= r {
		return 0
	}
	return 2 * (r*r*math.Acos(half/r) - half*math.Sqrt(r*r-half*half))
}

// String returns the torque as a sheet writes it.
func (t Torque) String() string {
	return fmt.Sprintf("%s × %g, key %s: %s N·m", t.Thread, t.Length, fixed(t.Key, 1), fixed(t.NM, 1))
}

// torquesOf returns the torques of joints, the joints of each kind in their order.
func torquesOf(joints []*frame.Joint) []Torque {
	var out []Torque
	for _, j := range joints {
		for i := range j.Fasteners {
			s := &j.Fasteners[i]
			t, ok := TorqueFor(s)
			if !ok {
				continue
			}
			at := -1
			for k := range out {
				if out[k].Thread == t.Thread && out[k].Length == t.Length && out[k].NM == t.NM && out[k].Item == t.Item {
					at = k
				}
			}
			if at < 0 {
				at = len(out)
				out = append(out, t)
			}
			out[at].Count++
			if n := len(out[at].Joints); n == 0 || out[at].Joints[n-1] != j {
				out[at].Joints = append(out[at].Joints, j)
			}
		}
	}
	return out
}
