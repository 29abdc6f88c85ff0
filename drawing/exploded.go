package drawing

import (
	"fmt"

	"barwright/frame"
	"barwright/geom"
	"barwright/mesh"
	"barwright/standard"
)

// Limits of exploded views, common practice, no source.
const (
	mostExploded = 30    // bars on one sheet; a larger frame gets a sheet for each set and group
	explodeShare = 0.11  // gap at a joint over the largest size of the frame
	leastExplode = 7.0   // shortest explode line on the paper, mm
	noteColumn   = 120.0 // width of notes and hardware, mm
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

// explodedGroup is the members of one exploded view.
type explodedGroup struct {
	name    string
	members []*frame.Member
}

// explodedGroups splits the members of a large frame: each group block first, then each set, then what is left.
func explodedGroups(f *frame.Frame) []explodedGroup {
	if len(f.Members) <= mostExploded {
		return []explodedGroup{{"", f.Members}}
	}
	var out []explodedGroup
	done := map[*frame.Member]bool{}
	add := func(name string, members []*frame.Member) {
		var rest []*frame.Member
		for _, m := range members {
			if !done[m] {
				done[m] = true
				rest = append(rest, m)
			}
		}
		if len(rest) > 0 {
			out = append(out, explodedGroup{name, rest})
		}
	}
	for _, g := range f.Groups {
		add(g.Name, g.Members)
	}
	for _, s := range f.Sets {
		add(s.Name, s.Members)
	}
	add("other members", f.Members)
	return out
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
	a.drawExploded(s, p)
	return s
}

// groupList returns the parts list of a group's own bars.
func (a *arrangement) groupList(g explodedGroup, width float64) list {
	count := map[*frame.Part]int{}
	for _, m := range g.members {
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
	if l := hardwareList(a.f); g.name == "" && len(l.rows) > 0 && at.Y-l.height() >= p.lists.Low.Y {
		s.drawDown(l, at)
	}
}

// planExploded chooses the smallest sheet on which the narrowest bar can be seen, with the view either left of a column
// with title block and lists, or over the title block.
func (a *arrangement) planExploded(g explodedGroup) explodedPlan {
	sizes := []string{"A4", "A3", "A2", "A1"}
	if a.o.Size != "" {
		sizes = []string{a.o.Size}
	}
	var last explodedPlan
	for _, least := range []float64{leastBar, 0} {
		for _, name := range sizes {
			size, _ := SizeOf(name)
			for _, scale := range standard.Scales() {
				if a.pitch*scale.Factor() < least {
					break
				}
				p, ok := a.tryExploded(size, scale, g)
				if ok {
					return p
				}
				last = p
			}
		}
	}
	return last
}

// tryExploded lays an exploded view out.
func (a *arrangement) tryExploded(size Size, scale standard.Scale, g explodedGroup) (explodedPlan, bool) {
	k := scale.Factor()
	box := geom.EmptyBox()
	for _, m := range g.members {
		box = box.Union(m.Box)
	}
	s := box.Size()
	p := explodedPlan{size: size, scale: scale, gap: max(explodeShare*max(s.X, s.Y, s.Z), leastExplode/k)}
	p.moves = explodeMoves(g.members, a.f.Contacts, p.gap)
	p.scene = explodedScene(a.f, a.scene, p.moves, p.gap)
	e := extent(newLineModel(sceneBodies(p.scene, 1e-3)), Pictorial())
	view := geom.Vec2{X: e.Width(), Y: e.Height()}.Scale(k)
	ports := Area{High: geom.Vec2{}}
	for _, c := range balloonPorts(len(balloonItems(p.scene)), Area{High: view}) {
		ports.Low = geom.Vec2{X: min(ports.Low.X, c.X-balloonRadius), Y: min(ports.Low.Y, c.Y-balloonRadius)}
		ports.High = geom.Vec2{X: max(ports.High.X, c.X+balloonRadius), Y: max(ports.High.Y, c.Y+balloonRadius)}
	}
	need := geom.Vec2{X: max(ports.High.X, view.X) - ports.Low.X, Y: max(ports.High.Y, view.Y) - ports.Low.Y}
	space := size.Space()
	column := space.High.X - float64(standard.TitleBlockWidth)
	top := space.Low.Y + a.blockHeight()
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

// drawExploded draws the view, its explode lines where nothing hides them, and the item references.
func (a *arrangement) drawExploded(s *Sheet, p explodedPlan) {
	k := p.scale.Factor()
	v := Pictorial()
	view := makeView(p.scene, v, k)
	at := p.area.Low.Add(p.area.High).Sub(view.size).Scale(0.5)
	shift := at.Sub(view.low)
	view.draw(s, at)
	for _, l := range visibleLines(sceneBodies(p.scene, k), v, explodeLines(a.f, p.moves, p.gap), k) {
		s.Line(Explode, l[0].Add(shift), l[1].Add(shift))
	}
	calls := barCallouts(p.scene, v, k, balloonItems(p.scene))
	for i := range calls {
		for j := range calls[i].spots {
			calls[i].spots[j] = calls[i].spots[j].Add(shift)
		}
	}
	s.drawBalloons(placeBalloons(calls, Area{at, at.Add(view.size)}))
}

// visibleLines returns the stretches of free lines in space that no body hides, sheet mm.
func visibleLines(bodies []Body, v View, lines [][2]geom.Vec, scale float64) [][2]geom.Vec2 {
	m := newLineModel(bodies)
	s := shader{seen: m.look(v), view: v}
	s.right, s.up, s.into = v.axes()
	all := make([]int, len(bodies))
	for i := range all {
		all[i] = i
	}
	// A body without a mesh stands for the lines: everything may hide it.
	s.seen = append(s.seen, seen{topology: &topology{}, before: all})
	var out [][2]geom.Vec2
	for _, l := range lines {
		c := candidate{body: len(bodies), a: s.flat(l[0]), b: s.flat(l[1])}
		for _, g := range s.visible(c, shortest/scale) {
			d := c.b.Sub(c.a)
			p, q := c.a.Add(d.Scale(g.from)), c.a.Add(d.Scale(g.to))
			if a, b := (geom.Vec2{X: p.X, Y: p.Y}).Scale(scale), (geom.Vec2{X: q.X, Y: q.Y}).Scale(scale); a.Dist(b) > 0.5 {
				out = append(out, [2]geom.Vec2{a, b})
			}
		}
	}
	return out
}
