package drawing

import (
	"fmt"
	"math"
	"slices"
	"sort"

	"barwright/geom"
	"barwright/mesh/bracket"
)

// holeCall is the callout of holes that are alike.
type holeCall struct {
	lines []string
	holes []bracket.Hole
}

// holeCalls groups holes by their callouts, in the order of the first of each.
func holeCalls(holes []bracket.Hole, u units) []holeCall {
	var out []holeCall
	for _, h := range holes {
		lines := calloutLines(h, u)
		k := slices.IndexFunc(out, func(c holeCall) bool { return slices.Equal(c.lines, lines) })
		if k < 0 {
			out = append(out, holeCall{lines: lines})
			k = len(out) - 1
		}
		out[k].holes = append(out[k].holes, h)
	}
	for i := range out {
		out[i].lines[0] = times(len(out[i].holes)) + out[i].lines[0]
	}
	return out
}

// calloutLines says what a hole is, the largest feature first (ISO 15786), and what it is for.
func calloutLines(h bracket.Hole, u units) []string {
	var out []string
	if h.Bore > 0 {
		out = append(out, fmt.Sprintf("⌴ ⌀%s ↧ %s", u.size(h.Bore), u.size(h.BoreDepth)))
	}
	if h.Flats > 0 {
		out = append(out, fmt.Sprintf("hexagon %s over flats ↧ %s", u.size(h.Flats), u.size(h.FlatDepth)))
	}
	hole := fmt.Sprintf("⌀%s through", u.size(h.Diameter))
	if h.Blind {
		hole = fmt.Sprintf("⌀%s ↧ %s", u.size(h.Diameter), u.size(h.Depth))
	}
	if h.Tip != (geom.Vec{}) {
		hole += ", 90° tip"
	}
	out = append(out, hole)
	if h.For != "" {
		out = append(out, "for "+h.For)
	}
	return out
}

// calloutView finds the view for a callout: the first that shows the holes round, those that show their mouth before others, else the
// first that shows them at all.
func calloutView(views []*drawnView, holes []bracket.Hole) (*drawnView, []anchor) {
	ways := []func(v *drawnView, h bracket.Hole) bool{
		func(v *drawnView, h bracket.Hole) bool { return v.face.Dot(h.Dir) < -0.999 },
		func(v *drawnView, h bracket.Hole) bool { return v.face.Dot(h.Dir) > 0.999 },
		func(v *drawnView, h bracket.Hole) bool {
			return v.sees(h.Dir) && v.cut != nil && math.Abs(h.At.Sub(v.cut.At).Dot(v.face)) < 1e-6
		},
		func(v *drawnView, h bracket.Hole) bool { return v.sees(h.Dir) },
	}
	for i, way := range ways {
		for _, v := range views {
			var out []anchor
			for _, h := range holes {
				if !way(v, h) || v.gone(h.At) && v.gone(h.At.Add(h.Dir.Scale(h.Depth))) {
					continue
				}
				a := anchor{v.at(h.At), h.Diameter / 2 * v.scale}
				switch {
				case i > 1:
					a = anchor{v.at(h.At.Add(h.Dir.Scale(h.Depth / 2))), 0}
				case i == 0 && h.Bore > 0:
					a.radius = h.Bore / 2 * v.scale
				}
				out = append(out, a)
			}
			if len(out) > 0 {
				return v, out
			}
		}
	}
	return nil, nil
}

// call is one callout of a view.
type call struct {
	view    *drawnView
	anchors []anchor
	lines   []string
	of      string
}

