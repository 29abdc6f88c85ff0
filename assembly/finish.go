package assembly

import (
	"cmp"
	"math"
	"slices"

	"barwright/frame"
	"barwright/geom"
)

// finish completes the steps: bars alike in one step, feet, measuring, tightening, checks, texts and numbers.
func (b *builder) finish() {
	b.keys()
	b.flipBuilds(b.plan.Steps)
	rects := b.rectanglesOf()
	b.plan.Steps = b.withMeasuring(b.plan.Steps, rects)
	b.plan.Steps = mergeAlike(b.plan.Steps)
	b.panels()
	if b.plan.Locked == nil {
		b.plan.Steps = b.withFeet(b.plan.Steps)
		b.plan.Steps = append(b.plan.Steps, b.lastSteps(rects)...)
	}
	number(b.plan.Steps)
	for _, s := range b.plan.Steps {
		b.write(s, nil)
	}
}

// number numbers steps from 1, those of a unit for themselves.
func number(steps []*Step) {
	for i, s := range steps {
		s.Number = i + 1
		number(s.Build)
	}
}

// flipBuilds turns a flat unit over where screws loaded into it would stand out toward the table.
func (b *builder) flipBuilds(steps []*Step) {
	for _, s := range steps {
		b.flipBuilds(s.Build)
		if len(s.Build) == 0 {
			continue
		}
		down := s.Build[len(s.Build)-1].Down
		flat, bad := true, false
		for _, e := range s.Build {
			flat = flat && e.Kind == Place && e.Down == down
			for i, m := range e.Moves {
				flat = flat && (i == 0 && math.Abs(m.Dir.Dot(down)) < 0.1 || len(e.Moves) == 0)
			}
			for _, l := range e.Load {
				if l.pieces[0].kind == headPiece && l.Member.SideNormal(l.pieces[0].side).Dot(down) > 0.9 {
					bad = true
				}
			}
		}
		if flat && bad {
			for _, e := range s.Build {
				e.Down = down.Scale(-1)
			}
		}
	}
}

// alikeLimit is how many bars go into one step at most.
const alikeLimit = 12

// mergeAlike makes one step of bars alike that go in one after the other by the same way.
func mergeAlike(steps []*Step) []*Step {
	var out []*Step
	for _, s := range steps {
		s.Build = mergeAlike(s.Build)
		if n := len(out); n > 0 && alike(out[n-1], s) {
			p := out[n-1]
			p.Each = true
			p.Add = append(p.Add, s.Add...)
			p.Joints = append(p.Joints, s.Joints...)
			p.Load = append(p.Load, s.Load...)
			p.early = append(p.early, s.early...)
			p.Mass = max(p.Mass, s.Mass)
			p.People = max(p.People, s.People)
			bars := p.bars.clone()
			bars.join(s.bars)
			p.bars = bars
			continue
		}
		out = append(out, s)
	}
	return out
}

// alike reports whether a step can be done in one with the step before.
func alike(p, s *Step) bool {
	if p.Kind != Place || s.Kind != Place || p.Unit != "" || s.Unit != "" || len(s.Add) != 1 || len(p.Add) >= alikeLimit ||
		p.Add[0].Part != s.Add[0].Part || p.Down != s.Down || p.Hold || s.Hold || len(p.Moves) == 0 || !slices.Equal(p.Moves, s.Moves) ||
		len(p.early) > 0 {
		return false
	}
	// What goes into standing bars is loaded for all at once, which might be too early for the later ones.
	for _, l := range append(slices.Clone(p.Load), s.Load...) {
		if !slices.Contains(p.Add, l.Member) && l.Member != s.Add[0] {
			return false
		}
	}
	return len(p.Joints) == len(p.Add)*len(s.Joints)
}

// withMeasuring adds a step of measuring, and for a closed ring of tightening, where a rectangle is complete.
func (b *builder) withMeasuring(steps []*Step, rects []Diagonal) []*Step {
	var out []*Step
	for _, s := range steps {
		if len(s.Build) > 0 {
			s.Build = b.withMeasuring(s.Build, rects)
		}
		out = append(out, s)
		if s.Kind != Place || b.parent[s] == nil {
			continue
		}
		here := s.bars.clone()
		here.join(s.ctx)
		var ds []Diagonal
		for _, d := range rects {
			if d.set.within(here) && !d.set.within(s.ctx) && !d.set.within(s.bars) && !b.open(d.set, here) {
				ds = append(ds, d)
			}
		}
		if len(ds) == 0 {
			continue
		}
		q := &Step{Kind: Square, Down: s.Down, Measure: ds, bars: newSet(b.n), ctx: here}
		var joints []*frame.Joint
		for k := range b.joints {
			j := &b.joints[k]
			for _, d := range ds {
				if d.set.has(j.a) && d.set.has(j.b) && !slices.Contains(joints, j.Joint) {
					joints = append(joints, j.Joint)
				}
			}
		}
		q.Torques = torquesOf(crosswise(joints))
		out = append(out, q)
	}
	return out
}

// open reports whether two bars of a ring wait among some bars for a third one to be joined: the ring can't be made square yet.
func (b *builder) open(ring, here set) bool {
	for k := range b.joints {
		j := &b.joints[k]
		if ring.has(j.a) && ring.has(j.b) && b.waits(j.a, j.b, here) {
			return true
		}
	}
	return false
}

