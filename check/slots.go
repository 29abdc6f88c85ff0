package check

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"barwright/frame"
	"barwright/geom"
	"barwright/standard"

	"github.com/hashicorp/hcl/v2"
)

func slotCrowdedRule() Rule {
	return Rule{Name: "slot-crowded", run: slotsCrowded, Explain: `slot-crowded (error; warning where a panel is in the way)

Two things need the same piece of a slot: screw heads, slot nuts, screws that pass the slot, the nuts of a foot's slot plate,
the edge of a panel, ribs, legs, tongues and pegs of printed parts. A head is as long as its diameter; a slot nut is taken as long as the slot's cavity is wide (common
practice, no source). The corners of a panel are notched: what lies outside of the opening that it closes gives no
finding.

Remedy: move one of the joints along the slot by what is said, or use another side of the bar.`}
}

// slotItem is a thing in a slot.
type slotItem struct {
	bar    *frame.Member
	side   geom.Side
	line   float64 // offset of the slot on the side
	z      float64
	half   float64 // of its length along the slot
	from   float64 // depth under the face at which it begins and ends
	to     float64
	what   string
	slides bool // it must slide in from an end of the slot
	joint  *frame.Joint
	panel  *frame.Panel
	body   *body // the printed part that it belongs to
	origin hcl.Range
}

// slotKey names one slot.
type slotKey struct {
	bar  int
	side geom.Side
	line int64
}

func (m *model) slotKey(i *slotItem) slotKey {
	return slotKey{m.index[i.bar], i.side, int64(math.Round(i.line * 10))}
}

// slotItems returns everything that stands in slots, by slot and place.
func (m *model) slotItems() []slotItem {
	if m.slots == nil {
		m.slots = m.findSlotItems()
	}
	return m.slots
}

// findSlotItems finds everything that stands in slots.
func (m *model) findSlotItems() []slotItem {
	var out []slotItem
	for _, j := range m.f.Joints {
		for i := range j.Fasteners {
			out = append(out, jointItems(j, &j.Fasteners[i])...)
		}
	}
	for _, t := range m.f.Feet {
		if t.On != frame.FootSlotPlate {
			continue
		}
		side := t.Under.SideFacing(geom.Vec{Z: -1})
		if i, ok := itemAt(t.Under, side, t.At); ok {
			i.half, i.what, i.origin = t.Under.Bar.Profile.Pitch/2, "the slot plate of the foot under "+t.Under.Name, t.Origin
			out = append(out, i)
		}
	}
	for _, p := range m.f.Panels {
		out = append(out, m.panelItems(p)...)
	}
	for i := range out {
		if out[i].to == 0 {
			out[i].to = math.Inf(1)
		}
	}
	if len(m.f.Printed) > 0 {
		out = append(out, m.printedItems()...)
	}
	slices.SortStableFunc(out, func(a, b slotItem) int {
		ka, kb := m.slotKey(&a), m.slotKey(&b)
		return cmp.Or(cmp.Compare(ka.bar, kb.bar), cmp.Compare(ka.side, kb.side), cmp.Compare(ka.line, kb.line), cmp.Compare(a.z-a.half, b.z-b.half))
	})
	return out
}

// itemAt returns a thing in the slot nearest to a point.
func itemAt(b *frame.Member, side geom.Side, at geom.Vec) (slotItem, bool) {
	z, offset := on(b, side, at)
	lines := b.Bar.Profile.SlotLines(side)
	if len(lines) == 0 {
		return slotItem{}, false
	}
	line := lines[0]
	for _, l := range lines {
		if math.Abs(l-offset) < math.Abs(line-offset) {
			line = l
		}
	}
	return slotItem{bar: b, side: side, line: line, z: z}, true
}

// nutHalf returns half the length of a slot nut in a bar.
func nutHalf(b *frame.Member) float64 { return b.Bar.Profile.Slot.Cavity / 2 }

// jointItems returns what one screw of a joint puts into slots.
func jointItems(j *frame.Joint, s *frame.Fastener) []slotItem {
	var out []slotItem
	add := func(b *frame.Member, side geom.Side, half float64, what string, slides bool) {
		if i, ok := itemAt(b, side, s.Seat); ok {
			i.half, i.what, i.slides, i.joint, i.origin = half, what, slides, j, j.Origin
			if slides {
				i.from = b.Bar.Profile.Slot.Lip // nuts and heads in the slot lie behind its lips
			}
			out = append(out, i)
		}
	}
	pair := fmt.Sprintf("%s on %s", j.A.Name, j.B.Name)
	screw, _ := standard.ScrewOf(s.Standard, s.Thread)
	switch {
	case s.SlotNut:
		add(s.TipIn, s.HeadSide, nutHalf(s.TipIn), fmt.Sprintf("the slot nut %s in %s for %s", s.Thread, s.TipIn.Name, pair), true)
	case s.InSlot:
		add(s.HeadIn, s.HeadSide, screw.HeadDiameterMax/2, fmt.Sprintf("the screw head %s of %s", s.Thread, pair), true)
	case s.HeadIn != nil:
		row, _ := standard.ThreadByName(s.Thread)
		add(s.HeadIn, s.HeadSide, screw.HeadDiameterMax/2, fmt.Sprintf("the screw head %s of %s", s.Thread, pair), false)
		add(s.HeadIn, s.HeadSide.Opposite(), row.Nominal/2, fmt.Sprintf("the screw %s of %s", s.Thread, pair), false)
	}
	return out
}

