package assembly

import (
	"cmp"
	"encoding/binary"
	"slices"
	"strings"

	"barwright/geom"
)

// removal is one step of taking apart; read backward it is one of building.
type removal struct {
	bars  set
	from  set // what stands before it comes off, itself included
	how   motion
	down  int // direction that points down meanwhile
	unit  *unit
	build []removal // how the bars themselves come apart, in the order of taking apart
	start int       // direction down while they are built
	cost  float64
	held  bool // what stays does not hold together, or does not stand, without help
}

// upright is the index of the direction down of a frame on its feet.
const upright = 5

// candidate is a removal under consideration.
type candidate struct {
	removal
	score float64 // the higher the better as the next removal
	cost  float64 // of the step in a whole plan
}

// course is a way to take bars apart, with what it costs.
type course struct {
	removals []removal
	stuck    set // what could not be taken apart, nil where all was
	end      int // direction down at the end
	cost     float64
}

// state is bars on the way.
type state struct {
	r    set
	down int // -1: any
	last string
	base int // pieces that do not hold together
}

// takeApart takes bars apart one removal after the other, from a direction down; down is -1 where any will do at first. only,
// where it is not nil, holds what may come off. At each state the best few removals are each followed to the end by taking the
// best from there on, and the cheapest whole course shows which of them to take.
func (m *model) takeApart(r set, down int, only set) course {
	s := &search{model: m, units: m.units(r), only: only}
	st := state{r: r, down: down, base: len(m.components(r))}
	best := s.greedy(st)
	n := r.count()
	wide := widthFor(n)
	if m.narrow {
		wide = 1
	}
	if best.stuck != nil || wide < 2 {
		return best
	}
	for at := 0; at < len(best.removals); at++ {
		before := course{removals: best.removals[:at:at]}
		for _, c := range before.removals {
			before.cost += c.cost
		}
		for _, c := range s.next(st, wide) {
			next, ok := s.apply(&st, &c)
			if !ok {
				continue
			}
			tail := s.greedy(next)
			if total := before.cost + c.cost + tail.cost; tail.stuck == nil && total < best.cost-1e-9 {
				best = course{removals: append(append(before.removals[:at:at], c.removal), tail.removals...), end: tail.end, cost: total}
			}
		}
		c := candidate{removal: best.removals[at]}
		st, _ = s.apply(&st, &c)
	}
	return best
}

// widthFor returns how many removals are followed to the end at each state, by the number of bars: so that planning takes well under a
// second for frames that one person builds.
func widthFor(n int) int {
	switch {
	case n <= 30:
		return 10
	case n <= 60:
		return 5
	case n <= 100:
		return 2
	}
	return 1
}

// search is one search for a course.
type search struct {
	*model
	units []unit
	only  set
}

// greedy follows the best removal at each state.
func (s *search) greedy(st state) course {
	out := course{}
	for !st.r.empty() {
		if s.only != nil && !st.r.meets(s.only) {
			break
		}
		found := s.next(st, 1)
		if len(found) == 0 {
			out.stuck = st.r
			break
		}
		c := found[0]
		next, ok := s.apply(&st, &c)
		if !ok {
			out.stuck = c.bars
			break
		}
		out.removals, out.cost, st = append(out.removals, c.removal), out.cost+c.cost, next
	}
	out.end = st.down
	return out
}

// apply carries a removal out, with what it takes to take apart a unit. It is false where the unit does not come apart.
func (s *search) apply(st *state, c *candidate) (state, bool) {
	if c.bars.count() > 1 && c.build == nil {
		b := s.built(c.bars, s.flatDown(c.bars, c.down))
		if b.stuck != nil {
			return state{}, false
		}
		c.build, c.start = b.removals, b.start()
		c.cost += buildShare * b.cost
		c.removal.cost = c.cost
	}
	next := state{r: st.r.minus(c.bars), down: c.down, last: s.signature(&c.removal)}
	next.base = min(st.base, max(1, len(s.components(next.r))))
	return next, true
}

