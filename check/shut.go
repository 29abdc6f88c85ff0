package check

import (
	"fmt"

	"barwright/frame"
	"barwright/geom"
)

func slotShutRule() Rule {
	return Rule{Name: "slot-shut", run: slotsShut, Explain: `slot-shut (warning; error where the slot is too short)

A nut or screw head must slide into its slot, and there is no end of the slot from which it could come in any order of
building. Heads and nuts may be put in before the bars around stand, so that a slot that closes late is no finding.
There is no such order where

- both ends of the slot are covered by bars of the same group as the bar itself (a group without travel is built as one
  before it meets the rest), and the joint is with a bar outside of the group: then the slot is shut when the joint is
  made. Heads and nuts that are put in and left waiting while the group is built would do, which is easily forgotten;
- the bar is shorter than the nut or head.

A bar covers the end of a slot when it stands within the length of the nut or head in front of the slot's cavity.

Remedy: leave one end of the slot free, take the covering bar out of the group, or use a bracket elsewhere.`}
}

func slotsShut(m *model) []Finding {
	var out []Finding
	items := m.slotItems()
	for k := range items {
		i := &items[k]
		if !i.slides || len(out) > mostFindings {
			continue
		}
		if i.bar.Length() < 2*i.half {
			who := names(i.bar)
			if i.joint != nil {
				who = names(i.bar, other(i.joint, i.bar))
			}
			out = append(out, Finding{Severity: Error, Members: who, At: i.place(), Origin: i.origin,
				Message: fmt.Sprintf("%s is %s mm long, its slot in %s only %s mm: it can't be held there, %s mm are missing", i.what, mm(2*i.half), i.bar.Name, mm(i.bar.Length()), mm(2*i.half-i.bar.Length())),
				Remedy:  "make the bar longer, or join it by its end"})
			continue
		}
		if i.joint == nil {
			continue // a printed part's nuts go in before it
		}
		group := i.bar.Group
		partner := other(i.joint, i.bar)
		if group == nil || group.Travel != nil || partner.Group == group {
			continue
		}
		var covers []*frame.Member
		for end := range 2 {
			if c := m.cover(i, end); c != nil {
				covers = append(covers, c)
			}
		}
		if len(covers) < 2 {
			continue
		}
		out = append(out, Finding{Severity: Warning, Members: names(i.bar, partner, covers[0], covers[1]), At: i.place(), Origin: i.origin,
			Message: fmt.Sprintf("%s can't get into the %s slot of %s once group %q is built: %s and %s shut both its ends, 1 free end is needed",
				i.what, sideName(i.bar, i.side), i.bar.Name, group.Name, covers[0].Name, covers[1].Name),
			Remedy: fmt.Sprintf("take %s or %s out of the group, put the nut in while the group is built, or join elsewhere", covers[0].Name, covers[1].Name)})
	}
	return out
}

// place returns the point of the frame where the thing is.
func (i *slotItem) place() geom.Vec {
	return i.bar.SidePoint(i.side, i.z, i.line, i.bar.Bar.Profile.Slot.Lip)
}

// cover returns a bar of the same group that stands before an end of the thing's slot, or nil.
func (m *model) cover(i *slotItem, end int) *frame.Member {
	p := i.bar.Bar.Profile
	z := i.bar.Bar.Plane(end)
	out := i.bar.Direction()
	if end == 0 {
		out = out.Scale(-1)
	}
	box := geom.EmptyBox()
	half := p.Slot.Cavity/2 - geom.Coincident
	for _, offset := range []float64{-half, half} {
		for _, depth := range []float64{p.Slot.Lip + geom.Coincident, p.Slot.Depth - geom.Coincident} {
			at := i.bar.SidePoint(i.side, z, i.line+offset, depth)
			box = box.Extend(at.Add(out.Scale(geom.Coincident))).Extend(at.Add(out.Scale(2 * i.half)))
		}
	}
	for _, k := range m.tree.near(box) {
		b := m.f.Members[k]
		if b == i.bar || b.Group != i.bar.Group {
			continue
		}
		if b.Brace {
			// Much of a diagonal's outer box is empty.
			room := boxPrism(box)
			if v, _ := shared(&room, &m.bars[k]); v < leastOverlap {
				continue
			}
		}
		return b
	}
	return nil
}
