package assembly

import (
	"fmt"
	"strings"

	"barwright/frame"
)

// Locked says why bars can't be put together.
type Locked struct {
	// Entry is the first entry of the given order that is impossible, from 1; 0 where no order is given.
	Entry   int
	Late    bool            // the members can't join what is built already
	Members []*frame.Member // that lock each other, or that can't go in
	Why     []string        // what stands in the way, direction by direction
	Remedy  string          // what joining would free them
	Free    []*frame.Joint  // the joints that the remedy changes
}

// Error returns all of it in one text.
func (l *Locked) Error() string {
	var names []string
	for _, m := range l.Members {
		names = append(names, m.Name)
	}
	s := "no order of building exists: " + words(names) + " lock each other"
	if l.Late {
		s = words(names) + " can't join what is built already"
	}
	if l.Entry > 0 {
		s = fmt.Sprintf("entry %d of the given order is impossible: %s can't go in", l.Entry, words(names))
	}
	for _, w := range l.Why {
		s += "\n  " + w
	}
	if l.Remedy != "" {
		s += "\n  remedy: " + l.Remedy
	}
	return s
}

// words joins names: "a, b and c".
func words(list []string) string {
	switch n := len(list); {
	case n == 0:
		return "nothing"
	case n == 1:
		return list[0]
	default:
		return strings.Join(list[:n-1], ", ") + " and " + list[n-1]
	}
}

// coreLimit bounds the frames of which the smallest locked part is looked for.
const coreLimit = 60

// explain finds out which bars of a set that does not come apart lock each other, and which joining would free them.
func (m *model) explain(stuck, from set) *Locked {
	core := stuck.clone()
	if late := stuck.minus(from); !from.empty() && !late.empty() {
		return m.explainLate(stuck, late)
	}
	if l := m.explainOverlap(stuck); l != nil {
		return l
	}
	if core.count() <= coreLimit {
		core.each(func(i int) bool {
			less := core.clone()
			less[i/64] &^= 1 << (i % 64)
			if less.count() > 1 && m.isStuck(less) {
				core = less
			}
			return true
		})
	}
	l := &Locked{}
	for _, i := range core.list() {
		l.Members = append(l.Members, m.f.Members[i])
	}
	l.Why = m.whyStuck(core)
	if core.count() > coreLimit {
		l.Remedy = "Try brackets with drop-in nuts where bars are held between two others, or name an order in an assembly block to learn which bar is held."
		return l
	}
	m.findRemedy(l, core, func() bool { return !m.isStuck(core) })
	return l
}

// explainOverlap names the first bars that run into each other, which nothing brings together; nil where there are none.
func (m *model) explainOverlap(stuck set) *Locked {
	var found *Locked
	stuck.each(func(i int) bool {
		stuck.each(func(k int) bool {
			if k > i && overlap(&m.bodies[i], &m.bodies[k]) {
				a, b := m.f.Members[i], m.f.Members[k]
				found = &Locked{Members: []*frame.Member{a, b}, Why: []string{fmt.Sprintf("%s and %s run into each other", a.Name, b.Name)},
					Remedy: "No change of joining frees them: move one of them, or make it shorter. barwright check says how deep they run into each other."}
			}
			return found == nil
		})
		return found == nil
	})
	return found
}

// explainLate says why bars can't join those that are built already.
func (m *model) explainLate(stuck, late set) *Locked {
	l := &Locked{Late: true}
	late.each(func(i int) bool {
		l.Members = append(l.Members, m.f.Members[i])
		if len(l.Why) < 6 {
			l.Why = append(l.Why, fmt.Sprintf("%s: %s", m.f.Members[i].Name, m.why(setOf(m.n, i), stuck)))
		}
		return true
	})
	if stuck.count() <= coreLimit {
		m.findRemedy(l, stuck, func() bool {
			fresh := m.fresh()
			fresh.narrow = true
			return fresh.takeApart(stuck, -1, late).stuck == nil
		})
	}
	return l
}

// isStuck reports whether nothing comes off a set.
func (m *model) isStuck(r set) bool {
	fresh := m.fresh()
	fresh.narrow = true
	return fresh.takeApart(r, -1, nil).stuck != nil
}

// fresh returns the model without what it remembers of units.
func (m *model) fresh() *model {
	out := *m
	out.courses = map[string]course{}
	return &out
}