// crosswise orders joints from the lowest level up, and on each level by going to the joint farthest from the one before.
func crosswise(joints []*frame.Joint) []*frame.Joint {
	levels := slices.Clone(joints)
	slices.SortStableFunc(levels, func(a, c *frame.Joint) int {
		return cmp.Or(cmp.Compare(micron(a.At.Z), micron(c.At.Z)), cmp.Compare(micron(a.At.Y), micron(c.At.Y)), cmp.Compare(micron(a.At.X), micron(c.At.X)))
	})
	var out []*frame.Joint
	for len(levels) > 0 {
		n := 1
		for n < len(levels) && levels[n].At.Z < levels[0].At.Z+20 {
			n++
		}
		level := levels[:n]
		levels = levels[n:]
		at := level[0]
		for len(level) > 0 {
			k := slices.Index(level, at)
			out = append(out, at)
			level = slices.Delete(slices.Clone(level), k, k+1)
			best := -1.0
			from := at.At
			for _, j := range level {
				if d := j.At.Dist(from); d > best+0.5 {
					best, at = d, j
				}
			}
		}
	}
	return out
}

// withFeet adds the fitting of the feet: before the frame is set upright, else at the end.
func (b *builder) withFeet(steps []*Step) []*Step {
	pads := b.padsOf()
	if len(b.f.Feet) == 0 && len(pads) == 0 {
		return steps
	}
	at := len(steps)
	for i, s := range steps {
		if s.Kind == TurnIt && s.Turn.Down.Z < -0.9 {
			at = i
		}
	}
	s := &Step{Kind: FitFeet, Down: geom.Vec{Z: -1}, bars: newSet(b.n), ctx: newSet(b.n)}
	if at < len(steps) {
		s.ctx = steps[at].ctx
		s.Down = downBefore(steps, at)
	} else {
		for i := range b.n {
			s.ctx.add(i)
		}
	}
	var rest []*frame.Foot
	for _, f := range b.f.Feet {
		if s.ctx.has(b.index[f.Under]) {
			s.Feet = append(s.Feet, f)
		} else {
			rest = append(rest, f)
		}
	}
	var later []*frame.PrintedUse
	for _, t := range pads {
		if s.ctx.has(b.index[t.On[0]]) {
			s.Printed = append(s.Printed, t)
		} else {
			later = append(later, t)
		}
	}
	if len(s.Feet)+len(s.Printed) > 0 {
		steps = slices.Insert(slices.Clone(steps), at, s)
	}
	if len(rest)+len(later) > 0 {
		t := &Step{Kind: FitFeet, Down: geom.Vec{Z: -1}, Feet: rest, Printed: later, bars: newSet(b.n), ctx: newSet(b.n)}
		for i := range b.n {
			t.ctx.add(i)
		}
		steps = append(steps, t)
	}
	return steps
}

// downBefore returns the direction down before a step.
func downBefore(steps []*Step, at int) geom.Vec {
	if at == 0 {
		return geom.Vec{Z: -1}
	}
	return steps[at-1].Down
}

// lastSteps returns what comes when all bars are in: levelling and measuring, tightening, checking.
func (b *builder) lastSteps(rects []Diagonal) []*Step {
	all := newSet(b.n)
	for i := range b.n {
		all.add(i)
	}
	up := geom.Vec{Z: -1}
	step := func(k Kind) *Step { return &Step{Kind: k, Down: up, bars: newSet(b.n), ctx: all} }
	sq := step(Square)
	sq.Measure = rects
	sq.Feet = b.f.Feet
	ti := step(Tighten)
	var joints []*frame.Joint
	done := map[*frame.Joint]bool{}
	b.eachStep(b.plan.Steps, func(s *Step) {
		for _, t := range s.Torques {
			for _, j := range t.Joints {
				done[j] = true
			}
		}
	})
	for _, j := range b.f.Joints {
		if !done[j] {
			joints = append(joints, j)
		}
	}
	ti.Torques = torquesOf(crosswise(joints))
	ch := step(Check)
	ch.Measure = rects
	var out []*Step
	if len(sq.Measure) > 0 || len(sq.Feet) > 0 {
		out = append(out, sq)
	}
	if len(ti.Torques) > 0 {
		out = append(out, ti)
	}
	if fit := step(Fit); b.lastPrinted(fit) {
		out = append(out, fit)
	}
	return append(out, ch)
}

// eachStep calls f for every step, those of units before the unit goes in.
func (b *builder) eachStep(steps []*Step, f func(s *Step)) {
	for _, s := range steps {
		b.eachStep(s.Build, f)
		f(s)
	}
}

// Each calls f for every step in the order of working: those that build a unit before the unit goes in.
func (p *Plan) Each(f func(s *Step)) { (&builder{}).eachStep(p.Steps, f) }

// panels puts each sheet into the step in which the last bar that holds it goes in.
func (b *builder) panels() {
	for _, p := range b.f.Panels {
		if p.Screwed {
			continue
		}
		held := newSet(b.n)
		for _, m := range p.HeldBy {
			held.add(b.index[m])
		}
		done := false
		b.eachStep(b.plan.Steps, func(s *Step) {
			here := s.bars.clone()
			if s.ctx != nil {
				here.join(s.ctx)
			}
			if !done && s.Kind == Place && held.within(here) && s.bars.meets(held) {
				s.Panels = append(s.Panels, p)
				done = true
			}
		})
	}
}
