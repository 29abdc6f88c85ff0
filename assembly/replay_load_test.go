package assembly_test

import (
	"math"

	"barwright/assembly"
	"barwright/frame"
	"barwright/geom"
)

// load puts the step's heads and nuts into their slots; with a group only those of its bars and of what stands.
func (r *replayer) load(at string, s *assembly.Step, placed, group []*frame.Member) {
	for _, l := range s.Load {
		if s.Each && group != nil && l.Member != group[0] {
			continue
		}
		around := placed
		for _, m := range group {
			if m == l.Member {
				around = group
			}
		}
		found := false
		for _, m := range around {
			found = found || m == l.Member
		}
		if !found {
			r.fault(at, "loads %s, which is not there", l.Member.Name)
			continue
		}
		if l.Count != len(l.Places) || l.Face < 1 || l.Face > 4 || l.End < 0 || l.End > 2 || l.Count < 1 {
			r.fault(at, "a load makes no sense: %+v", l)
		}
		for i, p := range l.Places {
			r.loadOne(at, l, i, p, around)
		}
	}
}

// loadOne slides one head or nut from the end of a slot to its place.
func (r *replayer) loadOne(at string, l assembly.Load, i int, place geom.Vec, around []*frame.Member) {
	f := r.find(l, place)
	b := l.Member
	// Face and end are those of the part: look them up through the part's own place.
	pp := b.PartPlace()
	z := pp.Unapply(place).Z
	if math.Abs(z-l.At[i]) > 0.01 {
		r.fault(at, "loads to %v mm from end 1 of %s, which is at %v", l.At[i], b.Name, z)
	}
	if l.End == 0 {
		if f == nil || !f.SlotNut || !r.f.Assembly.DropIn && len(r.plan.Warnings) == 0 {
			r.fault(at, "drops something in from the front of %s", b.Name)
		}
	} else {
		out := pp.EZ
		way := b.Length() - z
		if l.End == 1 {
			out, way = out.Scale(-1), z
		}
		r.slotOpen(at, l, f, place, out, way+25, around)
		for _, j := range r.f.Joints {
			for k := range j.Fasteners {
				g := &j.Fasteners[k]
				if g == f || !r.inSlot[g] || slotBar(g) != b || f == nil || !sameSlot(b, f.Seat, g.Seat, f, g) {
					continue
				}
				if d := g.Seat.Sub(f.Seat).Dot(out); d > 0.5 {
					r.fault(at, "what is loaded into %s would pass the screw of %s and %s", b.Name, j.A.Name, j.B.Name)
				}
			}
		}
	}
	if f == nil {
		return // of a foot's slot plate
	}
	if r.inSlot[f] {
		r.fault(at, "loads twice into %s", b.Name)
	}
	r.inSlot[f] = true
}

// find returns the screw whose head or nut belongs at a place, nil for those of feet.
func (r *replayer) find(l assembly.Load, place geom.Vec) *frame.Fastener {
	for _, j := range r.f.Joints {
		for i := range j.Fasteners {
			f := &j.Fasteners[i]
			if slotBar(f) != l.Member {
				continue
			}
			n := l.Member.SideNormal(f.HeadSide)
			d := f.Seat.Sub(place)
			if d.Sub(n.Scale(d.Dot(n))).Len() < 0.01 && math.Abs(d.Dot(n)) < 15 && faceNumber(l.Member, f) == l.Face {
				return f
			}
		}
	}
	return nil
}

// faceNumber returns the number of the face in whose slot a screw lies, by the part's place.
func faceNumber(m *frame.Member, f *frame.Fastener) int {
	n := m.PartPlace().Unturn(m.SideNormal(f.HeadSide))
	switch {
	case n.X > 0.5:
		return 1
	case n.Y > 0.5:
		return 2
	case n.X < -0.5:
		return 3
	}
	return 4
}

// slotOpen samples the way of a head or nut along its slot, and what stands out of it, against the bars around.
func (r *replayer) slotOpen(at string, l assembly.Load, f *frame.Fastener, place, out geom.Vec, way float64, around []*frame.Member) {
	b := l.Member
	n := place.Sub(b.Place.Apply(geom.Vec{Z: b.Place.Unapply(place).Z})).Unit()
	points := []geom.Vec{n.Scale(-3.5)}
	if f != nil && f.InSlot {
		points = append(points, n.Scale(3), n.Scale(f.Length-f.HeadIn.Bar.Profile.Slot.Lip-1))
	}
	for t := 0.0; t <= way; t += 2 {
		for _, p := range points {
			q := place.Add(p).Add(out.Scale(t))
			for _, o := range around {
				if o == b {
					continue
				}
				v := o.Place.Unapply(q)
				if v.Z < 0.5 || v.Z > o.Bar.Length-0.5 || o.Brace {
					continue
				}
				polys := r.metal[o.Profile]
				if polys == nil {
					polys = o.Profile.Region().Polygons(0.05)
					r.metal[o.Profile] = polys
				}
				// The outer rectangle, but for a slot in line with this one.
				half := o.Profile.Size().Scale(0.5)
				if math.Abs(v.X) < half.X-0.2 && math.Abs(v.Y) < half.Y-0.2 && (math.Abs(o.Direction().Dot(out)) < 0.9 || inside(polys, geom.Vec2{X: v.X, Y: v.Y})) {
					r.fault(at, "the slot of %s is shut by %s %v mm from the place", b.Name, o.Name, t)
					return
				}
			}
		}
	}
}