// start returns the direction down at which taking apart begins: at which building ends.
func (c course) start() int {
	if len(c.removals) == 0 {
		return upright
	}
	return c.removals[0].down
}

// built returns how bars that go in as one come apart, worked out once.
func (s *search) built(t set, down int) course {
	key := setKey(t, down)
	if c, ok := s.courses[key]; ok {
		return c
	}
	s.courses[key] = course{stuck: t} // should it come back to itself
	c := s.takeApart(t, down, nil)
	s.courses[key] = c
	return c
}

// next returns the best removals, at most some.
func (s *search) next(st state, wide int) []candidate {
	m, r := s.model, st.r
	if r.count() == 1 {
		down := st.down
		if down < 0 {
			down = upright
		}
		c := candidate{removal: removal{bars: r, from: r, how: straight(opposite(down)), down: down}}
		c.cost, c.removal.cost = onTable, onTable
		return []candidate{c}
	}
	if c := s.travellers(st); c != nil {
		return c
	}
	ground := m.groundOf(r)
	flat := m.planeOf(r)
	var all []candidate
	add := func(bars set, u *unit, how motion, extra float64) {
		if s.only != nil && !bars.within(s.only) {
			return
		}
		all = append(all, m.rate(r, bars, &ground, u, how, st, flat, s.units, extra)...)
	}
	for k := range m.dirs {
		r.each(func(i int) bool {
			if t := setOf(m.n, i); m.clear(t, r, k) {
				add(t, nil, straight(k), 0)
			}
			return true
		})
		for x := range s.units {
			u := &s.units[x]
			if u.bars.within(r) && u.bars.count() < r.count() && u.bars.count() > 1 && m.clear(u.bars, r, k) {
				add(u.bars, u, straight(k), 0)
			}
		}
	}
	if c := m.good(all, r, st.base, wide); len(c) > 0 && !c[0].held {
		return c
	}
	// What comes off together, by a way in two moves, or with help.
	seen := map[string]bool{}
	m.forced(r, func(t set, k int) {
		if key := setKey(t, k); !seen[key] {
			seen[key] = true
			add(t, nil, straight(k), -1)
		}
	})
	if c := m.good(all, r, st.base, wide); len(c) > 0 && !c[0].held {
		return c
	}
	m.double(r, s.units, func(t set, u *unit, how motion) { add(t, u, how, twice) })
	return m.good(all, r, st.base, wide)
}

// travellers returns the removal of a travelling group that comes off a standing frame: such groups go in last, as nothing but
// their carriages holds them. It is nil where there is none, or where none comes off.
func (s *search) travellers(st state) []candidate {
	m, r := s.model, st.r
	for x := range s.units {
		u := &s.units[x]
		if !u.travels || !u.bars.within(r) || u.bars.equal(r) || s.only != nil && !u.bars.within(s.only) {
			continue
		}
		down := st.down
		if down < 0 {
			down = upright
		}
		for _, k := range []int{opposite(down), 2, 3, 0, 1} {
			if k == down || !m.free(u.bars, r, k) {
				continue
			}
			c := candidate{removal: removal{bars: u.bars, from: r, how: straight(k), unit: u, down: down}}
			c.cost, c.removal.cost = unitJoins, unitJoins
			return []candidate{c}
		}
	}
	return nil
}

func setKey(t set, k int) string {
	b := make([]byte, 0, 8*len(t)+1)
	for _, w := range t {
		b = binary.LittleEndian.AppendUint64(b, w)
	}
	return string(append(b, byte(k+1)))
}

// flatDown returns the direction down in which bars lie flat, the one that the main frame has where it can be; -1 where they
// lie in no plane.
func (m *model) flatDown(s set, like int) int {
	n := m.planeOf(s)
	if n == (geom.Vec{}) {
		return -1
	}
	if like >= 0 && m.dirs[like].Dot(n) > 0.9 {
		n = n.Scale(1)
	} else {
		n = n.Scale(-1)
	}
	for k, d := range m.dirs[:6] {
		if d.Dot(n) > 0.9 {
			return k
		}
	}
	return -1
}

