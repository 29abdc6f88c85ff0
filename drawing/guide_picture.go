package drawing

import (
	"fmt"
	"maps"

	"barwright/assembly"
	"barwright/frame"
	"barwright/geom"
	"barwright/mesh"
)

// lyingView returns the pictorial view of a frame that lies with a direction down.
func lyingView(down geom.Vec) View {
	m := geom.Identity()
	x, y, z := geom.Vec{X: 1}, geom.Vec{Y: 1}, geom.Vec{Z: 1}
	switch {
	case down.Z > 0.9:
		m.EX, m.EY, m.EZ = x, y.Scale(-1), z.Scale(-1)
	case down.Y < -0.9:
		m.EX, m.EY, m.EZ = x, z, y.Scale(-1)
	case down.Y > 0.9:
		m.EX, m.EY, m.EZ = x, z.Scale(-1), y
	case down.X < -0.9:
		m.EX, m.EY, m.EZ = z, y, x.Scale(-1)
	case down.X > 0.9:
		m.EX, m.EY, m.EZ = z.Scale(-1), y, x
	}
	v := Pictorial()
	return View{Toward: m.Unturn(v.Toward), Up: m.Unturn(v.Up)}
}

// shot is a picture of bars and fittings, some of which are new.
type shot struct {
	scene *mesh.Scene
	fresh []bool // by item
	refs  []int  // items that may get an item reference
	puts  []putOn
	view  View
}

// add adds an item, moved.
func (p *shot) add(it mesh.Item, isNew bool, by geom.Vec) {
	it.Place.T = it.Place.T.Add(by)
	p.scene.Items, p.fresh = append(p.scene.Items, it), append(p.fresh, isNew)
}

// put adds a new fitting, moved off its place.
func (p *shot) put(it mesh.Item, by, mid geom.Vec) {
	p.add(it, true, by)
	if by != (geom.Vec{}) {
		p.puts = append(p.puts, putOn{mid.Add(by), mid})
	}
}

// shotOf collects the bars of a picture, the new ones moved away from where they go, and the feet and printed parts that are on them.
func (g *guide) shotOf(old, fresh []*frame.Member, down, away geom.Vec) shot {
	p := shot{scene: &mesh.Scene{Title: g.scene.Title, Shapes: g.scene.Shapes}, view: lyingView(down)}
	here, moved := map[*frame.Member]bool{}, map[*frame.Member]bool{}
	for _, m := range old {
		here[m] = true
		p.add(g.scene.Items[g.item[m]], false, geom.Vec{})
	}
	for _, m := range fresh {
		moved[m] = true
		p.refs = append(p.refs, len(p.scene.Items))
		p.add(g.scene.Items[g.item[m]], true, away)
	}
	for k, i := range g.feet {
		if k < len(g.f.Feet) && g.footed[g.f.Feet[k]] && here[g.f.Feet[k].Under] {
			p.add(g.scene.Items[i], false, geom.Vec{})
		}
	}
	g.addFitted(&p, here, moved, away)
	return p
}

// finished returns the picture of the finished frame, in which the bars are named.
func (g *guide) finished() shot {
	fitted := maps.Clone(g.fitted)
	for _, f := range g.f.Feet {
		g.footed[f] = true
	}
	for t := range g.printed {
		g.fitted[t] = true
	}
	p := g.shotOf(g.f.Members, nil, geom.Vec{Z: -1}, geom.Vec{})
	for i, it := range p.scene.Items {
		p.fresh[i] = it.Kind != mesh.PrintedItem
		if it.Member != nil {
			p.refs = append(p.refs, i)
		}
	}
	clear(g.footed)
	g.fitted = fitted
	return p
}

// room is what item references and arrows need round a view, mm.
const guideRoom = 16.0

// drawShot draws a picture in an area as large as it goes, and returns what maps the frame to the page.
func (g *guide) drawShot(p *shot, area Area, balloons bool) func(geom.Vec) geom.Vec2 {
	e := extent(p.scene, p.view)
	side := 3.0
	if balloons {
		side = guideRoom
	}
	scale := min((area.Width()-2*side)/max(e.Width(), 1), (area.Height()-6)/max(e.Height(), 1), 0.39)
	if n := len(p.named()); balloons && n > 0 {
		// Smaller, until the item references find room round it.
		for range 40 {
			size := geom.Vec2{X: e.Width(), Y: e.Height()}.Scale(scale)
			need := size.Add(balloonRoom(n, size))
			if need.X <= area.Width() && need.Y <= area.Height() {
				break
			}
			scale *= 0.95
		}
	}
	bodies := sceneBodies(p.scene, p.view, scale)
	for i, it := range p.scene.Items {
		if it.Kind == mesh.PrintedItem {
			bodies[i].Fine = readable / scale
		}
	}
	m := newLineModel(bodies, g.known)
	lines := m.view(p.view, LineOptions{Scale: scale})
	size := geom.Vec2{X: e.Width(), Y: e.Height()}.Scale(scale)
	at := area.Low.Add(area.High).Sub(size).Scale(0.5)
	shift := at.Sub(e.Low.Scale(scale))
	for _, l := range lines {
		printed := p.scene.Items[l.Body].Kind == mesh.PrintedItem
		pts := make([]geom.Vec2, len(l.Points))
		for i, q := range l.Points {
			pts[i] = q.Add(shift)
		}
		role := Edge
		if p.fresh[l.Body] && (l.Kind == Silhouette || l.Kind == Crease && !printed) {
			role = Outline
		}
		g.page.Add(&Stroke{Role: role, Points: pts})
	}
	if balloons {
		g.drawGuideRefs(p, m, scale, shift, Area{at, at.Add(size)})
	}
	return func(q geom.Vec) geom.Vec2 { return p.view.Project(q).Scale(scale).Add(shift) }
}

