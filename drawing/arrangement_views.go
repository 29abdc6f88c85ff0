package drawing

import (
	"fmt"
	"math"
	"slices"

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

// extent returns the box round a scene in a view, true mm.
func extent(scene *mesh.Scene, v View) Area {
	right, up, _ := v.axes()
	boxes := make([]geom.Box, len(scene.Shapes))
	for i, s := range scene.Shapes {
		boxes[i] = geom.EmptyBox()
		for _, p := range s.Mesh.Points {
			boxes[i] = boxes[i].Extend(geom.Vec{X: float64(p[0]), Y: float64(p[1]), Z: float64(p[2])})
		}
	}
	low, high := geom.Vec2{X: math.Inf(1), Y: math.Inf(1)}, geom.Vec2{X: math.Inf(-1), Y: math.Inf(-1)}
	for _, it := range scene.Items {
		for _, c := range boxes[it.Shape].Corners() {
			p := it.Place.Apply(c)
			x, y := right.Dot(p), up.Dot(p)
			low, high = geom.Vec2{X: min(low.X, x), Y: min(low.Y, y)}, geom.Vec2{X: max(high.X, x), Y: max(high.Y, y)}
		}
	}
	return Area{low, high}
}

// makeView removes the hidden lines of a scene in a view at a scale. The box is that of extent.
func makeView(scene *mesh.Scene, v View, scale float64, known topologies) placedView {
	e := extent(scene, v)
	return placedView{newLineModel(sceneBodies(scene, v, scale), known).view(v, LineOptions{Scale: scale}), e.Low.Scale(scale),
		geom.Vec2{X: e.Width(), Y: e.Height()}.Scale(scale)}
}

// scaleText returns how a scale is written: "1:10".
func scaleText(s standard.Scale) string { return fmt.Sprintf("%d:%d", s.Num, s.Den) }

// pitched is equal steps of a row, dimensioned as one: 5 × 120 (= 600).
type pitched struct {
	from, to float64
	text     string
	of       string // names of the rows
}

// named returns the text with the names of the rows before it.
func (p pitched) named() string { return p.of + ": " + p.text }

// positions returns where along an axis members stand that are not flush with the frame's outside, from a datum; for
// the height also the lower ends of posts. Of a row with equal steps only the first and last place are
// returned, and the steps as one dimension.
func positions(f *frame.Frame, axis geom.Axis, datum float64, u units) (stations []station, rows []pitched) {
	box := f.Box()
	low, high := box.Low.Along(axis), box.High.Along(axis)
	skip := map[*frame.Member]bool{}
	for _, s := range f.Sets {
		if p, ok := rowPitch(s, axis, datum, u); ok {
			if k := slices.IndexFunc(rows, p.same); k < 0 {
				rows = append(rows, p)
			} else {
				rows[k].of += ", " + p.of
			}
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
		// Heights are set with a rule from below, so that bars under the top have theirs too.
		if across && (!flush || axis == geom.Z) || !across && axis == geom.Z && at > datum+0.05 && at < low+0.05 {
			stations = append(stations, station{at - datum, []string{m.Name}})
		}
	}
	return joinStations(stations), rows
}

// same reports whether two rows have the same steps, so that one dimension serves both.
func (p pitched) same(q pitched) bool {
	return math.Abs(p.from-q.from) < 0.05 && math.Abs(p.to-q.to) < 0.05 && p.text == q.text
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
	long := math.Abs(at(n-1) - at(0))
	text := fmt.Sprintf("%d × %s (= %s)", n-1, u.place(math.Abs(step)), u.place(long))
	if k := math.Abs(step) * 10; !u.inch && math.Abs(k-math.Round(k)) > 1e-6 {
		text = fmt.Sprintf("%d equal pitches = %s", n-1, u.place(long)) // a rounded pitch would not add up
	}
	return pitched{min(at(0), at(n-1)), max(at(0), at(n-1)), text, s.Name}, true
}

// barRefs returns for the bars of a scene that get an item reference where their leaders may end, sheet mm.
func barRefs(scene *mesh.Scene, s *shader, scale float64) []itemRef {
	var out []itemRef
	for _, i := range balloonItems(scene) {
		it := scene.Items[i]
		if spots := s.spots(i, balloonRails(&it.Member.Part.Bar), scale); len(spots) > 0 {
			out = append(out, itemRef{it.Mark, spots})
		}
	}
	return out
}

// How many bars a view names one by one; beyond, each mark is named once. Of a mark that comes often the first and
// the last bar are named (ISO 6433 asks for one reference of items that are alike).
const (
	mostBalloons = 24
	mostAlike    = 6
	mostBars     = 48 // in a denser view leaders to the second bar of a mark confuse
)

// balloonItems returns the items of a scene that get a balloon.
func balloonItems(scene *mesh.Scene) []int {
	of := map[string][]int{} // only looked up by marks in the order of items
	bars := 0
	for i, it := range scene.Items {
		if it.Member != nil && it.Member.Part != nil {
			of[it.Mark] = append(of[it.Mark], i)
			bars++
		}
	}
	var out, first []int
	for i, it := range scene.Items {
		if it.Member == nil || it.Member.Part == nil {
			continue
		}
		alike := of[it.Mark]
		if i == alike[0] {
			first = append(first, i)
		}
		if len(alike) <= mostAlike || i == alike[0] || i == alike[len(alike)-1] {
			out = append(out, i)
		}
	}
	if len(out) > mostBalloons || bars > mostBars {
		return first
	}
	return out
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
