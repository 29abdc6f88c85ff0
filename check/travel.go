package check

import (
	"fmt"
	"math"
	"slices"

	"barwright/frame"
	"barwright/geom"
)

func travelClashRule() Rule {
	return Rule{Name: "travel-clash", run: travelsClash, Explain: `travel-clash (error; warning between two travelling groups)

A group that moves, with its panels and the printed parts on it, hits a bar, a bracket, a plate, a foot, a panel, a printed part or
the floor on its way between from and to. The boxes of both are compared first; where they meet, the true sections are compared at 65 places along the stretch, so that a
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
		for _, s := range m.solids(g, m.groupBox(g)) {
			out = append(out, m.solidTravels(w, &s)...)
		}
		if w.left < 0 {
			out = append(out, Finding{Severity: Warning, Members: names(g.Members...), At: boxOf(g).Centre(), Origin: g.Origin,
				Message: fmt.Sprintf("the boxes of group %q meet more than %d others on its way: the rest was not compared", g.Name, mostWays),
				Remedy:  "shorten the travel"})
		}
	}
	return append(out, m.groupsMeet()...)
}

// groupBox returns a box that holds the members of a group and all that sits on them.
func (m *model) groupBox(g *frame.Group) geom.Box {
	box := boxOf(g)
	for i := range m.bodies {
		if moving(m.bodies[i].owners[0]) == g {
			box = box.Union(m.bodies[i].box)
		}
	}
	return box
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

// solid is something that moves or stands in the way of what moves.
type solid struct {
	name   string
	who    []string
	prisms []prism
	pieces []convex
	box    geom.Box
}

// solids returns the bars and the bodies on them of a travelling group, or near a box all that stand still where group is nil.
func (m *model) solids(group *frame.Group, near geom.Box) []solid {
	var out []solid
	for _, k := range m.tree.near(near) {
		if b := m.f.Members[k]; moving(b) == group {
			out = append(out, solid{b.Name, names(b), m.bars[k : k+1], nil, b.Box})
		}
	}
	for _, k := range m.bodyTree.near(near) {
		// Bought brackets that move lie in the corners of bars that move.
		if b := &m.bodies[k]; moving(b.owners[0]) == group && (group == nil || b.printed != nil || b.kind == "panel") {
			out = append(out, solid{b.name, names(b.owners...), b.prisms, b.pieces, b.box})
		}
	}
	return out
}

// solidTravels finds what a bar or body of a travelling group hits on its way.
func (m *model) solidTravels(w *way, s *solid) []Finding {
	var out []Finding
	g := w.group
	t := g.Travel
	box := sweep(s.box, t)
	for _, o := range m.solids(nil, box) {
		if w.left < 0 || !meetAny(box.Grow(-geom.Coincident), &o) {
			continue
		}
		w.left--
		at, way, ok := firstHit(s, &o, t)
		if !ok {
			continue
		}
		out = append(out, Finding{Severity: Error, Members: append(slices.Clone(s.who), o.who...), At: at, Origin: g.Origin,
			Message: fmt.Sprintf("%s of group %q hits %s when it has moved %s mm along %s; it is to move from %s to %s mm", s.name, g.Name, o.name, mm(way), t.Axis, mm(t.From), mm(t.To)),
			Remedy:  travelRemedy(t, way)})
	}
	if low := box.Low.Z; low < m.f.Floor-geom.Coincident && t.Axis == geom.Z {
		out = append(out, Finding{Severity: Error, Members: s.who, At: s.box.Centre().With(geom.Z, m.f.Floor), Origin: g.Origin,
			Message: fmt.Sprintf("%s of group %q moves %s mm under the floor when it goes to %s", s.name, g.Name, mm(m.f.Floor-low), mm(t.From)),
			Remedy:  fmt.Sprintf("write from = %s or more", mm(math.Ceil(t.From+m.f.Floor-low)))})
	}
	return out
}

// meetAny reports whether a box shares space with the box of a part of a solid.
func meetAny(box geom.Box, o *solid) bool {
	for i := range o.prisms {
		if meet(box, o.prisms[i].box) {
			return true
		}
	}
	for i := range o.pieces {
		if meet(box, o.pieces[i].box) {
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

// firstHit returns where a moving solid first meets another on its way, and how far it has moved from where it is drawn:
// the place nearest to the drawn one.
func firstHit(p, o *solid, t *frame.Travel) (geom.Vec, float64, bool) {
	h := hit{t: t, best: math.Inf(1)}
	for i := range p.prisms {
		a := &p.prisms[i]
		for k := range o.prisms {
			h.try(a.box, o.prisms[k].box, func(v geom.Vec) (float64, geom.Vec) {
				moved := a.move(v)
				return shared(&moved, &o.prisms[k])
			})
		}
		for k := range o.pieces {
			h.try(a.box, o.pieces[k].box, func(v geom.Vec) (float64, geom.Vec) {
				moved := a.move(v)
				return sharedPrism(&o.pieces[k], &moved)
			})
		}
	}
	for i := range p.pieces {
		a := &p.pieces[i]
		for k := range o.prisms {
			h.try(a.box, o.prisms[k].box, func(v geom.Vec) (float64, geom.Vec) {
				moved := a.move(v)
				return sharedPrism(&moved, &o.prisms[k])
			})
		}
		for k := range o.pieces {
			h.try(a.box, o.pieces[k].box, func(v geom.Vec) (float64, geom.Vec) {
				moved := a.move(v)
				return sharedConvex(&moved, &o.pieces[k])
			})
		}
	}
	return h.at, h.best, h.found
}

// hit is the search for the place nearest to the drawn one at which two solids meet.
type hit struct {
	t     *frame.Travel
	best  float64
	at    geom.Vec
	found bool
}

// try looks at one piece of each of two solids; common returns what they share when the first has moved.
func (h *hit) try(a, b geom.Box, common func(geom.Vec) (float64, geom.Vec)) {
	from, to, ok := stretch(a, b, h.t)
	if !ok {
		return
	}
	for k := 0; k <= travelPlaces; k++ {
		way := from + (to-from)*float64(k)/travelPlaces
		if math.Abs(way) >= math.Abs(h.best) {
			continue
		}
		if v, c := common(h.t.Axis.Unit().Scale(way)); v >= leastOverlap {
			h.best, h.at, h.found = way, c, true
		}
	}
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
			boxes = append(boxes, sweep(m.groupBox(g), g.Travel))
		}
	}
	var out []Finding
	newTree(boxes).pairs(0, func(i, j int) bool {
		if f, ok := m.groupsClash(groups[i], groups[j]); ok {
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

func (m *model) groupsClash(g, h *frame.Group) (Finding, bool) {
	others := m.solids(h, m.groupBox(h))
	for _, a := range m.solids(g, m.groupBox(g)) {
		for _, b := range others {
			common := sweep(a.box, g.Travel).Intersect(sweep(b.box, h.Travel))
			if s := common.Size(); s.X <= geom.Coincident || s.Y <= geom.Coincident || s.Z <= geom.Coincident {
				continue
			}
			s := common.Size()
			return Finding{Severity: Warning, Members: append(slices.Clone(a.who), b.who...), At: common.Centre(), Origin: h.Origin,
				Message: fmt.Sprintf("%s of group %q and %s of group %q can both be in one place, %s × %s × %s mm", a.name, g.Name, b.name, h.Name, mm(s.X), mm(s.Y), mm(s.Z)),
				Remedy:  "shorten one of the travels, or see to it that the drives keep them apart"}, true
		}
	}
	return Finding{}, false
}