// mostGuideRefs is how many items of a step get item references one by one; beyond, each mark gets one.
const mostGuideRefs = 6

// named returns the items that get an item reference: all that may where they are few, else one of each mark.
func (p *shot) named() []int {
	if len(p.refs) <= mostGuideRefs {
		return p.refs
	}
	var first []int
	seen := map[string]bool{}
	for _, i := range p.refs {
		if mark := p.scene.Items[i].Mark; !seen[mark] {
			seen[mark] = true
			first = append(first, i)
		}
	}
	return first
}

// drawGuideRefs draws the item references of what is new. A printed part that stands hidden behind bars is drawn dashed.
func (g *guide) drawGuideRefs(p *shot, m *lineModel, scale float64, shift geom.Vec2, view Area) {
	sh := m.shader(p.view)
	var refs []itemRef
	for _, i := range p.named() {
		it := p.scene.Items[i]
		var rails []FaceLine
		if it.Member != nil {
			rails = balloonRails(&it.Member.Part.Bar)
		} else {
			rails = meshRails(p.scene.Shapes[it.Shape].Mesh)
		}
		spots := sh.spots(i, rails, scale)
		for k := range spots {
			spots[k] = spots[k].Add(shift)
		}
		if len(spots) == 0 && it.Member == nil {
			spots = []geom.Vec2{p.view.Project(g.boxOf(it).Centre()).Scale(scale).Add(shift)}
			g.drawBehind(p, i, scale, shift)
		}
		if len(spots) > 0 {
			refs = append(refs, itemRef{it.Mark, spots})
		}
	}
	if len(refs) > 0 {
		g.page.drawItemRefs(refs, view)
	}
}

// drawBehind draws an item that others hide, dashed.
func (g *guide) drawBehind(p *shot, i int, scale float64, shift geom.Vec2) {
	it := p.scene.Items[i]
	m := newLineModel([]Body{{Mesh: p.scene.Shapes[it.Shape].Mesh, Place: it.Place}}, g.known)
	for _, l := range m.view(p.view, LineOptions{Scale: scale}) {
		if l.Kind != Silhouette {
			continue
		}
		for k := range l.Points {
			l.Points[k] = l.Points[k].Add(shift)
		}
		g.page.Add(&Stroke{Role: Hidden, Points: l.Points})
	}
}

// awayShare is how far off new bars are drawn, over the largest size of what is drawn (common practice, no source).
const awayShare = 0.16

// drawStep draws the picture of a step.
func (g *guide) drawStep(b *guideBlock, area Area) {
	s := b.step
	old := s.Standing(g.f)
	switch s.Kind {
	case assembly.TurnIt:
		g.drawTurn(b, area, old)
		return
	case assembly.Square:
		g.drawMeasure(b, area, old)
		return
	case assembly.FitFeet, assembly.Fit:
		g.drawFit(s, area, old)
		return
	}
	away := geom.Vec{}
	gap := awayShare * largest(old, s.Add)
	for i := len(s.Moves) - 1; i >= 0; i-- {
		m := s.Moves[i]
		way := gap
		if m.Way > 0 {
			way = m.Way * 2
		}
		away = away.Sub(m.Dir.Scale(way))
	}
	p := g.shotOf(old, s.Add, s.Down, away)
	g.addPrinted(&p, s, gap)
	at := g.drawShot(&p, area, true)
	g.drawPuts(&p, at)
	if len(s.Moves) > 0 {
		fresh := geom.EmptyBox()
		for _, m := range s.Add {
			fresh = fresh.Union(m.Box)
		}
		mid := fresh.Centre()
		if s.Each {
			mid = s.Add[0].Box.Centre()
		}
		from, to := at(mid.Add(away)), at(mid.Add(away.Scale(0.25)))
		g.page.fatArrow(from, to)
	}
	g.drawLoadLeaders(b, at, away)
}

// largest returns the largest side of the box round bars.
func largest(lists ...[]*frame.Member) float64 {
	box := geom.EmptyBox()
	for _, list := range lists {
		for _, m := range list {
			box = box.Union(m.Box)
		}
	}
	size := box.Size()
	return max(size.X, size.Y, size.Z)
}

