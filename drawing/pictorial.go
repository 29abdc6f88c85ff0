package drawing

import (
	"math"
	"slices"
	"sort"

	"barwright/frame"
	"barwright/geom"
)

// pictorial draws a small isometric view of the bar (ISO 5456-3): end 1 in front at the left, the main
// view's face at the right, the face before it on top. The length is shortened. It is a scheme: holes are drawn in the outside faces,
// since in a true picture the floor of a slot and the holes in it lie hidden behind its lip.
type pictorial struct {
	*Sheet
	bar   *frame.Bar
	face  geom.Side
	along *lengthMap
}

const pictorialLength = 62.0 // of the drawn bar along its axis, mm

// newPictorial returns the view with the section about 18 mm large.
func newPictorial(b *frame.Bar, face geom.Side) *pictorial {
	size := b.Profile.Size()
	scale := 18 / math.Max(size.X, size.Y)
	length := math.Min(b.Length*scale, pictorialLength)
	along := &lengthMap{scale: scale}
	// Holes keep their order and stand apart; between them the length is shortened as it comes.
	var zs, want []float64
	r := 0.0
	for _, h := range b.Holes {
		zs = append(zs, h.Z)
		r = math.Max(r, math.Max(h.Diameter, h.Bore)/2*scale)
	}
	sort.Float64s(zs)
	zs = slices.Compact(zs)
	for _, z := range zs {
		want = append(want, z/b.Length*length)
	}
	if length < b.Length*scale {
		gap := math.Min(2*r+1, (length-2*r-2)/math.Max(1, float64(len(zs)-1)))
		want = spread(want, math.Max(gap, 0), r+1, length-r-1)
	}
	z, x := 0.0, 0.0
	for i := range zs {
		if zs[i] > z && want[i] > x {
			along.pieces = append(along.pieces, lengthPiece{z, zs[i], x, want[i]})
			z, x = zs[i], want[i]
		}
	}
	along.pieces = append(along.pieces, lengthPiece{z, b.Length, x, length})
	return &pictorial{&Sheet{}, b, face, along}
}

// project maps a point of the section at a place along the bar to the paper.
func (v *pictorial) project(p geom.Vec2, z float64) geom.Vec2 {
	const c, s = 0.8660254037844386, 0.5
	x := v.x(z)
	n, up := p.Dot(v.face.Normal())*v.along.scale, -p.Dot(v.face.Toward())*v.along.scale
	return geom.Vec2{X: c * (x + n), Y: s*(x-n) + up}
}

// x maps a place along the bar; holes in a shortened bar keep their order and nearness to the ends.
func (v *pictorial) x(z float64) float64 {
	for i, p := range v.along.pieces {
		if z <= p.z1 || i == len(v.along.pieces)-1 {
			return p.x0 + (z-p.z0)*(p.x1-p.x0)/(p.z1-p.z0)
		}
	}
	return 0
}

// cut returns where an end's cut lies at a point of the section.
func (v *pictorial) cut(end int, p geom.Vec2) float64 {
	c := v.bar.Cuts[end]
	return v.bar.Plane(end) + float64(c.SlopeX*p.X) + float64(c.SlopeY*p.Y)
}

func (v *pictorial) draw() {
	p := v.bar.Profile
	for _, loop := range p.Region().Polygons(0.1) {
		pts := make([]geom.Vec2, len(loop))
		for i, q := range loop {
			pts[i] = v.project(q, v.cut(0, q))
		}
		v.Polygon(Edge, pts...)
	}
	top := (v.face + 3) % 4
	long := func(role Role, q geom.Vec2) { v.Line(role, v.project(q, v.cut(0, q)), v.project(q, v.cut(1, q))) }
	w, a := p.Along(v.face)/2, p.Along(top)/2
	front, back := p.Point(v.face, -w, 0), p.Point(top, -a, 0)
	low := p.Point(v.face, w, 0)
	r := p.CornerRadius * 0.3 // where the rounded corner stands for its edge
	for _, q := range []geom.Vec2{front.Scale(1 - r/front.Len()), back.Scale(1 - r/back.Len()), low.Scale(1 - r/low.Len())} {
		long(Outline, q)
	}
	v.Polyline(Outline, v.project(low, v.cut(1, low)), v.project(front, v.cut(1, front)), v.project(back, v.cut(1, back)))
	for _, side := range []geom.Side{v.face, top} {
		for _, o := range p.SlotLines(side) {
			long(Edge, p.Point(side, o-p.Slot.Opening/2, 0))
			long(Edge, p.Point(side, o+p.Slot.Opening/2, 0))
		}
		for _, h := range v.bar.Holes {
			v.hole(h, side)
		}
		v.number(side)
	}
	v.endName()
}

