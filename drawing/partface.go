package drawing

import (
	"fmt"
	"math"

	"barwright/frame"
	"barwright/geom"
	"barwright/standard"
)

// faceView draws one long face of a bar, datum end left. Looking at face k with end 1
// left, the next face lies below and the face before above, so that offsets, which grow
// toward the next face, run downward.
type faceView struct {
	*Sheet // only its operations are used; the bar's end 1 and axis lie at the origin
	bar    *frame.Bar
	side   geom.Side
	along  *lengthMap
	scale  float64
	half   float64 // half the drawn width of the face
	labels []string
}

func newFaceView(b *frame.Bar, side geom.Side, along *lengthMap) *faceView {
	return &faceView{Sheet: &Sheet{}, bar: b, side: side, along: along, scale: along.scale,
		half: b.Profile.Along(side) / 2 * along.scale}
}

// endAt returns where an end's cut lies on the near or far face at an offset, as x on the paper.
func (v *faceView) endAt(end int, offset float64, near bool) float64 {
	depth := 0.0
	if !near {
		depth = v.bar.Profile.Across(v.side)
	}
	p := v.bar.Profile.Point(v.side, offset, depth)
	c := v.bar.Cuts[end]
	return v.along.at(v.bar.Plane(end) + float64(c.SlopeX*p.X) + float64(c.SlopeY*p.Y))
}

// draw draws outline, slots, holes and breaks.
func (v *faceView) draw() {
	w := v.half / v.scale
	v.lengthwise(Outline, -w, true)
	v.lengthwise(Outline, w, true)
	for _, o := range v.bar.Profile.SlotLines(v.side) {
		v.lengthwise(Edge, o-v.bar.Profile.Slot.Opening/2, false)
		v.lengthwise(Edge, o+v.bar.Profile.Slot.Opening/2, false)
	}
	for _, o := range v.bar.Profile.CellLines(v.side) {
		v.axis(o)
	}
	for end := range 2 {
		v.endLines(end)
	}
	v.breaks()
	for i, h := range v.bar.Holes {
		switch {
		case h.Side == v.side:
			v.hole(i, h.Offset)
		case h.Side == v.side.Opposite() && h.Through():
			v.exit(h)
		}
	}
}

// lengthwise draws a line along the bar at an offset, in every piece. The outline reaches to whichever of the near
// and far face is longer.
func (v *faceView) lengthwise(role Role, offset float64, silhouette bool) {
	ends := [2]float64{v.endAt(0, offset, true), v.endAt(1, offset, true)}
	if silhouette {
		ends[0] = math.Min(ends[0], v.endAt(0, offset, false))
		ends[1] = math.Max(ends[1], v.endAt(1, offset, false))
	}
	y := -offset * v.scale
	for i, p := range v.along.pieces {
		a, b := p.x0, p.x1
		if i == 0 {
			a = ends[0]
		}
		if i == len(v.along.pieces)-1 {
			b = ends[1]
		}
		v.Line(role, geom.Vec2{X: a, Y: y}, geom.Vec2{X: b, Y: y})
	}
}

// axis draws the centre line of a slot, 3 mm past the ends.
func (v *faceView) axis(offset float64) {
	y := -offset * v.scale
	for i, p := range v.along.pieces {
		a, b := p.x0, p.x1
		if i == 0 {
			a = v.endAt(0, offset, true) - 3
		}
		if i == len(v.along.pieces)-1 {
			b = v.endAt(1, offset, true) + 3
		}
		v.Line(CentreLine, geom.Vec2{X: a, Y: y}, geom.Vec2{X: b, Y: y})
	}
}

// endLines draws the edges of an end's cut that are seen.
func (v *faceView) endLines(end int) {
	w := v.half / v.scale
	top := geom.Vec2{X: v.endAt(end, -w, true), Y: v.half}
	bottom := geom.Vec2{X: v.endAt(end, w, true), Y: -v.half}
	v.Line(Outline, top, bottom)
	farTop := geom.Vec2{X: v.endAt(end, -w, false), Y: v.half}
	farBottom := geom.Vec2{X: v.endAt(end, w, false), Y: -v.half}
	out := 1.0
	if end == 0 {
		out = -1
	}
	if (farTop.X-top.X)*out > 1e-6 || (farBottom.X-bottom.X)*out > 1e-6 {
		v.Line(Outline, farTop, farBottom)
	}
}

