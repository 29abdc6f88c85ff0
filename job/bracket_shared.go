package job

import (
	"fmt"

	"github.com/hashicorp/hcl/v2"

	"barwright/frame"
	"barwright/geom"
	"barwright/mesh/bracket"
)

// wantShared lists the parts that hold three bars, and notes the bracket blocks that asked for them as served.
func wantShared(f *frame.Frame, base bracket.Spec, served map[*frame.Bracket]bool) ([]*wanted, error) {
	var out []*wanted
	for _, s := range f.Shared {
		block := s.Block
		if block == nil {
			block = blockOf(f, s.Origin)
		}
		spec := base
		if block != nil {
			spec = blockSpec(block, base)
		}
		w := &wanted{name: s.Name(), shared: s, on: s.Bars[:], count: 1, origin: s.Origin}
		spec, mount, err := bracket.ForShared(s, spec)
		if err != nil {
			w.spec.Kind = s.Kind
			return nil, partProblem(f, w, err)
		}
		if block != nil && block.Kind != spec.Kind && !serves(block.Kind) {
			return nil, f.Problem(block.Origin, fmt.Sprintf("%s asks for a printed part %q at %s", block.Name, block.Kind, w.name),
				fmt.Sprintf("Both bars butt %s there, and two plates would run into each other. What fits is one %q: let a joint block join both with = %q, or a bracket block with on = [%s, %s, %s].",
					s.Bars[0].Name, spec.Kind, frame.PrintedPlate, s.Bars[0].Name, s.Bars[1].Name, s.Bars[2].Name))
		}
		served[block] = true
		w.spec, w.mount = spec, &mount
		out = append(out, w)
	}
	return out, nil
}

// serves reports whether parts of a kind hold three bars that meet.
func serves(kind string) bool {
	return kind == "plate-cross" || kind == "corner-inside" || kind == "corner-outside"
}

// blockOf returns the bracket block of a place in the file, or nil.
func blockOf(f *frame.Frame, at hcl.Range) *frame.Bracket {
	for _, b := range f.Brackets {
		if b.Origin == at {
			return b
		}
	}
	return nil
}

// setShared puts the screws of the joints that a part serves where the part holds them, each screw at one joint: a corner's at the
// joint on whose edge it sits, a plate's and a cap's at a joint of the bar that it goes into.
func setShared(s *frame.Shared, r *bracket.Result, mount geom.Motion) {
	for _, j := range s.Joints {
		j.Fasteners = nil
		setCorner(j, r)
	}
	for _, x := range r.Screws {
		seat, dir := mount.Apply(x.Seat), mount.Turn(x.Dir)
		tip := seat.Add(dir.Scale(x.Length))
		bar := s.Bars[0]
		for _, m := range s.Bars[1:] {
			if off(m, tip) < off(bar, tip) {
				bar = m
			}
		}
		if j := jointOf(s, bar, seat, mount); j != nil {
			j.Fasteners = append(j.Fasteners, slotFastener(x, seat, dir, bar))
		}
	}
}

// jointOf returns the joint that a screw into a bar belongs to.
func jointOf(s *frame.Shared, bar *frame.Member, seat geom.Vec, mount geom.Motion) *frame.Joint {
	var best *frame.Joint
	if s.Kind == "corner-inside" {
		for _, j := range s.Joints {
			if j.Corner != nil && (best == nil || j.Corner.At.Dist(seat) < best.Corner.At.Dist(seat)) {
				best = j
			}
		}
		return best
	}
	// A bar that butts is its own joint's; the bar under a plate that two joints have in common is shared out along it.
	var of []*frame.Joint
	for _, j := range s.Joints {
		if j.A == bar {
			of = append(of, j)
		}
	}
	if of == nil {
		for _, j := range s.Joints {
			if j.B == bar {
				of = append(of, j)
			}
		}
	}
	if s.Kind == "plate-cross" && len(of) > 1 {
		if seat.Sub(mount.T).Dot(bar.Direction()) < 0 {
			return of[1]
		}
		return of[0]
	}
	for _, j := range of {
		if best == nil || len(j.Fasteners) < len(best.Fasteners) {
			best = j
		}
	}
	return best
}
