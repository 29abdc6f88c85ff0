package frame

import (
	"fmt"
	"math"

	"barwright/geom"
)

// angleBracket places a bought angle bracket in an inner corner of a joint: one leg along B's slot, one
// on A's side. It asks for a slot of each bar in one plane and room for both legs. A brace takes an
// adjustable bracket, first on the side where the angle is open.
func (f *Frame) angleBracket(j *Joint) string {
	if j.Kind == EndToEnd {
		return "the bars meet end to end: there is no inner corner for a bracket"
	}
	along := j.B.Direction()
	if j.Kind == SideToSide && math.Abs(along.Dot(j.A.Direction())) > 0.5 {
		return "the bars lie side by side: there is no inner corner for a bracket"
	}
	ways := f.inwardFirst(j.At, along)
	if away := j.awayFromB(); j.slanted() && ways[0].Dot(away) > 0 {
		ways[0], ways[1] = ways[1], ways[0]
	}
	why := ""
	for _, d := range ways {
		c, reason := j.corner(d)
		if c != nil && f.cornerTaken(j, c) {
			c, reason = nil, fmt.Sprintf("another bar stands in the corner of %s and %s", j.A.Name, j.B.Name)
		}
		if c != nil {
			j.Corner = c
			j.bracketScrew(j.A, c.SideA, c.LegA, c)
			j.bracketScrew(j.B, c.SideB, c.LegB, c)
			return ""
		}
		if why == "" {
			why = reason
		}
	}
	return why
}

// awayFromB returns the direction along the butting bar away from the other, or out of its side.
func (j *Joint) awayFromB() geom.Vec {
	switch {
	case j.Kind != EndToSide:
		return j.Normal.Scale(-1)
	case j.EndA == 1:
		return j.A.Direction().Scale(-1)
	}
	return j.A.Direction()
}

// slanted reports whether the butting bar meets the other's side at an angle.
func (j *Joint) slanted() bool { return j.Kind == EndToSide && j.awayFromB().Dot(j.Normal) > -1+1e-9 }

// inwardFirst returns a direction and its opposite, the one toward the frame's middle first.
func (f *Frame) inwardFirst(at, d geom.Vec) []geom.Vec {
	if f.centre.Sub(at).Dot(d) < 0 {
		d = d.Scale(-1)
	}
	return []geom.Vec{d, d.Scale(-1)}
}

// corner returns the place of a bracket whose leg on B lies along d, or why there is none.
func (j *Joint) corner(d geom.Vec) (*Corner, string) {
	a, b := j.A, j.B
	leg := math.Min(a.Bar.Profile.Pitch, b.Bar.Profile.Pitch)
	sideA := a.SideFacing(d)
	normal := a.SideNormal(sideA)
	across := d.Cross(j.Normal) // the line of the inner edge
	if math.Abs(normal.Dot(across)) > 1e-6 {
		return nil, fmt.Sprintf("no face of %s looks along %s: there is no inner corner for a bracket", a.Name, b.Name)
	}
	if a.Bar.Profile.Closed[sideA] || b.Bar.Profile.Closed[j.SideB] {
		return nil, fmt.Sprintf("a closed face of %s or %s has no slot for a bracket's nut", a.Name, b.Name)
	}
	lines := matchingLines(a, sideA, b, j.SideB, across)
	if j.Kind == SideToSide {
		lines = b.lineCoordinates(j.SideB, across)
	}
	if len(lines) == 0 {
		return nil, fmt.Sprintf("no slot of %s lies in one plane with a slot of %s for a bracket", a.Name, b.Name)
	}
	// The inner edge: on the contact plane, on A's side, over the line nearest to the contact's middle.
	line := lines[0]
	for _, l := range lines {
		if math.Abs(l-j.At.Dot(across)) < math.Abs(line-j.At.Dot(across))-1e-9 {
			line = l
		}
	}
	plane := b.SidePoint(j.SideB, 0, 0, 0).Dot(j.Normal)
	face := a.SidePoint(sideA, 0, 0, 0).Dot(normal)
	at := j.Normal.Scale(plane).Add(across.Scale(line))
	at = at.Add(d.Scale((face - at.Dot(normal)) / d.Dot(normal)))
	c := &Corner{At: at, LegA: j.awayFromB(), LegB: d, Leg: leg, SideA: sideA, SideB: j.SideB}
	tip := at.Add(d.Scale(leg))
	if z := b.Place.Unapply(tip).Z; z < -geom.Coincident || z > b.Bar.Length+geom.Coincident {
		return nil, fmt.Sprintf("%s ends less than %g mm beside %s: no room for a bracket", b.Name, leg, a.Name)
	}
	if j.Kind == EndToSide && a.Bar.Length < leg {
		return nil, fmt.Sprintf("%s is shorter than the bracket's leg of %g mm", a.Name, leg)
	}
	return c, ""
}

// lineCoordinates returns the coordinates, measured along a direction of the frame, of the slots of a
// side that run square to it.
func (m *Member) lineCoordinates(s geom.Side, across geom.Vec) []float64 {
	if math.Abs(m.Direction().Dot(across)) > 1e-6 {
		return nil
	}
	var out []float64
	for _, o := range m.Bar.Profile.SlotLines(s) {
		out = append(out, m.SidePoint(s, 0, o, 0).Dot(across))
	}
	return out
}

