package frame

import (
	"fmt"
	"math"
	"strings"

	"barwright/geom"
)

// sideNames are the frame's six sides as drill blocks name them.
var sideNames = []string{"left", "right", "front", "back", "bottom", "top"}

// sideDirection returns the outward direction of a side of the frame.
func sideDirection(side string) geom.Vec {
	i := indexOf(sideNames, side)
	v := geom.Axis(i / 2).Unit()
	if i%2 == 0 {
		v = v.Scale(-1)
	}
	return v
}

// readDrills adds the holes of the drill blocks to their members.
func (l *loader) readDrills() {
	l.each("drill", func(b *block) {
		h, ok := l.readHole(b)
		face, ok1 := b.choice("face", "", sideNames...)
		from, ok2 := b.choice("from", "", sideNames...)
		distance, ok3 := b.notNegative("distance", 0)
		offset, ok4 := b.num("offset", 0)
		f, ok5 := b.refs("on", true)
		if !(ok && ok1 && ok2 && ok3 && ok4 && ok5) || face == "" || from == "" {
			return
		}
		members, ok := f.members()
		if !ok {
			return
		}
		d := &Drill{Name: b.name, Origin: b.header, On: members}
		for i, m := range members {
			hole, ok := l.holeOn(b, m, h, face, from, distance, offset)
			if !ok {
				return
			}
			if i == 0 {
				d.Hole = hole
			}
			m.Bar.Holes = append(m.Bar.Holes, hole)
		}
		l.f.Drills = append(l.f.Drills, d)
	})
}

// readHole reads size, depth, thread and counterbore of a drill block.
func (l *loader) readHole(b *block) (Hole, bool) {
	h := Hole{Purpose: Drilled}
	depth, ok := b.positive("depth", 0)
	through, ok1 := b.flag("through", !b.has("depth"))
	if ok && ok1 && through == b.has("depth") {
		if through {
			l.fail(b.at("through"), "through fights depth", "A hole goes through, or has a depth.")
		} else {
			l.fail(b.at("through"), "The hole has no depth", "Give depth, or through = true.")
		}
		return h, false
	}
	h.Depth = depth
	ok2 := l.readBoreOrTap(b, &h)
	ok3 := l.readCounterbore(b, &h)
	return h, ok && ok1 && ok2 && ok3
}

func (l *loader) readBoreOrTap(b *block, h *Hole) bool {
	d, ok := b.positive("diameter", 0)
	if !ok {
		return false
	}
	h.Diameter = d
	if !b.has("tap") {
		if !b.has("diameter") {
			l.fail(b.header, fmt.Sprintf("%s has no diameter", b), "Give diameter, or tap = \"M6\".")
			return false
		}
		return true
	}
	if b.has("diameter") {
		l.fail(b.at("diameter"), "diameter fights tap", "The thread gives the drill; take one of the two away.")
		return false
	}
	name, ok := b.str("tap", "")
	if !ok {
		return false
	}
	t, ok := l.thread(name, b.at("tap"))
	if !ok {
		return false
	}
	h.Thread, h.Diameter = t.Name, t.TapDrill
	if h.Depth > 0 {
		// Common practice, no source: three pitches of run-out for the tap's lead.
		h.ThreadDepth = h.Depth
		h.Depth = snap(h.Depth + float64(3*t.Pitch))
	}
	return true
}

func (l *loader) readCounterbore(b *block, h *Hole) bool {
	if !b.has("counterbore") {
		return true
	}
	o := b.object("counterbore", "diameter", "depth")
	if o == nil || !o.need("diameter", "depth") {
		return false
	}
	d, ok := o.num("diameter", 0)
	depth, ok1 := o.num("depth", 0)
	if !ok || !ok1 || h.Diameter == 0 {
		return false
	}
	switch {
	case d <= h.Diameter:
		l.fail(o.value["diameter"].Range(), fmt.Sprintf("A counterbore of %s is no wider than its hole of %s", show(d), show(h.Diameter)), "")
		return false
	case depth <= 0:
		l.fail(o.value["depth"].Range(), fmt.Sprintf("The counterbore's depth is %s", show(depth)), "It must be more than 0.")
		return false
	case h.Depth > 0 && depth >= h.Depth:
		l.fail(o.value["depth"].Range(), fmt.Sprintf("A counterbore %s deep swallows its hole, %s deep", show(depth), show(h.Depth)), "")
		return false
	}
	h.Bore, h.BoreDepth = d, depth
	return true
}

