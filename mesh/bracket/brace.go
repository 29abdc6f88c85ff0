package bracket

import (
	"fmt"
	"math"

	"barwright/geom"
	"barwright/mesh/bracket/csg"
	"barwright/standard"
)

// makeBrace builds the foot of a diagonal: two legs in the wide corner between base and diagonal, and a web. It lies on the
// web: layers run through both legs round the corner, so that none splits when the diagonal is pulled.
func makeBrace(m *model) {
	thread := m.slotThread()
	head := m.headRadius("ISO 7380-1", thread, false)
	angle := m.v("angle") * math.Pi / 180
	sn, cs := math.Sincos(angle)
	m.fitWall(thread, "ISO 7380-1", 0, 0)
	t, p := m.wall, m.p.Pitch
	web := m.v("web")
	if web == 0 {
		web = math.Max(4*m.a.Line, 0.06*math.Min(p, 100)+0.8)
	}
	web = m.a.lines(web)
	width := p - 2*sideGap
	half := width / 2
	if room := half - web - head; room < 0.2 {
		m.fail(fight(RuleDriver, "web,thread", "a head %.1f mm wide does not fit beside a web of %g mm on a foot %g mm wide", 2*head, web, width))
		return
	}
	// The fillet's face runs at equal angles to both legs; its ends lie fillet beyond where the legs' faces meet.
	inner := t * math.Tan(angle/2) // of the meeting of the free faces, from the corner along a leg
	first := math.Max(inner+inCorner, m.mitreRoom(thread, angle)-head-0.5)
	screws, end := legScrews(int(m.v("screws")), first, head, p)
	leg := end + 2
	for k, room := range []float64{m.v("room_a"), m.v("room_b")} {
		if room > 0 && leg > room {
			m.fail(fight(RuleRoom, []string{"room_a", "room_b"}[k]+",screws", "the legs are %.1f mm long; bar %c is free over %g mm only", leg, 'A'+rune(k), room))
			return
		}
	}
	m.stand(geom.Vec{Z: 1}, geom.Vec{X: 1}, -half, "screws")
	d, n := geom.Vec{X: -cs, Y: sn}, geom.Vec{X: sn, Y: cs}
	x, y, z := geom.Vec{X: 1}, geom.Vec{Y: 1}, geom.Vec{Z: 1}
	bisect := n.Add(y).Unit()
	base, slant := csg.Half{N: y.Scale(-1)}, csg.Half{N: n.Scale(-1)}
	corner := csg.Facing(bisect.Scale(-1), x.Scale(relief))
	put := func(high float64, sides ...csg.Half) {
		c := csg.Convex{base, slant, corner, {N: z, D: high}, {N: z.Scale(-1), D: half}, m.bedBevel(base), m.bedBevel(slant)}
		for _, s := range sides {
			c = append(c, s, m.bedBevel(s))
		}
		m.add(c)
	}
	endA, endB := csg.Half{N: x, D: leg}, csg.Half{N: d, D: leg}
	put(half, csg.Half{N: y, D: t}, endA)
	put(half, csg.Half{N: n, D: t}, endB)
	fillet := (x.Scale(inner + inCorner).Add(y.Scale(t))).Dot(bisect)
	put(half, csg.Half{N: bisect, D: fillet}, endA, endB)
	// The web's free edge leaves the legs' ends low, so that it never meets their corners.
	chord := x.Scale(leg).Add(y.Scale(0.6 * t)).Dot(bisect)
	if chord > fillet+1 {
		put(web-half, csg.Half{N: bisect, D: chord}, endA, endB)
	}
	for bar, place := range []geom.Motion{
		{EX: x, EY: y, EZ: z},
		{EX: d, EY: n, EZ: z},
	} {
		m.leg(place, []*geom.Profile{m.p, m.pb}[bar], []float64{0}, screws, leg, t, thread, bar, true)
	}
	w, area := ribbed(width, t, web, math.Max(t, chord-x.Scale(inner).Dot(bisect)))
	m.root(screws[len(screws)-1]-inner, w, area, x, "load square on a leg at its last screw, root of the leg with the web")
	if m.spec.Text != "" {
		m.notes = append(m.notes, "The mark "+m.spec.Text+" has no flat place here: write it on by hand.")
	}
	m.notes = append(m.notes, fmt.Sprintf("For a diagonal at %.4g° to its base, in the wide corner of %.4g°. Print lying on the web: the layers run round the corner.", m.v("angle"), 180-m.v("angle")))
}

// mitreRoom returns how far from the corner the first screw must stand, so that in the mitred end of the diagonal neither its nut nor its
// tip comes out into the base: at a depth under the face the cut lies depth·cot(angle) farther from the corner than in the face. A nut is
// taken as long as the cavity is wide and 0.8 diameters high (common practice, no source).
func (m *model) mitreRoom(thread string, angle float64) float64 {
	row, ok := standard.ThreadByName(thread)
	if !ok {
		return 0
	}
	slot, cot := m.pb.Slot, 1/math.Tan(angle)
	nut := slot.Cavity/2 + math.Min(slot.Lip+0.8*row.Nominal, slot.Depth)*cot
	tip := row.Nominal/2 + (slot.Depth-0.5)*cot
	return math.Max(nut, tip)
}
