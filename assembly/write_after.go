package assembly

import (
	"fmt"
	"strings"

	"barwright/frame"
	"barwright/geom"
	"barwright/standard"
)

// writeTurn says how what stands is turned.
func (b *builder) writeTurn(s *Step) {
	side := frame.DirectionName(s.Down)
	if s.Down.Z < -0.9 {
		s.say("Set the frame upright: tilt it over its lower edge, do not lift it. It weighs %s kg now.", fixed(s.Mass, 1))
	} else {
		s.say("Turn what stands so that the frame's %s side lies on the table. It weighs %s kg now.", side, fixed(s.Mass, 1))
	}
	b.warnLift(s, s.ctx)
	s.Turn.People = s.People
	if s.People < 2 && s.ctx.count() > 3 {
		s.say("One person can do it; a second keeps the loose joints from folding.")
	}
	s.warn("The joints are loose and can fold: keep fingers out of the corners and off the ends while it turns.")
}

// writeFeet says how feet are fitted.
func (b *builder) writeFeet(s *Step) {
	type kind struct{ on, thread string }
	var kinds []kind
	under := map[kind][]string{}
	for _, f := range s.Feet {
		k := kind{f.On, f.Thread}
		if under[k] == nil {
			kinds = append(kinds, k)
		}
		under[k] = append(under[k], f.Under.Name)
	}
	for _, k := range kinds {
		if k.on == frame.FootPostEnd {
			s.say("Run a lock nut %s onto each stud and screw the feet into the tapped lower ends of %s, far enough that 10 mm of thread stay free for levelling.", k.thread, words(under[k]))
			continue
		}
		s.say("Screw the slot plates under %s onto the slot nuts that hang ready there, then the feet %s with lock nuts into the plates. The plates' screws are tightened to %s N·m now.", words(unique(under[k])), k.thread, b.plateTorque())
	}
	b.writePads(s)
	if s.Down.Z < -0.9 {
		s.say("Tilt the frame to reach its underside, and have it held, or lay it on its back.")
		s.Mass = b.massOf(s.ctx)
		s.People = peopleFor(s.Mass, b.plan.Lift)
		b.warnLift(s, s.ctx)
		s.warn("Never reach under a frame that only one hand holds.")
	}
}

// plateTorque returns the torque of the screws of slot plates.
func (b *builder) plateTorque() string {
	for _, f := range b.f.Feet {
		if f.On == frame.FootSlotPlate {
			thread := footScrew(f.Under)
			if row, ok := standard.ButtonHeadScrew(thread); ok {
				s := &frame.Fastener{Standard: row.Standard, Thread: thread, TipIn: f.Under, SlotNut: true, TipEnd: -1}
				if t, ok := TorqueFor(s); ok {
					return fixed(t.NM, 1)
				}
			}
		}
	}
	return "the wrench's smallest"
}

func unique(list []string) []string {
	var out []string
	seen := map[string]bool{}
	for _, s := range list {
		if !seen[s] {
			seen[s] = true
			out = append(out, s)
		}
	}
	return out
}

// writeSquare says what is measured and what it should read.
func (b *builder) writeSquare(s, parent *Step) {
	if parent == nil && len(s.Feet) > 0 {
		s.say("Stand the frame on a flat floor. Find its highest corner with a spirit level and leave its foot as it is. Turn out the foot beside it on the longer side, then the one beside it on the shorter side, until it is level both ways; last the foot across from it, until no corner rocks. Then run the lock nuts up against the frame.")
	} else if parent == nil {
		s.say("Stand the frame on a flat floor: a floor that is not flat twists it, and it stays twisted once it is tight.")
	} else {
		s.say("Leave it flat on the table: only what lies flat can be made square without a twist.")
	}
	for _, d := range s.Measure {
		s.say("Measure %s mm; within %s of each other.", d.String(), show(squareWithin(d.Read)))
	}
	if len(s.Measure) > 0 && len(b.f.Gauges("square")) > 0 {
		s.Gauges = append(s.Gauges, b.f.Gauges("square")[0])
		s.say("Lay %s into each corner in turn: its edges touch both bars along their whole length.", b.trySquare())
	}
	if len(s.Measure) > 0 {
		s.say("Where one diagonal is longer, push its two corners toward each other, and measure again. That both are equal counts more than the figure.")
	}
	if len(s.Torques) > 0 {
		b.writeTorques(s)
	}
}

