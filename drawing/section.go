package drawing

import (
	"math"
	"sort"

	"barwright/geom"
)

// sectionView draws the section of a profile, hatched, with its main sizes. Its middle lies at the
// origin. point maps the section to the paper.
type sectionView struct {
	*Sheet
	profile *geom.Profile
	scale   float64
	point   func(geom.Vec2) geom.Vec2
	half    geom.Vec2 // half the drawn size
}

// newSectionView returns a section as it is seen at end 1 with a face on the right, or in its own
// axes (x right, y up) where face is negative.
func newSectionView(p *geom.Profile, face geom.Side, scale float64) *sectionView {
	v := &sectionView{Sheet: &Sheet{}, profile: p, scale: scale}
	v.point = func(q geom.Vec2) geom.Vec2 { return q.Scale(scale) }
	v.half = p.Size().Scale(scale / 2)
	if face >= 0 {
		v.point = func(q geom.Vec2) geom.Vec2 {
			return geom.Vec2{X: q.Dot(face.Normal()), Y: -q.Dot(face.Toward())}.Scale(scale)
		}
		v.half = geom.Vec2{X: p.Across(face), Y: p.Along(face)}.Scale(scale / 2)
	}
	return v
}

// draw draws the outlines and the hatching (ISO 128-3: narrow lines at 45°).
func (v *sectionView) draw() {
	var loops [][]geom.Vec2
	for _, loop := range v.profile.Region().Polygons(sectionTolerance / 2) {
		pts := make([]geom.Vec2, len(loop))
		for i, p := range loop {
			pts[i] = v.point(p)
		}
		loops = append(loops, pts)
		v.Polygon(Outline, pts...)
	}
	v.hatch(loops, 2)
	for _, c := range v.profile.Cores() {
		at, past := v.point(c), v.profile.Core/2*v.scale+2.5
		v.Line(CentreLine, at.Sub(geom.Vec2{X: past}), at.Add(geom.Vec2{X: past}))
		v.Line(CentreLine, at.Sub(geom.Vec2{Y: past}), at.Add(geom.Vec2{Y: past}))
	}
}

// hatch fills loops (even-odd) with lines at 45°, a pitch apart.
func (s *Sheet) hatch(loops [][]geom.Vec2, pitch float64) {
	const r = math.Sqrt2 / 2
	along, across := geom.Vec2{X: r, Y: r}, geom.Vec2{X: -r, Y: r}
	var all []geom.Vec2
	for _, l := range loops {
		all = append(all, l...)
	}
	lo, hi := span2(across, all)
	for d := math.Ceil(lo/pitch)*pitch + 0.013; d < hi; d += pitch { // a little off, so that no line runs through a corner
		var cuts []float64
		for _, l := range loops {
			for i, a := range l {
				b := l[(i+1)%len(l)]
				da, db := a.Dot(across)-d, b.Dot(across)-d
				if (da < 0) != (db < 0) {
					cuts = append(cuts, a.Add(b.Sub(a).Scale(da/(da-db))).Dot(along))
				}
			}
		}
		sort.Float64s(cuts)
		for i := 0; i+1 < len(cuts); i += 2 {
			if cuts[i+1]-cuts[i] > 0.3 {
				s.Line(Hatch, across.Scale(d).Add(along.Scale(cuts[i])), across.Scale(d).Add(along.Scale(cuts[i+1])))
			}
		}
	}
}

// inBrackets puts a reference dimension in brackets (ISO 129-1).
func inBrackets(value string, reference bool) string {
	if reference {
		return "(" + value + ")"
	}
	return value
}

// sizes draws the main sizes: width and height, a slot's opening and depth, and the core bore. The width stands under the section and
// the slot's sizes over it, or the other way round where no slot opens on top.
func (v *sectionView) sizes(u units, reference bool) {
	b := func(mm float64) string { return inBrackets(u.size(mm), reference) }
	w, h := v.half.X, v.half.Y
	up := 1.0
	if _, _, ok := v.slotAt(geom.Vec2{Y: 1}); !ok {
		up = -1
	}
	y := -up * (h + firstDim)
	v.ext(geom.Vec2{X: -w, Y: -up * h}, geom.Vec2{X: -w, Y: y})
	v.ext(geom.Vec2{X: w, Y: -up * h}, geom.Vec2{X: w, Y: y})
	v.linear(geom.Vec2{X: -w, Y: y}, geom.Vec2{X: w, Y: y}, b(2*w/v.scale), Text{Value: 2 * w / v.scale})
	x := -w - firstDim + 2
	v.ext(geom.Vec2{X: -w, Y: -h}, geom.Vec2{X: x, Y: -h})
	v.ext(geom.Vec2{X: -w, Y: h}, geom.Vec2{X: x, Y: h})
	v.linear(geom.Vec2{X: x, Y: -h}, geom.Vec2{X: x, Y: h}, b(2*h/v.scale), Text{Value: 2 * h / v.scale})
	v.slotSizes(b, up)
	v.coreSize(b, up)
}

