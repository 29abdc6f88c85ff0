package check

import (
	"fmt"
	"math"

	"barwright/frame"
	"barwright/geom"
)

func travelClashRule() Rule {
	return Rule{Name: "travel-clash", run: travelsClash, Explain: `travel-clash (error; warning between two travelling groups)

A group that moves hits a bar, a bracket, a plate, a foot, a panel or the floor on its way between from and to. The boxes of
both are compared first; where they meet, the true sections are compared at 65 places along the stretch, so that a
bar that passes through another's slot is no clash. The message says where from its drawn place the group first
hits, and how far its way must end before that. Two groups that move may hit each other where both can be in one place
(warning: their drives may keep them apart).

Remedy: shorten the travel by what is said, or move the bar.`}
}

// travelPlaces is how many places of a stretch are looked at.
const travelPlaces = 64

func travelsClash(m *model) []Finding {
	var out []Finding
	for _, g := range m.f.Groups {
		if g.Travel == nil {
			continue
		}
		w := &way{group: g, left: mostWays}
		for _, b := range g.Members {
			out = append(out, m.memberTravels(w, b)...)
		}
		if w.left < 0 {
			out = append(out, Finding{Severity: Warning, Members: names(g.Members...), At: boxOf(g).Centre(), Origin: g.Origin,
				Message: fmt.Sprintf("the boxes of group %q meet more than %d others on its way: the rest was not compared", g.Name, mostWays),
				Remedy:  "shorten the travel"})
		}
	}
	return append(out, m.groupsMeet()...)
}

// mostWays is how many comparisons of one group are made.
const mostWays = 400

// way is the travel of a group while it is looked at.
type way struct {
	group *frame.Group
	left  int // comparisons
}

// sweep returns the box of a member over a travel.
func sweep(b geom.Box, t *frame.Travel) geom.Box {
	u := t.Axis.Unit()
	return b.Move(u.Scale(t.From)).Union(b.Move(u.Scale(t.To)))
}

func (m *model) memberTravels(w *way, b *frame.Member) []Finding {
	var out []Finding
	g := w.group
	i, t := m.index[b], g.Travel
	box := sweep(b.Box, t)
	add := func(name string, who []string, solids []prism) {
		if w.left < 0 || !meetAny(sweep(b.Box, t).Grow(-geom.Coincident), solids) {
			return
		}
		w.left--
		at, way, ok := firstHit(&m.bars[i], solids, t)
		if !ok {
			return
		}
		out = append(out, Finding{Severity: Error, Members: append([]string{b.Name}, who...), At: at, Origin: g.Origin,
			Message: fmt.Sprintf("%s of group %q hits %s when it has moved %s mm along %s; it is to move from %s to %s mm", b.Name, g.Name, name, mm(way), t.Axis, mm(t.From), mm(t.To)),
			Remedy:  travelRemedy(t, way)})
	}
	for _, k := range m.tree.near(box) {
		if o := m.f.Members[k]; moving(o) == nil {
			add(o.Name, []string{o.Name}, m.bars[k:k+1])
		}
	}
	for _, k := range m.bodyTree.near(box) {
		o := &m.bodies[k]
		if moving(o.owners[0]) == nil {
			add(o.name, names(o.owners...), o.prisms)
		}
	}
	if low := box.Low.Z; low < m.f.Floor-geom.Coincident && t.Axis == geom.Z {
		out = append(out, Finding{Severity: Error, Members: names(b), At: b.Box.Centre().With(geom.Z, m.f.Floor), Origin: g.Origin,
			Message: fmt.Sprintf("%s of group %q moves %s mm under the floor when it goes to %s", b.Name, g.Name, mm(m.f.Floor-low), mm(t.From)),
			Remedy:  fmt.Sprintf("write from = %s or more", mm(math.Ceil(t.From+m.f.Floor-low)))})
	}
	return out
}