// panelItems returns the edges of a panel that stand in slots, without their notches.
func (m *model) panelItems(p *frame.Panel) []slotItem {
	s, ok := newSheet(p, m.box.Centre())
	if !ok || p.Screwed || !s.lines {
		return nil
	}
	var out []slotItem
	middle := s.open.Centre()
	for _, b := range p.HeldBy {
		ax := geom.Axis(3 - int(s.normal) - int(b.Axis))
		d := ax.Unit()
		if b.Box.Centre().Along(ax) > middle.Along(ax) {
			d = d.Scale(-1)
		}
		for _, span := range s.spans(b) {
			i, ok := itemAt(b, b.SideFacing(d), middle.With(b.Axis, (span[0]+span[1])/2))
			if !ok {
				continue
			}
			i.half = (span[1] - span[0]) / 2
			i.what, i.panel, i.origin = fmt.Sprintf("the edge of panel %q", p.Name), p, p.Origin
			out = append(out, i)
		}
	}
	return out
}

func slotsCrowded(m *model) []Finding {
	items := m.slotItems()
	var out []Finding
	for i := range items {
		a := &items[i]
		for k := i + 1; k < len(items) && len(out) <= mostFindings; k++ {
			b := &items[k]
			if m.slotKey(a) != m.slotKey(b) {
				break
			}
			both := a.z + a.half - (b.z - b.half)
			if both <= geom.Coincident {
				if a.panel == nil {
					break // sorted by where they begin: all further ones begin later
				}
				continue
			}
			if math.Min(a.to, b.to)-math.Max(a.from, b.from) > slotPlay && !a.apart(b) {
				out = append(out, m.crowded(a, b, both))
			}
		}
	}
	return out
}

// apart reports whether two things are no pair for this rule: both of one part, or a printed part's own shape and that of another or a
// panel's edge, which are compared as solids.
func (i *slotItem) apart(o *slotItem) bool {
	shape := func(x *slotItem) bool { return x.panel != nil || x.body != nil && !x.slides && x.what == x.body.name }
	switch {
	case i.body == nil && o.body == nil:
		return false
	case i.body == o.body:
		return true
	case o.body != nil && o.body.serves(i.joint), i.body != nil && i.body.serves(o.joint):
		return true
	}
	return shape(i) && shape(o)
}

// crowded writes the finding of two things in one piece of a slot.
func (m *model) crowded(a, b *slotItem, both float64) Finding {
	who := []*frame.Member{a.bar}
	for _, i := range []*slotItem{a, b} {
		if i.joint == nil && i.body != nil {
			for _, o := range i.body.owners {
				if !slices.Contains(who, o) {
					who = append(who, o)
				}
			}
		}
		if i.joint == nil {
			continue
		}
		for _, o := range []*frame.Member{i.joint.A, i.joint.B} {
			if !slices.Contains(who, o) {
				who = append(who, o)
			}
		}
	}
	g := Finding{Severity: Error, Members: names(who...), At: a.bar.SidePoint(a.side, (a.z+b.z)/2, a.line, a.bar.Bar.Profile.Slot.Lip), Origin: b.origin,
		Message: fmt.Sprintf("%s and %s need the same piece of the %s slot of %s: they lie %s mm apart, %s mm are needed, %s more", a.what, b.what,
			sideName(a.bar, a.side), a.bar.Name, mm(math.Abs(a.z-b.z)), mm(a.half+b.half), mm(a.half+b.half-math.Abs(a.z-b.z))),
		Remedy: fmt.Sprintf("move one of them along the slot by %s mm at least, or use another side", mm(a.half+b.half-math.Abs(a.z-b.z)))}
	if a.panel != nil || b.panel != nil {
		g.Severity = Warning
		g.Message = fmt.Sprintf("%s and %s need the same piece of the %s slot of %s: %s mm of the panel's edge are in the way", a.what, b.what,
			sideName(a.bar, a.side), a.bar.Name, mm(math.Min(both, 2*math.Min(a.half, b.half))))
		g.Remedy = "notch the panel there, or use another side of the bar"
	}
	return g
}
