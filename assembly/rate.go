package assembly

import (
	"math"
	"slices"

	"barwright/frame"
	"barwright/geom"
	"barwright/standard"
)

// weights of what is preferred as the next removal, in a common measure without unit (common practice, no source).
const (
	forDown     = 4.0  // it is lowered, not slid in from the side
	forUnit     = 7.0  // three bars or more go in as one that was built flat on the table
	forFlat     = 2.0  // and it lies flat when it goes in
	forGiven    = 20.0 // a group of the file, or what travels
	forHeight   = 2.0  // from the bottom up
	forAlike    = 1.0  // the same as the step after it
	perLoad     = -0.3 // a screw head that must be loaded into a slot before
	hanging     = -2.0 // it is held at one place only and rests on nothing
	below       = -4.0 // it reaches below what stands on the table
	twoPeople   = -1.5
	threePeople = -3.0
	hoist       = -8.0
	perTurn     = -6.0
	splits      = -15.0 // it takes a group of the file apart
	splitsRing  = -14.0 // or a ring that could be built flat on the table
	helped      = -30.0 // what stays would have to be held
	twice       = -1.0  // it needs two moves
)

// costs of a step in a whole plan, about the minutes that it takes (common practice, no source).
const (
	onTable     = 0.6 // a bar joins others that lie flat on the table
	onFrame     = 1.6 // a bar joins a frame that stands
	unitJoins   = 1.0
	buildShare  = 0.8 // of what it takes to build a unit: it is done sitting
	costSide    = 0.5 // moved in from the side
	costTurn    = 3.0
	costHeld    = 25.0
	shareScore  = 0.25 // of the scores of people, loads, rest and splits
	costTwice   = 0.7
	costOnEdge  = 1.2 // of a flat unit that does not lie flat when it goes in
	costPerKilo = 0.1 // of a turn, over what one person lifts
)

// rate returns the removal with each direction down that suits it, scored: what is best taken off now is best put on last.
func (m *model) rate(r, t set, all *ground, u *unit, how motion, st state, flat geom.Vec, units []unit, extra float64) []candidate {
	c := candidate{removal: removal{bars: t, from: r, how: how, unit: u}}
	bars := m.rateBars(r, t, u, how, units)
	s := extra + bars
	alike := 0.0
	if st.last != "" && st.last == m.signature(&c.removal) {
		alike = forAlike
	}
	cost := onFrame
	if t.count() > 1 {
		cost = unitJoins
	}
	if n := t.count(); u != nil && n >= leastUnit {
		s += forUnit
	}
	if how.first >= 0 {
		cost += costTwice
	}
	if u == nil || !u.given {
		cost -= shareScore * min(0, bars)
	}
	own := m.groundOf(t)
	parted := m.parted(r)
	var out []candidate
	for g := range 6 {
		up := -m.dirs[g].Dot(m.dirs[how.dir])
		if up < -0.5 || how.first >= 0 && m.dirs[g].Dot(m.dirs[how.first]) > 0.5 {
			continue
		}
		c.down, c.score, c.cost = g, s+alike+forDown*up, cost-shareScore*alike
		if t.count() == 1 && math.Abs(flat.Dot(m.dirs[g])) > 0.9 {
			c.cost = onTable - shareScore*alike
		} else {
			c.cost += costSide * (1 - up)
		}
		if st.down >= 0 && g != st.down {
			over := max(0, m.massOf(r)-standard.HomeLift)
			c.score += perTurn - over/10
			c.cost += costTurn + costPerKilo*over
			if parted {
				c.score += helped
				c.cost += costHeld
			}
		} else if st.down < 0 && g != upright {
			c.score -= 0.1
		}
		if u != nil && u.normal != (geom.Vec{}) && math.Abs(u.normal.Dot(m.dirs[g])) > 0.9 {
			c.score += forFlat
		} else if u != nil && u.normal != (geom.Vec{}) {
			c.cost += costOnEdge
		}
		rest := m.rateResting(all, &own, r, t, g)
		c.score += rest
		c.cost -= shareScore * rest
		c.removal.cost = c.cost
		out = append(out, c)
	}
	return out
}

