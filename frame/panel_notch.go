package frame

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"barwright/geom"
	"barwright/standard"
)

// A sheet is notched round what stands at its edges: posts, heads of screws and slot nuts in the slots that it goes into, bought brackets and
// printed parts in the corners. What stands in the middle of a sheet or reaches far into it is left to the design rules.

// edgeNotch is a notch in one edge of a sheet: from one place to another along it, and how deep.
type edgeNotch struct{ from, to, deep float64 }

// notches are those of a sheet: at the corners by low and high on its two axes, and in the edges by axis across and low and high.
type notches struct {
	corner [2][2]geom.Vec2
	edge   [2][2][]edgeNotch
}

// notch makes the outline: the rectangle without what is cut out round things that stand at its edges.
func (s *PanelSheet) notch(f *Frame, p *Panel) {
	var n notches
	// What holds a bar that no notch lets pass stays in the way with it.
	var stuck []*Member
	for _, m := range f.Members {
		if slices.Contains(p.HeldBy, m) || m.Brace || !m.Box.Overlaps(s.room()) {
			continue
		}
		if !n.add(s.rectangle(m.Box), s.Size, p.Engagement, s.play()) {
			stuck = append(stuck, m)
		}
	}
	for _, j := range f.Joints {
		if slices.Contains(stuck, j.A) || slices.Contains(stuck, j.B) {
			continue
		}
		for _, b := range j.fittings() {
			if b.Overlaps(s.room()) {
				n.add(s.rectangle(b), s.Size, p.Engagement, s.play())
			}
		}
	}
	for _, b := range f.Printed {
		for _, box := range b.inside(s) {
			n.add(s.rectangle(box), s.Size, p.Engagement, s.play())
		}
	}
	n.join(s.Size)
	if !n.apart(s.Size) {
		n = notches{} // too much stands there for a sheet: the design rules tell of it
	}
	s.Outline, s.Notches = n.outline(s.Size)
}

// NotchPrinted notches the sheets of the panels anew, now round the printed parts too, and works their masses out again. Whoever adds
// printed parts calls it before the frame is checked.
func (f *Frame) NotchPrinted() {
	for _, p := range f.Panels {
		if s := p.Sheet; s != nil {
			s.notch(f, p)
			s.Mass = s.area() * p.Thickness * p.density()
		}
	}
}

// holdsBars are the kinds of printed parts, by the start of their names, that hold bars together: a sheet gives way to them. What clips
// on a slot or covers it gives way to the sheet.
var holdsBars = []string{"angle", "plate-", "corner-", "brace-foot"}

// inside returns the boxes of what a printed part that holds bars has between the two faces of a sheet.
func (b *PrintedBody) inside(s *PanelSheet) []geom.Box {
	if !slices.ContainsFunc(holdsBars, func(k string) bool { return strings.HasPrefix(b.Kind, k) }) {
		return nil
	}
	const touch = 0.01 // mm: what only lies on the sheet is not in it
	normal := s.Normal.Unit()
	var out []geom.Box
	for i := range b.Pieces {
		slice := b.Pieces[i].Clip(normal, s.Box.High.Along(s.Normal)-touch)
		slice = slice.Clip(normal.Scale(-1), -s.Box.Low.Along(s.Normal)-touch)
		if !slice.Empty() && slice.Box().Overlaps(s.room()) {
			out = append(out, slice.Box())
		}
	}
	return out
}

// play is what a notch leaves free round a thing, mm: a fixed figure and what the sheet grows to one side.
func (s *PanelSheet) play() float64 { return panelNotch + s.Growth/2 }

// room is the box of the sheet when it has grown.
func (s *PanelSheet) room() geom.Box {
	u, v := s.Normal.Others()
	grown := u.Unit().Add(v.Unit()).Scale(s.Growth / 2)
	return geom.Box{Low: s.Box.Low.Sub(grown), High: s.Box.High.Add(grown)}
}

// fittings returns the boxes of a joint's screw heads and slot nuts, and of the legs of its bracket.
func (j *Joint) fittings() []geom.Box {
	var out []geom.Box
	for i := range j.Fasteners {
		out = append(out, headBox(&j.Fasteners[i]))
		if j.Fasteners[i].SlotNut && !j.Fasteners[i].TipIn.Brace {
			out = append(out, nutBox(&j.Fasteners[i]))
		}
	}
	if j.Corner != nil && !j.slanted() {
		legs := j.Corner.legBoxes(j.B.Bar.Profile.Slot.Cavity / 2)
		out = append(out, legs[:]...)
	}
	return out
}

