package check

import (
	"fmt"
	"math"

	"barwright/frame"
	"barwright/geom"
	"barwright/standard"
)

func headCrushesRule() Rule {
	return Rule{Name: "head-crushes", run: headsCrush, Explain: `head-crushes (warning or note)

A screw's head that at the full torque of a class 8.8 screw presses the aluminium harder than the alloy bears. The
preload is that of VDI 2230-1 at 90 % of yield and friction 0.14; a button head (ISO 7380-1) carries 0.8 of it. The
area is the true contact: a head in a slot bears on the two lips, two segments of a circle left and right of the
opening; a head in a counterbore bears on the ring round its hole. The alloy bears its 0.2 % proof stress. Lips
that the end of the other bar does not back are also taken in bending, the load spread at 45°.

note     the full torque is too much: the message says the torque that the metal bears
warning  what the metal bears is less than a quarter of the full preload: the joint can't be made tight

One finding stands for all screws that are alike. Remedy: the torque that is said; a washer under a head that has
room for one; a wider head, or bars of one slot width.`}
}

// headSeat is what decides how hard a head may press; screws with the same seat are one finding.
type headSeat struct {
	standard, thread string
	opening, lip     float64 // of the slot, 0 for a head on a ring
	back             float64 // how far from the screw's axis the other bar's end backs the lips
	alloy            string
}

// headLoad is what a head may carry.
type headLoad struct {
	area, full, allowed float64 // mm², N, N
	torque              float64 // at the allowed preload, N·mm
	bends               bool    // the lips bend before they are crushed
}

// headClass and headFriction are what screws are taken to be: the class that hardware shops sell, dry and lightly oiled
// (common practice, no source).
const (
	headClass    = "8.8"
	headFriction = 0.14
	weakest      = 0.25 // share of the full preload under which a joint can't be made tight (common practice, no source)
)

func headsCrush(m *model) []Finding {
	type group struct {
		seat  headSeat
		joint *frame.Joint
		screw *frame.Fastener
		bars  []*frame.Member
	}
	var groups []*group
	byOne := map[headSeat]*group{}
	listed := map[*group]map[*frame.Member]bool{}
	m.endScrewsOf(func(j *frame.Joint, s *frame.Fastener, _ standard.Thread) {
		seat := seatOf(s)
		g := byOne[seat]
		if g == nil {
			g = &group{seat: seat, joint: j, screw: s}
			byOne[seat], listed[g] = g, map[*frame.Member]bool{}
			groups = append(groups, g)
		}
		if !listed[g][s.HeadIn] {
			listed[g][s.HeadIn] = true
			g.bars = append(g.bars, s.HeadIn)
		}
	})
	var out []Finding
	for _, g := range groups {
		load, ok := g.seat.load()
		if !ok || load.allowed >= load.full {
			continue
		}
		sev := Note
		if load.allowed < weakest*load.full {
			sev = Warning
		}
		what := fmt.Sprintf("the heads of screws %s of %s in the slots of %s", g.screw.Thread, g.screw.Standard, barsInWords(g.bars))
		if g.seat.opening == 0 {
			what = fmt.Sprintf("the heads of screws %s of %s in counterbores of %s", g.screw.Thread, g.screw.Standard, barsInWords(g.bars))
		}
		how := fmt.Sprintf("press on %.1f mm² each: %.0f MPa at the full torque of class %s, the alloy bears %.0f MPa", load.area, load.full/load.area, headClass, load.allowed/load.area)
		if load.bends {
			how = fmt.Sprintf("bend the lips, which bear %.1f kN, at the full torque of class %s, %.1f kN", load.allowed/1000, headClass, load.full/1000)
		}
		remedy := fmt.Sprintf("tighten to %s N·m at most", decimals(load.torque/1000, 1))
		if sev == Warning {
			remedy = "use bars of one slot width or a wider head, or a bracket; else " + remedy
		} else if g.seat.opening == 0 {
			remedy += ", or put a washer ISO 7089 under the head where the counterbore has room"
		}
		out = append(out, Finding{Severity: sev, Members: names(g.bars...), At: g.screw.Seat, Origin: g.joint.Origin,
			Message: fmt.Sprintf("%s %s; %.1f of %.1f kN of preload are left", what, how, load.allowed/1000, load.full/1000), Remedy: remedy})
	}
	return out
}

// barsInWords names one bar and counts the others.
func barsInWords(list []*frame.Member) string {
	if len(list) == 1 {
		return list[0].Name
	}
	return fmt.Sprintf("%s and %d more", list[0].Name, len(list)-1)
}

// seatOf returns the seat of a screw's head.
func seatOf(s *frame.Fastener) headSeat {
	p := s.HeadIn.Bar.Profile
	seat := headSeat{standard: s.Standard, thread: s.Thread, alloy: p.Alloy}
	if !s.InSlot {
		return seat
	}
	seat.opening, seat.lip = p.Slot.Opening, p.Slot.Lip
	// Along the way across the slot the tapped bar's end is metal from its core to the floor of its own slot.
	across := s.HeadIn.Direction().Cross(s.Dir)
	side := s.TipIn.SideFacing(across)
	t := s.TipIn.Bar.Profile
	seat.back = t.Pitch/2 - t.Slot.Depth
	if t.Closed[side] {
		seat.back = t.Pitch / 2
	}
	return seat
}

// load works out what the head may carry.
func (s headSeat) load() (headLoad, bool) {
	screw, ok := standard.ScrewOf(s.standard, s.thread)
	full, ok2 := standard.TighteningTorque(s.thread, headClass, headFriction)
	alloy, ok3 := standard.Alloy(s.alloy)
	if !ok3 {
		alloy, ok3 = standard.Alloy(geom.DefaultAlloy)
	}
	if !ok || !ok2 || !ok3 {
		return headLoad{}, false
	}
	l := headLoad{full: full.Preload}
	if s.standard == "ISO 7380-1" {
		l.full *= standard.ButtonHeadFactor
	}
	r := headContact(screw) / 2
	if s.opening == 0 {
		hole, ok := standard.ClearanceHole(s.thread)
		if !ok {
			return l, false
		}
		l.area = math.Pi * (float64(r*r) - float64(hole.Medium*hole.Medium)/4)
		l.allowed = alloy.Yield * l.area
	} else if !s.lips(&l, r, alloy.Yield) {
		return l, false
	}
	l.torque = full.TorqueSocket * l.allowed / full.Preload
	return l, true
}

// lips works out the contact of a head with the two lips of a slot. It returns false where there is none: off-slot
// tells of that.
func (s headSeat) lips(l *headLoad, r, yield float64) bool {
	a := s.opening / 2
	if r <= a {
		return false
	}
	segment, centre, chord := circleSegment(r, a)
	l.area = 2 * segment
	l.allowed = yield * l.area
	arm := centre - s.back
	if arm <= 0 {
		return true
	}
	// A strip of lip as wide as the contact and the spread of 45° on each side, fully plastic: w·t²/4.
	width := chord + 2*arm
	if bend := 2 * yield * width * s.lip * s.lip / 4 / arm; bend < l.allowed {
		l.allowed, l.bends = bend, true
	}
	return true
}

// circleSegment returns area, centre and chord of what a circle of radius r leaves beyond a line at a distance a.
func circleSegment(r, a float64) (area, centre, chord float64) {
	h := math.Sqrt(float64(r*r) - float64(a*a))
	area = float64(r*r*math.Acos(a/r)) - float64(a*h)
	return area, 2.0 / 3 * h * h * h / area, 2 * h
}
