package drawing

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"barwright/geom"
	"barwright/mesh"
	"barwright/mesh/bracket"
)

// printedView is a view of a printed part without its sizes: lines at scale 1, in the picture plane of the mounted position.
type printedView struct {
	name            string // "front", "above" …: where the viewer stands
	face, right, up geom.Vec
	lines           []ViewLine
	low, high       geom.Vec2 // box round the lines
	cut             *bracket.Cut
	letter          string         // of the cut
	section         [][3]geom.Vec2 // triangles of the cut face
}

// flat returns where a mounted point lies in the picture plane, mm of the part.
func (v *printedView) flat(p geom.Vec) geom.Vec2 { return geom.Vec2{X: v.right.Dot(p), Y: v.up.Dot(p)} }

// sees reports whether the view shows a direction in true length.
func (v *printedView) sees(d geom.Vec) bool { return math.Abs(v.face.Dot(d)) < 1e-6 }

// gone reports whether a cut takes a point away.
func (v *printedView) gone(p geom.Vec) bool {
	return v.cut != nil && p.Sub(v.cut.At).Dot(v.face) > 1e-6
}

// printedPart is a printed part ready to be laid out at any scale.
type printedPart struct {
	*bracket.Result
	views     []*printedView // the front first
	pictorial []ViewLine     // at scale 1
	low, high geom.Vec2      // of the pictorial view
	scales    map[scaleKey]drawnScale
}

// newPrintedPart makes the views that the part's measures and cuts ask for.
func newPrintedPart(r *bracket.Result) (*printedPart, error) {
	p := &printedPart{Result: r, scales: map[scaleKey]drawnScale{}}
	d := &r.Drawn
	back := d.Up.Cross(d.Right)
	for _, at := range []struct {
		name     string
		face, up geom.Vec
	}{{"front", back.Scale(-1), d.Up}, {"above", d.Up, back}, {"below", d.Up.Scale(-1), back.Scale(-1)},
		{"left", d.Right.Scale(-1), d.Up}, {"right", d.Right, d.Up}, {"rear", back, d.Up}} {
		v := &printedView{name: at.name, face: at.face, up: at.up, right: at.up.Cross(at.face)}
		wanted := at.name == "front"
		for _, m := range d.Measures {
			wanted = wanted || m.Face.Dot(v.face) > 0.999
		}
		for i := range d.Cuts {
			if d.Cuts[i].Face.Dot(v.face) > 0.999 {
				v.cut, wanted = &d.Cuts[i], true
			}
		}
		if wanted {
			p.views = append(p.views, v)
		}
	}
	whole := newLineModel([]Body{{Mesh: r.Mesh, Place: r.Place}}, nil)
	for _, v := range p.views {
		model := whole
		if v.cut != nil {
			half, err := r.Half(*v.cut)
			if err != nil {
				return nil, err
			}
			model = newLineModel([]Body{{Mesh: half, Place: geom.Identity()}}, nil)
			v.letter = letterOfCut(p.views, v)
			v.takeSection(half)
		}
		v.lines = model.view(View{Toward: v.face.Scale(-1), Up: v.up}, LineOptions{})
		v.low, v.high = boundsOfLines(v.lines)
	}
	bed := newLineModel([]Body{{Mesh: r.Mesh, Place: geom.Identity()}}, nil)
	p.pictorial = bed.view(Pictorial(), LineOptions{})
	p.low, p.high = boundsOfLines(p.pictorial)
	return p, nil
}

// letterOfCut returns the letter of a view's cut: A for the first.
func letterOfCut(views []*printedView, v *printedView) string {
	n := 0
	for _, o := range views {
		if o == v {
			break
		}
		if o.cut != nil {
			n++
		}
	}
	return string(rune('A' + n))
}

func boundsOfLines(lines []ViewLine) (low, high geom.Vec2) {
	var pts []geom.Vec2
	for _, l := range lines {
		pts = append(pts, l.Points...)
	}
	return boundsOf(pts)
}

