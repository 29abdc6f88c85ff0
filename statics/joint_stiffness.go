package statics

import (
	"math"

	"barwright/frame"
	"barwright/standard"
)

// How much a joint gives is the least certain figure of a frame of slotted bars: it hangs on how tight the screw is, on the
// lips of the slot, and on the fit of the cut. The figures here are estimates from the parts' sizes, no source: a
// screw and the lips that it pulls on are a spring (lipStiffness), which a turn of the joint strains at an arm of half
// the bar. They err on the soft side.
//
// To measure one: screw a bar 500 mm long to a heavy clamped bar, pull at its tip with a spring balance, and
// read the tip's shift with a dial gauge. Take off P·L³/(3·E·I) of the bar itself; the rest, δ, is P·L²/k, so that
// k = P·L²/δ. Give it in [Options.Joints].

// lipStiffness is the spring of a tightened screw with the lips it holds, N/mm, by thread (estimate, no source: lips of some
// 2 mm over a contact of two to three diameters, in line with a screw of two diameters' grip).
func lipStiffness(thread string) float64 {
	t, ok := standard.ThreadByName(thread)
	if !ok {
		return 4e4
	}
	return 6500 * t.Nominal
}

// shiftStiffness holds the shifts of a tightened joint: stiff against anything a bar does, N/mm.
const shiftStiffness = 1e6

// JointStiffness is how a joint resists turns of the butting bar about its own axis and across it, N·mm/rad.
type JointStiffness struct{ Twist, Bend float64 }

// printedShare is the stiffness of a joint by a printed part over that by one of metal.
const printedShare = 0.1

// EstimateJoint estimates the stiffness of a joint by its method, its screws and the size of the bar. It is an
// estimate: see the measure beside it.
func EstimateJoint(j *frame.Joint) JointStiffness {
	size := j.A.Profile.Size()
	arm := math.Min(size.X, size.Y) / 2
	k := lipStiffness(j.Size.Screw)
	n := float64(max(1, len(j.Fasteners)))
	bend := k * arm * arm
	if j.With.Printed {
		// Plastic gives where a screw's lips do not: a tenth (common practice, no source).
		bend *= printedShare
	}
	switch j.With.Method {
	case frame.EndScrew, frame.ThroughScrew:
		// Screws side by side also work against each other at their distance, one pitch.
		bend *= n
		if n > 1 {
			bend += k * j.A.Profile.Pitch * j.A.Profile.Pitch * n * (n - 1) / 4
		}
		return JointStiffness{Twist: bend / 2, Bend: bend}
	case frame.Plate:
		// Two screws on each bar, a pitch apart.
		return JointStiffness{Twist: 2 * bend, Bend: 3 * bend}
	}
	// A bracket holds one screw on each bar at about a bar's width from the corner.
	return JointStiffness{Twist: bend, Bend: 2 * bend}
}

// HowToMeasure says how a joint's stiffness is measured; it is printed where an estimate was used.
const HowToMeasure = "To measure a joint: screw a bar 500 mm long to a heavy clamped bar, pull at its tip across with a spring balance (P), " +
	"and read the tip's shift with a dial gauge. Take off what the bar itself bends, P·L³/(3·E·I). The rest, δ, gives the stiffness P·L²/δ in N·mm/rad."