// headBox is the box round the head of a screw.
func headBox(s *Fastener) geom.Box {
	screw, _ := standard.ScrewOf(s.Standard, s.Thread)
	r := screw.HeadDiameterMax / 2
	across := geom.Vec{X: r * (1 - math.Abs(s.Dir.X)), Y: r * (1 - math.Abs(s.Dir.Y)), Z: r * (1 - math.Abs(s.Dir.Z))}
	top := s.Seat.Sub(s.Dir.Scale(screw.HeadHeight))
	return geom.Box{Low: s.Seat.Sub(across), High: s.Seat.Add(across)}.Union(geom.Box{Low: top.Sub(across), High: top.Add(across)})
}

// nutBox is the box round a slot nut behind the lips of its slot: as long and wide as the cavity (common practice, no source).
func nutBox(s *Fastener) geom.Box {
	m, slot := s.TipIn, s.TipIn.Bar.Profile.Slot
	out := m.SideNormal(s.HeadSide)
	face := m.SidePoint(s.HeadSide, 0, 0, 0)
	at := s.Seat.Sub(out.Scale(s.Seat.Sub(face).Dot(out)))
	r := slot.Cavity / 2
	across := geom.Vec{X: r * (1 - math.Abs(out.X)), Y: r * (1 - math.Abs(out.Y)), Z: r * (1 - math.Abs(out.Z))}
	low, high := at.Sub(out.Scale(slot.Depth)), at.Sub(out.Scale(slot.Lip))
	return geom.Box{Low: low.Sub(across), High: low.Add(across)}.Union(geom.Box{Low: high.Sub(across), High: high.Add(across)})
}

// legBoxes are the boxes round the two legs of a bracket at right angles, half its width to each side.
func (c *Corner) legBoxes(half float64) [2]geom.Box {
	thick := c.Thick
	if thick == 0 {
		thick = c.Leg * bracketThickness
	}
	side := c.LegA.Cross(c.LegB).Unit().Scale(half)
	leg := func(along, out geom.Vec) geom.Box {
		b := geom.EmptyBox()
		for _, q := range []geom.Vec{{}, along.Scale(c.Leg)} {
			for _, o := range []geom.Vec{{}, out.Scale(thick)} {
				b = b.Extend(c.At.Add(q).Add(o).Add(side)).Extend(c.At.Add(q).Add(o).Sub(side))
			}
		}
		return b
	}
	return [2]geom.Box{leg(c.LegA, c.LegB), leg(c.LegB, c.LegA)}
}

// rectangle returns a box in the sheet's own coordinates, low and high.
func (s *PanelSheet) rectangle(b geom.Box) [2]geom.Vec2 {
	u, v := s.Normal.Others()
	low, high := b.Low.Sub(s.Box.Low), b.High.Sub(s.Box.Low)
	return [2]geom.Vec2{{X: low.Along(u), Y: low.Along(v)}, {X: high.Along(u), Y: high.Along(v)}}
}

// add takes a rectangle that stands at an edge into the notches: one that reaches over the edge, or into the strip that stands in a
// slot there. play stays free round it. It is false for one that crosses the sheet, stands in its middle or reaches over a third of it.
func (n *notches) add(r [2]geom.Vec2, size geom.Vec2, strip, play float64) bool {
	low, high := [2]float64{r[0].X, r[0].Y}, [2]float64{r[1].X, r[1].Y}
	full := [2]float64{size.X, size.Y}
	var near [2]int     // on each axis: -1 at the low edge, 1 at the high one, 0 at neither
	var deep [2]float64 // from that edge
	for ax := range 2 {
		atLow, atHigh := low[ax] < strip+geom.Coincident, high[ax] > full[ax]-strip-geom.Coincident
		switch {
		case atLow && atHigh:
			return false
		case atLow:
			near[ax], deep[ax] = -1, high[ax]+play
		case atHigh:
			near[ax], deep[ax] = 1, full[ax]-low[ax]+play
		}
		if deep[ax] > full[ax]/3 {
			return false
		}
	}
	side := func(ax int) int { return (near[ax] + 1) / 2 }
	if near[0] != 0 && near[1] != 0 {
		c := &n.corner[side(0)][side(1)]
		*c = geom.Vec2{X: math.Max(c.X, deep[0]), Y: math.Max(c.Y, deep[1])}
		return true
	}
	for ax := range 2 {
		if near[ax] == 0 {
			continue
		}
		along := 1 - ax
		e := edgeNotch{low[along] - play, high[along] + play, deep[ax]}
		if e.to-e.from <= full[along]/3 {
			n.edge[ax][side(ax)] = append(n.edge[ax][side(ax)], e)
			return true
		}
	}
	return false
}

