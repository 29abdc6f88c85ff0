package assembly

import (
	"fmt"
	"slices"
	"strings"

	"barwright/frame"
	"barwright/geom"
	"barwright/standard"
)

// write fills the texts of a step and of those that build its unit.
func (b *builder) write(s, parent *Step) {
	for _, e := range s.Build {
		b.write(e, s)
	}
	switch s.Kind {
	case Place:
		b.writePlace(s, parent)
	case TurnIt:
		b.writeTurn(s)
	case FitFeet:
		b.writeFeet(s)
	case Square:
		b.writeSquare(s, parent)
	case Tighten:
		b.writeTighten(s)
	case Fit:
		b.writeFit(s)
	case Check:
		b.writeCheck(s)
	}
}

func (s *Step) say(format string, args ...any) { s.Text = append(s.Text, fmt.Sprintf(format, args...)) }
func (s *Step) warn(format string, args ...any) {
	s.Cautions = append(s.Cautions, fmt.Sprintf(format, args...))
}

// writePlace says what goes in and how.
func (b *builder) writePlace(s, parent *Step) {
	first := len(s.Moves) == 0
	for _, l := range s.Load {
		if s.Unit != "" && b.moves(s, l.Member) && l.Member.SideNormal(l.pieces[0].side).Dot(s.Down) > 0.9 {
			s.say("Lay the %s on two blocks, so that its lower slots can be reached.", strings.TrimPrefix(s.Unit, "the "))
			break
		}
	}
	for _, l := range s.Load {
		s.say("%s", l.String())
	}
	b.writeSpacers(s)
	slid, straightOn, other := b.sortJoints(s)
	b.writeScrews(s, slid)
	for _, p := range s.Panels {
		s.say("First slide the sheet “%s”, %s thick, into the slots of the bars that hold it and are there: what goes in now shuts them.", p.Name, show(p.Thickness))
	}
	switch {
	case first && s.Unit != "":
		s.say("Lay %s on the table%s.", s.Unit, lying(s.Down))
	case first:
		s.say("Lay %s on a flat table%s.", b.called(s.Add[0]), lying(s.Down))
	case s.Each:
		s.say("One after the other, %s %s.", b.list(s.Add), b.moveWords(s))
	case s.Unit != "":
		if t := b.unitTurn(s); t != "" {
			s.say("%s", t)
		}
		s.say("%s %s.", title("the "+strings.TrimPrefix(s.Unit, "the ")), b.moveWords(s))
	default:
		s.say("%s %s.", b.called(s.Add[0]), b.moveWords(s))
	}
	if g := s.Add[0].Group; parent == nil && g != nil && g.Travel != nil {
		s.say("Hang it on its carriages, which belong to the machine and are not in this guide; until then nothing holds it: have it held, or rest it on blocks.")
	}
	b.writeSlid(s, slid)
	b.writeStraight(s, straightOn)
	b.writeOther(s, other)
	b.sayHands(s, slid, straightOn)
	if b.screwed(s) && len(s.early) == 0 {
		s.say("Leave the screws a quarter turn loose: they are tightened when the frame is square.")
	}
	if len(s.early) > 0 {
		var pairs []string
		for _, j := range s.early {
			pairs = append(pairs, fmt.Sprintf("%s to %s (%s)", j.A.Name, j.B.Name, torqueWords(j)))
		}
		s.say("Set these corners square with "+b.trySquare()+" and tighten them now, as no key reaches them later: %s.", strings.Join(pairs, "; "))
	}
	b.warnPlace(s, parent)
}

// screwed reports whether a step makes a joint; some may wait for a third bar.
func (b *builder) screwed(s *Step) bool {
	here := s.bars.clone()
	here.join(s.ctx)
	return slices.ContainsFunc(s.Joints, func(j *frame.Joint) bool { return !b.waits(b.index[j.A], b.index[j.B], here) })
}

// torqueWords returns the torque of a joint's first screw.
func torqueWords(j *frame.Joint) string {
	for i := range j.Fasteners {
		if t, ok := TorqueFor(&j.Fasteners[i]); ok {
			return fixed(t.NM, 1) + " N·m"
		}
	}
	return "hand-tight"
}

// lying says how something lies, "" where it stands upright.
func lying(down geom.Vec) string {
	if down.Z < -0.9 {
		return ""
	}
	return fmt.Sprintf(", with what will be the frame's %s side down", frame.DirectionName(down))
}

// called names a bar with its mark and which way round it goes.
func (b *builder) called(m *frame.Member) string {
	return fmt.Sprintf("%s (%s, %s, face 1 %s)", m.Part.Mark, m.Name, endWords(m), sideWords(m.FaceNames()[0]))
}

// endWords says where end 1 of a bar lies.
func endWords(m *frame.Member) string { return "end 1 " + sideWords(m.EndName(1)) }

// sideWords turns a side of the frame into a direction.
func sideWords(side string) string {
	switch side {
	case "top":
		return "up"
	case "bottom":
		return "down"
	}
	return "to the " + side
}

