package job

import (
	"fmt"
	"math"
	"slices"

	"barwright/frame"
	"barwright/geom"
	"barwright/mesh/bracket"
)

// printedBodies returns the places of one part as the design rules see them. Its screws go into the bars that it sits on.
func printedBodies(f *frame.Frame, group []*wanted, r *bracket.Result, mark string) ([]*frame.PrintedBody, error) {
	var out []*frame.PrintedBody
	pieces := r.Pieces()
	for _, w := range group {
		if w.mount == nil {
			continue
		}
		b := &frame.PrintedBody{Name: fmt.Sprintf("printed %s %s (%s)", r.Kind, mark, w.name), Kind: r.Kind, Joints: w.joints(), Squeeze: r.Squeeze(), Origin: w.origin}
		b.On = w.bars(f, r)
		if len(b.On) == 0 {
			return nil, f.Problem(w.origin, fmt.Sprintf("The printed part %s for %s touches no bar", r.Kind, w.name), "Its bars must meet with their faces in one plane.")
		}
		for i := range pieces {
			b.Pieces = append(b.Pieces, pieces[i].Move(*w.mount))
		}
		if len(b.Joints) == 0 {
			b.Screws = w.screws(b.On, r)
		}
		out = append(out, b)
	}
	return out, nil
}

// joints returns the joints that a part serves.
func (w *wanted) joints() []*frame.Joint {
	switch {
	case w.shared != nil:
		return w.shared.Joints
	case w.joint == nil:
		return nil
	}
	return []*frame.Joint{w.joint}
}

// bars returns the bars that a part sits on: those that it was asked for, else those that its faces touch.
func (w *wanted) bars(f *frame.Frame, r *bracket.Result) []*frame.Member {
	switch {
	case w.joint != nil:
		return []*frame.Member{w.joint.A, w.joint.B}
	case len(w.on) > 0:
		return w.on
	}
	var out []*frame.Member
	for _, c := range r.Contacts {
		if m := touched(f.Members, w.mount.Apply(c.At), w.mount.Turn(c.Toward)); m != nil && !slices.Contains(out, m) {
			out = append(out, m)
		}
	}
	return out
}

// touched returns the bar whose side has a point on it and looks back along a direction, or nil.
func touched(bars []*frame.Member, at, toward geom.Vec) *frame.Member {
	const play = 0.05
	for _, m := range bars {
		s := m.SideFacing(toward.Scale(-1))
		if m.SideNormal(s).Dot(toward) > -1+1e-6 || math.Abs(m.SidePoint(s, 0, 0, 0).Sub(at).Dot(toward)) > play || off(m, at) > play {
			continue
		}
		return m
	}
	return nil
}

// screws returns the screws of a part that serves no joint, each in the bar that its tip lies in.
func (w *wanted) screws(on []*frame.Member, r *bracket.Result) []frame.Fastener {
	var out []frame.Fastener
	for _, s := range r.Screws {
		seat, dir := w.mount.Apply(s.Seat), w.mount.Turn(s.Dir)
		tip := seat.Add(dir.Scale(s.Length))
		bar := on[0]
		for _, m := range on[1:] {
			if off(m, tip) < off(bar, tip) {
				bar = m
			}
		}
		k := frame.Fastener{Item: s.Item(), Standard: s.Standard, Thread: s.Thread, Length: s.Length, Key: s.Key, Seat: seat, Dir: dir, TipIn: bar, TipEnd: -1, Printed: true}
		if s.Into == "core" {
			k.TipEnd = 0
			if bar.Direction().Dot(dir) < 0 {
				k.TipEnd = 1
			}
		} else {
			k.SlotNut, k.HeadSide = true, bar.SideFacing(dir.Scale(-1))
		}
		out = append(out, k)
	}
	return out
}
