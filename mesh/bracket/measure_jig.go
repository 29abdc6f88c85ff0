package bracket

import (
	"fmt"

	"barwright/geom"
)

// sleeveMeasures states inside, wall and outside of a sleeve, seen on its open end.
func (m *model) sleeveMeasures(outer geom.Vec2, wall, top float64, wallName string) {
	in := outer.Sub(geom.Vec2{X: wall, Y: wall})
	at := func(x, y float64) geom.Vec { return geom.Vec{X: x, Y: y, Z: top} }
	p, q := m.pen(ez, ex, ey), m.pen(ez, ey, ex)
	p.size(wallName, at(-outer.X, 0), at(-in.X, 0))
	p.size("inside", at(-in.X, in.Y), at(in.X, in.Y))
	q.size("inside", at(in.X, -in.Y), at(in.X, in.Y))
	p.size("outside", at(-outer.X, 0), at(outer.X, 0)).Reference = true
	q.size("outside", at(0, -outer.Y), at(0, outer.Y)).Reference = true
	m.alike("The wall is the same all round.")
}

// acrossMeasures states how far holes and pins that stand upright lie from the left and the front side.
func (m *model) acrossMeasures(outer geom.Vec2, top float64, points []geom.Vec) {
	m.pen(ez, ex, ey.Scale(-1)).places("across", geom.Vec{X: -outer.X, Z: top}, points...)
	m.pen(ez, ey, ex.Scale(-1)).places("across", geom.Vec{Y: -outer.Y, Z: top}, points...)
}

// jigMeasures states the sizes of a piece of a drill jig. low is its lowest plane.
func (m *model) jigMeasures(p jigPiece, outer geom.Vec2, guide, low, pin float64) {
	m.sleeveMeasures(outer, guide, p.to, "guide")
	datum := 0.0
	if p.number > 1 {
		datum = low
		m.notes = append(m.notes, fmt.Sprintf("This piece begins %s mm from the stop; its heights count from its own lower face.", trim(low)))
	}
	var sides []geom.Side
	for _, h := range p.holes {
		sides = append(sides, h.side)
	}
	if len(sides) == 0 {
		sides = []geom.Side{geom.Top}
	}
	for i, side := range uniqueSides(sides) {
		m.jigFace(p, side, outer, guide, low, datum, i == 0)
	}
	m.jigUpright(p, outer, guide, pin)
	m.alike("Openings in the walls save material and show the bar; they need no sizes.")
}

// jigFace states the guides of one side, whose wall is seen from inside with the other half cut away; datum is the height from which they
// count. The first side states the heights of the piece too.
func (m *model) jigFace(p jigPiece, side geom.Side, outer geom.Vec2, guide, low, datum float64, first bool) {
	n := side.Normal()
	face := geom.Vec{X: -n.X, Y: -n.Y}
	m.section(face, geom.Vec{}, fmt.Sprintf("through the middle, face %d seen from inside", int(m.partSide(p, side))+1))
	right := face.Scale(-1).Cross(ez)
	inner := outer.X - guide
	if n.X != 0 {
		inner = outer.Y - guide
	}
	var guides []geom.Vec
	for _, h := range p.holes {
		if h.side == side {
			q := m.p.Point(h.side, h.offset, 0)
			guides = append(guides, geom.Vec{X: q.X, Y: q.Y, Z: h.z})
		}
	}
	left := right.Scale(-1)
	m.pen(face, ez, left).places("guides from the stop", left.Scale(inner).Add(geom.Vec{Z: datum}), guides...)
	m.pen(face, right, ez.Scale(-1)).places("guides across", left.Scale(inner+guide).Add(geom.Vec{Z: low}), guides...)
	if !first {
		return
	}
	e := right.Scale(inner + guide)
	m.pen(face, ez, right).size("height", e.Add(geom.Vec{Z: low}), e.Add(geom.Vec{Z: p.to}))
	if p.number == 1 {
		m.pen(face, ez, right).size("stop", e.Add(geom.Vec{Z: low}), right.Scale(inner))
	}
}

// jigUpright states where the holes for chips stand, and the pins that join the pieces.
func (m *model) jigUpright(p jigPiece, outer geom.Vec2, guide, pin float64) {
	var upright, pins []geom.Vec
	if p.number == 1 {
		for _, c := range m.p.Cores() {
			upright = append(upright, geom.Vec{X: c.X, Y: c.Y})
		}
	}
	if p.of > 1 {
		c := outer.Sub(geom.Vec2{X: guide / 2, Y: guide / 2})
		for _, s := range []geom.Vec2{{X: 1, Y: 1}, {X: -1, Y: 1}, {X: 1, Y: -1}} {
			pins = append(pins, geom.Vec{X: c.X * s.X, Y: c.Y * s.Y, Z: p.to})
		}
	}
	if upright = append(upright, pins...); len(upright) > 0 {
		m.acrossMeasures(outer, p.to, upright)
	}
	if p.number < p.of {
		d := m.pen(ez, ex, ey).around(Diameter, "pin", pins[0], pins[0].Add(geom.Vec{X: pin / 2}), 3)
		d.Deep, d.Text, d.Also = pinLong, " high", pins[1:]
	}
}

