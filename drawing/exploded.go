package drawing

import (
	"fmt"
	"slices"

	"barwright/frame"
	"barwright/geom"
	"barwright/mesh"
	"barwright/standard"
)

// Limits of exploded views, common practice, no source.
const (
	mostExploded = 30   // bars on one sheet; a larger frame gets a sheet for each set and group
	explodeShare = 0.11 // gap at a joint over the largest size of the frame
	leastExplode = 7.0  // shortest explode line on the paper, mm

	leastExploded = 75.0  // largest size of the frame on the paper, as built, mm
	noteColumn    = 126.0 // width of notes and hardware, mm
)

// ExplodedSheets returns the exploded view of a frame with hidden lines removed, item references and the lines along which
// the parts come together; one sheet, or one for each set and group where the frame is large. It returns an error as [ArrangementSheets]
// does.
func ExplodedSheets(f *frame.Frame, scene *mesh.Scene, o Options) ([]*Sheet, error) {
	o, err := o.settle(f)
	if err != nil {
		return nil, err
	}
	a, err := newArrangement(f, scene, o)
	if err != nil {
		return nil, err
	}
	var sheets []*Sheet
	for i, g := range explodedGroups(f) {
		s := a.explodedSheet(g)
		if i > 0 {
			s.Name = fmt.Sprintf("%s-%d", s.Name, i+1)
		}
		sheets = append(sheets, s)
	}
	NumberSheets(sheets)
	return sheets, nil
}

// explodedGroup is what one exploded view takes apart: units of members that keep together in it.
type explodedGroup struct {
	name  string
	units [][]*frame.Member
}

// members returns all members of the group.
func (g explodedGroup) members() []*frame.Member {
	var out []*frame.Member
	for _, u := range g.units {
		out = append(out, u...)
	}
	return out
}

// singly returns each member as a unit of its own.
func singly(members []*frame.Member) [][]*frame.Member {
	var out [][]*frame.Member
	for _, m := range members {
		out = append(out, []*frame.Member{m})
	}
	return out
}

// explodedGroups returns the views of a frame: one that takes every bar apart where the frame is small, else one of its units
// and one of each unit.
func explodedGroups(f *frame.Frame) []explodedGroup {
	if len(f.Members) <= mostExploded {
		return []explodedGroup{{"", singly(f.Members)}}
	}
	names, units := frameUnits(f)
	out := []explodedGroup{{"", units}}
	for i, u := range units {
		if len(u) > 1 {
			out = append(out, explodedGroup{names[i], singly(u)})
		}
	}
	return out
}

// frameUnits splits a large frame into what is built by itself: each group block, each ring with the bars that touch nothing but it,
// and every other bar.
func frameUnits(f *frame.Frame) (names []string, units [][]*frame.Member) {
	of := map[*frame.Member]int{}
	add := func(name string, members []*frame.Member) {
		var rest []*frame.Member
		for _, m := range members {
			if _, ok := of[m]; !ok {
				of[m] = len(units)
				rest = append(rest, m)
			}
		}
		if len(rest) > 0 {
			names, units = append(names, name), append(units, rest)
		}
	}
	for _, g := range f.Groups {
		add(g.Name, g.Members)
	}
	for _, s := range f.Sets {
		if s.Kind == frame.Ring {
			add(s.Name, s.Members)
		}
	}
	touches := map[*frame.Member][]*frame.Member{}
	for _, c := range f.Contacts {
		touches[c.A], touches[c.B] = append(touches[c.A], c.B), append(touches[c.B], c.A)
	}
	rings := len(units)
	for _, m := range f.Members {
		if _, ok := of[m]; ok {
			continue
		}
		home := -1
		for k, n := range touches[m] {
			u, ok := of[n]
			if !ok || u >= rings || k > 0 && u != home {
				home = -1
				break
			}
			home = u
		}
		if home >= 0 {
			of[m] = home
			units[home] = append(units[home], m)
			continue
		}
		add(m.Name, []*frame.Member{m})
	}
	return names, units
}

// explodedPlan is the sheet, scale and gap of an exploded view.
type explodedPlan struct {
	size  Size
	scale standard.Scale
	area  Area // for the view with its item references
	lists Area // for notes and hardware, empty where there is no room
	scene *mesh.Scene
	moves map[*frame.Member]geom.Vec
	gap   float64
}

// explodedSheet draws the exploded view of a group.
func (a *arrangement) explodedSheet(g explodedGroup) *Sheet {
	p := a.planExploded(g)
	title := "Exploded view"
	if g.name != "" {
		title += ", " + g.name
	}
	s := &Sheet{Name: "exploded", Title: title, Size: p.size}
	s.DrawBorder()
	block := a.titleBlock(scaleText(p.scale), title)
	block.DocumentType = "Exploded view"
	t := s.DrawTitleBlock(block)
	if p.lists.Width() > 0 {
		if l := a.groupList(g, t.Width()); len(l.rows) > 0 {
			s.drawUp(l, geom.Vec2{X: t.Low.X, Y: t.High.Y})
		}
		a.explodedNotes(s, p, g)
	}
	a.drawPictorial(s, p.scene, p.area, p.scale.Factor(), explodeLines(a.f, p.moves, p.gap)...)
	return s
}