// whyStuck says for each bar of a small set what holds it.
func (m *model) whyStuck(core set) []string {
	var out []string
	for _, i := range core.list() {
		if len(out) == 6 {
			out = append(out, fmt.Sprintf("… and %d more bars alike", core.count()-6))
			break
		}
		out = append(out, fmt.Sprintf("%s: %s", m.f.Members[i].Name, m.why(setOf(m.n, i), core)))
	}
	return out
}

// why says direction by direction what keeps bars from coming off others.
func (m *model) why(t, r set) string {
	var out []string
	for k := range 6 {
		if text := m.whyNot(t, r, k); text != "" {
			out = append(out, fmt.Sprintf("to the %s %s", frame.DirectionName(m.dirs[k]), text))
		}
	}
	return strings.Join(out, "; ")
}

// whyNot says what keeps bars from coming off along one direction.
func (m *model) whyNot(t, r set, dir int) string {
	text := ""
	t.each(func(i int) bool {
		m.blocks[dir][i].and(r).minus(t).each(func(o int) bool {
			if _, _, ok := sweep(&m.bodies[i], &m.bodies[o], m.dirs[dir]); ok {
				text = fmt.Sprintf("%s stands in the way", m.f.Members[o].Name)
				return false
			}
			text = fmt.Sprintf("its end screw holds it to %s", m.f.Members[o].Name)
			return true
		})
		return text == ""
	})
	if text != "" {
		return text
	}
	if o := m.obstacle(t, r, m.dirs[dir]); o >= 0 {
		return fmt.Sprintf("a screw head or bracket of %s stands in the way", m.f.Members[o].Name)
	}
	if len(m.components(r.minus(t))) > len(m.components(r)) {
		return "what stays would fall apart"
	}
	return ""
}

// findRemedy looks for the fewest joints that free bars when brackets with drop-in nuts take the place of their end screws: one joint,
// else two of one bar, else all of one bar.
func (m *model) findRemedy(l *Locked, core set, freed func() bool) {
	var joints []int
	for k, j := range m.joints {
		if core.has(j.a) && core.has(j.b) && j.With.Method == frame.EndScrew {
			joints = append(joints, k)
		}
	}
	try := func(list ...int) bool {
		if len(l.Free) > 0 || len(list) == 0 {
			return len(l.Free) > 0
		}
		m.setFreed(list, true)
		ok := freed()
		m.setFreed(list, false)
		if ok {
			for _, k := range list {
				l.Free = append(l.Free, m.joints[k].Joint)
			}
		}
		return ok
	}
	for _, k := range joints {
		try(k)
	}
	byBar := map[int][]int{}
	for _, k := range joints {
		byBar[m.joints[k].a] = append(byBar[m.joints[k].a], k)
	}
	for _, i := range core.list() {
		list := byBar[i]
		if len(list) > 1 {
			try(list...)
		}
	}
	for _, i := range core.list() {
		var list []int
		for _, k := range joints {
			if m.joints[k].a == i || m.joints[k].b == i {
				list = append(list, k)
			}
		}
		try(list...)
	}
	if len(l.Free) == 0 {
		l.Remedy = "No change of joining frees them: the bars themselves stand in each other's way. Shorten one, or leave it open on one side."
		return
	}
	var pairs []string
	for _, j := range l.Free {
		pairs = append(pairs, fmt.Sprintf("joint { between = [%s, %s]  with = \"angle-bracket\" }", j.A.Name, j.B.Name))
	}
	l.Remedy = "Join by angle brackets with drop-in nuts, which go into the slots from the front: " + strings.Join(pairs, "  ")
}

// setFreed takes joints as brackets with drop-in nuts, or as they are.
func (m *model) setFreed(list []int, on bool) {
	for _, k := range list {
		m.freed[k] = on
		j := &m.joints[k]
		for d := range m.dirs {
			m.blockPair(d, j.a, j.b)
		}
	}
}

// blockPair works out anew whether two bars block one another along a direction.
func (m *model) blockPair(dir, i, o int) {
	set := func(s set, at int, on bool) {
		s[at/64] &^= 1 << (at % 64)
		if on {
			s.add(at)
		}
	}
	_, _, hit := sweep(&m.bodies[i], &m.bodies[o], m.dirs[dir])
	for _, k := range m.at[i] {
		if j := &m.joints[k]; j.a+j.b-i == o && m.holds(k, i, m.dirs[dir]) {
			hit = true
		}
	}
	set(m.blocks[dir][i], o, hit)
	set(m.blocks[opposite(dir)][o], i, hit)
}
