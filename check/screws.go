package check

import (
	"fmt"
	"math"

	"barwright/frame"
	"barwright/standard"
)

func threadShortRule() Rule {
	return Rule{Name: "thread-short", run: threadsShort, Explain: `thread-short (error under one diameter, warning under two)

Too little of a screw's thread is engaged in the tapped end of a bar: the screw's length less what it passes, or the
tapped depth where that is less. In aluminium two diameters are usual; with less, the thread may strip before the screw
holds as it should. The force that strips it is an estimate: shear on the thread's basic profile (ISO 724) at 0.6 of the
alloy's tensile strength.

Remedy: a longer screw and a deeper thread: joining { screw_length = …, tap_depth = … }.`}
}

// endScrewsOf calls fn for every screw that goes into a tapped end.
func (m *model) endScrewsOf(fn func(j *frame.Joint, s *frame.Fastener, t standard.Thread)) {
	for _, j := range m.f.Joints {
		for i := range j.Fasteners {
			s := &j.Fasteners[i]
			if t, ok := standard.ThreadByName(s.Thread); ok && s.TipIn != nil && s.TipEnd >= 0 {
				fn(j, s, t)
			}
		}
	}
}

// tapOf returns the tap that a screw goes into.
func tapOf(s *frame.Fastener) (frame.Tap, bool) {
	core := coreOf(s)
	for _, t := range s.TipIn.Bar.Taps {
		if t.End == s.TipEnd && t.Core.Dist(core) < 0.01 {
			return t, true
		}
	}
	return frame.Tap{}, false
}

func threadsShort(m *model) []Finding {
	var out []Finding
	m.endScrewsOf(func(j *frame.Joint, s *frame.Fastener, row standard.Thread) {
		if g, bad := threadShort(s, row); bad {
			g.Members, g.Origin = names(s.TipIn, other(j, s.TipIn)), j.Origin
			out = append(out, g)
		}
	})
	m.printedEndScrews(func(p *frame.PrintedBody, s *frame.Fastener, row standard.Thread) {
		g, bad := threadShort(s, row)
		if _, ok := tapOf(s); !ok {
			g, bad = Finding{Severity: Error, At: s.TipIn.EndPoint(s.TipEnd), Remedy: "drill no other thread there",
				Message: fmt.Sprintf("the screw %s × %s of the %s finds no thread in the %s end of %s", s.Thread, mm(s.Length), p.Name, endName(s.TipIn, s.TipEnd), s.TipIn.Name)}, true
		}
		if bad {
			g.Members, g.Origin = names(s.TipIn), p.Origin
			out = append(out, g)
		}
	})
	return out
}

// printedEndScrews calls fn for every screw of a printed part that goes into a tapped end.
func (m *model) printedEndScrews(fn func(p *frame.PrintedBody, s *frame.Fastener, t standard.Thread)) {
	for _, p := range m.f.Printed {
		for i := range p.Screws {
			s := &p.Screws[i]
			if t, ok := standard.ThreadByName(s.Thread); ok && s.TipIn != nil && s.TipEnd >= 0 {
				fn(p, s, t)
			}
		}
	}
}

// threadShort finds a screw in a tapped end that holds in too little thread.
func threadShort(s *frame.Fastener, row standard.Thread) (Finding, bool) {
	tap, ok := tapOf(s)
	use, ok2 := standard.ThreadEngagement(s.Thread)
	if !ok || !ok2 {
		return Finding{}, false
	}
	held := math.Min(s.Length-grip(s), tap.Depth)
	if held >= use.Length-0.01 {
		return Finding{}, false
	}
	alloy, ok := standard.Alloy(s.TipIn.Bar.Profile.Alloy)
	strength := ""
	if ok && held > 0 {
		strength = fmt.Sprintf(", which strips at about %.1f kN", standard.StripForce(row, held, alloy.Ultimate)/1000)
	}
	g := Finding{Severity: Warning, At: s.TipIn.EndPoint(s.TipEnd),
		Message: fmt.Sprintf("the screw %s × %s holds %s mm in the thread of %s%s; %s mm are usual, %s more", s.Thread, mm(s.Length), mm(math.Max(0, held)), s.TipIn.Name, strength,
			mm(use.Length), mm(use.Length-held)),
		Remedy: fmt.Sprintf("take a screw %s mm longer and a thread at least as deep", mm(math.Ceil(use.Length-held)))}
	if held < row.Nominal {
		g.Severity = Error
	}
	return g, true
}

