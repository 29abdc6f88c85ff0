package assembly

import (
	"math"
	"slices"

	"barwright/frame"
	"barwright/geom"
)

// When one pair of hands is not enough (common practice, no source).
const (
	longSlide = 300.0  // mm that a bar slides in the slots of two others: askew it jams
	longHeld  = 1000.0 // mm of a bar that one hand holds while the other turns a key
	heavyHeld = 2.0    // and its kg
)

// sayHands asks for a second pair of hands where what goes in slides far in the slots of several bars, or does not stay on the screws on
// which it is set.
func (b *builder) sayHands(s *Step, slid, on []*frame.Joint) {
	if b.slidesFar(s, slid) {
		s.say("A second pair of hands keeps both ends level on the way: askew, it jams in the slots.")
		return
	}
	if s.Hold {
		return
	}
	if b.hangs(s) {
		s.say("One joint alone holds it, and loosely: while it sticks out level, prop up its free end or have it held.")
		return
	}
	if len(slid) > 0 || len(on) == 0 {
		return
	}
	bars := s.bars
	if s.Each {
		bars = setOf(b.n, b.index[s.Add[0]])
	}
	if s.Unit == "" && s.Add[0].Length() < longHeld && b.massOf(bars) < heavyHeld || b.staysOn(bars, s) {
		return
	}
	s.say("It does not stay there by itself: a second pair of hands holds it until the screws bite.")
}

// hangs reports whether a bar of a step sticks out level from one bar that it touches, with nothing under it.
func (b *builder) hangs(s *Step) bool {
	if s.Unit != "" || s.ctx.empty() {
		return false
	}
	here := s.ctx.clone()
	here.join(s.bars)
	down := b.downOf(s)
	ground := b.groundOf(here).low[down]
	return slices.ContainsFunc(s.Add, func(m *frame.Member) bool {
		i := b.index[m]
		holders := 0
		for _, o := range b.touch[i] {
			if here.has(o) && !b.waits(i, o, here) {
				holders++
			}
		}
		level := math.Abs(m.Direction().Dot(s.Down)) < 0.1
		return holders == 1 && level && b.heights[i][down][0] > ground+standsOn && !b.staysOn(setOf(b.n, i), s)
	})
}

// slidesFar reports whether heads of a step slide far in the slots of two bars or more that stand apart.
func (b *builder) slidesFar(s *Step, slid []*frame.Joint) bool {
	far := map[*frame.Member]bool{}
	for _, j := range slid {
		place := j.B.PartPlace()
		way := place.Unapply(j.At).Z
		if b.slideEnd(s, j) == 2 {
			way = j.B.Bar.Length - way
		}
		if b.moves(s, j.A) && way > longSlide {
			far[j.B] = true
		}
	}
	return len(far) > 1
}

// slideEnd returns the end of a joint's slotted bar at which the head goes in.
func (b *builder) slideEnd(s *Step, j *frame.Joint) int {
	rel := s.Moves[0].Dir
	if !b.moves(s, j.A) {
		rel = rel.Scale(-1)
	}
	if rel.Dot(j.B.PartPlace().EZ) < 0 {
		return 2
	}
	return 1
}

// staysOn reports whether bars set down on what stands stay there: their middle of mass lies far enough inside of where they touch it not
// to tip.
func (b *builder) staysOn(bars set, s *Step) bool {
	u, v := across(s.Down)
	flat := func(p geom.Vec) geom.Vec2 { return geom.Vec2{X: u.Dot(p), Y: v.Dot(p)} }
	var feet []geom.Vec2
	top := 0.0
	for _, c := range b.f.Contacts {
		down := c.Normal
		if bars.has(b.index[c.B]) {
			down = down.Scale(-1)
		}
		under := bars.has(b.index[c.A]) && s.ctx.has(b.index[c.B]) || bars.has(b.index[c.B]) && s.ctx.has(b.index[c.A])
		if !under || down.Dot(s.Down) < 0.9 || c.Apart {
			continue
		}
		for _, p := range c.Patch.Corners() {
			feet = append(feet, flat(p))
		}
		top = -s.Down.Dot(c.Patch.Centre())
	}
	middle := b.middle(bars)
	return insideHull(feet, flat(middle), max(steady, tipping*(-s.Down.Dot(middle)-top)))
}