// signature says what is alike between two removals: the marks of the bars.
func (m *model) signature(c *removal) string {
	var marks []string
	c.bars.each(func(i int) bool {
		if p := m.f.Members[i].Part; p != nil {
			marks = append(marks, p.Mark)
		}
		return true
	})
	slices.Sort(marks)
	return strings.Join(marks, " ")
}

// forced calls f for the least sets round each bar that come off together.
func (m *model) forced(r set, f func(t set, dir int)) {
	n := r.count()
	for k := range m.dirs {
		done := newSet(m.n)
		r.each(func(i int) bool {
			if done.has(i) {
				return true
			}
			t := m.freeClosure(setOf(m.n, i), r, k)
			if c := t.count(); c < n && m.connected(t) {
				done.join(t)
				f(t, k)
			}
			return true
		})
	}
}

// double calls f for bars and units that come off by a short way and then another.
func (m *model) double(r set, units []unit, f func(t set, u *unit, how motion)) {
	try := func(t set, u *unit) {
		way := m.shortWay(t, r)
		if way == 0 {
			return
		}
		for first := range 6 {
			for dir := range 6 {
				if dir/2 != first/2 && m.freeTwice(t, r, first, dir, way) {
					f(t, u, motion{dir: dir, first: first, way: way})
				}
			}
		}
	}
	r.each(func(i int) bool { try(setOf(m.n, i), nil); return true })
	for x := range units {
		if u := &units[x]; u.bars.within(r) && u.bars.count() < r.count() && u.bars.count() > 1 {
			try(u.bars, u)
		}
	}
}

// good returns the best candidates, at most some, whose heads and brackets are free and that leave what stays holding together and
// standing; where none does, the best one with help. Of the same bars only the best way counts.
func (m *model) good(all []candidate, r set, base, wide int) []candidate {
	order := make([]int, len(all))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int { return cmp.Or(cmp.Compare(all[b].score, all[a].score), cmp.Compare(a, b)) })
	var out []candidate
	var fallback *candidate
	pieces := map[string]int{}
	known := map[string]bool{}
	var whole [6]int // whether all of it stands with each direction down: 0 not known, 1 yes, -1 no
	standsWhole := func(down int) bool {
		if whole[down] == 0 {
			whole[down] = -1
			if m.stands(r, down) {
				whole[down] = 1
			}
		}
		return whole[down] > 0
	}
	for _, x := range order {
		c := &all[x]
		key := setKey(c.bars, 0)
		if known[key] || c.how.first < 0 && m.obstacle(c.bars, r, m.dirs[c.how.dir]) >= 0 {
			continue
		}
		n, ok := pieces[key]
		if !ok {
			n = len(m.components(r.minus(c.bars)))
			if !m.connected(c.bars) || m.parted(c.bars) {
				n = m.n + 1
			}
			pieces[key] = n
		}
		if n > m.n {
			continue
		}
		if n <= base && standsWhole(c.down) && m.stands(r.minus(c.bars), c.down) && !m.loose(r.minus(c.bars), c.down) {
			out = append(out, *c)
			known[key] = true
			if len(out) == wide {
				return out
			}
			continue
		}
		if fallback == nil {
			fallback = c
		}
	}
	if len(out) == 0 && fallback != nil {
		c := *fallback
		c.held, c.score = true, c.score+helped
		c.cost += costHeld
		c.removal.cost = c.cost
		return []candidate{c}
	}
	return out
}

// stands reports whether what remains stands on the table: the largest piece that holds together, as others wait for theirs.
func (m *model) stands(rest set, down int) bool {
	if rest.empty() {
		return true
	}
	var most set
	for _, c := range m.components(rest) {
		if most == nil || c.count() > most.count() {
			most = c
		}
	}
	return m.stable(most, m.dirs[down])
}