// breaks draws a zigzag line on both sides of every gap (ISO 128-3).
func (v *faceView) breaks() {
	for i := 1; i < len(v.along.pieces); i++ {
		v.zigzag(v.along.pieces[i-1].x1)
		v.zigzag(v.along.pieces[i].x0)
	}
}

func (v *faceView) zigzag(x float64) {
	h := v.half + breakPast
	const a, w = 2.2, 1.3
	v.Polyline(Break, geom.Vec2{X: x, Y: h}, geom.Vec2{X: x, Y: a}, geom.Vec2{X: x - w, Y: a / 3}, geom.Vec2{X: x + w, Y: -a / 3},
		geom.Vec2{X: x, Y: -a}, geom.Vec2{X: x, Y: -h})
}

// centre returns where a hole of this face lies on the paper.
func (v *faceView) centre(h frame.Hole) geom.Vec2 {
	return geom.Vec2{X: v.along.at(h.Z), Y: -h.Offset * v.scale}
}

// hole draws a hole with its counterbore and thread and its centre cross.
func (v *faceView) hole(i int, offset float64) {
	h := v.bar.Holes[i]
	c := v.centre(h)
	r := v.round(Outline, c, h.Diameter, h.Thread)
	if h.Bore > 0 {
		r = h.Bore / 2 * v.scale
		v.Circle(Outline, c, r)
	}
	v.cross(c, r)
}

// round draws a bore, with the root of its thread as three quarters of a narrow circle (ISO 6410-1), and
// returns the larger radius.
func (v *faceView) round(role Role, c geom.Vec2, diameter float64, thread string) float64 {
	r := diameter / 2 * v.scale
	v.Circle(role, c, r)
	if thread != "" {
		r = math.Max(threadRadius(thread, v.scale), r+leastThreadGap)
		v.Arc(Thread, c, r, math.Pi/2, 1.5*math.Pi)
	}
	return r
}

// leastThreadGap is the smallest drawn space between the two circles of a thread (ISO 6410-1).
const leastThreadGap = 0.7

// threadRadius returns half the nominal diameter of a thread on the paper.
func threadRadius(thread string, scale float64) float64 {
	if t, ok := standard.ThreadByName(thread); ok {
		return t.Nominal / 2 * scale
	}
	return 0
}

// exit draws where a through hole of the opposite face comes out, in a narrow line, so that it is not taken for
// a hole that starts here.
func (v *faceView) exit(h frame.Hole) {
	c := geom.Vec2{X: v.along.at(h.Z), Y: h.Offset * v.scale}
	v.cross(c, v.round(Edge, c, h.Diameter, h.Thread))
}

// cross draws the centre cross of a hole 3 mm past it (common practice).
func (v *faceView) cross(c geom.Vec2, r float64) {
	const past = 2.5
	v.Line(CentreLine, geom.Vec2{X: c.X, Y: c.Y - r - past}, geom.Vec2{X: c.X, Y: c.Y + r + past})
	if !onSlot(v.bar.Profile, v.side, -c.Y/v.scale) {
		v.Line(CentreLine, geom.Vec2{X: c.X - r - past, Y: c.Y}, geom.Vec2{X: c.X + r + past, Y: c.Y})
	}
}

// nameGap is the room between the bar and the names at its left, for the Y axis of a hole table.
const nameGap = 11.0

// name writes the number of the face left of the view.
func (v *faceView) name(main bool) {
	at := geom.Vec2{X: -nameGap, Y: -ViewText / 2}
	if main {
		at.Y += 4
		v.Write(Label, geom.Vec2{X: -nameGap, Y: at.Y - 2*DimText}, DimText, Right, "End 1, datum")
		v.Write(Label, geom.Vec2{X: v.along.width() + 5, Y: -DimText / 2}, DimText, Left, "End 2")
	}
	v.Write(Label, at, ViewText, Right, fmt.Sprintf("Face %d", int(v.side)+1))
}