// calls returns what is said of holes, corners and round things.
func calls(views []*drawnView, r *bracket.Result, u units) (out []call, err error) {
	for _, c := range holeCalls(r.Holes, u) {
		v, anchors := calloutView(views, c.holes)
		if v == nil {
			return nil, fmt.Errorf("no view shows the holes %q", c.lines)
		}
		out = append(out, call{v, anchors, c.lines, "hole"})
	}
	for _, m := range r.Drawn.Measures {
		text := roundText(m, u)
		for _, v := range views {
			if text == "" || m.Face.Dot(v.face) < 0.999 {
				continue
			}
			c := call{v, nil, []string{text}, m.Name}
			at, radius := m.To, 0.0
			if m.Kind == bracket.Diameter {
				at, radius = m.From, m.Value/2*v.scale
			}
			for _, p := range append([]geom.Vec{at}, m.Also...) {
				c.anchors = append(c.anchors, anchor{v.at(p), radius})
			}
			out = append(out, c)
		}
	}
	return out, nil
}

// roundText returns the words of a radius, a diameter or a remark, nothing of other measures.
func roundText(m bracket.Measure, u units) string {
	switch m.Kind {
	case bracket.Radius:
		return times(m.Count) + "R" + u.size(m.Value) + m.Text
	case bracket.Diameter:
		text := times(m.Count) + "⌀" + u.size(m.Value)
		switch {
		case m.Deep > 0 && m.Text == "":
			return text + " ↧ " + u.size(m.Deep)
		case m.Deep > 0:
			return text + ", " + u.size(m.Deep) + m.Text
		}
		return text + m.Text
	case bracket.Remark:
		if m.Value > 0 {
			return u.size(m.Value) + m.Text
		}
		return m.Text
	}
	return ""
}

// callouts writes callouts one after the other where they stand clear. One that finds no place goes first in the next round.
func callouts(all []call) error {
	var failed *call
	for range 2*len(all) + 1 {
		before := map[*drawnView][3]int{}
		for _, c := range all {
			v := c.view
			before[v] = [3]int{len(v.Ops), len(v.scene.texts), len(v.scene.lines)}
		}
		k := slices.IndexFunc(all, func(c call) bool { return !c.view.callout(c.anchors, c.lines, c.of) })
		if k < 0 {
			return nil
		}
		for v, n := range before {
			v.Ops, v.scene.texts, v.scene.lines = v.Ops[:n[0]], v.scene.texts[:n[1]], v.scene.lines[:n[2]]
		}
		failed = &call{all[k].view, all[k].anchors, all[k].lines, all[k].of}
		if k == 0 {
			break
		}
		all = slices.Concat(all[k:k+1], all[:k], all[k+1:])
	}
	return failed.view.crowded(failed.lines[0])
}

// callPlace is a place for a callout with its cost.
type callPlace struct {
	cost, angle, far float64
	anchor           int
}

// callout writes lines on a leader to one of the anchors, in the cheapest place outside the part that is clear.
func (v *drawnView) callout(anchors []anchor, lines []string, of string) bool {
	var places []callPlace
	for k, a := range anchors {
		for _, deg := range []float64{45, 60, 30, 75, 15, 90} {
			for q := range 4 {
				angle := (deg + 90*float64(q)) * math.Pi / 180
				out := v.wayOut(a, angle)
				for far := 6.0; far <= 66; far += 4 {
					places = append(places, callPlace{out + far + 0.06*math.Abs(deg-50) + 0.3*float64(q) + 0.2*float64(k), angle, out + far, k})
				}
			}
		}
	}
	sort.SliceStable(places, func(i, j int) bool { return places[i].cost < places[j].cost })
	for _, p := range places {
		a := anchors[p.anchor]
		leader, texts, ops := v.calloutOps(a, p, lines, of)
		if v.outside(texts) && calloutFits(&v.scene, a, leader, texts, math.Inf(-1), math.Inf(1)) && !v.onMarks(leader) && !v.alongside(leader) && v.touches(a, leader[0]) {
			v.put(ops...)
			return true
		}
	}
	return false
}