// holeOn turns a hole given by the frame's sides into one in a member's own coordinates.
func (l *loader) holeOn(b *block, m *Member, h Hole, face, from string, distance, offset float64) (Hole, bool) {
	side, ok := l.drilledSide(b, m, face)
	if !ok {
		return h, false
	}
	end, ok := l.drilledEnd(b, m, from)
	if !ok {
		return h, false
	}
	length := m.Bar.Length
	if distance > length {
		l.fail(b.at("distance"), fmt.Sprintf("%s lies outside of %s", show(distance), m.Name), fmt.Sprintf("That bar is %s mm long.", show(length)))
		return h, false
	}
	h.Side, h.Z = side, distance
	if end == 1 {
		h.Z = snap(length - distance)
	}
	// The file counts along the frame's axes, the bar toward its next side.
	t := side.Toward()
	if dir := m.Place.Turn(geom.Vec{X: t.X, Y: t.Y}); dir.X+dir.Y+dir.Z > 0 {
		h.Offset = offset
	} else {
		h.Offset = -offset + 0
	}
	p := m.Bar.Profile
	switch {
	case math.Abs(offset) >= p.Along(side)/2:
		l.fail(b.at("offset"), fmt.Sprintf("offset %s leaves the face of %s", show(offset), m.Name), fmt.Sprintf("The face is %s mm wide, %s mm on either side of its middle.", show(p.Along(side)), show(p.Along(side)/2)))
		return h, false
	case math.Max(h.Diameter, h.Bore) > p.Along(side):
		l.fail(b.header, fmt.Sprintf("The hole is wider than the face of %s", m.Name), fmt.Sprintf("The face is %s mm wide.", show(p.Along(side))))
		return h, false
	case h.Depth > p.Across(side) || h.BoreDepth >= p.Across(side):
		l.fail(b.header, fmt.Sprintf("The hole is deeper than %s is thick", m.Name), fmt.Sprintf("The bar is %s mm thick there; for a hole all the way write through = true.", show(p.Across(side))))
		return h, false
	}
	return h, true
}

// drilledSide returns the side of a member that looks to a side of the frame.
func (l *loader) drilledSide(b *block, m *Member, face string) (geom.Side, bool) {
	dir := sideDirection(face)
	side := m.SideFacing(dir)
	if m.SideNormal(side).Dot(dir) > 0.99 {
		return side, true
	}
	var known []string
	for _, s := range sideNames {
		if d := sideDirection(s); m.SideNormal(m.SideFacing(d)).Dot(d) > 0.99 {
			known = append(known, s)
		}
	}
	l.fail(b.at("face"), fmt.Sprintf("%s has no %s face along it", m.Name, face), "Its faces: "+strings.Join(known, ", ")+".")
	return 0, false
}

// drilledEnd returns the raw end of a member that lies toward a side of the frame.
func (l *loader) drilledEnd(b *block, m *Member, from string) (int, bool) {
	dir := sideDirection(from)
	along := m.Direction().Dot(dir)
	if math.Abs(along) > 0.05 {
		if along > 0 {
			return 1, true
		}
		return 0, true
	}
	var known []string
	for _, s := range sideNames {
		if math.Abs(m.Direction().Dot(sideDirection(s))) > 0.05 {
			known = append(known, s)
		}
	}
	l.fail(b.at("from"), fmt.Sprintf("%s has no %s end", m.Name, from), "Its ends: "+strings.Join(known, ", ")+".")
	return 0, false
}
