package drawing

import (
	"cmp"
	"math"
	"slices"

	"barwright/assembly"
	"barwright/frame"
	"barwright/geom"
	"barwright/mesh"
)

// findPrinted finds the item of each printed part: those of one mark stand in the scene in the order in which the frame has them. Gauges
// have no place, and a scene without printed parts has none.
func (g *guide) findPrinted() {
	items, uses := map[string][]int{}, map[string][]*frame.PrintedUse{}
	for i, it := range g.scene.Items {
		if it.Kind == mesh.PrintedItem {
			items[it.Mark] = append(items[it.Mark], i)
		}
	}
	for _, t := range g.f.Uses {
		uses[t.Mark] = append(uses[t.Mark], t)
	}
	for mark, list := range uses {
		if len(list) != len(items[mark]) {
			continue
		}
		for k, t := range list {
			g.printed[t] = items[mark][k]
		}
	}
	// What joins bars that are built already is on.
	built := map[*frame.Member]bool{}
	for _, m := range g.plan.From {
		built[m] = true
	}
	for t := range g.printed {
		if len(t.Joints) > 0 && all(t.On, built) {
			g.fitted[t] = true
		}
	}
}

// drawable reports whether a step puts on a printed part that a picture can show.
func (g *guide) drawable(s *assembly.Step) bool {
	return slices.ContainsFunc(s.Printed, func(t *frame.PrintedUse) bool { _, ok := g.printed[t]; return ok })
}

// done notes what a step leaves behind that later pictures show.
func (g *guide) done(s *assembly.Step) {
	if s.Kind == assembly.FitFeet {
		for _, f := range s.Feet {
			g.footed[f] = true
		}
	}
	for _, t := range s.Printed {
		g.fitted[t] = true
	}
}

// addFitted adds the printed parts that are on: with the bars that stand, or with the new ones, which they move with.
func (g *guide) addFitted(p *shot, here, moved map[*frame.Member]bool, away geom.Vec) {
	for _, t := range g.f.Uses {
		i, ok := g.printed[t]
		if !ok || !g.fitted[t] {
			continue
		}
		switch {
		case all(t.On, here):
			p.add(g.scene.Items[i], false, geom.Vec{})
		case all(t.On, moved):
			p.add(g.scene.Items[i], true, away)
		}
	}
}

func all(list []*frame.Member, in map[*frame.Member]bool) bool {
	return len(list) > 0 && !slices.ContainsFunc(list, func(m *frame.Member) bool { return !in[m] })
}

// putOn is the way of a fitting to its place.
type putOn struct{ from, to geom.Vec }

// addPrinted adds the printed parts that a step puts on, each a little off its place on the way that it comes, where it is in no other
// thing's way there.
func (g *guide) addPrinted(p *shot, s *assembly.Step, gap float64) {
	var taken []geom.Box
	for _, it := range p.scene.Items {
		taken = append(taken, g.boxOf(it))
	}
	for _, t := range s.Printed {
		i, ok := g.printed[t]
		if !ok {
			continue
		}
		it := g.scene.Items[i]
		box := g.boxOf(it)
		by := p.offPlace(ways(t, box.Centre()), box, taken, gap)
		p.put(it, by, box.Centre())
		p.refs = append(p.refs, len(p.scene.Items)-1)
		taken = append(taken, geom.Box{Low: box.Low.Add(by), High: box.High.Add(by)})
	}
}

// offPlace returns how far a part is drawn off its place: along the first of its ways of which the picture shows enough and where
// nothing is in its way, else along the one of which it shows most; not at all where all are taken.
func (p *shot) offPlace(ways []geom.Vec, box geom.Box, taken []geom.Box, gap float64) geom.Vec {
	best, most := geom.Vec{}, 0.0
	for _, far := range []float64{1, 1.5, 0.6} {
		for _, w := range ways {
			d := w.Scale(gap * far)
			if slices.ContainsFunc(taken, func(o geom.Box) bool { return overlap(o, box, d) }) {
				continue
			}
			shown := p.view.Project(d).Len()
			if shown > 0.6*gap*far {
				return d
			}
			if shown > most {
				best, most = d, shown
			}
		}
	}
	return best
}

// addFeet adds the feet that a step fits, under their places.
func (g *guide) addFeet(p *shot, s *assembly.Step, gap float64) {
	for k, i := range g.feet {
		if k < len(g.f.Feet) && slices.Contains(s.Feet, g.f.Feet[k]) {
			p.put(g.scene.Items[i], geom.Vec{Z: -gap}, g.boxOf(g.scene.Items[i]).Centre())
		}
	}
}

// boxOf returns the outer box of an item in its place.
func (g *guide) boxOf(it mesh.Item) geom.Box {
	own, ok := g.boxes[it.Shape]
	if !ok {
		own = geom.EmptyBox()
		for _, q := range g.scene.Shapes[it.Shape].Mesh.Points {
			own = own.Extend(geom.Vec{X: float64(q[0]), Y: float64(q[1]), Z: float64(q[2])})
		}
		g.boxes[it.Shape] = own
	}
	out := geom.EmptyBox()
	for _, c := range own.Corners() {
		out = out.Extend(it.Place.Apply(c))
	}
	return out
}