// hole draws the mouth of a hole on a face that is seen.
func (v *pictorial) hole(h frame.Hole, side geom.Side) {
	offset := h.Offset
	switch {
	case h.Side == side:
	case h.Side == side.Opposite() && h.Through():
		offset, h.Bore = -offset, 0
	default:
		return
	}
	v.mouth(side, offset, h.Z, math.Max(h.Diameter, h.Bore)/2)
	if h.Bore > 0 {
		v.mouth(side, offset, h.Z, h.Diameter/2)
	}
}

// mouth draws a circle on a face.
func (v *pictorial) mouth(side geom.Side, offset, z, r float64) {
	pts := make([]geom.Vec2, 24)
	x := v.x(z)
	for i := range pts {
		t := 2 * math.Pi * float64(i) / float64(len(pts))
		q := v.project(v.bar.Profile.Point(side, offset+r*math.Sin(t), 0), 0)
		d := (x + r*math.Cos(t)*v.along.scale) - v.x(0)
		pts[i] = q.Add(geom.Vec2{X: 0.8660254037844386 * d, Y: 0.5 * d})
	}
	v.Polygon(Outline, pts...)
}

// number writes the number of a face beside it, on a leader that ends in a dot on the face.
func (v *pictorial) number(side geom.Side) {
	z := v.bar.Length
	x := v.along.width() * 0.5
	for i, p := range v.along.pieces {
		if x <= p.x1 || i == len(v.along.pieces)-1 {
			z = p.z0 + (x-p.x0)*(p.z1-p.z0)/(p.x1-p.x0)
			break
		}
	}
	offset := v.bar.Profile.Along(side) * 0.34
	out := geom.Vec2{X: -7, Y: 12}
	if side == v.face {
		out = geom.Vec2{X: 7, Y: -12}
	} else {
		offset = -offset
	}
	dot := v.project(v.bar.Profile.Point(side, offset, 0), z)
	at := dot.Add(out)
	v.Dot(Leader, dot, 0.6)
	v.Line(Leader, dot, at.Sub(out.Scale(faceRing/out.Len())))
	numbered(v.Sheet, at, int(side)+1)
}

// endName writes the name of the datum end on a leader to the end face.
func (v *pictorial) endName() {
	p := v.bar.Profile
	in := p.Point((v.face+2)%4, 0, 0).Scale(0.75).Add(p.Point((v.face+3)%4, 0, 0).Scale(0.75))
	dot := v.project(in, v.cut(0, in))
	var sc scene
	sc.add(v.Ops...)
	for _, out := range []geom.Vec2{{X: -9, Y: 11}, {X: -12, Y: 4}, {X: -12, Y: -8}, {X: -20, Y: 16}, {X: -24, Y: 0}, {X: -30, Y: -20}} {
		at := dot.Add(out)
		name := &Text{Role: Label, At: at.Add(geom.Vec2{X: 3, Y: 1}), String: "End 1, datum", Height: DimText, Align: Right}
		if out.Y <= 4 {
			name.At = at.Add(geom.Vec2{X: -1, Y: -DimText / 2})
		}
		if sc.fits(name) && sc.clear(dot, at, Label, Leader) {
			v.Dot(Leader, dot, 0.6)
			v.Line(Leader, dot, at)
			v.Add(name)
			return
		}
	}
}