// takeSection keeps the triangles of the cut face.
func (v *printedView) takeSection(m *mesh.Mesh) {
	at := v.cut.At.Dot(v.face)
	for _, t := range m.Triangles {
		var q [3]geom.Vec2
		on := true
		for k, i := range t {
			p := geom.Vec{X: float64(m.Points[i][0]), Y: float64(m.Points[i][1]), Z: float64(m.Points[i][2])}
			on = on && math.Abs(p.Dot(v.face)-at) < 1e-3
			q[k] = v.flat(p)
		}
		if on && q[1].Sub(q[0]).Cross(q[2].Sub(q[0])) > 0 {
			v.section = append(v.section, q)
		}
	}
}

// drawnView is a view at a scale with what is written round it. Its origin is that of the picture plane.
type drawnView struct {
	*Sheet
	*printedView
	scale     float64
	low, high geom.Vec2 // box of the part on the paper
	units     units
	scene     scene
	floating  bool // it has a scale of its own and stands anywhere
}

// at returns the paper point of a mounted point.
func (v *drawnView) at(p geom.Vec) geom.Vec2 { return v.flat(p).Scale(v.scale) }

// put records operations and remembers them for what comes after.
func (v *drawnView) put(ops ...Op) {
	v.Add(ops...)
	v.scene.add(ops...)
}

// draw draws the part's own lines.
func (v *drawnView) draw(holes []bracket.Hole) {
	s := &Sheet{}
	for _, l := range v.lines {
		pts := make([]geom.Vec2, len(l.Points))
		for i, q := range l.Points {
			pts[i] = q.Scale(v.scale)
		}
		s.Add(&Stroke{Role: l.Kind.role(), Points: pts})
	}
	v.hatch(s)
	v.holeLines(s, holes)
	v.put(s.Ops...)
}

// hatch fills the cut face with lines at 45° (ISO 128-3).
func (v *drawnView) hatch(s *Sheet) {
	const r, pitch = math.Sqrt2 / 2, 2.0
	along, across := geom.Vec2{X: r, Y: r}, geom.Vec2{X: -r, Y: r}
	rows := map[int][]span{}
	lo, hi := math.MaxInt, math.MinInt
	for _, t := range v.section {
		a, b, c := t[0].Scale(v.scale), t[1].Scale(v.scale), t[2].Scale(v.scale)
		low, high := span2(across, []geom.Vec2{a, b, c})
		for k := int(math.Ceil(low / pitch)); float64(k)*pitch+0.013 < high; k++ {
			d := float64(k)*pitch + 0.013 // a little off, so that no line runs through a corner
			from, to := math.Inf(1), math.Inf(-1)
			for i, p := range []geom.Vec2{a, b, c} {
				q := []geom.Vec2{b, c, a}[i]
				dp, dq := p.Dot(across)-d, q.Dot(across)-d
				if (dp < 0) != (dq < 0) {
					x := p.Add(q.Sub(p).Scale(dp / (dp - dq))).Dot(along)
					from, to = min(from, x), max(to, x)
				}
			}
			if to > from {
				rows[k] = append(rows[k], span{from, to})
				lo, hi = min(lo, k), max(hi, k)
			}
		}
	}
	for k := lo; k <= hi && len(rows) > 0; k++ {
		row := rows[k]
		slices.SortFunc(row, func(a, b span) int { return cmp.Compare(a.from, b.from) })
		for i := 0; i < len(row); {
			one := row[i]
			for i++; i < len(row) && row[i].from < one.to+0.01; i++ {
				one.to = max(one.to, row[i].to)
			}
			if one.to-one.from > 0.3 {
				d := float64(k)*pitch + 0.013
				s.Line(Hatch, across.Scale(d).Add(along.Scale(one.from)), across.Scale(d).Add(along.Scale(one.to)))
			}
		}
	}
}

// pastHole is how far centre lines reach past a hole, mm.
const pastHole = 2.0

