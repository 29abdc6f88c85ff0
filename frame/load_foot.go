package frame

import (
	"fmt"
	"math"

	"barwright/geom"
)

// readFeet makes the feet of the foot blocks.
func (l *loader) readFeet() {
	l.each("foot", func(b *block) {
		f, ok := b.refs("under", false)
		thread, ok1 := b.str("thread", "")
		on, ok2 := b.choice("on", "", FootPostEnd, FootSlotPlate)
		height, ok3 := b.positive("height", 0)
		at, ok4 := b.nums("at", -1)
		if ok1 && b.has("thread") {
			_, ok1 = l.thread(thread, b.at("thread"))
		}
		if !(ok && ok1 && ok2 && ok3 && ok4) {
			return
		}
		members, ok := f.members()
		if !ok {
			return
		}
		for _, m := range members {
			if !l.addFeet(b, m, Foot{Under: m, Thread: thread, On: on, Given: height, Origin: b.header}, at) {
				return // one message for a set is enough
			}
		}
	})
}

// addFeet adds the feet of one block under one member. It returns false where an error was reported.
func (l *loader) addFeet(b *block, m *Member, foot Foot, at []float64) bool {
	upright := !m.Brace && m.Axis == geom.Z
	switch {
	case m.Brace:
		l.fail(b.at("under"), fmt.Sprintf("%s is a brace", m.Name), "Feet stand under uprights and level rails.")
		return false
	case upright && foot.On == FootSlotPlate:
		l.fail(b.at("on"), fmt.Sprintf("%s stands upright", m.Name), "A slot plate sits under a level rail; under an upright the foot is screwed into its end: on = \"post-end\".")
		return false
	case !upright && foot.On == FootPostEnd:
		l.fail(b.at("on"), fmt.Sprintf("%s lies level", m.Name), "Only an upright has a lower end for a stud; under a rail use on = \"slot-plate\".")
		return false
	case upright && b.has("at"):
		l.fail(b.at("at"), fmt.Sprintf("%s stands upright", m.Name), "Its foot sits in its lower end; at is for rails.")
		return false
	case !upright && !b.has("at"):
		l.fail(b.header, fmt.Sprintf("Where under %s?", m.Name), "Add at = [60, 780]: places from the rail's low end.")
		return false
	}
	foot.Height = snap(m.Box.Low.Z - l.f.Floor)
	if foot.Height <= 0 {
		l.fail(b.header, fmt.Sprintf("There is no room for a foot under %s", m.Name), fmt.Sprintf("Its underside lies at %s, the floor at %s.", show(m.Box.Low.Z), show(l.f.Floor)))
		return false
	}
	if foot.Thread == "" {
		foot.Thread = m.Profile.Thread
	}
	base := m.Box.Centre()
	base.Z = m.Box.Low.Z
	if upright {
		foot.On = FootPostEnd
		return l.addFoot(b, foot, base)
	}
	foot.On = FootSlotPlate
	for i, v := range at {
		if v < 0 || v > m.Bar.Length {
			l.fail(b.at("at"), fmt.Sprintf("Place %d, %s, lies outside of %s", i+1, show(v), m.Name), fmt.Sprintf("That rail is %s mm long.", show(m.Bar.Length)))
			return false
		}
		if !l.addFoot(b, foot, base.With(m.Axis, m.Box.Low.Along(m.Axis)+v)) {
			return false
		}
	}
	return true
}

// addFoot adds one foot unless there is one in its place.
func (l *loader) addFoot(b *block, foot Foot, at geom.Vec) bool {
	key := geom.Vec{X: math.Round(at.X), Y: math.Round(at.Y), Z: math.Round(at.Z)}
	if old := l.feet[key]; old != nil && old.At.Dist(at) < geom.Coincident {
		l.fail(b.header, fmt.Sprintf("A second foot in one place under %s", foot.Under.Name), fmt.Sprintf("The first comes from line %d.", old.Origin.Start.Line))
		return false
	}
	if !l.pay(referenceCost) {
		l.fail(b.header, "There are too many feet", "A few are enough to hold a frame.")
		return false
	}
	foot.At = at
	l.feet[key] = &foot
	l.f.Feet = append(l.f.Feet, &foot)
	return true
}

// readSupports makes the supports of the support blocks.
func (l *loader) readSupports() {
	l.each("support", func(b *block) {
		m, ok := b.member("on")
		at, ok1 := b.nums("at", -1)
		fixed, where, ok2 := b.texts("fixed")
		clamped, ok3 := b.flag("clamped", false)
		if !(ok && ok1 && ok2 && ok3) {
			return
		}
		s := Support{On: m, Clamped: clamped, Origin: b.header, Fixed: [3]bool{true, true, true}}
		if b.has("fixed") {
			s.Fixed = [3]bool{}
		}
		for i, w := range fixed {
			ax := indexOf([]string{"x", "y", "z"}, w)
			if ax < 0 {
				l.fail(where[i], fmt.Sprintf("%q is no axis", shorten(w)), "Write \"x\", \"y\" or \"z\".")
				return
			}
			s.Fixed[ax] = true
		}
		for _, v := range at {
			if !l.onMember(b, "at", m, v) {
				return
			}
			if !l.pay(referenceCost) {
				l.fail(b.header, "There are too many supports", "A few are enough to hold a frame.")
				return
			}
			one := s
			one.At = v
			l.f.Supports = append(l.f.Supports, &one)
		}
	})
}

// onMember sees that a place from a member's low end lies on it.
func (l *loader) onMember(b *block, attr string, m *Member, v float64) bool {
	if v < 0 || v > m.Bar.Length {
		l.fail(b.at(attr), fmt.Sprintf("%s lies outside of %s", show(v), m.Name), fmt.Sprintf("That member is %s mm long.", show(m.Bar.Length)))
		return false
	}
	return true
}