// overlap reports whether a box that is moved shares more than a touch with another.
func overlap(o, b geom.Box, by geom.Vec) bool {
	const touch = 1.0
	low, high := b.Low.Add(by), b.High.Add(by)
	return low.X < o.High.X-touch && high.X > o.Low.X+touch && low.Y < o.High.Y-touch && high.Y > o.Low.Y+touch &&
		low.Z < o.High.Z-touch && high.Z > o.Low.Z+touch
}

// ways returns the unit vectors along which a printed part comes off its bars, the first the best: the way that all its screws come
// out, then that of each; of a part without screws, away from the axis of its bar, or out of the bar's end.
func ways(t *frame.PrintedUse, mid geom.Vec) []geom.Vec {
	var sum geom.Vec
	var each []geom.Vec
	screw := func(f *frame.Fastener) {
		d := f.Dir.Scale(-1)
		sum = sum.Add(d)
		if !slices.ContainsFunc(each, func(o geom.Vec) bool { return o.Dot(d) > 0.99 }) {
			each = append(each, d)
		}
	}
	for i := range t.Screws {
		screw(&t.Screws[i])
	}
	for _, j := range t.Joints {
		for i := range j.Fasteners {
			screw(&j.Fasteners[i])
		}
	}
	switch {
	case sum.Len() > 0.5:
		return append([]geom.Vec{sum.Unit()}, each...)
	case len(t.On) == 0:
		return nil
	}
	on := t.On[0].Place
	q := on.Unapply(mid)
	if off := (geom.Vec{X: q.X, Y: q.Y}); off.Len() > 1 {
		return []geom.Vec{on.Turn(off).Unit()}
	}
	if q.Z < t.On[0].Bar.Length/2 {
		return []geom.Vec{on.EZ.Scale(-1)}
	}
	return []geom.Vec{on.EZ}
}

// drawPuts draws the way of each fitting to its place, where it is long enough to be seen, with an arrow where no leader runs.
func (g *guide) drawPuts(p *shot, at func(geom.Vec) geom.Vec2) {
	var leaders []segment
	for i, op := range g.page.Ops {
		if s, ok := op.(*Stroke); ok && s.Role == Leader && !s.Filled {
			leaders = append(leaders, segments(op, i)...)
		}
	}
	for _, w := range p.puts {
		from, to := at(w.from), at(w.to)
		d := to.Sub(from)
		if d.Len() < ArrowLength+1 {
			continue
		}
		g.page.Line(CentreLine, from, to)
		for _, f := range []float64{1, 0.85, 0.7, 0.55} {
			tip := from.Add(d.Scale(f))
			if f*d.Len() > ArrowLength && arrowClear(tip, d, leaders) {
				g.page.Arrow(Dimension, tip, d)
				break
			}
		}
	}
}

// arrowClear reports whether an arrow keeps clear of leaders.
func arrowClear(tip, dir geom.Vec2, leaders []segment) bool {
	var s Sheet
	s.Arrow(Dimension, tip, dir)
	head := s.Ops[0].(*Stroke).Points
	return !slices.ContainsFunc(leaders, func(l segment) bool {
		return nearSegment(tip, l.a, l.b, tipGap) || quad(corners(head)).hit(l.a, l.b)
	})
}

// mostRails is how many faces of a printed part offer a place to a leader.
const mostRails = 40

// meshRails returns lines on the largest triangles of a mesh, on which a leader may end.
func meshRails(m *mesh.Mesh) []FaceLine {
	type face struct {
		area float64
		line FaceLine
	}
	var list []face
	for _, t := range m.Triangles {
		var c [3]geom.Vec
		for k := range c {
			q := m.Points[t[k]]
			c[k] = geom.Vec{X: float64(q[0]), Y: float64(q[1]), Z: float64(q[2])}
		}
		n := c[1].Sub(c[0]).Cross(c[2].Sub(c[0]))
		if n.Len() < 1e-6 {
			continue
		}
		mid := c[0].Add(c[1]).Add(c[2]).Scale(1.0 / 3)
		list = append(list, face{n.Len(), FaceLine{Points: []geom.Vec{mid.Add(c[0]).Scale(0.5), mid.Add(c[1].Add(c[2]).Scale(0.5)).Scale(0.5)}, Normal: n.Unit()}})
	}
	slices.SortStableFunc(list, func(a, b face) int { return cmp.Compare(math.Round(b.area*1e3), math.Round(a.area*1e3)) })
	var out []FaceLine
	for _, f := range list[:min(len(list), mostRails)] {
		out = append(out, f.line)
	}
	return out
}

// readable is the size on the page in mm from which a letter or a hole of a printed part is drawn.
const readable = 1.8
