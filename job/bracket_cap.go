package job

import (
	"math"

	"barwright/frame"
	"barwright/standard"
)

// tongues returns the parameters of a cap on a bar's end. Where no depth is given and the usual tongues would meet a screw's head or a
// slot nut in a slot of the bar, they are shortened to end before it, as long as enough of them is left to hold.
func tongues(f *frame.Frame, m *frame.Member, end int, given map[string]float64) map[string]float64 {
	const clear, step, least = 0.5, 0.5, 4.0
	if _, ok := given["depth"]; ok || given["hold"] != 0 {
		return given
	}
	usual := paramDefault("end-cap", "depth")
	depth := usual
	for _, j := range f.Joints {
		if j.A != m && j.B != m {
			continue
		}
		for i := range j.Fasteners {
			x := &j.Fasteners[i]
			screw, ok := standard.ScrewOf(x.Standard, x.Thread)
			half := screw.HeadDiameterMax / 2
			switch {
			case x.SlotNut && x.TipIn == m:
				half = m.Bar.Profile.Slot.Cavity / 2
			case !x.InSlot || x.HeadIn != m || !ok:
				continue
			}
			from := math.Abs(m.Place.Unapply(x.Seat).Z - m.Bar.Plane(end))
			depth = math.Min(depth, math.Floor((from-half-clear)/step)*step)
		}
	}
	if depth >= usual || depth < least {
		return given // the design rules tell where there is no room
	}
	out := map[string]float64{"depth": depth}
	for n, v := range given {
		out[n] = v
	}
	return out
}
