package assembly

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"barwright/frame"
	"barwright/geom"
)

// loaded is a head or nut that goes into a slot before its joint is closed.
type loaded struct {
	*piece
	foot  bool
	of    int // index of its joint, -1 for a foot's
	joint int // event at which it is needed
	event int // at which it is loaded
	end   int // raw end from which it goes in, -1: from the front
}

// room is how far in mm beyond a bar's end a slot must be open for a screw or a nut to be put in (common practice, no source).
const room = 30.0

// load decides when each head and nut that goes in from a slot's end does so: as late as its slot is open, so that
// little hangs loose. It returns the joints whose heads get into no slot.
func (b *builder) load() []int {
	var failed []int
	var need []*loaded
	for k := range b.joints {
		j := &b.joints[k]
		at := b.joinedAt(j.a, j.b)
		if at < 0 {
			continue
		}
		nuts := at
		if j.Shared != nil {
			// Its part goes on when the last of its bars is in.
			for _, o := range j.Shared.Joints {
				nuts = max(nuts, b.joinedAt(b.index[o.A], b.index[o.B]))
			}
		}
		for x := range j.pieces {
			p := &j.pieces[x]
			switch {
			case p.kind == headPiece && !b.slidAt(k, at):
				need = append(need, &loaded{piece: p, of: k, joint: at})
			case p.kind == nutPiece:
				need = append(need, &loaded{piece: p, of: k, joint: nuts})
			}
		}
	}
	need = append(need, b.footNuts()...)
	slices.SortStableFunc(need, func(a, c *loaded) int {
		return cmp.Or(cmp.Compare(a.joint, c.joint), cmp.Compare(a.in, c.in), cmp.Compare(a.side, c.side), cmp.Compare(a.line, c.line), cmp.Compare(a.z, c.z))
	})
	for _, l := range need {
		if !b.schedule(l) && l.kind == headPiece {
			failed = append(failed, l.of)
		}
		b.loads = append(b.loads, l)
	}
	b.listLoads()
	return failed
}

// joinedAt returns the event that brings two bars together, -1 where none does or both are there before.
func (b *builder) joinedAt(i, k int) int {
	for _, e := range b.events {
		if e.Kind != Place {
			continue
		}
		if e.bars.has(i) && e.ctx.has(k) || e.bars.has(k) && e.ctx.has(i) {
			return e.event
		}
	}
	return -1
}

// slidAt reports whether an end screw's head slides into its slot with the bar at an event.
func (b *builder) slidAt(k, at int) bool {
	e := b.events[at]
	return len(e.Moves) == 1 && b.along(k, e.Moves[0].Dir)
}

// around returns the bars that are fixed round a bar just before an event, and whether the bar is there then or about to go in.
func (b *builder) around(i int, e *Step) (set, bool) {
	switch {
	case e.bars.has(i):
		if len(e.Add) > 1 {
			return e.bars, true
		}
		return setOf(b.n, i), true
	case e.ctx.has(i):
		return e.ctx, true
	}
	return nil, false
}

// schedule finds the latest event before which a piece can go into its slot, going back from where it is needed. It is false where there
// is none.
func (b *builder) schedule(l *loaded) bool {
	if l.kind == nutPiece && b.dropIn {
		l.event, l.end = l.joint, -1
		return true
	}
	for at := l.joint; at >= 0; at-- {
		e := b.events[at]
		if e.Kind != Place && e.Kind != TurnIt {
			continue
		}
		ctx, ok := b.around(l.in, e)
		if !ok {
			continue
		}
		for _, end := range b.nearEnds(l) {
			if b.opens(l, end, ctx, at) {
				l.event, l.end = at, end
				return true
			}
		}
	}
	l.event, l.end = l.joint, -1
	b.warnDropIn(l)
	return false
}

// nearEnds returns the ends of the slot, the nearer first.
func (b *builder) nearEnds(l *loaded) [2]int {
	if l.z <= b.f.Members[l.in].Bar.Length/2 {
		return [2]int{0, 1}
	}
	return [2]int{1, 0}
}