// rateBars scores what does not hang on the direction down.
func (m *model) rateBars(r, t set, u *unit, how motion, units []unit) float64 {
	s := 0.0
	if u != nil && u.given {
		s += forGiven
	}
	if first := m.f.Members[t.list()[0]]; first.Group != nil && first.Group.Travel != nil && t.count() == len(first.Group.Members) {
		s += forGiven
	}
	for x := range units {
		g := &units[x]
		if g.given && g.bars.count() > 1 && g.bars.meets(t) && g.bars.within(r) && !g.bars.within(t) {
			s += splits
		}
		if g.ring && g.bars.meets(t) && g.bars.within(r) && !g.bars.within(t) {
			s += splitsRing
		}
	}
	switch mass := m.massOf(t); {
	case mass > teamLift(m.oneLift(), 3):
		s += hoist
	case mass > teamLift(m.oneLift(), 2):
		s += threePeople
	case mass > m.oneLift():
		s += twoPeople
	}
	rest := r.minus(t)
	loads := 0
	t.each(func(i int) bool {
		for _, k := range m.at[i] {
			j := &m.joints[k]
			other := j.a + j.b - i
			if rest.has(other) && j.With.Method == frame.EndScrew && !m.slides(k, how) {
				loads += len(j.Fasteners)
			}
		}
		return true
	})
	return s + perLoad*float64(loads)
}

// slides reports whether a joint parts along its slot in a motion, so that its screw stays in the butting bar.
func (m *model) slides(k int, how motion) bool {
	return how.first < 0 && m.along(k, m.dirs[how.dir])
}

// ground is how far bars reach along the six directions, and which bar of a set reaches lowest.
type ground struct {
	low, high [6]float64 // height over the origin with each direction down
	lowest    [6]int
}

// groundOf measures a set.
func (m *model) groundOf(s set) ground {
	var g ground
	for k := range 6 {
		g.low[k], g.high[k] = math.Inf(1), math.Inf(-1)
	}
	s.each(func(i int) bool {
		for k := range 6 {
			if h := m.heights[i][k]; h[0] < g.low[k] {
				g.low[k], g.lowest[k] = h[0], i
			}
			g.high[k] = max(g.high[k], m.heights[i][k][1])
		}
		return true
	})
	return g
}

// rateResting scores height and rest.
func (m *model) rateResting(all, own *ground, r, t set, down int) float64 {
	low, high := all.low[down], all.high[down]
	tl, th := own.low[down], own.high[down]
	s := 0.0
	if high > low+1 {
		s += forHeight * ((tl+th)/2 - low) / (high - low)
	}
	bottom := low
	if t.has(all.lowest[down]) {
		rest := m.groundOf(r.minus(t))
		bottom = rest.low[down]
	}
	holders, rests := 0, false
	t.each(func(i int) bool {
		for _, o := range m.touch[i] {
			if r.has(o) && !t.has(o) && !m.waits(i, o, r) {
				holders++
				rests = rests || m.heights[o][down][1] < m.heights[i][down][0]+1
			}
		}
		return true
	})
	if tl < bottom-standsOn {
		s += below
	}
	if holders < 2 && !rests && tl > bottom+standsOn {
		s += hanging
	}
	return s
}

// fitting is what some bars hold together that weighs.
type fitting struct {
	on set
	kg float64
}

// addFittings adds the masses of panels, printed parts, screws and nuts: to their bar, or to the bars that hold them together. What
// goes on when all bars stand is left out.
func (m *model) addFittings() {
	for _, t := range m.f.Fittings() {
		if t.Last {
			continue
		}
		if len(t.On) == 1 {
			m.mass[m.index[t.On[0]]] += t.Kg
			continue
		}
		on := newSet(m.n)
		for _, b := range t.On {
			on.add(m.index[b])
		}
		if i := slices.IndexFunc(m.fittings, func(o fitting) bool { return o.on.equal(on) }); i >= 0 {
			m.fittings[i].kg += t.Kg
		} else {
			m.fittings = append(m.fittings, fitting{on, t.Kg})
		}
	}
}

// massOf returns the mass in kg of bars and of the panels, printed parts, screws and nuts that they alone hold.
func (m *model) massOf(s set) float64 {
	sum := 0.0
	s.each(func(i int) bool { sum += m.mass[i]; return true })
	for _, t := range m.fittings {
		if t.on.within(s) {
			sum += t.kg
		}
	}
	return sum
}

// oneLift returns what one person lifts, kg.
func (m *model) oneLift() float64 {
	if a := m.f.Assembly; a != nil && a.Lift > 0 {
		return a.Lift
	}
	return standard.HomeLift
}

// teamLift returns what some people lift together, kg.
func teamLift(one float64, people int) float64 {
	v, _ := standard.TeamLift(one, people)
	return v
}

// peopleFor returns how many people lift a mass, 4 where a hoist or a plan is due.
func peopleFor(mass, one float64) int {
	for n := 1; n <= 3; n++ {
		if mass <= teamLift(one, n) {
			return n
		}
	}
	return 4
}