// groupList returns the parts list of a group's own bars.
func (a *arrangement) groupList(g explodedGroup, width float64) list {
	count := map[*frame.Part]int{}
	for _, m := range g.members() {
		count[m.Part]++
	}
	l := partsList(a.f, a.u, width)
	rows := l.rows
	l.rows = nil
	for i, p := range a.f.Parts {
		if n := count[p]; n > 0 {
			rows[i][1] = fmt.Sprint(n)
			l.rows = append(l.rows, rows[i])
		}
	}
	return l
}

// explodedNotes writes the hardware and how to read the view, where there is room.
func (a *arrangement) explodedNotes(s *Sheet, p explodedPlan, g explodedGroup) {
	at := geom.Vec2{X: p.lists.Low.X, Y: p.lists.High.Y}
	notes := []string{"Chain lines join the faces that meet. Each item reference is the mark of the parts list.",
		"Load the slot nuts and screws that sit in slots before a slot is closed by the next bar.",
		"Tighten when all joints of a rectangle are in place and its diagonals are equal.",
		"CAUTION: a frame whose joints are loose folds. Support it and keep fingers from between bars."}
	if h := noteHeight(notes, noteColumn); h <= p.lists.Height() {
		at.Y -= h
		s.drawNotes(notes, at, noteColumn)
		at.Y -= listGap
	}
	if l := hardwareList(a.f).fitted(noteColumn); g.name == "" && len(l.rows) > 0 && at.Y-l.height() >= p.lists.Low.Y {
		s.drawDown(l, at)
	}
}

// planExploded chooses the smallest sheet on which the narrowest bar can be seen, with the view either left of a column
// with title block and lists, or over the title block.
func (a *arrangement) planExploded(g explodedGroup) explodedPlan {
	box := geom.EmptyBox()
	for _, m := range g.members() {
		box = box.Union(m.Box)
	}
	var last explodedPlan
	for _, any := range []bool{false, true} {
		sizes := a.sheetSizes()
		if any {
			slices.Reverse(sizes)
		}
		for _, name := range sizes {
			size, _ := SizeOf(name)
			for _, scale := range standard.Scales() {
				if !any && !a.readable(box.Size(), scale, leastExploded) {
					continue
				}
				p, ok := a.tryExploded(size, scale, g, box.Size())
				if ok {
					return p
				}
				last = p
			}
		}
	}
	return last
}

// tryExploded lays an exploded view of a group out, whose outer size as built is s.
func (a *arrangement) tryExploded(size Size, scale standard.Scale, g explodedGroup, s geom.Vec) (explodedPlan, bool) {
	k := scale.Factor()
	p := explodedPlan{size: size, scale: scale, gap: max(explodeShare*max(s.X, s.Y, s.Z), leastExplode/k)}
	p.moves = explodeMoves(g.units, a.f.Contacts, p.gap)
	p.scene = explodedScene(a.f, a.scene, p.moves, p.gap)
	e := extent(p.scene, Pictorial())
	view := geom.Vec2{X: e.Width(), Y: e.Height()}.Scale(k)
	need := view.Add(balloonRoom(len(balloonItems(p.scene)), view))
	space := size.Space()
	column := space.High.X - float64(standard.TitleBlockWidth)
	top := space.Low.Y + a.blockHeight
	list := top + rowHeight*float64(len(a.groupList(g, 180).rows)+1)
	left := Area{space.Low.Add(geom.Vec2{X: edgeGap, Y: edgeGap}), geom.Vec2{X: column - listGap, Y: space.High.Y - edgeGap}}
	over := Area{geom.Vec2{X: space.Low.X + edgeGap, Y: top + listGap}, space.High.Sub(geom.Vec2{X: edgeGap, Y: edgeGap})}
	switch {
	case need.X <= left.Width() && need.Y <= left.Height() && list < space.High.Y-60:
		p.area = left
		p.lists = Area{geom.Vec2{X: column + 20, Y: list + listGap}, space.High.Sub(geom.Vec2{X: edgeGap, Y: edgeGap})}
		return p, true
	case need.X <= over.Width() && need.Y <= over.Height():
		p.area = over
		return p, true
	}
	p.area = over
	return p, false
}

// visibleLines returns the stretches of free lines in space that no body hides, sheet mm.
func (s *shader) visibleLines(lines [][2]geom.Vec, scale float64) [][2]geom.Vec2 {
	// A body without a mesh stands for the lines: every other may hide it.
	free := shader{seen: append(slices.Clone(s.seen), seen{topology: &topology{}}),
		right: s.right, up: s.up, into: s.into, body: len(s.seen)}
	for i := range s.seen {
		free.before = append(free.before, int32(i))
	}
	var out [][2]geom.Vec2
	for _, l := range lines {
		c := candidate{body: free.body, a: s.flat(l[0]), b: s.flat(l[1])}
		for _, g := range free.visible(c, shortest/scale) {
			d := c.b.Sub(c.a)
			p, q := c.a.Add(d.Scale(g.from)), c.a.Add(d.Scale(g.to))
			if a, b := (geom.Vec2{X: p.X, Y: p.Y}).Scale(scale), (geom.Vec2{X: q.X, Y: q.Y}).Scale(scale); a.Dist(b) > 0.5 {
				out = append(out, [2]geom.Vec2{a, b})
			}
		}
	}
	return out
}
