package assembly

import (
	"cmp"
	"fmt"
	"slices"

	"barwright/frame"
)

// named returns the members of a group, a set or one member.
func named(f *frame.Frame, name string) ([]*frame.Member, error) {
	for _, g := range f.Groups {
		if g.Name == name {
			return g.Members, nil
		}
	}
	for _, s := range f.Sets {
		if s.Name == name {
			return s.Members, nil
		}
	}
	if m := f.Member(name); m != nil {
		return []*frame.Member{m}, nil
	}
	e := &NameError{Name: name}
	least := 4
	try := func(n string) {
		if d := frame.EditDistance(name, n, least); d < least {
			least, e.Near = d, n
		}
	}
	for _, g := range f.Groups {
		try(g.Name)
	}
	for _, s := range f.Sets {
		try(s.Name)
	}
	for _, m := range f.Members {
		try(m.Name)
	}
	return nil, e
}

// givenOrder follows the order of the file's assembly block: each entry goes in as one, the bars that it does not name follow in
// an order that is found. The first entry that can't go in is explained.
func (b *builder) givenOrder(all set) ([]removal, *Locked) {
	m := b.model
	var entries []set
	there := b.from.clone()
	for _, e := range m.f.Assembly.Order {
		s := newSet(m.n)
		for _, x := range e {
			s.add(m.index[x])
		}
		if s = s.minus(b.from); !s.empty() {
			entries = append(entries, s)
			there.join(s)
		}
	}
	var out []removal
	if rest := all.minus(there); !rest.empty() {
		c := m.takeApart(all, upright, rest)
		out = c.removals
		if c.stuck != nil {
			if l := b.firstImpossible(entries); l != nil {
				return nil, l
			}
			return out, m.explain(c.stuck, b.from)
		}
	}
	if l := b.firstImpossible(entries); l != nil {
		return nil, l
	}
	s := &search{model: m, units: m.units(all)}
	down := upright
	if n := len(out); n > 0 {
		down = out[n-1].down
	}
	r := there
	for k := len(entries) - 1; k >= 0; k-- {
		t := entries[k]
		if k == 0 && b.from.empty() {
			c := m.takeApart(t, down, nil)
			if c.stuck != nil {
				return out, m.explain(c.stuck, b.from)
			}
			return append(out, c.removals...), nil
		}
		c, ok := s.only1(r, t, down)
		if ok {
			st := state{r: r, down: down, base: m.n}
			_, ok = s.apply(&st, &c)
		}
		if !ok {
			return out, m.explain(t, newSet(m.n))
		}
		out = append(out, c.removal)
		r, down = r.minus(t), c.down
	}
	return out, nil
}

// only1 returns the best way in which exactly the bars of t come off r.
func (s *search) only1(r, t set, down int) (candidate, bool) {
	m := s.model
	ground, flat := m.groundOf(r), m.planeOf(r)
	st := state{r: r, down: down}
	var all []candidate
	for k := range m.dirs {
		if m.free(t, r, k) {
			all = append(all, m.rate(r, t, &ground, nil, straight(k), st, flat, nil, 0)...)
		}
	}
	if len(all) == 0 {
		if way := m.shortWay(t, r); way > 0 {
			for first := range 6 {
				for dir := range 6 {
					if dir/2 != first/2 && m.freeTwice(t, r, first, dir, way) {
						all = append(all, m.rate(r, t, &ground, nil, motion{dir, first, way}, st, flat, nil, twice)...)
					}
				}
			}
		}
	}
	if len(all) == 0 {
		return candidate{}, false
	}
	slices.SortStableFunc(all, func(a, b candidate) int { return cmp.Compare(b.score, a.score) })
	best := all[0]
	rest := r.minus(t)
	best.held = m.loose(rest, best.down) || !m.stands(rest, best.down) || !m.stands(r, best.down) || len(m.components(rest)) > len(m.components(r))
	return best, true
}

// firstImpossible returns why the first entry that can't go in can't, nil where all can.
func (b *builder) firstImpossible(entries []set) *Locked {
	m := b.model
	r := b.from.clone()
	for k, t := range entries {
		first := r.empty()
		r.join(t)
		if first {
			continue
		}
		ways := func() bool {
			_, ok := (&search{model: m}).only1(r.clone(), t, -1)
			return ok
		}
		if ways() {
			continue
		}
		l := &Locked{Entry: k + 1}
		for _, i := range t.list() {
			l.Members = append(l.Members, m.f.Members[i])
		}
		for d := range 6 {
			if text := m.whyNot(t, r, d); text != "" {
				l.Why = append(l.Why, fmt.Sprintf("from the %s: %s", frame.DirectionName(m.dirs[d]), text))
			}
		}
		m.findRemedy(l, r, ways)
		if len(l.Free) == 0 {
			l.Remedy = "Name it earlier in the order."
		}
		return l
	}
	return nil
}