// other returns the other member of a joint.
func other(j *frame.Joint, b *frame.Member) *frame.Member {
	if j.A == b {
		return j.B
	}
	return j.A
}

func screwLongRule() Rule {
	return Rule{Name: "screw-long", run: screwsLong, Explain: `screw-long (error in a tapped end, warning in a slot)

A screw reaches the end of its thread before its head is tight; or its tip reaches into a hole that crosses the core
beyond the thread, where a key or another screw should pass. A screw into a slot nut that is longer than bracket and slot
together meets the slot's floor by more than a millimetre; a bracket's leg is taken as a sixth of its length
(common practice, no source), so that this warns only.

Remedy: a shorter screw or a deeper thread: joining { screw_length = …, tap_depth = … }.`}
}

// floorPlay is how much a slot screw may reach beyond the slot's floor by the figures: brackets differ in thickness
// (common practice, no source).
const floorPlay = 1.0

func screwsLong(m *model) []Finding {
	var out []Finding
	m.endScrewsOf(func(j *frame.Joint, s *frame.Fastener, _ standard.Thread) {
		if g, bad := endScrewLong(s); bad {
			g.Members, g.Origin = names(s.TipIn, other(j, s.TipIn)), j.Origin
			out = append(out, g)
		}
	})
	m.printedEndScrews(func(p *frame.PrintedBody, s *frame.Fastener, _ standard.Thread) {
		if g, bad := endScrewLong(s); bad {
			g.Members, g.Origin = names(s.TipIn), p.Origin
			out = append(out, g)
		}
	})
	for _, j := range m.f.Joints {
		for i := range j.Fasteners {
			if g, ok := slotScrewLong(j, &j.Fasteners[i]); ok {
				out = append(out, g)
			}
		}
	}
	return out
}

// endScrewLong finds a screw that reaches the end of its thread before its head is tight.
func endScrewLong(s *frame.Fastener) (Finding, bool) {
	tap, ok := tapOf(s)
	reach := s.Length - grip(s)
	if !ok || reach <= tap.Depth+0.01 {
		return Finding{}, false
	}
	text := fmt.Sprintf("the screw %s × %s reaches %s mm into %s, whose thread is %s mm deep: it jams %s mm before its head is tight",
		s.Thread, mm(s.Length), mm(reach), s.TipIn.Name, mm(tap.Depth), mm(reach-tap.Depth))
	if at, ok := holeAhead(s.TipIn, tap, reach); ok {
		text += fmt.Sprintf("; its tip also reaches into the hole %s mm from that end", mm(at))
	}
	return Finding{Severity: Error, At: s.TipIn.EndPoint(s.TipEnd), Message: text,
		Remedy: fmt.Sprintf("take a screw at least %s mm shorter, or tap %s mm deep", mm(reach-tap.Depth), mm(math.Ceil(reach)+2))}, true
}

// holeAhead returns the nearest hole across a tapped core that a screw's tip reaches into beyond the thread.
func holeAhead(b *frame.Member, t frame.Tap, reach float64) (float64, bool) {
	for _, h := range holesOf(b) {
		z := math.Abs(h.Z - b.Bar.Plane(t.End))
		aside := math.Abs(t.Core.Dot(h.Side.Toward()) - h.Offset)
		if edge := z - h.Diameter/2; edge >= t.Depth && edge < reach && aside < h.Diameter/2 {
			return z, true
		}
	}
	return 0, false
}

// slotScrewLong finds a screw in a slot nut that meets the slot's floor.
func slotScrewLong(j *frame.Joint, s *frame.Fastener) (Finding, bool) {
	if !s.SlotNut || s.TipIn == nil {
		return Finding{}, false
	}
	out := s.TipIn.SideNormal(s.HeadSide)
	lift := s.Seat.Sub(s.TipIn.SidePoint(s.HeadSide, 0, 0, 0)).Dot(out)
	deep, depth := s.Length-lift, s.TipIn.Bar.Profile.Slot.Depth
	if deep <= depth+floorPlay {
		return Finding{}, false
	}
	return Finding{Severity: Warning, Members: names(s.TipIn, other(j, s.TipIn)), At: s.Seat, Origin: j.Origin,
		Message: fmt.Sprintf("the screw %s × %s reaches %s mm into the slot of %s, which is %s mm deep: it meets the floor %s mm before its head is tight",
			s.Thread, mm(s.Length), mm(deep), s.TipIn.Name, mm(depth), mm(deep-depth)),
		Remedy: fmt.Sprintf("take a screw %s mm shorter", mm(math.Ceil(deep-depth)))}, true
}