// writeTorques says how hard screws are tightened, and in which order.
func (b *builder) writeTorques(s *Step) {
	for _, t := range s.Torques {
		s.say("Tighten %d × %s %s × %s with key %s to %s N·m (limited by %s).", t.Count, t.Item, t.Thread, show(t.Length), fixed(t.Key, 1), fixed(t.NM, 1), t.Limit)
	}
	n := 0
	var order []string
	for _, t := range s.Torques {
		for _, j := range t.Joints {
			if n++; n <= 24 {
				order = append(order, fmt.Sprintf("%d %s to %s", n, j.A.Name, j.B.Name))
			}
		}
	}
	if n > 24 {
		order = append(order, "and so on upward, always to the corner opposite")
	}
	s.say("Order: %s.", strings.Join(order, ", "))
	s.say("First all to half of it, then all in full, each time to the corner opposite; measure again in between.")
	if c, ok := standard.Safety("torque_tools"); ok {
		s.warn("%s", title(c.Caution)+".")
	}
	s.warn("Torques are an estimate for dry steel screws of class 8.8 in this aluminium (VDI 2230-1, reduced for the thread and the lips). Where the maker of the profile gives a figure, it holds. A thread in aluminium that slips once is gone.")
}

// writeTighten says how the whole frame is tightened.
func (b *builder) writeTighten(s *Step) {
	s.say("Tighten from the lowest joints up, so that the frame keeps standing flat.")
	b.writeTorques(s)
}

// writeCheck says what to look at in the end.
func (b *builder) writeCheck(s *Step) {
	if len(b.f.Feet) > 0 {
		s.say("Feet: press on each corner in turn; none rocks, none lifts off. Lock nuts tight.")
	} else {
		s.say("Press on each corner in turn: none rocks.")
	}
	for _, d := range s.Measure {
		s.say("Squareness: %s: %s mm both ways.", d.Name, show(d.Read))
	}
	s.say("Rattle: knock on each bar with a knuckle; what buzzes is loose. Shake a top corner: nothing clicks.")
	s.say("Pull at each joint by hand; look that no head stands askew in its slot.")
	for _, g := range b.f.Groups {
		if g.Travel != nil {
			s.say("Move %s through its whole travel along %s by hand: nothing touches.", g.Name, g.Travel.Axis)
		}
	}
	for _, p := range b.f.Panels {
		if p.Screwed && p.Sheet != nil && len(p.Sheet.Holes) > 0 {
			s.say("Last, hold the sheet “%s” (%s kg) on and screw it to its bars with %d screws, %s, into slot nuts that drop in from the front.",
				p.Name, fixed(p.Sheet.Mass, 1), len(p.Sheet.Holes), words(sheetScrews(p.Sheet)))
		}
	}
	s.say("Retighten after the first day of use and after every transport: joints in aluminium settle.")
	s.warn("A frame of this kind is no lifting gear and carries no people. Follow local rules; where people or heavy loads depend on it, ask a licensed engineer.")
	if tall := b.tall(); tall != "" {
		s.warn("%s", tall)
	}
}

// sheetScrews says which screws hold a sheet, and how many washers go under each head.
func sheetScrews(p *frame.PanelSheet) []string {
	var kinds []string
	count := map[string]int{}
	for _, h := range p.Holes {
		kind := fmt.Sprintf("× %s×%s", h.Thread, show(h.Length))
		switch {
		case h.Washers == 1:
			kind += " with a washer under each head"
		case h.Washers > 1:
			kind += fmt.Sprintf(" with %d washers under each head", h.Washers)
		}
		if count[kind]++; count[kind] == 1 {
			kinds = append(kinds, kind)
		}
	}
	for i, k := range kinds {
		kinds[i] = fmt.Sprintf("%d %s", count[k], k)
	}
	return kinds
}

// tall warns of a frame that is slender enough to tip.
func (b *builder) tall() string {
	size := b.f.Box().Size()
	// Tilted by 10 degrees, a frame stays up if its middle of mass lies lower than half its base over tan 10°.
	if size.Z/2*0.1763 > min(size.X, size.Y)/2 {
		return fmt.Sprintf("It is slender, %s high on a base of %s: anchor it to the wall (tilted by 10° it may fall).", show(size.Z), show(min(size.X, size.Y)))
	}
	return ""
}

// Headline names a step in a few words.
func (s *Step) Headline() string {
	switch s.Kind {
	case TurnIt:
		if s.Upright() {
			return "Set the frame upright"
		}
		return fmt.Sprintf("Turn the frame onto its %s side", frame.DirectionName(s.Down))
	case FitFeet:
		if len(s.Feet) == 0 {
			return "Fit the foot parts"
		}
		return "Fit the feet"
	case Square:
		return "Measure and square"
	case Tighten:
		return "Tighten"
	case Fit:
		return "Fit the printed parts"
	case Check:
		return "Check"
	}
	if s.Unit != "" {
		return "Add the " + strings.TrimPrefix(s.Unit, "the ")
	}
	var names []string
	for _, m := range s.Add {
		names = append(names, m.Name)
	}
	if len(names) > 3 {
		names = append(names[:2], fmt.Sprintf("%d more", len(names)-2))
	}
	if len(s.Moves) == 0 {
		return "Begin with " + words(names)
	}
	return "Add " + words(names)
}

// Line returns the texts of a step as one.
func (s *Step) Line() string { return strings.Join(s.Text, " ") }

// Upright reports whether the frame stands on its feet in the step.
func (s *Step) Upright() bool { return s.Down.Dot(geom.Vec{Z: -1}) > 0.9 }