// partSide returns the number of a side in the part's own numbering.
func (m *model) partSide(p jigPiece, side geom.Side) geom.Side {
	for _, h := range p.holes {
		if h.side == side {
			return h.partSide
		}
	}
	return side
}

// uniqueSides returns sides by their number, each once.
func uniqueSides(in []geom.Side) (out []geom.Side) {
	for side := range geom.Side(4) {
		for _, s := range in {
			if s == side {
				out = append(out, s)
				break
			}
		}
	}
	return out
}

// tapMeasures states the sizes of a tap guide.
func (m *model) tapMeasures(outer geom.Vec2, guide, sleeve float64) {
	front := ey.Scale(-1)
	cores := m.p.Cores()
	m.section(front, geom.Vec{Y: cores[0].Y}, "through the middle of the guides")
	m.sleeveMeasures(outer, m.wall, sleeve, "wall")
	var at []geom.Vec
	for _, c := range cores {
		at = append(at, geom.Vec{X: c.X, Y: c.Y})
	}
	m.acrossMeasures(outer, sleeve, at)
	in := outer.X - m.wall
	e := geom.Vec{X: outer.X, Y: cores[0].Y}
	m.pen(front, ez, ex).size("guide", e.Sub(ez.Scale(guide)), geom.Vec{X: in, Y: cores[0].Y})
	m.pen(front, ez, ex).size("height", e.Sub(ez.Scale(guide)), e.Add(ez.Scale(sleeve)))
}

// spacerMeasures states the sizes of a spacer.
func (m *model) spacerMeasures(h, w, deep float64) {
	left := ex.Scale(-1)
	m.pen(ey, ez, left).size("height", geom.Vec{X: -w / 2}, geom.Vec{X: -w / 2, Z: h})
	m.pen(ey, ex, ez).size("width", geom.Vec{X: -w / 2, Z: h}, geom.Vec{X: w / 2, Z: h})
	m.pen(left, ey, ez).size("depth", geom.Vec{X: -w / 2, Y: -deep, Z: h}, geom.Vec{X: -w / 2, Z: h})
	if ribs := m.ribsOf(geom.Vec{}, ez); len(ribs) > 0 {
		m.pen(ey, ez, ex).places("rib ends", geom.Vec{X: w / 2}, ribEnds(ribs, ex)...)
		r := ribs[0]
		m.pen(ey, ex, ez.Scale(-1)).size("rib width", r.At.Sub(ex.Scale(r.Width/2)), r.At.Add(ex.Scale(r.Width/2)))
		m.pen(left, ey, ez.Scale(-1)).size("rib height", r.At.Sub(ex.Scale(r.Width/2)), r.At.Add(geom.Vec{X: r.Taper - r.Width/2, Y: r.Depth}))
	}
}

// squareMeasures states the sizes of a corner square; cross is where the brace's two edges meet the arms' inner edges.
func (m *model) squareMeasures(arm, b, high, fence, t float64, cross [2]float64) {
	down, front := ez.Scale(-1), ey
	for _, w := range []struct{ along, other geom.Vec }{{ex, ey}, {ey, ex}} {
		at := func(a, o, z float64) geom.Vec { return w.along.Scale(a).Add(w.other.Scale(o)).Add(geom.Vec{Z: z}) }
		m.pen(down, w.along, w.other.Scale(-1)).places("arm", at(-fence, -fence, 0), at(0, 3, -high), at(arm, 0, -high))
	}
	m.pen(down, ey, ex).size("arm width", geom.Vec{X: arm, Z: -high}, geom.Vec{X: arm, Y: b, Z: -high})
	stations := []geom.Vec{{X: cross[1], Y: b, Z: -high}}
	if cross[0] > b+0.5 { // else the brace fills the corner
		stations = append(stations, geom.Vec{X: cross[0], Y: b, Z: -high})
	}
	m.pen(down, ex, ey).places("brace", geom.Vec{Y: arm, Z: -high}, stations...)
	m.pen(down, ex, ey).remark(geom.Vec{X: (cross[1] + b) / 2, Y: (cross[1] + b) / 2, Z: -high}, "45°")
	m.pen(down, ex, ey).around(Diameter, "room for burrs", geom.Vec{Z: -high}, geom.Vec{X: 3, Z: -high}, 1).Deep = high
	p := m.pen(front, ez, ex.Scale(-1))
	p.size("fence", geom.Vec{X: -fence, Y: b}, geom.Vec{X: -fence, Y: b, Z: t})
	p.size("edge", geom.Vec{Y: b, Z: -high}, geom.Vec{X: -fence, Y: b})
	m.alike("Both arms are alike; the square is its own mirror image between them.")
}
