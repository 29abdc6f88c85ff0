package job

import (
	"math"
	"slices"

	"barwright/frame"
	"barwright/geom"
	"barwright/mesh/bracket"
)

// printedFittings returns a printed part in its place and what holds it, as they weigh on the frame. The part is taken as printed solid, its
// mass in the middle of its volume.
func printedFittings(f *frame.Frame, r *bracket.Result, name string, mount geom.Motion) []frame.Fitting {
	at := r.Place.Then(mount).Apply(r.Mesh.Centroid())
	on := heldBy(f, r, mount, at)
	out := []frame.Fitting{{Kind: frame.PrintedFitting, Name: name, Kg: r.Mass, At: at, On: on}}
	for _, h := range r.Hardware() {
		if kg := h.Kg() * float64(h.Quantity); kg > 0 {
			out = append(out, frame.Fitting{Kind: frame.HardwareFitting, Name: h.Item + " " + h.Size, Kg: kg, At: at, On: on})
		}
	}
	return out
}

// heldBy returns the bars that a part's screws go into, in the order of the frame; of a part without screws the bar that it lies nearest to.
func heldBy(f *frame.Frame, r *bracket.Result, mount geom.Motion, at geom.Vec) []*frame.Member {
	var out []*frame.Member
	hold := func(p geom.Vec) {
		if m := nearestBar(f, p); m != nil && !slices.Contains(out, m) {
			out = append(out, m)
		}
	}
	for _, s := range r.Screws {
		hold(mount.Apply(s.Seat.Add(s.Dir.Scale(s.Length))))
	}
	if len(out) == 0 {
		hold(at)
	}
	slices.SortFunc(out, func(a, b *frame.Member) int { return slices.Index(f.Members, a) - slices.Index(f.Members, b) })
	return out
}

// nearestBar returns the bar that a point lies in, or nearest to.
func nearestBar(f *frame.Frame, p geom.Vec) *frame.Member {
	var best *frame.Member
	least := math.Inf(1)
	for _, m := range f.Members {
		if d := off(m, p); d < least {
			best, least = m, d
		}
	}
	return best
}
