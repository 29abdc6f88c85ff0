package check

import (
	"fmt"
	"math"
	"slices"

	"barwright/frame"
	"barwright/geom"
)

// leastOverlap is the volume in mm³ under which two things only touch.
const leastOverlap = 0.5

// mostOverlaps is how many overlaps are worked out: a frame with more has one mistake that makes them all.
const mostOverlaps = 300

func overlapRule() Rule {
	return Rule{Name: "overlap", run: overlaps, Explain: `overlap (error)

Two bars share space; or a bracket, a plate, a panel or a printed part shares space with a bar that it does not sit on,
or with another bracket, plate, panel or printed part. The volume is that of the true sections, slots left out, so that a bar that
stands in another's slot is no overlap, nor a panel in the slots that hold it. Braces are taken with their
mitred ends. Corners of a panel that reach into a post are notched and count for nothing.

Bought brackets are taken as two plain legs, a sixth of their length thick and as wide as the slot's cavity. Printed
parts are taken as they are, holes filled, with the heads of their screws; beside them panels have their notches and
bought brackets the heads of their screws. A panel clip may squeeze the panel that it holds.
Feet have a rule of their own: foot-clash.

Remedy: give one of the two a face of the other as its own: right = post.left.`}
}

func overlaps(m *model) []Finding {
	var out []Finding
	more := 0
	m.tree.pairs(0, func(i, j int) bool {
		a, b := m.f.Members[i], m.f.Members[j]
		if !a.Box.Grow(-geom.Coincident).Overlaps(b.Box.Grow(-geom.Coincident)) {
			return true
		}
		if len(out) >= mostOverlaps {
			more++
			return more < 100*mostOverlaps
		}
		v, at := shared(&m.bars[i], &m.bars[j])
		if v < leastOverlap {
			return true
		}
		out = append(out, barsOverlap(a, b, v, at))
		return true
	})
	if more > 0 {
		last := out[len(out)-1]
		last.Message = fmt.Sprintf("%d pairs of bars overlap and are listed; %d more pairs lie within each other's outer boxes", len(out), more)
		last.Remedy = "mend these first: one mistake often makes many"
		out = append(out, last)
	}
	return append(out, m.bodyOverlaps()...)
}

func barsOverlap(a, b *frame.Member, v float64, at geom.Vec) Finding {
	common := a.Box.Intersect(b.Box)
	s := common.Size()
	remedy := "shorten or move one of the two: they may touch, and no more"
	if !a.Brace && !b.Brace {
		remedy = "let one end at a face of the other: " + faceHint(a, b, common)
	}
	return Finding{Severity: Error, Members: names(a, b), At: at, Origin: b.Origin, Remedy: remedy,
		Message: fmt.Sprintf("%s and %s share %.0f mm³ within %.1f × %.1f × %.1f mm", a.Name, b.Name, v, s.X, s.Y, s.Z)}
}

// faceHint writes an attribute that would part two members along the axis on which they overlap least.
func faceHint(a, b *frame.Member, common geom.Box) string {
	size := common.Size()
	axis := geom.X
	for _, ax := range []geom.Axis{geom.Y, geom.Z} {
		if size.Along(ax) < size.Along(axis) {
			axis = ax
		}
	}
	names := [3][2]string{{"left", "right"}, {"front", "back"}, {"bottom", "top"}}[axis]
	if a.Box.Centre().Along(axis) < b.Box.Centre().Along(axis) {
		return fmt.Sprintf("%s of %s = %s.%s", names[0], b.Name, a.Name, names[1])
	}
	return fmt.Sprintf("%s of %s = %s.%s", names[1], b.Name, a.Name, names[0])
}

// bodyOverlaps finds brackets, plates and panels that share space with bars or with each other. Feet have a rule of
// their own.
func (m *model) bodyOverlaps() []Finding {
	var out []Finding
	for i := range m.bodies {
		b := &m.bodies[i]
		if b.kind == "foot" {
			continue
		}
		for _, k := range m.tree.near(b.box) {
			if g, ok := m.bodyBar(b, k); ok {
				out = append(out, g)
			}
		}
		for _, k := range m.bodyTree.near(b.box) {
			o := &m.bodies[k]
			if k <= i || o.kind == "foot" || len(out) > mostFindings {
				continue
			}
			if v, at := bodiesShare(b, o); v >= leastOverlap+squeeze(b, o)+squeeze(o, b) {
				out = append(out, Finding{Severity: Error, Members: names(append(append([]*frame.Member{}, b.owners...), o.owners...)...), At: at, Origin: o.origin,
					Message: fmt.Sprintf("%s and %s share %.0f mm³", b.name, o.name, v), Remedy: remedyFor(b, o)})
			}
		}
		if len(out) > mostFindings {
			break
		}
	}
	return out
}

