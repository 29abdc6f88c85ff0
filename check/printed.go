package check

import (
	"fmt"
	"math"
	"slices"

	"barwright/frame"
	"barwright/geom"
	"barwright/standard"
)

// printedJoints returns the joints whose bracket is a printed part of known shape.
func (m *model) printedJoints() map[*frame.Joint]bool {
	if len(m.f.Printed) == 0 {
		return nil
	}
	out := map[*frame.Joint]bool{}
	for _, p := range m.f.Printed {
		for _, j := range p.Joints {
			out[j] = true
		}
	}
	return out
}

// addPrinted makes bodies of the printed parts: their convex pieces and the heads of their screws. Beside printed parts, bought brackets
// and plates have the heads of their screws too.
func (m *model) addPrinted() {
	if len(m.f.Printed) == 0 {
		return
	}
	for i := range m.bodies {
		if b := &m.bodies[i]; b.joint != nil {
			b.exact = append(b.exact, b.prisms...)
			for k := range b.joint.Fasteners {
				if head, ok := headPrism(&b.joint.Fasteners[k]); ok {
					b.exact = append(b.exact, head)
					b.box = b.box.Union(head.box)
				}
			}
		}
	}
	m.printed = map[*frame.PrintedBody]int{}
	for _, p := range m.f.Printed {
		b := body{kind: "printed", name: "the " + p.Name, owners: p.On, printed: p, origin: p.Origin}
		for _, q := range p.Pieces {
			b.pieces = append(b.pieces, newConvex(q))
		}
		screws := slices.Clone(p.Screws)
		for _, j := range p.Joints {
			screws = append(screws, j.Fasteners...)
		}
		for i := range screws {
			if head, ok := headPrism(&screws[i]); ok {
				b.pieces = append(b.pieces, newConvex(geom.PrismPolyhedron(head.place, head.polygons[0], head.ends[0], head.ends[1])))
			}
		}
		m.printed[p] = len(m.bodies)
		m.addBody(b)
	}
}

// headPrism returns the head of a screw that stands on its seat.
func headPrism(s *frame.Fastener) (prism, bool) {
	screw, ok := standard.ScrewOf(s.Standard, s.Thread)
	if !ok || !s.SlotNut && s.HeadIn != nil {
		return prism{}, false
	}
	z := s.Dir.Scale(-1)
	x := geom.Vec{X: 1}
	if math.Abs(z.X) > 0.9 {
		x = geom.Vec{Y: 1}
	}
	x = x.Sub(z.Scale(x.Dot(z))).Unit()
	return roundPrism(geom.Motion{EX: x, EY: z.Cross(x), EZ: z, T: s.Seat}, screw.HeadDiameterMax/2, 0, screw.HeadHeight), true
}

// jointBodies returns the printed parts that serve joints.
func (m *model) jointBodies() map[*frame.Joint]*body {
	out := map[*frame.Joint]*body{}
	for _, p := range m.f.Printed {
		for _, j := range p.Joints {
			out[j] = &m.bodies[m.printed[p]]
		}
	}
	return out
}

// over returns how far the part reaches out over a screw's seat: the depth of its counterbore, which its pieces do not show.
func (b *body) over(seat, out geom.Vec) float64 {
	const step = 0.25
	depth := 0.0
	for {
		at := seat.Add(out.Scale(depth + step))
		inside := false
		for i := range b.printed.Pieces {
			if meet(b.pieces[i].box, geom.Box{Low: at, High: at}) && b.pieces[i].distance(at) == 0 {
				inside = true
				break
			}
		}
		if !inside {
			return depth
		}
		depth += step
	}
}

// onBrace reports whether the part sits on a diagonal.
func (b *body) onBrace() bool {
	return slices.ContainsFunc(b.owners, func(o *frame.Member) bool { return o.Brace })
}

// serves reports whether a body is the bracket, plate or printed part of a joint.
func (b *body) serves(j *frame.Joint) bool {
	return j != nil && (b.joint == j || b.printed != nil && slices.Contains(b.printed.Joints, j) ||
		b.joint != nil && j.Shared != nil && b.joint.Shared == j.Shared)
}

// inSlots returns the pieces of a printed part that stand in slots of the bars that it sits on.
func (b *body) inSlots() []slotItem {
	var out []slotItem
	for _, bar := range b.printed.On {
		p := bar.Bar.Profile
		back := bar.Place.Inverse()
		for i := range b.pieces {
			if !b.pieces[i].box.Overlaps(bar.Box) {
				continue
			}
			own := b.pieces[i].poly.Move(back)
			for side := range geom.Side(4) {
				for _, line := range p.SlotLines(side) {
					if item, ok := slotPiece(own, bar, side, line); ok {
						item.what, item.body, item.origin = b.name, b, b.origin
						out = item.join(out)
					}
				}
			}
		}
	}
	return out
}