// holeLines draws the centre lines of holes, and the hidden edges of those that a view shows from the side.
func (v *drawnView) holeLines(s *Sheet, holes []bracket.Hole) {
	seen := map[string]bool{}
	once := func(role Role, a, b geom.Vec2) {
		key := fmt.Sprintf("%d %.2f %.2f %.2f %.2f", role, a.X+0.0001, a.Y+0.0001, b.X+0.0001, b.Y+0.0001)
		if !seen[key] {
			seen[key] = true
			s.Line(role, a, b)
		}
	}
	for _, h := range holes {
		end := h.At.Add(h.Dir.Scale(h.Depth))
		if v.gone(h.At) && v.gone(end) {
			continue
		}
		if !v.sees(h.Dir) {
			if math.Abs(v.face.Dot(h.Dir)) > 0.999 {
				c, past := v.at(h.At), h.Diameter/2*v.scale+pastHole
				once(CentreLine, c.Sub(geom.Vec2{X: past}), c.Add(geom.Vec2{X: past}))
				once(CentreLine, c.Sub(geom.Vec2{Y: past}), c.Add(geom.Vec2{Y: past}))
				v.hiddenMouth(s, h, c)
			}
			continue
		}
		a, b := v.at(h.At), v.at(end)
		d := b.Sub(a).Scale(1 / b.Dist(a))
		once(CentreLine, a.Sub(d.Scale(pastHole)), b.Add(d.Scale(pastHole)))
		if v.cut != nil && math.Abs(h.At.Sub(v.cut.At).Dot(v.face)) < h.Diameter/2 {
			continue // the cut shows it
		}
		side := v.face.Cross(h.Dir)
		for _, k := range []float64{1, -1} {
			r := h.Diameter / 2
			if h.Tip.Dot(side)*k > 0.9 {
				r *= math.Sqrt2
			}
			edge := side.Scale(k * r)
			from := h.At.Add(h.Dir.Scale(max(h.BoreDepth, h.FlatDepth)))
			once(Hidden, v.at(from.Add(edge)), v.at(end.Add(edge)))
			if wide := max(h.Bore, h.Flats) / 2; wide > 0 {
				once(Hidden, v.at(h.At.Add(side.Scale(k*wide))), v.at(from.Add(side.Scale(k*wide))))
				once(Hidden, v.at(from.Add(side.Scale(k*wide))), v.at(from.Add(edge)))
			}
		}
	}
}

// hiddenMouth draws what opens on the far side only: a counterbore, a blind hole.
func (v *drawnView) hiddenMouth(s *Sheet, h bracket.Hole, c geom.Vec2) {
	if v.face.Dot(h.Dir) < 0 {
		return
	}
	if h.Blind {
		s.Circle(Hidden, c, h.Diameter/2*v.scale)
	}
	if h.Bore > 0 {
		s.Circle(Hidden, c, h.Bore/2*v.scale)
	}
}

// Sizes of the marks of a cut, mm.
const (
	cutStroke = 4.0
	cutTail   = 5.5 // of the arrow
)

// cutMarks draws on a view where the plane of another view's cut runs: thick strokes outside the outline, arrows in the way of
// looking, and its letter (ISO 128-3). Each end lies as near to the outline as what stands there lets it.
func (v *drawnView) cutMarks(of *printedView) error {
	d := v.flat(v.face.Cross(of.face))
	at := v.at(of.cut.At)
	low, high := span2(d, []geom.Vec2{v.low, v.high, {X: v.low.X, Y: v.high.Y}, {X: v.high.X, Y: v.low.Y}})
ends:
	for _, end := range []struct{ edge, way float64 }{{low, -1}, {high, 1}} {
		for off := outlineGap; off < 60; off += 2 {
			ops := v.cutMark(of, at.Add(d.Scale(end.edge+end.way*off-at.Dot(d))), d.Scale(end.way))
			if v.clear(ops) {
				v.put(ops...)
				continue ends
			}
		}
		return v.crowded("mark of the cut " + of.letter)
	}
	return nil
}

// cutMark draws one end of the plane of a cut, from a point outward.
func (v *drawnView) cutMark(of *printedView, from, outward geom.Vec2) []Op {
	look := v.flat(of.face).Scale(-1)
	s := &Sheet{}
	to := from.Add(outward.Scale(cutStroke))
	s.Line(Outline, from, to)
	tip := to.Sub(outward.Scale(WideLine / 2))
	tail := tip.Sub(look.Scale(cutTail))
	s.Line(Leader, tip, tail)
	s.Arrow(Leader, tip, look)
	s.Add(&Text{Role: Label, String: of.letter, Height: DimText, Align: Centre, At: tail.Add(outward.Scale(2.4)).Sub(geom.Vec2{Y: DimText / 2})})
	return s.Ops
}
