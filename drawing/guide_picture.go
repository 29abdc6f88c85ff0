package drawing

import (
	"fmt"

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

// shot is a picture of bars, some of which are new.
type shot struct {
	scene *mesh.Scene
	fresh []bool // by item
	view  View
	shift geom.Vec // of the new ones, from where they go
}

// shotOf collects the bars of a picture, the new ones moved away from where they go.
func (g *guide) shotOf(old, fresh []*frame.Member, down, away geom.Vec) shot {
	p := shot{scene: &mesh.Scene{Title: g.scene.Title, Shapes: g.scene.Shapes}, view: lyingView(down), shift: away}
	add := func(i int, isNew bool, by geom.Vec) {
		it := g.scene.Items[i]
		it.Place.T = it.Place.T.Add(by)
		p.scene.Items, p.fresh = append(p.scene.Items, it), append(p.fresh, isNew)
	}
	here := map[*frame.Member]bool{}
	for _, m := range old {
		here[m] = true
		add(g.item[m], false, geom.Vec{})
	}
	for _, m := range fresh {
		add(g.item[m], true, away)
	}
	for k, i := range g.feet {
		if k < len(g.f.Feet) && g.footed[g.f.Feet[k]] && here[g.f.Feet[k].Under] {
			add(i, false, geom.Vec{})
		}
	}
	return p
}

// room is what item references and arrows need round a view, mm.
const guideRoom = 16.0

// drawShot draws a picture in an area as large as it goes, and returns what maps the frame to the page.
func (g *guide) drawShot(p shot, area Area, balloons bool) func(geom.Vec) geom.Vec2 {
	e := extent(p.scene, p.view)
	side := 3.0
	if balloons {
		side = guideRoom
	}
	scale := min((area.Width()-2*side)/max(e.Width(), 1), (area.Height()-6)/max(e.Height(), 1), 0.39)
	if n := len(p.refs()); balloons && n > 0 {
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
	m := newLineModel(sceneBodies(p.scene, p.view, scale), g.known)
	lines := m.view(p.view, LineOptions{Scale: scale})
	size := geom.Vec2{X: e.Width(), Y: e.Height()}.Scale(scale)
	at := area.Low.Add(area.High).Sub(size).Scale(0.5)
	shift := at.Sub(e.Low.Scale(scale))
	for _, l := range lines {
		pts := make([]geom.Vec2, len(l.Points))
		for i, q := range l.Points {
			pts[i] = q.Add(shift)
		}
		role := Edge
		if p.fresh[l.Body] && l.Kind.role() == Outline {
			role = Outline
		}
		g.page.Add(&Stroke{Role: role, Points: pts})
	}
	if balloons {
		g.drawGuideRefs(p, m, scale, shift, Area{at, at.Add(size)})
	}
	return func(q geom.Vec) geom.Vec2 { return p.view.Project(q).Scale(scale).Add(shift) }
}

// mostGuideRefs is how many bars of a step get item references one by one; beyond, each mark gets one.
const mostGuideRefs = 6

// refs returns the new bars that get an item reference: all where they are few, else one of each mark.
func (p *shot) refs() []int {
	var all, first []int
	seen := map[string]bool{}
	for i, it := range p.scene.Items {
		if !p.fresh[i] || it.Member == nil {
			continue
		}
		all = append(all, i)
		if !seen[it.Mark] {
			seen[it.Mark] = true
			first = append(first, i)
		}
	}
	if len(all) > mostGuideRefs {
		return first
	}
	return all
}

// drawGuideRefs draws the item references of the new bars.
func (g *guide) drawGuideRefs(p shot, m *lineModel, scale float64, shift geom.Vec2, view Area) {
	sh := m.shader(p.view)
	var refs []itemRef
	for _, i := range p.refs() {
		it := p.scene.Items[i]
		spots := sh.spots(i, balloonRails(&it.Member.Part.Bar), scale)
		if len(spots) == 0 {
			continue
		}
		for k := range spots {
			spots[k] = spots[k].Add(shift)
		}
		refs = append(refs, itemRef{it.Mark, spots})
	}
	if len(refs) > 0 {
		g.page.drawItemRefs(refs, view)
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
		g.drawMeasure(s, area, old)
		return
	case assembly.FitFeet:
		for _, f := range s.Feet {
			g.footed[f] = true
		}
		g.drawShot(g.shotOf(old, nil, s.Down, geom.Vec{}), area, false)
		return
	}
	away := geom.Vec{}
	box := geom.EmptyBox()
	for _, m := range append(append([]*frame.Member{}, old...), s.Add...) {
		box = box.Union(m.Box)
	}
	size := box.Size()
	gap := awayShare * max(size.X, size.Y, size.Z)
	for i := len(s.Moves) - 1; i >= 0; i-- {
		m := s.Moves[i]
		way := gap
		if m.Way > 0 {
			way = m.Way * 2
		}
		away = away.Sub(m.Dir.Scale(way))
	}
	p := g.shotOf(old, s.Add, s.Down, away)
	at := g.drawShot(p, area, true)
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
	g.drawShot(g.shotOf(old, nil, b.step.Before, geom.Vec{}), left, false)
	g.drawShot(g.shotOf(old, nil, b.step.Down, geom.Vec{}), right, false)
	y := (area.Low.Y + area.High.Y) / 2
	g.page.fatArrow(geom.Vec2{X: mid - 9, Y: y}, geom.Vec2{X: mid + 9, Y: y})
}

// drawMeasure draws the diagonals of a step, and room to write down what is read.
func (g *guide) drawMeasure(s *assembly.Step, area Area, old []*frame.Member) {
	table := list{columns: []listColumn{{"Over", 30, Left}, {"Reads " + g.u.name(), 24, Right}, {"1st", 15, Left}, {"2nd", 15, Left}}}
	for i, d := range s.Measure {
		if i == mostMeasures {
			break
		}
		table.rows = append(table.rows, []string{fmt.Sprintf("%c  %s", 'a'+i, d.Name), g.u.place(d.Read), "", ""})
	}
	pic := area
	if len(table.rows) > 0 {
		pic.High.X -= table.width() + 3
		g.page.drawDown(table, geom.Vec2{X: pic.High.X + 3, Y: area.High.Y - 2})
	}
	at := g.drawShot(g.shotOf(old, nil, s.Down, geom.Vec{}), pic, true)
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
