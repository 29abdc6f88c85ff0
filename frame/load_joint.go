package frame

import (
	"fmt"
	"sort"
	"strings"
)

// readJoinings makes the built-in joinings and the file's own known, and finds the frame's.
func (l *loader) readJoinings() {
	f := l.f
	f.Joinings = builtinJoinings()
	l.each("joining", func(b *block) {
		j, ok := l.makeJoining(b)
		if !ok {
			// The name counts as known, so that its users are not reported too.
			j = &Joining{Name: b.name, Method: NoJoining, Origin: b.header}
		}
		for i, old := range f.Joinings {
			if old.Name == j.Name {
				f.Joinings[i] = j
				return
			}
		}
		f.Joinings = append(f.Joinings, j)
	})
	sort.SliceStable(f.Joinings, func(i, k int) bool { return f.Joinings[i].Name < f.Joinings[k].Name })
	f.joining, f.joiningElse = l.joiningNamed(string(EndScrew)), l.joiningNamed(string(AngleBracket))
	if b := l.frameBlock; b != nil {
		if j, ok := l.joiningOf(b, "joining"); ok && j != nil {
			f.joining = j
		}
		if j, ok := l.joiningOf(b, "joining_else"); ok && j != nil {
			f.joiningElse = j
		}
	}
	// A bar's own joining comes before all joint blocks, so that they win over it.
	for _, e := range l.declared {
		if (e.bar != nil || e.set != nil) && e.block.has("joining") {
			l.barJoining(e)
		}
	}
}

// barJoining makes the rule of a joining attribute on a block of bars.
func (l *loader) barJoining(e *entity) {
	j, ok := l.joiningOf(e.block, "joining")
	if !ok {
		return
	}
	bars := []*barNode{e.bar}
	if e.set != nil {
		if bars, ok = e.set.bars(); !ok {
			return
		}
	}
	if on, ok := placed(bars); ok {
		l.f.rules = append(l.f.rules, jointRule{on: on, with: j, origin: e.block.at("joining"), ofBar: true})
	}
}

// joiningNamed returns a joining by its name, or nil.
func (l *loader) joiningNamed(name string) *Joining {
	for _, j := range l.f.Joinings {
		if j.Name == name {
			return j
		}
	}
	return nil
}

// joiningOf returns the joining that an attribute names, or nil where it is not given.
func (l *loader) joiningOf(b *block, attr string) (*Joining, bool) {
	if !b.has(attr) {
		return nil, true
	}
	name, ok := b.str(attr, "")
	if !ok {
		return nil, false
	}
	j := l.joiningNamed(name)
	if j == nil {
		var known []string
		for _, k := range l.f.Joinings {
			known = append(known, k.Name)
		}
		l.fail(b.at(attr), fmt.Sprintf("There is no joining %q", shorten(name)), didYouMean(name, known))
	}
	return j, j != nil
}

// methodNames are the built-in joinings in the order of the table.
func methodNames() []string {
	return []string{string(EndScrew), string(ThroughScrew), string(AngleBracket), string(Plate), PrintedAngle, PrintedPlate, PrintedCorner, string(NoJoining)}
}

// makeJoining makes the joining of a joining block: its base with some figures replaced.
func (l *loader) makeJoining(b *block) (*Joining, bool) {
	usual := ""
	if indexOf(methodNames(), b.name) >= 0 {
		usual = b.name
	}
	base, ok := b.choice("base", usual, methodNames()...)
	if !ok {
		return nil, false
	}
	if base == "" {
		l.fail(b.header, fmt.Sprintf("%s lacks \"base\"", b), "Say what it does: base = "+strings.Join(methodNames(), ", ")+".")
		return nil, false
	}
	j := &Joining{Name: b.name, Method: Method(base), Origin: b.header}
	for _, k := range builtinJoinings() {
		if k.Name == base {
			j.Sizes, j.Method, j.Printed = k.Sizes, k.Method, k.Printed
		}
	}
	thread, ok := b.str("thread", "")
	if ok && b.has("thread") {
		if _, ok = l.thread(thread, b.at("thread")); ok {
			// One size for every bar; what is not given follows from the screw.
			j.Sizes = []JoiningSize{{Screw: thread}}
		}
	}
	change := JoiningSize{}
	for _, f := range []struct {
		name string
		into *float64
	}{{"tap_depth", &change.TapDepth}, {"access", &change.Access}, {"key", &change.Key}, {"screw_length", &change.ScrewLength}} {
		v, good := b.positive(f.name, 0)
		ok = ok && good && l.sizeLimit(b, f.name, v, 200)
		*f.into = v
	}
	screws, good := b.checkedInt("screws", 0, 0, 8)
	if good && b.has("screws") && screws == 0 {
		l.fail(b.at("screws"), "screws is 0", "A bracket or plate has 1 to 8 on each bar.")
		good = false
	}
	change.Screws = screws
	for i := range j.Sizes {
		j.Sizes[i].change(change)
	}
	return j, ok && good
}

// sizeLimit refuses a size that no screw has.
func (l *loader) sizeLimit(b *block, name string, v, limit float64) bool {
	if v > limit {
		l.fail(b.at(name), fmt.Sprintf("%s is %s", name, show(v)), fmt.Sprintf("%g mm is the most.", limit))
		return false
	}
	return true
}

// change replaces the figures that are given.
func (s *JoiningSize) change(c JoiningSize) {
	for _, f := range []struct {
		into *float64
		v    float64
	}{{&s.TapDepth, c.TapDepth}, {&s.Access, c.Access}, {&s.Key, c.Key}, {&s.ScrewLength, c.ScrewLength}} {
		if f.v > 0 {
			*f.into = f.v
		}
	}
	s.fixed = s.fixed || c.ScrewLength > 0
	if c.Screws > 0 {
		s.Screws = c.Screws
	}
}

// orderRules puts the rules of joint and bracket blocks in the order of the file. Those of bars come before all.
func (l *loader) orderRules() {
	sort.SliceStable(l.f.rules, func(i, k int) bool {
		a, b := &l.f.rules[i], &l.f.rules[k]
		if a.ofBar != b.ofBar {
			return a.ofBar
		}
		return !a.ofBar && a.origin.Start.Byte < b.origin.Start.Byte
	})
}

// readJoints makes the rules of the joint blocks.
func (l *loader) readJoints() {
	l.each("joint", func(b *block) {
		j, ok := l.joiningOf(b, "with")
		rule := jointRule{with: j, origin: b.header}
		switch {
		case b.has("between") && b.has("on"):
			l.fail(b.at("on"), "on fights between", "Name two for between, or all joints of some members with on.")
			return
		case b.has("between"):
			f, good := b.refs("between", true)
			if good && len(f.entry) != 2 {
				l.fail(b.at("between"), fmt.Sprintf("between names %d", len(f.entry)), "It needs two: members, sets or groups.")
				return
			}
			if !good {
				return
			}
			for i, e := range f.entry {
				m, good := placed(e.bars)
				ok = ok && good
				rule.between[i] = m
			}
		case b.has("on"):
			f, good := b.refs("on", true)
			if !good {
				return
			}
			rule.on, good = f.members()
			ok = ok && good
		default:
			if !b.tried["between"] && !b.tried["on"] {
				l.fail(b.header, "This joint names no members", "Add between = [a, b], or on = a.")
			}
			return
		}
		if ok && j != nil {
			l.f.rules = append(l.f.rules, rule)
			l.readAllowance(b, namesOf(append(append([]*Member{}, rule.on...), rule.between[0]...)), namesOf(rule.between[1]))
		}
	})
}