// wayOut returns how far from an anchor's circle a ray leaves the box of the part.
func (v *drawnView) wayOut(a anchor, angle float64) float64 {
	dir := geom.Vec2{X: math.Cos(angle), Y: math.Sin(angle)}
	out := math.Inf(1)
	for _, w := range [][3]float64{{dir.X, v.high.X - a.centre.X, 1}, {-dir.X, a.centre.X - v.low.X, 1}, {dir.Y, v.high.Y - a.centre.Y, 1}, {-dir.Y, a.centre.Y - v.low.Y, 1}} {
		if w[0] > 1e-9 {
			out = min(out, w[1]/w[0])
		}
	}
	return max(0, out-a.radius)
}

// onMarks reports whether a leader would run over an arrow or a dot of a dimension.
func (v *drawnView) onMarks(leader []geom.Vec2) bool {
	for _, op := range v.Ops {
		st, ok := op.(*Stroke)
		if !ok || !st.Filled {
			continue
		}
		for i := 1; i < len(leader); i++ {
			if nearSegment(st.Points[0], leader[i-1], leader[i], 2*tipGap) || quad(corners(st.Points)).hit(leader[i-1], leader[i]) {
				return true
			}
		}
	}
	return false
}

// touches reports whether a leader that ends on a circle ends on a line of the part, and not where the circle is open.
func (v *drawnView) touches(a anchor, tip geom.Vec2) bool {
	if a.radius == 0 {
		return true
	}
	near := 0.4 + 0.03*a.radius // flats stand for the circle
	return slices.ContainsFunc(v.scene.lines, func(l segment) bool {
		return (l.role == Outline || l.role == Edge || l.role == Hidden) && nearSegment(tip, l.a, l.b, near)
	})
}

// alongside reports whether a leader would run on a dimension line or another leader, or end at one.
func (v *drawnView) alongside(leader []geom.Vec2) bool {
	for _, l := range v.scene.lines {
		if l.role != Dimension && l.role != Leader {
			continue
		}
		for i := 1; i < len(leader); i++ {
			a, b := leader[i-1], leader[i]
			if nearSegment(a, l.a, l.b, leaderGap) || nearSegment(b, l.a, l.b, leaderGap) || nearSegment(l.a, a, b, leaderGap) || nearSegment(l.b, a, b, leaderGap) {
				return true
			}
		}
	}
	return false
}

// outside reports whether texts keep off the part.
func (v *drawnView) outside(texts []*Text) bool {
	for _, t := range texts {
		l, h := t.Bounds()
		if l.X < v.high.X+1.5 && h.X > v.low.X-1.5 && l.Y < v.high.Y+1.5 && h.Y > v.low.Y-1.5 {
			return false
		}
	}
	return true
}

// calloutOps draws a callout in a place.
func (v *drawnView) calloutOps(a anchor, p callPlace, lines []string, of string) (leader []geom.Vec2, texts []*Text, ops []Op) {
	width := 0.0
	for _, l := range lines {
		width = max(width, TextWidth(l, DimText))
	}
	dir := geom.Vec2{X: math.Cos(p.angle), Y: math.Sin(p.angle)}
	tip, knee := a.centre.Add(dir.Scale(a.radius)), a.centre.Add(dir.Scale(a.radius+p.far))
	sx := 1.0
	if dir.X < -1e-9 {
		sx = -1
	}
	end := knee.Add(geom.Vec2{X: sx * (width + 1)})
	leader = []geom.Vec2{tip, knee, end}
	ops = append(ops, &Stroke{Role: Leader, Points: leader})
	var arrow Sheet
	arrow.Arrow(Leader, tip, dir.Scale(-1))
	ops = append(ops, arrow.Ops...)
	left := min(knee.X, end.X) + 0.5
	for i, l := range lines {
		t := &Text{Role: Callout, At: geom.Vec2{X: left, Y: knee.Y + overShelf + float64(len(lines)-1-i)*DimText*LineSpace}, String: l, Height: DimText}
		if i == 0 {
			t.Shows, t.Of = Spec, []string{of}
		}
		texts = append(texts, t)
		ops = append(ops, t)
	}
	return leader, texts, ops
}