// opens reports whether a piece can go in from an end of its slot with some bars round it, before an event.
func (b *builder) opens(l *loaded, end int, ctx set, at int) bool {
	in := b.f.Members[l.in]
	d := in.Direction()
	way := l.z + room
	if end == 1 {
		way = in.Bar.Length - l.z + room
	} else {
		d = d.Scale(-1)
	}
	out := b.outside(l)
	ok := true
	ctx.each(func(i int) bool {
		if i == l.in {
			return true
		}
		if hits(&l.body, &b.bodies[i], d, way) && !b.inSlotOf(i, l.piece, d) || out != nil && hits(out, &b.bodies[i], d, way) {
			ok = false
		}
		return ok
	})
	return ok && b.wayFree(l, end, at)
}

// outside returns the part of a loose screw that stands out of its slot, nil for a nut.
func (b *builder) outside(l *loaded) *body {
	if l.kind != headPiece {
		return nil
	}
	in := b.f.Members[l.in]
	lip := in.Bar.Profile.Slot.Lip
	s := slotBox(in, l.side, l.line, l.z, 3, 3, lip-l.fastener.Length, 0)
	return &s
}

// wayFree reports whether no other head or nut stands in the slot between an end and a piece's place before an event, and none that
// comes later must pass it there.
func (b *builder) wayFree(l *loaded, end, at int) bool {
	between := func(z float64) bool {
		if end == 0 {
			return z < l.z-0.01
		}
		return z > l.z+0.01
	}
	same := func(p *piece) bool {
		return p.in == l.in && p.side == l.side && math.Abs(p.line-l.line) < 1
	}
	for _, o := range b.loads {
		if !same(o.piece) {
			continue
		}
		if o.event < at && between(o.z) {
			return false
		}
		// The other goes in later and would have to pass.
		if o.event > at && (o.end == 0 && o.z > l.z || o.end == 1 && o.z < l.z) {
			return false
		}
	}
	for k := range b.joints {
		j := &b.joints[k]
		if j.With.Method != frame.EndScrew || j.b != l.in {
			continue
		}
		when := b.joinedAt(j.a, j.b)
		if when < 0 || !b.slidAt(k, when) {
			continue
		}
		for x := range j.pieces {
			p := &j.pieces[x]
			if !same(p) || p == l.piece {
				continue
			}
			if when < at && between(p.z) {
				return false
			}
			if when >= at && b.passes(k, when, p, l.z) {
				return false
			}
		}
	}
	return true
}

// passes reports whether the head of a joint, which slides into its slot at an event, passes a place of the slot.
func (b *builder) passes(k, when int, p *piece, z float64) bool {
	e := b.events[when]
	d := e.Moves[0].Dir
	if e.bars.has(b.joints[k].b) {
		d = d.Scale(-1) // the slot's bar moves over the head
	}
	if d.Dot(b.joints[k].B.Direction()) > 0 {
		return z < p.z
	}
	return z > p.z
}

// warnDropIn says that a nut must be one that goes in from the front, or that a screw can't be loaded.
func (b *builder) warnDropIn(l *loaded) {
	name := b.f.Members[l.in].Name
	if l.kind == nutPiece {
		b.plan.Warnings = append(b.plan.Warnings, fmt.Sprintf(
			"A slot nut %s of %s at %s can't be put in from an end of its slot in this order: take one that drops in from the front.",
			l.fastener.Thread, name, show(l.z)))
		return
	}
	b.plan.Warnings = append(b.plan.Warnings, fmt.Sprintf(
		"The screw %sx%g whose head sits in %s can't get into its slot in this order. Join the two bars with an angle bracket and drop-in nuts.",
		l.fastener.Thread, l.fastener.Length, name))
}