// list names several bars of one mark.
func (b *builder) list(bars []*frame.Member) string {
	var names []string
	for _, m := range bars {
		names = append(names, fmt.Sprintf("%s (%s)", m.Name, endWords(m)))
	}
	return fmt.Sprintf("%d × %s: %s", len(bars), bars[0].Part.Mark, words(names))
}

// moveWords says how something goes in.
func (b *builder) moveWords(s *Step) string {
	verb := "goes"
	if s.Each {
		verb = "go"
	}
	m := s.Moves[0]
	var way string
	switch v := m.Dir.Dot(s.Down); {
	case v > 0.9:
		way = verb + " straight down into place"
		if s.Down.Z > -0.9 {
			way += fmt.Sprintf(" (toward the frame's %s side)", frame.DirectionName(m.Dir))
		}
	case v > 0.1:
		way = verb + " in slantwise from above"
	default:
		way = fmt.Sprintf("%s in sideways, toward the frame's %s", verb, sideOf(m.Dir))
	}
	if len(s.Moves) > 1 {
		way += fmt.Sprintf(" until it stands %s mm off, and then toward the frame's %s", show(s.Moves[1].Way), sideOf(s.Moves[1].Dir))
	}
	return way
}

// sideOf names the side of the frame that a direction points to; slanting ones by two sides.
func sideOf(d geom.Vec) string {
	var out []string
	for _, ax := range []geom.Axis{geom.X, geom.Y, geom.Z} {
		if v := d.Along(ax); v > 0.3 || v < -0.3 {
			out = append(out, frame.DirectionName(ax.Unit().Scale(v)))
		}
	}
	return strings.Join(out, " and ")
}

// unitTurn says how a unit is turned between building and going in.
func (b *builder) unitTurn(s *Step) string {
	if len(s.Build) == 0 {
		return ""
	}
	was := s.Build[len(s.Build)-1].Down
	switch v := was.Dot(s.Down); {
	case v > 0.9:
		return ""
	case v < -0.9:
		return fmt.Sprintf("Turn %s over, so that its %s side is up.", s.Unit, frame.DirectionName(was))
	}
	return fmt.Sprintf("Tilt %s so that its %s side looks down.", s.Unit, frame.DirectionName(s.Down))
}

// sortJoints sorts the joints of a step by how they close: heads that slide in with a bar, bars that go straight onto screws
// loaded before, and others.
func (b *builder) sortJoints(s *Step) (slid, on, other []*frame.Joint) {
	for _, j := range s.Joints {
		k := slices.Index(b.f.Joints, j)
		switch {
		case j.With.Method != frame.EndScrew:
			other = append(other, j)
		case len(s.Moves) == 1 && b.along(k, s.Moves[0].Dir):
			slid = append(slid, j)
		default:
			on = append(on, j)
		}
	}
	return slid, on, other
}

// writeScrews says which screws are set into tapped ends before.
func (b *builder) writeScrews(s *Step, slid []*frame.Joint) {
	type kind struct {
		screw string
		gap   float64
	}
	count := map[kind]int{}
	ends := map[kind][]string{}
	var kinds []kind
	for _, j := range slid {
		for i := range j.Fasteners {
			f := &j.Fasteners[i]
			k := kind{fmt.Sprintf("%s %s×%g", f.Item, f.Thread, f.Length), f.HeadIn.Bar.Profile.Slot.Lip + 1}
			if count[k] == 0 {
				kinds = append(kinds, k)
			}
			count[k]++
			e := fmt.Sprintf("end %d of %s", partEnd(j.A, j.EndA), j.A.Name)
			if !slices.Contains(ends[k], e) {
				ends[k] = append(ends[k], e)
			}
		}
	}
	for _, k := range kinds {
		s.say("Screw %d × %s into %s, heads %s mm off the end.", count[k], k.screw, words(ends[k]), show(k.gap))
	}
}

// writeSlid says along which slots heads slide.
func (b *builder) writeSlid(s *Step, slid []*frame.Joint) {
	if len(slid) == 0 {
		return
	}
	var slots []string
	for _, j := range slid {
		t := fmt.Sprintf("face %d (%s) of %s, in at its end %d", faceOf(j.B, j.SideB), frame.DirectionName(j.B.SideNormal(j.SideB)), j.B.Name, b.slideEnd(s, j))
		if !slices.Contains(slots, t) {
			slots = append(slots, t)
		}
	}
	s.say("The screw heads slide in the slots of %s, until each stands before its access hole.", words(slots))
	b.writeStops(s, slid)
}

// moves reports whether a bar is among those that a step adds.
func (b *builder) moves(s *Step, m *frame.Member) bool { return slices.Contains(s.Add, m) }

// writeStops says where bars stop along slots, where no face stops them.
func (b *builder) writeStops(s *Step, slid []*frame.Joint) {
	var out []string
	seen := map[string]bool{}
	for _, j := range slid {
		q := j.B.Place.Unapply(j.At).Z
		half := j.A.Bar.Profile.Pitch / 2
		d := q - half
		from := "end 1"
		if partEnd(j.B, 0) == 2 {
			d = j.B.Bar.Length - q - half
		}
		if d < 0.05 {
			d = 0
		}
		key := fmt.Sprintf("%s: %s mm from %s of %s to its nearer side", j.A.Name, show(d), from, j.B.Name)
		if d == 0 {
			key = fmt.Sprintf("%s: flush with %s of %s", j.A.Name, from, j.B.Name)
		}
		if !seen[key] {
			seen[key] = true
			out = append(out, key)
		}
	}
	if len(out) > 4 {
		out = append(out[:4], "and so on; the access holes show the places")
	}
	s.say("Places: %s.", strings.Join(out, "; "))
}

