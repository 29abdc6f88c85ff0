package drawing

import (
	"fmt"
	"math"

	"barwright/frame"
	"barwright/geom"
)

// endView draws an end of the bar as seen from outside, upright as the main view of face k shows
// it. Its middle lies at the origin.
type endView struct {
	*Sheet
	bar   *frame.Bar
	end   int
	face  geom.Side // of the main view
	scale float64
}

// point maps a point of the section. Seen from end 1 the main view's face looks right, seen from end 2 left.
func (v *endView) point(p geom.Vec2) geom.Vec2 {
	x := p.Dot(v.face.Normal())
	if v.end == 1 {
		x = -x
	}
	return geom.Vec2{X: x * v.scale, Y: -p.Dot(v.face.Toward()) * v.scale}
}

// size returns half the width and height of the view.
func (v *endView) size() (w, h float64) {
	return v.bar.Profile.Across(v.face) / 2 * v.scale, v.bar.Profile.Along(v.face) / 2 * v.scale
}

// sectionTolerance is the chord tolerance of drawn curves in mm of the section.
const sectionTolerance = 0.02

// draw draws the outline, the cores with their threads, and the numbers of the faces.
func (v *endView) draw() {
	taps := map[geom.Vec2]frame.Tap{}
	for _, t := range v.bar.Taps {
		if t.End == v.end {
			taps[t.Core] = t
		}
	}
	region := v.bar.Profile.Region()
	cores := v.bar.Profile.Cores()
	for _, loop := range region[:len(region)-len(cores)].Polygons(sectionTolerance) {
		pts := make([]geom.Vec2, len(loop))
		for i, p := range loop {
			pts[i] = v.point(p)
		}
		v.Polygon(Outline, pts...)
	}
	for _, c := range cores {
		at := v.point(c)
		r := v.bar.Profile.Core / 2 * v.scale
		if t, ok := taps[c]; ok {
			r = t.Drill / 2 * v.scale
			v.Arc(Thread, at, math.Max(threadRadius(t.Thread, v.scale), r+leastThreadGap), math.Pi/2, 1.5*math.Pi)
		}
		v.Circle(Outline, at, r)
		past := r + 2.5
		v.Line(CentreLine, at.Sub(geom.Vec2{X: past}), at.Add(geom.Vec2{X: past}))
		v.Line(CentreLine, at.Sub(geom.Vec2{Y: past}), at.Add(geom.Vec2{Y: past}))
	}
	w, h := v.size()
	for k := range geom.Side(4) {
		n := v.point(k.Normal())
		n = n.Scale(1 / n.Len())
		numbered(v.Sheet, geom.Vec2{X: n.X * (w + faceRing + 2), Y: n.Y * (h + faceRing + 2)}, int(k)+1)
	}
	name := fmt.Sprintf("End %d", v.end+1)
	if v.end == 0 {
		name += ", datum"
	}
	v.Write(Label, geom.Vec2{Y: -h - 2*faceRing - 4 - DimText}, DimText, Centre, name)
	if c := v.bar.Cuts[v.end]; !c.Square() {
		v.Write(Label, geom.Vec2{Y: -h - 2*faceRing - 4 - 2.6*DimText}, SmallText, Centre, "mitred")
	}
}

// faceRing is the radius of the circle round a face's number.
const faceRing = 2.9

// numbered writes a face's number in a circle.
func numbered(s *Sheet, at geom.Vec2, number int) {
	s.Circle(Label, at, faceRing)
	s.Write(Label, at.Sub(geom.Vec2{Y: DimText / 2}), DimText, Centre, fmt.Sprint(number))
}

// callouts returns the callouts of the end's taps, for a view that stands at a place.
func (v *endView) callouts(at geom.Vec2, u units) []callout {
	_, h := v.size()
	var out []callout
	for _, g := range tapGroups(v.bar, v.end) {
		c := callout{above: at.Y + h + 2*faceRing + 2, below: at.Y - h - 2*faceRing - 4 - DimText - 2, down: true}
		for _, i := range g.taps {
			t := v.bar.Taps[i]
			c.anchors = append(c.anchors, anchor{at.Add(v.point(t.Core)), t.Drill / 2 * v.scale})
			c.of = append(c.of, tapID(i))
		}
		p := g.parts(v.bar.Profile.Core, u)
		c.variants = [][]string{{p[0] + ", " + p[1]}, {p[0] + ",", p[1]}}
		out = append(out, c)
	}
	return out
}