// drawFit draws the picture of a step that fits feet and printed parts to what stands.
func (g *guide) drawFit(s *assembly.Step, area Area, old []*frame.Member) {
	p := g.shotOf(old, nil, s.Down, geom.Vec{})
	gap := awayShare * largest(old)
	g.addFeet(&p, s, gap)
	g.addPrinted(&p, s, gap)
	at := g.drawShot(&p, area, true)
	g.drawPuts(&p, at)
}

// fatArrow draws a filled arrow that shows a motion.
func (s *Sheet) fatArrow(from, to geom.Vec2) {
	d := to.Sub(from)
	l := d.Len()
	if l < 4 {
		d, l = d.Scale(4/max(l, 0.1)), 4
	}
	d = d.Scale(1 / l)
	n := geom.Vec2{X: -d.Y, Y: d.X}
	l = min(max(l, 8), 22)
	const half, head = 0.7, 4.0
	tip := from.Add(d.Scale(l))
	neck := from.Add(d.Scale(l - head))
	s.Fill(Outline, from.Add(n.Scale(half)), neck.Add(n.Scale(half)), neck.Add(n.Scale(2.2)), tip,
		neck.Sub(n.Scale(2.2)), neck.Sub(n.Scale(half)), from.Sub(n.Scale(half)))
}

// drawTurn draws what stands before and after a turn.
func (g *guide) drawTurn(b *guideBlock, area Area, old []*frame.Member) {
	mid := (area.Low.X + area.High.X) / 2
	left, right := area, area
	left.High.X, right.Low.X = mid-12, mid+12
	before, after := g.shotOf(old, nil, b.step.Before, geom.Vec{}), g.shotOf(old, nil, b.step.Down, geom.Vec{})
	g.drawShot(&before, left, false)
	g.drawShot(&after, right, false)
	y := (area.Low.Y + area.High.Y) / 2
	g.page.fatArrow(geom.Vec2{X: mid - 9, Y: y}, geom.Vec2{X: mid + 9, Y: y})
}

// measures returns the list of the diagonals of a step.
func (g *guide) measures(s *assembly.Step) list {
	table := list{columns: []listColumn{{"Over", 30, Left}, {"Reads " + g.u.name(), 24, Right}, {"1st", 15, Left}, {"2nd", 15, Left}}}
	for i, d := range s.Measure[:min(len(s.Measure), mostMeasures)] {
		table.rows = append(table.rows, []string{fmt.Sprintf("%c  %s", 'a'+i, d.Name), g.u.place(d.Read), "", ""})
	}
	return table
}

// drawMeasure draws the diagonals of a step, and room to write down what is read.
func (g *guide) drawMeasure(b *guideBlock, area Area, old []*frame.Member) {
	s, table, pic := b.step, g.measures(b.step), area
	if len(table.rows) > 0 {
		pic.High.X -= table.width() + 3
		g.page.drawDown(table, geom.Vec2{X: pic.High.X + 3, Y: area.High.Y - 2})
	}
	if b.takeUnder {
		g.drawSide(b, geom.Vec2{X: pic.High.X + 3, Y: area.High.Y - 5 - table.height()}, pic)
	}
	p := g.shotOf(old, nil, s.Down, geom.Vec{})
	at := g.drawShot(&p, pic, true)
	for i, d := range s.Measure {
		if i == mostMeasures {
			break
		}
		for k := range 2 {
			p, q := at(d.Ends[k]), at(d.Ends[k+2])
			if p.Dist(q) < 8 {
				continue
			}
			dir := q.Sub(p).Scale(1 / p.Dist(q))
			g.page.Line(CentreLine, p, q)
			g.page.Arrow(Dimension, p, dir.Scale(-1))
			g.page.Arrow(Dimension, q, dir)
		}
	}
	var clear scene
	clear.add(g.page.Ops...)
	for i, d := range s.Measure {
		if i < mostMeasures {
			g.letterAt(i, d, at, &clear)
		}
	}
}

// mostMeasures is how many rectangles one picture names.
const mostMeasures = 9

// letterAt writes the letter of a measure beside one of its corners, clear of the letters before.
func (g *guide) letterAt(i int, d assembly.Diagonal, at func(geom.Vec) geom.Vec2, clear *scene) {
	mid := at(d.Ends[0]).Add(at(d.Ends[2])).Scale(0.5)
	for _, out := range []float64{4.5, 6.5, 8.5, 10.5, 12.5} {
		for _, e := range d.Ends {
			q := at(e)
			away := q.Sub(mid)
			if away.Len() < 1 {
				continue
			}
			p := q.Add(away.Scale(out / away.Len()))
			t := &Text{Role: Label, At: p.Add(geom.Vec2{Y: -DimText / 2}), String: fmt.Sprintf("%c", 'a'+i), Height: DimText, Align: Centre}
			if clear.fits(t) {
				g.page.Add(t)
				clear.add(t)
				return
			}
		}
	}
}
