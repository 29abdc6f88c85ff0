package drawing

import (
	"fmt"
	"math"

	"barwright/frame"
	"barwright/geom"
	"barwright/mesh"
	"barwright/standard"
)

// placedView is a view with hidden lines removed, ready to be drawn anywhere.
type placedView struct {
	lines     []ViewLine
	low, size geom.Vec2 // of the box round the bodies, sheet mm
}

// draw draws the view with the lower left corner of its box at a point of the paper.
func (p placedView) draw(s *Sheet, at geom.Vec2) {
	shift := at.Sub(p.low)
	for _, l := range p.lines {
		pts := make([]geom.Vec2, len(l.Points))
		for i, q := range l.Points {
			pts[i] = q.Add(shift)
		}
		s.Add(&Stroke{Role: l.Kind.role(), Points: pts})
	}
}

// role returns the line that an edge is drawn with.
func (k LineKind) role() Role {
	if k == Silhouette || k == Crease {
		return Outline
	}
	return Edge
}

// extent returns the box round the bodies in a view, true mm.
func extent(m *lineModel, v View) Area {
	low, high := geom.Vec2{X: math.Inf(1), Y: math.Inf(1)}, geom.Vec2{X: math.Inf(-1), Y: math.Inf(-1)}
	for _, s := range m.look(v) {
		low = geom.Vec2{X: min(low.X, s.low.X), Y: min(low.Y, s.low.Y)}
		high = geom.Vec2{X: max(high.X, s.high.X), Y: max(high.Y, s.high.Y)}
	}
	return Area{low, high}
}

// makeView removes the hidden lines of a scene in a view at a scale.
func makeView(scene *mesh.Scene, v View, scale float64) placedView {
	m := newLineModel(sceneBodies(scene, scale))
	e := extent(m, v)
	return placedView{m.view(v, LineOptions{Scale: scale}), e.Low.Scale(scale),
		geom.Vec2{X: e.Width(), Y: e.Height()}.Scale(scale)}
}

// scaleText returns how a scale is written: "1:10".
func scaleText(s standard.Scale) string { return fmt.Sprintf("%d:%d", s.Num, s.Den) }

// pitched is equal steps of a row, dimensioned as one: 5 × 120 (= 600).
type pitched struct {
	from, to float64
	text     string
	of       string
}

// positions returns where along an axis members stand that are not flush with the frame's outside, from a datum; for
// the height also the lower ends of posts. Of a row with equal steps only the first and last place are
// returned, and the steps as one dimension.
func positions(f *frame.Frame, axis geom.Axis, datum float64, u units) (stations []station, rows []pitched) {
	box := f.Box()
	low, high := box.Low.Along(axis), box.High.Along(axis)
	skip := map[*frame.Member]bool{}
	for _, s := range f.Sets {
		if p, ok := rowPitch(s, axis, datum, u); ok {
			rows = append(rows, p)
			for _, m := range s.Members[1 : len(s.Members)-1] {
				skip[m] = true
			}
		}
	}
	for _, m := range f.Members {
		at, end := m.Box.Low.Along(axis), m.Box.High.Along(axis)
		if skip[m] || m.Brace || at-datum < 0.05 {
			continue
		}
		across := m.Axis != axis
		flush := at < low+0.05 || end > high-0.05
		if across && (!flush || axis == geom.Z && at < low+0.05) || !across && axis == geom.Z && at > datum+0.05 && at < low+0.05 {
			stations = append(stations, station{at - datum, []string{m.Name}})
		}
	}
	return joinStations(stations), rows
}

// rowPitch returns the steps of a row along an axis, if they are equal and there are three at least.
func rowPitch(s *frame.Set, axis geom.Axis, datum float64, u units) (pitched, bool) {
	n := len(s.Members)
	if s.Kind != frame.Row || n < 4 {
		return pitched{}, false
	}
	at := func(i int) float64 { return s.Members[i].Box.Low.Along(axis) - datum }
	step := (at(n-1) - at(0)) / float64(n-1)
	if math.Abs(step) < 1 {
		return pitched{}, false
	}
	for i := range n {
		if math.Abs(at(i)-at(0)-step*float64(i)) > 0.02 {
			return pitched{}, false
		}
	}
	text := fmt.Sprintf("%d × %s (= %s)", n-1, u.place(math.Abs(step)), u.place(math.Abs(at(n-1)-at(0))))
	return pitched{min(at(0), at(n-1)), max(at(0), at(n-1)), text, s.Name}, true
}

// barCallouts returns for items of a scene, which must be bars, where their leaders may end in a view.
func barCallouts(scene *mesh.Scene, v View, scale float64, items []int) []itemRef {
	m := newLineModel(sceneBodies(scene, scale))
	s := shader{seen: m.look(v), view: v}
	s.right, s.up, s.into = v.axes()
	var out []itemRef
	for _, i := range items {
		it := scene.Items[i]
		spots := s.spots(i, balloonRails(&it.Member.Part.Bar), scale)
		if len(spots) > 0 {
			out = append(out, itemRef{it.Mark, spots})
		}
	}
	return out
}

// mostBalloons is how many bars a view names one by one; beyond, each mark is named once.
const mostBalloons = 24

// balloonItems returns the items of a scene that get a balloon.
func balloonItems(scene *mesh.Scene) []int {
	var all, first []int
	known := map[string]bool{}
	for i, it := range scene.Items {
		if it.Member == nil || it.Member.Part == nil {
			continue
		}
		all = append(all, i)
		if !known[it.Mark] {
			known[it.Mark] = true
			first = append(first, i)
		}
	}
	if len(all) <= mostBalloons {
		return all
	}
	return first
}

// balloonRails returns lines on the sides of a bar, off its slots, on which a leader may end.
func balloonRails(b *frame.Bar) []FaceLine {
	var out []FaceLine
	for s := range geom.Side(4) {
		n := s.Normal()
		p := b.Profile.Point(s, 0, 0)
		if len(b.Profile.SlotLines(s))%2 == 1 {
			p = b.Profile.Point(s, 0.36*b.Profile.Along(s), 0)
		}
		out = append(out, FaceLine{Points: []geom.Vec{onCut(b, 0, p), onCut(b, 1, p)}, Normal: geom.Vec{X: n.X, Y: n.Y}})
	}
	return out
}