// meetAny reports whether a box shares space with one of the prisms' boxes.
func meetAny(box geom.Box, solids []prism) bool {
	for i := range solids {
		if meet(box, solids[i].box) {
			return true
		}
	}
	return false
}

func travelRemedy(t *frame.Travel, way float64) string {
	switch {
	case t.From <= 0 && t.To >= 0 && way > 0:
		return fmt.Sprintf("write to = %s or less, or move the bar", mm(math.Floor(way)))
	case t.From <= 0 && t.To >= 0 && way < 0:
		return fmt.Sprintf("write from = %s or more, or move the bar", mm(math.Ceil(way)))
	}
	return "change the travel, or move the bar"
}

// firstHit returns where a moving prism first meets solids on its way, and how far it has moved from where it is drawn:
// the place nearest to the drawn one.
func firstHit(p *prism, solids []prism, t *frame.Travel) (geom.Vec, float64, bool) {
	best, at, found := math.Inf(1), geom.Vec{}, false
	for i := range solids {
		from, to, ok := stretch(p.box, solids[i].box, t)
		if !ok {
			continue
		}
		for k := 0; k <= travelPlaces; k++ {
			way := from + (to-from)*float64(k)/travelPlaces
			if math.Abs(way) >= math.Abs(best) {
				continue
			}
			moved := p.move(t.Axis.Unit().Scale(way))
			if v, c := shared(&moved, &solids[i]); v >= leastOverlap {
				best, at, found = way, c, true
			}
		}
	}
	return at, best, found
}

// stretch returns the part of a travel on which two boxes share space, a little inside its ends.
func stretch(a, b geom.Box, t *frame.Travel) (from, to float64, ok bool) {
	u, v := t.Axis.Others()
	for _, ax := range []geom.Axis{u, v} {
		if math.Min(a.High.Along(ax), b.High.Along(ax))-math.Max(a.Low.Along(ax), b.Low.Along(ax)) <= geom.Coincident {
			return 0, 0, false
		}
	}
	from = math.Max(t.From, b.Low.Along(t.Axis)-a.High.Along(t.Axis)+geom.Coincident)
	to = math.Min(t.To, b.High.Along(t.Axis)-a.Low.Along(t.Axis)-geom.Coincident)
	return from, to, from <= to
}

// groupsMeet finds travelling groups whose ways meet.
func (m *model) groupsMeet() []Finding {
	var groups []*frame.Group
	var boxes []geom.Box
	for _, g := range m.f.Groups {
		if g.Travel != nil {
			groups = append(groups, g)
			boxes = append(boxes, sweep(boxOf(g), g.Travel))
		}
	}
	var out []Finding
	newTree(boxes).pairs(0, func(i, j int) bool {
		if f, ok := groupsClash(groups[i], groups[j]); ok {
			out = append(out, f)
		}
		return len(out) <= mostFindings
	})
	return out
}

func boxOf(g *frame.Group) geom.Box {
	b := geom.EmptyBox()
	for _, m := range g.Members {
		b = b.Union(m.Box)
	}
	return b
}

func groupsClash(g, h *frame.Group) (Finding, bool) {
	for _, a := range g.Members {
		for _, b := range h.Members {
			common := sweep(a.Box, g.Travel).Intersect(sweep(b.Box, h.Travel))
			if s := common.Size(); s.X <= geom.Coincident || s.Y <= geom.Coincident || s.Z <= geom.Coincident {
				continue
			}
			s := common.Size()
			return Finding{Severity: Warning, Members: names(a, b), At: common.Centre(), Origin: h.Origin,
				Message: fmt.Sprintf("%s of group %q and %s of group %q can both be in one place, %s × %s × %s mm", a.Name, g.Name, b.Name, h.Name, mm(s.X), mm(s.Y), mm(s.Z)),
				Remedy:  "shorten one of the travels, or see to it that the drives keep them apart"}, true
		}
	}
	return Finding{}, false
}