func remedyFor(a, b *body) string {
	if a.printed != nil && b.printed != nil && a.origin != b.origin && slices.Equal(a.printed.On, b.printed.On) {
		return fmt.Sprintf("lines %d and %d both ask for a printed part there: leave one out, or move it", min(a.origin.Start.Line, b.origin.Start.Line), max(a.origin.Start.Line, b.origin.Start.Line))
	}
	if a.printed != nil || b.printed != nil {
		return "move one of the two, or leave the printed part out"
	}
	if a.kind == "panel" || b.kind == "panel" {
		return "notch the panel there, or screw it on outside: screwed = true"
	}
	return "take another joining for one of the joints, or move one bar"
}

// bodyBar compares a body with a bar.
func (m *model) bodyBar(b *body, k int) (Finding, bool) {
	bar := m.f.Members[k]
	owner := false
	for _, o := range b.owners {
		owner = owner || o == bar
	}
	if owner && b.kind != "panel" || moving(bar) != moving(b.owners[0]) {
		return Finding{}, false
	}
	sum, at := 0.0, geom.Vec{}
	for i := range b.prisms {
		if v, p := shared(&b.prisms[i], &m.bars[k]); v > sum {
			sum, at = v, p
		}
	}
	for i := range b.pieces {
		if v, p := sharedPrism(&b.pieces[i], &m.bars[k]); v > sum {
			sum, at = v, p
		}
	}
	if sum < leastOverlap || b.sheet != nil && b.sheet.notched(bar) {
		return Finding{}, false
	}
	text := fmt.Sprintf("%s and %s share %.0f mm³", b.name, bar.Name, sum)
	if owner {
		slot := bar.Bar.Profile.Slot
		text = fmt.Sprintf("%s does not go into the slots of %s: they share %.0f mm³; the slot is %s wide and %s deep", b.name, bar.Name, sum, mm(slot.Opening), mm(slot.Depth))
	}
	remedy := "move the bar, or take another joining there"
	if b.printed != nil {
		remedy = "move the bar or the printed part, or leave the part out"
	}
	if b.kind == "panel" {
		remedy = "make the panel thinner, lower its engagement, or screw it on outside: screwed = true"
	}
	return Finding{Severity: Error, Members: names(append([]*frame.Member{bar}, others(b.owners, bar)...)...), At: at, Origin: b.origin, Message: text, Remedy: remedy}, true
}

// others returns members without one.
func others(list []*frame.Member, not *frame.Member) []*frame.Member {
	var out []*frame.Member
	for _, x := range list {
		if x != not {
			out = append(out, x)
		}
	}
	return out
}

// notched reports whether a bar only reaches into the corners of a panel, which are cut out there.
func (s *sheet) notched(bar *frame.Member) bool {
	if s.panel.Screwed {
		return false
	}
	u, v := s.normal.Others()
	for _, ax := range []geom.Axis{u, v} {
		if math.Min(bar.Box.High.Along(ax), s.open.High.Along(ax))-math.Max(bar.Box.Low.Along(ax), s.open.Low.Along(ax)) > geom.Coincident {
			return false
		}
	}
	return true
}

// squeeze returns the volume that a panel clip may share with a panel.
func squeeze(clip, panel *body) float64 {
	if clip.printed != nil && panel.kind == "panel" {
		return clip.printed.Squeeze
	}
	return 0
}

// beside returns the prisms with which a body is compared with another.
func (b *body) beside(o *body) []prism {
	if o.printed != nil && b.exact != nil {
		return b.exact
	}
	return b.prisms
}

// bodiesShare returns what two bodies share: of printed parts, whose pieces overlap, the largest that two pieces do.
func bodiesShare(a, b *body) (float64, geom.Vec) {
	sum, at := 0.0, geom.Vec{}
	pa, pb := a.beside(b), b.beside(a)
	for i := range pa {
		for k := range pb {
			if !pa[i].box.Overlaps(pb[k].box) {
				continue
			}
			if v, p := shared(&pa[i], &pb[k]); v > 0 {
				sum += v
				at = p
			}
		}
	}
	most := func(v float64, p geom.Vec) {
		if v > sum {
			sum, at = v, p
		}
	}
	for i := range a.pieces {
		for k := range pb {
			most(sharedPrism(&a.pieces[i], &pb[k]))
		}
		for k := range b.pieces {
			most(sharedConvex(&a.pieces[i], &b.pieces[k]))
		}
	}
	for i := range b.pieces {
		for k := range pa {
			most(sharedPrism(&b.pieces[i], &pa[k]))
		}
	}
	return sum, at
}