// matchingLines returns the coordinates at which both sides have a slot.
func matchingLines(a *Member, sa geom.Side, b *Member, sb geom.Side, across geom.Vec) []float64 {
	var out []float64
	for _, x := range a.lineCoordinates(sa, across) {
		for _, y := range b.lineCoordinates(sb, across) {
			if math.Abs(x-y) <= onLine {
				out = append(out, y)
			}
		}
	}
	return out
}

// cornerTaken reports whether a third bar stands where the bracket goes.
func (f *Frame) cornerTaken(j *Joint, c *Corner) bool {
	side := c.LegA.Cross(c.LegB)
	half := j.B.Bar.Profile.Slot.Cavity / 2
	box := geom.EmptyBox()
	for _, s := range []float64{-half, half} {
		p := c.At.Add(side.Scale(s))
		box = box.Extend(p).Extend(p.Add(c.LegA.Scale(c.Leg))).Extend(p.Add(c.LegB.Scale(c.Leg)))
	}
	for _, m := range f.Members {
		if m != j.A && m != j.B && !m.Brace && m.Box.Overlaps(box) {
			return true
		}
	}
	return false
}

// bracketThickness is the thickness of a bought bracket's leg or plate as a share of its length
// (common practice, no source).
const bracketThickness = 1.0 / 6

// bracketScrew adds the screws that hold a leg of the bracket to a bar.
func (j *Joint) bracketScrew(m *Member, side geom.Side, leg geom.Vec, c *Corner) {
	size := j.With.sizeFor(m.Bar.Profile.Thread)
	for k := range size.Screws {
		way := c.Leg * (float64(k) + 0.5) / float64(size.Screws)
		seat := c.At.Add(leg.Scale(way)).Add(m.SideNormal(side).Scale(c.Leg * bracketThickness))
		j.addSlotScrew(m, side, size, seat)
	}
}

// addSlotScrew adds a screw into a slot nut of a bar.
func (j *Joint) addSlotScrew(m *Member, side geom.Side, size JoiningSize, seat geom.Vec) {
	screw, _ := j.With.screw(size.Screw)
	if !size.fixed {
		grip := seat.Sub(m.SidePoint(side, 0, 0, 0)).Dot(m.SideNormal(side))
		size.ScrewLength = slotScrew(screw.Standard, size.Screw, m.Bar.Profile.Slot, grip, size.ScrewLength)
		if j.Size.Screw == size.Screw && !j.Size.fixed {
			j.Size.ScrewLength = size.ScrewLength
		}
	}
	j.Fasteners = append(j.Fasteners, Fastener{
		Item: j.With.screwItem(), Standard: screw.Standard, Thread: size.Screw, Length: size.ScrewLength, Key: size.Key,
		Seat: seat, Dir: m.SideNormal(side).Scale(-1), HeadSide: side, TipIn: m, TipEnd: -1, SlotNut: true,
	})
}

// plate places a flat plate over two bars whose outer faces lie in one plane, away from the frame's middle first; only on faces that look
// along want where that is not zero.
func (f *Frame) plate(j *Joint, want geom.Vec) string {
	a, b := j.A, j.B
	parallel := math.Abs(a.Direction().Dot(b.Direction())) > 0.5
	for _, axis := range []geom.Axis{geom.X, geom.Y, geom.Z} {
		d := axis.Unit()
		square := math.Abs(a.Direction().Dot(d)) < 1e-6 && math.Abs(b.Direction().Dot(d)) < 1e-6 && math.Abs(j.Normal.Dot(d)) < 1e-6
		if !square {
			continue
		}
		ways := f.inwardFirst(j.At, d)
		for _, way := range []geom.Vec{ways[1], ways[0]} {
			if want != (geom.Vec{}) && way.Dot(want) < 0.5 {
				continue
			}
			sa, sb := a.SideFacing(way), b.SideFacing(way)
			if a.Bar.Profile.Closed[sa] || b.Bar.Profile.Closed[sb] {
				continue
			}
			ha := a.SidePoint(sa, 0, 0, 0).Dot(way)
			if math.Abs(ha-b.SidePoint(sb, 0, 0, 0).Dot(way)) > onLine {
				continue
			}
			if parallel && j.Kind == EndToEnd && len(matchingLines(a, sa, b, sb, a.Direction().Cross(way))) == 0 {
				continue
			}
			j.plateScrews(a, sa)
			j.plateScrews(b, sb)
			return ""
		}
	}
	return fmt.Sprintf("no slotted faces of %s and %s lie in one plane for a plate", a.Name, b.Name)
}

// plateScrews adds the plate's screws into one bar, a pitch apart about the contact and inside the bar.
func (j *Joint) plateScrews(m *Member, side geom.Side) {
	size := j.With.sizeFor(m.Bar.Profile.Thread)
	pitch := m.Bar.Profile.Pitch
	z0, off := m.sideCoordinates(side, j.At)
	line, lines := 0.0, m.Bar.Profile.SlotLines(side)
	for i, l := range lines {
		if i == 0 || math.Abs(l-off) < math.Abs(line-off)-1e-9 {
			line = l
		}
	}
	span := pitch * float64(size.Screws-1)
	first := math.Max(pitch/2, math.Min(z0-span/2, m.Bar.Length-pitch/2-span))
	for k := range size.Screws {
		z := first + pitch*float64(k)
		j.addSlotScrew(m, side, size, m.SidePoint(side, z, line, -pitch*bracketThickness))
	}
}
