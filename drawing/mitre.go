package drawing

import (
	"fmt"
	"math"

	"barwright/frame"
	"barwright/geom"
)

// mitreFaces returns the faces that show the cut of an end as an angle: none for a square cut, two for one that slopes both
// ways. Faces in use are preferred.
func mitreFaces(b *frame.Bar, end int, use [4]bool) []geom.Side {
	c := b.Cuts[end]
	var out []geom.Side
	for _, w := range []struct {
		slope  float64
		choice [2]geom.Side
	}{{c.SlopeX, [2]geom.Side{geom.Top, geom.Bottom}}, {c.SlopeY, [2]geom.Side{geom.Right, geom.Left}}} {
		switch {
		case w.slope == 0:
		case use[w.choice[1]] && !use[w.choice[0]]:
			out = append(out, w.choice[1])
		default:
			out = append(out, w.choice[0])
		}
	}
	return out
}

// mitres dimensions the cuts whose angle a face shows, each by an angle at its short point (ISO 129-1). Those that have no room
// for it are returned as callouts. Texts stay between low and high.
func (a *attempt) mitres(v *faceView, low, high float64) []callout {
	var use [4]bool
	for _, s := range a.faces {
		use[s] = true
	}
	var out []callout
	for end := range 2 {
		for _, s := range mitreFaces(a.bar, end, use) {
			if s != v.side {
				continue
			}
			slope := a.bar.Cuts[end].SlopeX
			if s == geom.Right || s == geom.Left { // they show y across
				slope = a.bar.Cuts[end].SlopeY
			}
			angle := math.Pi/2 - math.Atan(math.Abs(slope))
			if v.angle(end, angle, low, high) {
				continue
			}
			w := v.half / v.scale
			at := geom.Vec2{X: (v.endAt(end, -w, true) + v.endAt(end, 0, true)) / 2, Y: v.half / 2}
			out = append(out, callout{anchors: []anchor{{centre: at}}, variants: [][]string{{"cut " + degrees(angle) + " to the long edge"}},
				of: []string{cutID(end)}, above: v.half, below: -v.half})
		}
	}
	return out
}

// degrees prints an angle given in radians.
func degrees(angle float64) string {
	return fmt.Sprintf("%s°", trimmed(angle*180/math.Pi, 1))
}

// angle draws the angle between the cut of an end and the long edges, outside the bar: between the short edge drawn on and the
// cut. It reports false, and draws nothing, where no radius leaves its value clear.
func (v *faceView) angle(end int, angle, low, high float64) bool {
	w := v.half / v.scale
	out := geom.Vec2{X: -1}
	if end == 1 {
		out.X = 1
	}
	short, long := geom.Vec2{X: v.endAt(end, -w, true), Y: v.half}, geom.Vec2{X: v.endAt(end, w, true), Y: -v.half}
	if (short.X-long.X)*out.X > 0 {
		short, long = long, short
	}
	cut := long.Sub(short)
	length := cut.Len()
	cut = cut.Scale(1 / length)
	var sc scene
	sc.add(v.Ops...)
	for _, r := range []float64{12, 10, 15, 18, 8, 22} {
		if r > length {
			continue
		}
		for _, t := range angleTexts(short, out, cut, r, degrees(angle)) {
			t.Shows, t.Of = Spec, []string{cutID(end)}
			l, h := t.Bounds()
			if far := short.Add(out.Scale(r + overrun)); l.X < low || h.X > high || !sc.fits(t) || !sc.clear(short.Add(out), far, Leader, Dimension, Label) {
				continue
			}
			v.angleLines(short, out, cut, r, angle)
			v.Add(t)
			return true
		}
	}
	return false
}

// angleTexts returns the places of an angle's value: off the middle of its arc, or at the end of its extension line.
func angleTexts(at, out, cut geom.Vec2, r float64, value string) []*Text {
	mid := out.Add(cut)
	mid = mid.Scale(1 / mid.Len())
	align := Right
	if out.X > 0 {
		align = Left
	}
	by := func(p geom.Vec2) *Text {
		return &Text{Role: Dimension, At: p.Sub(geom.Vec2{Y: DimText / 2}), String: value, Height: DimText, Align: align}
	}
	return []*Text{by(at.Add(mid.Scale(r + 1.5))), by(at.Add(out.Scale(r + overrun + 1)))}
}

// angleLines draws the extension line and the arc of an angle, with arrows where they fit between its legs and dots elsewhere.
func (v *faceView) angleLines(at, out, cut geom.Vec2, r, angle float64) {
	v.Line(Extension, at.Add(out), at.Add(out.Scale(r+overrun)))
	from, to := math.Atan2(out.Y, out.X), math.Atan2(cut.Y, cut.X)
	ends := [2]geom.Vec2{at.Add(out.Scale(r)), at.Add(cut.Scale(r))}
	turn := out.Cross(cut) // above zero: from the edge to the cut is counter-clockwise
	if turn < 0 {
		from, to = to, from
		ends[0], ends[1] = ends[1], ends[0]
	}
	sweep := math.Mod(to-from+4*math.Pi, 2*math.Pi)
	v.Arc(Dimension, at, r, from, sweep)
	for i, p := range ends {
		if r*angle < 2*ArrowLength+1 {
			v.Dot(Dimension, p, 0.6)
			continue
		}
		d := p.Sub(at).Scale(1 / r)
		tangent := geom.Vec2{X: -d.Y, Y: d.X}
		if i == 0 {
			tangent = tangent.Scale(-1)
		}
		// The arrow lies along the chord of its length, so that its tail stays on the arc.
		lean := ArrowLength / (2 * r)
		if i == 0 {
			lean = -lean
		}
		c, s := math.Cos(lean), math.Sin(lean)
		v.Arrow(Dimension, p, geom.Vec2{X: tangent.X*c + tangent.Y*s, Y: tangent.Y*c - tangent.X*s})
	}
}
