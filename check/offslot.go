package check

import (
	"fmt"
	"math"

	"barwright/frame"
	"barwright/geom"
	"barwright/standard"
)

func offSlotRule() Rule {
	return Rule{Name: "off-slot", run: offSlots, Explain: `off-slot (warning; error where nothing else joins the end, or a head falls through)

A screw into the end of a bar is wanted, but it can't be: the end's core axis meets no slot's centre line of the
other bar (by how many millimetres is said), the face that it meets is closed, the slot is too narrow for the screw, too
narrow or too shallow for its head, or so wide that the head passes between its lips. The program takes the frame's
other joining (joining_else), which may not be what you meant.

Also found: a printed corner that is wanted where no third bar meets; a bracket or plate between slots of different widths, which no one bought bracket fits; and a panel whose
bars have no slot in one plane.

A second bar beside an end that is screwed elsewhere already gives no finding.

Remedy: move the bar until its middle lies on the slot, use one slot width, or say the joining that you want with a
joint block.`}
}

func offSlots(m *model) []Finding {
	joined := map[*frame.Contact]bool{}
	ends := map[*frame.Member][2]bool{}
	for _, j := range m.f.Joints {
		joined[j.Contact] = true
		if j.EndA >= 0 {
			e := ends[j.A]
			e[j.EndA] = true
			ends[j.A] = e
		}
	}
	var out []Finding
	for _, c := range m.f.Contacts {
		if g, ok := offSlot(c, joined[c], ends[c.A]); ok {
			out = append(out, g)
		}
	}
	for _, j := range m.f.Joints {
		out = append(out, slotWidths(j)...)
	}
	return append(out, m.panelLines()...)
}

// offSlot finds a wanted screw into an end that does not fit.
func offSlot(c *frame.Contact, joined bool, ends [2]bool) (Finding, bool) {
	if c.Misfit == "" || c.Kind != frame.EndToSide || !c.A.Bar.Cuts[c.EndA].Square() || c.Wanted == nil {
		return Finding{}, false
	}
	if c.Wanted.Method == frame.ThreeWay {
		return noCorner(c, joined), true
	}
	if c.Wanted.Method != frame.EndScrew && c.Wanted.Method != frame.ThroughScrew {
		return Finding{}, false
	}
	if !joined && ends[c.EndA] {
		return Finding{}, false
	}
	g := Finding{Severity: Warning, Members: names(c.A, c.B), At: c.Patch.Centre(), Origin: c.A.Origin,
		Message: fmt.Sprintf("%s cannot be screwed to %s by its %s end, tapped %s: %s", c.A.Name, c.B.Name, endName(c.A, c.EndA), c.A.Bar.Profile.Thread, c.Misfit),
		Remedy:  "move one of the two until the middle of the end lies on a slot, or name another joining in a joint block"}
	if !joined {
		g.Severity = Error
		g.Message += "; no other joining serves"
	}
	return g, true
}

// noCorner writes the finding of two bars that a printed corner should join, with no third in the corner.
func noCorner(c *frame.Contact, joined bool) Finding {
	g := Finding{Severity: Warning, Members: names(c.A, c.B), At: c.Patch.Centre(), Origin: c.A.Origin,
		Message: fmt.Sprintf("no printed corner joins %s and %s: %s", c.A.Name, c.B.Name, c.Misfit),
		Remedy:  fmt.Sprintf("joint { between = [%s, %s], with = \"printed-angle\" }, or give the third rail of the corner the same joining", c.A.Name, c.B.Name)}
	if !joined {
		g.Severity = Error
		g.Message += "; no other joining serves"
	}
	return g
}

// slotWidths finds joints whose parts do not fit both slots.
func slotWidths(j *frame.Joint) []Finding {
	a, b := j.A.Bar.Profile.Slot.Opening, j.B.Bar.Profile.Slot.Opening
	if j.With.Method == frame.AngleBracket || j.With.Method == frame.Plate {
		if math.Abs(a-b) <= 1 || j.Misfit != "" && j.Kind == frame.EndToSide {
			return nil
		}
		return []Finding{{Severity: Warning, Members: names(j.A, j.B), At: j.At, Origin: j.Origin,
			Message: fmt.Sprintf("the slots of %s and %s are %s and %s mm wide: a bracket for one does not fit the other by %s mm", j.A.Name, j.B.Name, mm(a), mm(b), mm(math.Abs(a-b))),
			Remedy:  "join bars of one slot width, or print a bracket for the two"}}
	}
	var out []Finding
	for i := range j.Fasteners {
		s := &j.Fasteners[i]
		screw, ok := standard.ScrewOf(s.Standard, s.Thread)
		if !s.InSlot || !ok || headContact(screw) > b {
			continue
		}
		out = append(out, Finding{Severity: Error, Members: names(j.A, j.B), At: s.Seat, Origin: j.Origin,
			Message: fmt.Sprintf("the head of a screw %s is %s mm wide and passes the slot of %s, %s mm wide: it holds nothing", s.Thread, mm(headContact(screw)), j.B.Name, mm(b)),
			Remedy:  "use bars of one slot width, or another joining"})
	}
	return out
}

// headContact returns the diameter to which a head bears, the smallest that its standard allows.
func headContact(s standard.Screw) float64 {
	for _, d := range []float64{s.BearingDiameter, s.HeadDiameterMin, s.HeadDiameter} {
		if d > 0 {
			return d
		}
	}
	return 0
}

// panelLines finds panels whose bars have no slots in one plane.
func (m *model) panelLines() []Finding {
	var out []Finding
	for _, p := range m.f.Panels {
		s, ok := newSheet(p, m.box.Centre())
		if ok && s.lines {
			continue
		}
		g := Finding{Severity: Error, Members: names(p.HeldBy...), At: geom.Vec{}, Origin: p.Origin,
			Message: fmt.Sprintf("the bars that hold panel %q have no slots in one plane within %s mm", p.Name, mm(slotPlay)),
			Remedy:  "move the bars until their slots lie in one plane, or screw the panel on outside: screwed = true"}
		if ok {
			g.At = s.open.Centre()
		}
		out = append(out, g)
	}
	return out
}