// join makes one notch of notches between which too little would be left.
func (n *notches) join(size geom.Vec2) {
	full := [2]float64{size.X, size.Y}
	for across := range 2 {
		for high := range 2 {
			list := n.edge[across][high]
			slices.SortFunc(list, func(a, b edgeNotch) int { return cmp.Or(cmp.Compare(a.from, b.from), cmp.Compare(a.to, b.to)) })
			var out []edgeNotch
			for _, e := range list {
				if k := len(out) - 1; k >= 0 && e.from-out[k].to < panelTongue {
					out[k].to, out[k].deep = math.Max(out[k].to, e.to), math.Max(out[k].deep, e.deep)
				} else {
					out = append(out, e)
				}
			}
			for len(out) > 0 && out[0].from-n.reach(across, high, 0) < panelTongue {
				n.widen(across, high, 0, out[0].to, out[0].deep)
				out = out[1:]
			}
			for k := len(out) - 1; k >= 0 && full[1-across]-out[k].to-n.reach(across, high, 1) < panelTongue; k-- {
				n.widen(across, high, 1, full[1-across]-out[k].from, out[k].deep)
				out = out[:k]
			}
			n.edge[across][high] = out
		}
	}
}

// apart reports whether something of every edge is left between its notches.
func (n *notches) apart(size geom.Vec2) bool {
	for across := range 2 {
		for high := range 2 {
			last := n.reach(across, high, 0)
			for _, e := range n.edge[across][high] {
				if e.from <= last {
					return false
				}
				last = e.to
			}
			if [2]float64{size.X, size.Y}[1-across]-n.reach(across, high, 1) <= last {
				return false
			}
		}
	}
	return true
}

// at returns the notch of the corner at one end of an edge.
func (n *notches) at(across, high, end int) *geom.Vec2 {
	if across == 0 {
		return &n.corner[high][end]
	}
	return &n.corner[end][high]
}

// reach returns how far the corner's notch at one end of an edge goes along it.
func (n *notches) reach(across, high, end int) float64 {
	if across == 0 {
		return n.at(across, high, end).Y
	}
	return n.at(across, high, end).X
}

// widen makes the corner's notch at one end of an edge reach along and deep at least.
func (n *notches) widen(across, high, end int, along, deep float64) {
	c := n.at(across, high, end)
	if across == 0 {
		*c = geom.Vec2{X: math.Max(c.X, deep), Y: math.Max(c.Y, along)}
	} else {
		*c = geom.Vec2{X: math.Max(c.X, along), Y: math.Max(c.Y, deep)}
	}
}

// outline goes round the sheet counter-clockwise and returns how many notches there are.
func (n *notches) outline(size geom.Vec2) (out []geom.Vec2, count int) {
	add := func(x, y float64) { out = append(out, geom.Vec2{X: x, Y: y}) }
	w, h := size.X, size.Y
	corner := func(c, at geom.Vec2, sx, sy float64, upright bool) {
		along, over := geom.Vec2{X: at.X, Y: at.Y + sy*c.Y}, geom.Vec2{X: at.X + sx*c.X, Y: at.Y}
		switch {
		case c == geom.Vec2{}:
			add(at.X, at.Y)
			return
		case upright: // it comes along the upright edge
			out = append(out, along, geom.Vec2{X: over.X, Y: along.Y}, over)
		default:
			out = append(out, over, geom.Vec2{X: over.X, Y: along.Y}, along)
		}
		count++
	}
	edge := func(list []edgeNotch, back bool, point func(along, deep float64)) {
		list = slices.Clone(list)
		if back {
			slices.Reverse(list)
		}
		for _, e := range list {
			from, to := e.from, e.to
			if back {
				from, to = to, from
			}
			point(from, 0)
			point(from, e.deep)
			point(to, e.deep)
			point(to, 0)
			count++
		}
	}
	corner(n.corner[0][0], geom.Vec2{}, 1, 1, true)
	edge(n.edge[1][0], false, func(a, d float64) { add(a, d) })
	corner(n.corner[1][0], geom.Vec2{X: w}, -1, 1, false)
	edge(n.edge[0][1], false, func(a, d float64) { add(w-d, a) })
	corner(n.corner[1][1], geom.Vec2{X: w, Y: h}, -1, -1, true)
	edge(n.edge[1][1], true, func(a, d float64) { add(a, h-d) })
	corner(n.corner[0][1], geom.Vec2{Y: h}, 1, -1, false)
	edge(n.edge[0][0], true, func(a, d float64) { add(d, a) })
	return out, count
}