// join adds a thing to those of one part, as one with those that it overlaps along its slot.
func (i slotItem) join(list []slotItem) []slotItem {
	for k := 0; k < len(list); k++ {
		o := list[k]
		if o.bar != i.bar || o.side != i.side || o.line != i.line || math.Abs(o.z-i.z) > o.half+i.half {
			continue
		}
		low, high := math.Min(o.z-o.half, i.z-i.half), math.Max(o.z+o.half, i.z+i.half)
		i.z, i.half = (low+high)/2, (high-low)/2
		i.from, i.to = math.Min(i.from, o.from), math.Max(i.to, o.to)
		list = slices.Delete(list, k, k+1)
		k = -1
	}
	return append(list, i)
}

// slotPiece returns what a convex piece in a bar's coordinates has in a slot.
func slotPiece(own geom.Polyhedron, bar *frame.Member, side geom.Side, line float64) (slotItem, bool) {
	p := bar.Bar.Profile
	across, out := side.Toward(), side.Normal()
	face := p.Across(side) / 2
	for _, h := range []struct {
		n geom.Vec2
		d float64
	}{{across, line + p.Slot.Cavity/2}, {across.Scale(-1), p.Slot.Cavity/2 - line}, {out, face - 0.05}, {out.Scale(-1), p.Slot.Depth - face}} {
		if own = own.Clip(geom.Vec{X: h.n.X, Y: h.n.Y}, h.d); own.Empty() {
			return slotItem{}, false
		}
	}
	own = own.Clip(geom.Vec{Z: -1}, 0)
	own = own.Clip(geom.Vec{Z: 1}, bar.Bar.Length)
	if v, _ := own.Volume(); v < leastOverlap {
		return slotItem{}, false
	}
	i := slotItem{bar: bar, side: side, line: line, from: math.Inf(1)}
	low, high := math.Inf(1), math.Inf(-1)
	for _, f := range own.Faces {
		for _, q := range f {
			low, high = math.Min(low, q.Z), math.Max(high, q.Z)
			deep := face - geom.Vec2{X: q.X, Y: q.Y}.Dot(out)
			i.from, i.to = math.Min(i.from, deep), math.Max(i.to, deep)
		}
	}
	i.z, i.half = (low+high)/2, (high-low)/2
	return i, true
}

// printedItems returns what printed parts have in slots: ribs, legs, tongues and pegs, and the nuts of their screws.
func (m *model) printedItems() []slotItem {
	var out []slotItem
	for _, p := range m.f.Printed {
		b := &m.bodies[m.printed[p]]
		out = append(out, b.inSlots()...)
		for i := range p.Screws {
			s := &p.Screws[i]
			if !s.SlotNut {
				continue
			}
			for _, item := range nutItems(s, fmt.Sprintf("of %s", b.name)) {
				item.body, item.origin = b, b.origin
				out = append(out, item)
			}
		}
	}
	for _, j := range m.f.Joints {
		for i := range j.Fasteners {
			if s := &j.Fasteners[i]; s.SlotNut {
				shank := nutItems(s, fmt.Sprintf("of %s on %s", j.A.Name, j.B.Name))
				for k := range shank[min(1, len(shank)):] {
					shank[k+1].joint, shank[k+1].origin = j, j.Origin
					out = append(out, shank[k+1])
				}
			}
		}
	}
	return out
}

// nutItems returns the nut of a screw in a slot's cavity, and the screw in its mouth.
func nutItems(s *frame.Fastener, of string) []slotItem {
	nut, ok := itemAt(s.TipIn, s.HeadSide, s.Seat)
	if !ok {
		return nil
	}
	slot := s.TipIn.Bar.Profile.Slot
	shank := nut
	nut.half, nut.from, nut.to, nut.slides = nutHalf(s.TipIn), slot.Lip, slot.Depth, true
	nut.what = fmt.Sprintf("the slot nut %s in %s %s", s.Thread, s.TipIn.Name, of)
	row, _ := standard.ThreadByName(s.Thread)
	shank.half, shank.from, shank.to = row.Nominal/2, 0, slot.Lip
	shank.what = fmt.Sprintf("the screw %s in %s %s", s.Thread, s.TipIn.Name, of)
	return []slotItem{nut, shank}
}