// footNuts returns the nuts of slot plates under rails, needed when the rail no longer lies open.
func (b *builder) footNuts() []*loaded {
	var out []*loaded
	for _, f := range b.f.Feet {
		if f.On != frame.FootSlotPlate {
			continue
		}
		i := b.index[f.Under]
		in := f.Under
		side := in.SideFacing(geom.Vec{Z: -1})
		q := in.Place.Unapply(f.At)
		line := nearestLine(in, side, geom.Vec2{X: q.X, Y: q.Y}.Dot(side.Toward()))
		last := -1
		for _, e := range b.events {
			if e.bars.has(i) || e.ctx.has(i) {
				last = e.event
			}
		}
		if last < 0 {
			continue
		}
		for _, way := range []float64{-1, 1} {
			s := &frame.Fastener{Thread: footScrew(in), Item: "slot nut"}
			z := q.Z + way*in.Bar.Profile.Pitch*0.6
			half, high := pieceSize(nutPiece, s, in.Bar.Profile.Slot)
			p := &piece{kind: nutPiece, in: i, owner: -1, side: side, line: line, z: z, half: half, fastener: s,
				body: slotBox(in, side, line, z, half, half, 0, in.Bar.Profile.Slot.Lip+high)}
			out = append(out, &loaded{piece: p, foot: true, of: -1, joint: last})
		}
	}
	return out
}

// footScrew returns the thread of the screws that hold a slot plate.
func footScrew(m *frame.Member) string {
	return map[string]string{"M6": "M5", "M8": "M6", "M10": "M8"}[m.Bar.Profile.Thread]
}

// nearestLine returns the slot line of a side nearest to an offset.
func nearestLine(m *frame.Member, side geom.Side, offset float64) float64 {
	best := offset
	for k, l := range m.Bar.Profile.SlotLines(side) {
		if k == 0 || math.Abs(l-offset) < math.Abs(best-offset) {
			best = l
		}
	}
	return best
}

// listLoads gathers what goes into one slot at one event from one end, the farthest place first.
func (b *builder) listLoads() {
	type key struct {
		event, in, end int
		side           geom.Side
		line           int64
		kind           pieceKind
		thread         string
	}
	groups := map[key][]*loaded{}
	var keys []key
	for _, l := range b.loads {
		k := key{l.event, l.in, l.end, l.side, micron(l.line), l.kind, l.fastener.Thread}
		if groups[k] == nil {
			keys = append(keys, k)
		}
		groups[k] = append(groups[k], l)
	}
	for _, k := range keys {
		g := groups[k]
		slices.SortStableFunc(g, func(a, c *loaded) int {
			if k.end == 0 {
				a, c = c, a
			}
			return cmp.Compare(a.z, c.z)
		})
		b.events[k.event].Load = append(b.events[k.event].Load, b.loadOf(g))
	}
}

// loadOf describes pieces of one slot in the part's own terms.
func (b *builder) loadOf(g []*loaded) Load {
	first := g[0]
	m := b.f.Members[first.in]
	out := Load{Member: m, Face: faceOf(m, first.side), Count: len(g), Item: "slot nut", Size: first.fastener.Thread, pieces: g}
	if first.kind == headPiece {
		out.Item = first.fastener.Item
		out.Size = fmt.Sprintf("%sx%g", first.fastener.Thread, first.fastener.Length)
	}
	if first.end >= 0 {
		out.End = partEnd(m, first.end)
	}
	if len(m.Bar.Profile.SlotLines(first.side)) > 1 {
		out.Line = partLine(m, first.side, first.line)
	}
	for _, l := range g {
		z := l.z
		if partEnd(m, 0) == 2 {
			z = m.Bar.Length - z
		}
		out.At = append(out.At, z)
		out.Places = append(out.Places, m.SidePoint(l.side, l.z, l.line, 0))
	}
	return out
}

// faceOf returns the number that the part's drawing gives to a raw side.
func faceOf(m *frame.Member, side geom.Side) int {
	n := m.SideNormal(side)
	place := m.PartPlace()
	best, face := math.Inf(-1), 1
	for s := range geom.Side(4) {
		q := s.Normal()
		if v := place.Turn(geom.Vec{X: q.X, Y: q.Y}).Dot(n); v > best {
			best, face = v, int(s)+1
		}
	}
	return face
}

// partEnd returns the number that the part's drawing gives to a raw end.
func partEnd(m *frame.Member, end int) int {
	if m.ToPart.Flip {
		end = 1 - end
	}
	return end + 1
}

// partLine returns an offset on a raw side as the part counts it.
func partLine(m *frame.Member, side geom.Side, line float64) float64 {
	if m.ToPart.Flip {
		return -line
	}
	return line
}
