package assembly

import (
	"fmt"

	"barwright/frame"
	"barwright/geom"
	"barwright/standard"
)

// keyRoom returns the space in mm that a hex key needs outside of a bar of a thickness to reach a screw through it: the long arm less
// what is inside (ISO 2936:2014 for the arm; that the long arm goes in is common practice, no source).
func keyRoom(key, across float64) float64 {
	arm := 70.0
	if k, ok := standard.HexKey(key); ok {
		arm = k.LongArmMax
	}
	return max(25, arm-across)
}

// accessBody returns the space that a key needs to reach a screw, nil where the screw is reached otherwise.
func accessBody(s *frame.Fastener) *body {
	if s.Access == nil || s.HeadIn == nil {
		return nil
	}
	in := s.HeadIn
	side := s.Access.Side
	across := in.Bar.Profile.Across(side)
	w := s.Key * 0.6
	q := in.Place.Unapply(s.Seat)
	line := geom.Vec2{X: q.X, Y: q.Y}.Dot(side.Toward())
	b := slotBox(in, side, line, q.Z, w, w, -keyRoom(s.Key, across), -touching*2)
	return &b
}

// keys finds the screws that a bar put on later keeps the key from, and has them tightened before; those that no key reaches
// even when their bars meet are warned of.
func (b *builder) keys() {
	early := map[*Step][]*frame.Joint{}
	var order []*Step
	for k := range b.joints {
		j := &b.joints[k]
		at := b.joinedAt(j.a, j.b)
		if at < 0 {
			continue
		}
		for i := range j.Fasteners {
			room := accessBody(&j.Fasteners[i])
			if room == nil {
				continue
			}
			last, who := b.lastReached(room, j, at)
			if last == nil {
				if who >= 0 {
					b.plan.Warnings = append(b.plan.Warnings, fmt.Sprintf(
						"No straight key reaches the screw between %s and %s past %s: use a shortened key or a bit, or turn the joint's side.", j.A.Name, j.B.Name, b.f.Members[who].Name))
				}
				break
			}
			if who >= 0 {
				if early[last] == nil {
					order = append(order, last)
				}
				early[last] = append(early[last], j.Joint)
				break
			}
		}
	}
	for _, s := range order {
		s.early = early[s]
	}
}

// lastReached returns the last place step after which a key still reaches a screw, and the bar that then comes in its way, -1 where none
// ever does. It is nil where a bar is in the way from the start.
func (b *builder) lastReached(room *body, j *joint, at int) (*Step, int) {
	blocks := func(s set) int {
		found := -1
		s.each(func(i int) bool {
			if i != j.a && i != j.b && room.box.Overlaps(b.bodies[i].box) && overlap(room, &b.bodies[i]) {
				found = i
			}
			return found < 0
		})
		return found
	}
	first := b.events[at]
	here := first.bars.clone()
	here.join(first.ctx)
	if i := blocks(here); i >= 0 {
		return nil, i
	}
	last := first
	for _, e := range b.events[at+1:] {
		if e.Kind != Place || !(e.bars.has(j.a) || e.ctx.has(j.a)) {
			continue
		}
		here = e.bars.clone()
		here.join(e.ctx)
		if i := blocks(here); i >= 0 {
			return last, i
		}
		last = e
	}
	return last, -1
}

// overlap reports whether two bodies share a piece.
func overlap(p, q *body) bool {
	from, _, ok := sweep(p, q, geom.Vec{X: 1})
	return ok && from == 0
}