// ext draws an extension line from near a point to past another.
func (s *Sheet) ext(from, to geom.Vec2) {
	d := to.Sub(from)
	d = d.Scale(1 / d.Len())
	s.Line(Extension, from.Add(d), to.Add(d.Scale(overrun)))
}

// slotSizes dimensions the slot that opens on top, or below where up is -1: its opening there, its depth at the right.
func (v *sectionView) slotSizes(b func(float64) string, up float64) {
	p := v.profile
	w, h := v.half.X, v.half.Y
	side, offset, ok := v.slotAt(geom.Vec2{Y: up})
	if !ok {
		return
	}
	at := func(o, d float64) geom.Vec2 { return v.point(p.Point(side, offset+o, d)) }
	l, r := at(-p.Slot.Opening/2, 0), at(p.Slot.Opening/2, 0)
	if l.X > r.X {
		l, r = r, l
	}
	y := up * (h + firstDim - 2)
	v.ext(l, geom.Vec2{X: l.X, Y: y})
	v.ext(r, geom.Vec2{X: r.X, Y: y})
	v.linear(geom.Vec2{X: l.X, Y: y}, geom.Vec2{X: r.X, Y: y}, b(p.Slot.Opening), Text{Align: Right, Value: p.Slot.Opening})
	floor := at(0, p.Slot.Depth)
	x := w + firstDim + 2
	v.Line(Extension, geom.Vec2{X: math.Max(at(p.Slot.Cavity/2-p.Slot.Chamfer, 0).X, at(-p.Slot.Cavity/2+p.Slot.Chamfer, 0).X) + 1, Y: floor.Y}, geom.Vec2{X: x + overrun, Y: floor.Y})
	v.ext(geom.Vec2{X: w, Y: up * h}, geom.Vec2{X: x, Y: up * h})
	low, high := math.Min(floor.Y, up*h), math.Max(floor.Y, up*h)
	v.linear(geom.Vec2{X: x, Y: low}, geom.Vec2{X: x, Y: high}, b(p.Slot.Depth), Text{Value: p.Slot.Depth})
}

// coreSize writes the size of the core on a leader at the side away from the slot's sizes, or else at the other, if there is room.
func (v *sectionView) coreSize(b func(float64) string, up float64) {
	p, h := v.profile, v.half.Y
	cores := p.Cores()
	best := v.point(cores[0])
	for _, c := range cores {
		if q := v.point(c); q.X-q.Y > best.X-best.Y {
			best = q
		}
	}
	anchors, text := []anchor{{best, p.Core / 2 * v.scale}}, [][]string{{bracketDiameter(b(p.Core))}}
	ways := []callout{{anchors: anchors, variants: text, above: math.Inf(1), below: -h + 8, down: true},
		{anchors: anchors, variants: text, above: h - 8, below: math.Inf(-1)}}
	if up < 0 {
		ways[0], ways[1] = ways[1], ways[0]
	}
	for _, c := range ways {
		if placeCallouts(v.Sheet, []callout{c}, math.Inf(-1), math.Inf(1)) {
			return
		}
	}
}

// bracketDiameter puts the diameter sign before a value, inside its brackets.
func bracketDiameter(s string) string {
	if s[0] == '(' {
		return "(⌀" + s[1:]
	}
	return "⌀" + s
}

// slotAt returns the side that looks along a direction of the paper and the offset of its slot
// nearest the right.
func (v *sectionView) slotAt(dir geom.Vec2) (geom.Side, float64, bool) {
	for s := range geom.Side(4) {
		n := v.point(s.Normal())
		if n.Scale(1/n.Len()).Sub(dir).Len() > 1e-6 {
			continue
		}
		lines := v.profile.SlotLines(s)
		best, found := 0.0, false
		for _, o := range lines {
			if !found || v.point(v.profile.Point(s, o, 0)).X > v.point(v.profile.Point(s, best, 0)).X {
				best, found = o, true
			}
		}
		return s, best, found
	}
	return 0, 0, false
}