// writeStraight says what is done at joints that close on screws that hang in their slots.
func (b *builder) writeStraight(s *Step, on []*frame.Joint) {
	if len(on) == 0 {
		return
	}
	key := on[0].Fasteners[0].Key
	s.say("Set the ends on the tips of the loaded screws and hold them there while you turn each screw a few turns in with the key %s through its access hole, round and round until all faces touch: %s.", fixed(key, 1), pairs(on))
}

// pairs names the bars of joints, at most six.
func pairs(list []*frame.Joint) string {
	var out []string
	for i, j := range list {
		if i == 6 {
			out = append(out, fmt.Sprintf("%d more", len(list)-6))
			break
		}
		out = append(out, j.A.Name+" to "+j.B.Name)
	}
	return words(out)
}

// writeOther says what is done at joints with through screws, brackets and plates.
func (b *builder) writeOther(s *Step, other []*frame.Joint) {
	for _, method := range []frame.Method{frame.ThroughScrew, frame.AngleBracket, frame.Plate} {
		var list []*frame.Joint
		screws := 0
		size := ""
		key := 0.0
		for _, j := range other {
			if j.With.Method != method || j.With.Printed {
				continue
			}
			list = append(list, j)
			screws += len(j.Fasteners)
			if len(j.Fasteners) > 0 {
				f := j.Fasteners[0]
				size, key = fmt.Sprintf("%s×%g", f.Thread, f.Length), f.Key
			}
		}
		if len(list) == 0 {
			continue
		}
		what := map[frame.Method]string{frame.ThroughScrew: "Put %d cap screws %s through the counterbored holes into the tapped ends (key %s): %s.",
			frame.AngleBracket: "Set an angle bracket into each corner and start %d screws %s in the slot nuts (key %s): %s.",
			frame.Plate:        "Lay a plate over each joint and start %d screws %s in the slot nuts (key %s): %s."}[method]
		s.say(what, screws, size, fixed(key, 1), pairs(list))
	}
	b.writePrinted(s, other)
}

// String says what is loaded.
func (l Load) String() string {
	var at []string
	for _, z := range l.At {
		at = append(at, show(z))
	}
	from := fmt.Sprintf("from end %d", l.End)
	if l.End == 0 {
		from = "from the front (drop-in)"
	}
	slot := ""
	if l.Line != 0 {
		slot = fmt.Sprintf(", slot %s off the middle", show(l.Line))
	}
	what, why := "", ""
	if l.Item != "slot nut" {
		what = " (head inside, thread out)"
	} else if l.forFoot() {
		why = ", for the slot plates of the feet"
	}
	return fmt.Sprintf("Load %d × %s %s%s into the slot of face %d (%s) of %s %s%s, to %s mm from end 1%s.", l.Count, l.Item,
		strings.ReplaceAll(l.Size, "x", "×"), what, l.Face, l.Member.FaceNames()[l.Face-1], l.Member.Name, from, slot, words(at), why)
}

// forFoot reports whether the nuts hold a foot's slot plate.
func (l Load) forFoot() bool { return len(l.pieces) > 0 && l.pieces[0].foot }

func title(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// warnPlace writes the cautions of placing.
func (b *builder) warnPlace(s *Step, parent *Step) {
	b.warnLift(s, s.bars)
	if s.Hold {
		s.warn("What stands here does not stand by itself: a second person, clamps or blocks must hold it until this step is done.")
	}
	if len(s.Moves) > 0 && s.Unit != "" {
		if c, ok := standard.Safety("assembly_pinch"); ok {
			s.warn("%s", title(c.Caution)+".")
		}
	}
}

// longBar is the length in mm from which two people lift (common practice, no source).
const longBar = 1800.0

// warnLift says how many people lift.
func (b *builder) warnLift(s *Step, bars set) {
	box := geom.EmptyBox()
	bars.each(func(i int) bool { box = box.Union(b.bodies[i].box); return true })
	size := box.Size()
	if max(size.X, size.Y, size.Z) > longBar && s.People < 2 {
		s.People = 2
		s.warn("Longer than %s mm: two people carry it.", show(longBar))
	}
	switch s.People {
	case 0, 1:
	case 4:
		s.warn("%s kg: more than three people lift safely (ISO 11228-1, %s kg one person). Use a hoist, or build it where it stays.", fixed(s.Mass, 1), fixed(b.plan.Lift, 1))
	default:
		if s.Mass > b.plan.Lift {
			s.warn("%s kg: %d people lift (one lifts %s kg by ISO 11228-1; a team counts less than its sum).", fixed(s.Mass, 1), s.People, fixed(b.plan.Lift, 1))
		}
	}
}
