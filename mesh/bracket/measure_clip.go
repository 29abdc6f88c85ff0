package bracket

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"barwright/geom"
	"barwright/mesh/bracket/csg"
)

// trim prints a length for a remark.
func trim(mm float64) string { return strconv.FormatFloat(math.Round(mm*100)/100, 'f', -1, 64) }

// snap is the figure of a pair of snap legs: in and open are where a leg begins and ends across the slot, the z are those of the catch's
// upper end, its widest place and the tip.
type snap struct{ in, open, catch, z0, z1, z2, tip float64 }

// snapMeasures states the sizes of the legs in a view along the slot, whose legs point along out.
func (m *model) snapMeasures(s snap, x float64, face, out geom.Vec) {
	at := func(y, z float64) geom.Vec { return geom.Vec{X: x, Y: y, Z: z} }
	p := m.pen(face, ey, out)
	p.size("leg", at(s.in, s.tip), at(s.open, s.z0))
	p.size("legs", at(-s.open, s.z0), at(s.open, s.z0))
	p.size("catches", at(-s.open-s.catch, s.z2), at(s.open+s.catch, s.z2))
	m.pen(face, ez.Scale(-1), ey).places("legs", at(m.p.Slot.Opening/2+1.5, 0), at(s.open, s.z0), at(s.open+s.catch, s.z1), at(s.open+s.catch, s.z2), at(s.in, s.tip))
}

// coverMeasures states the sizes of a slot cover with its pairs of legs.
func (m *model) coverMeasures(length, half, t float64, stretches [][2]float64, s snap) {
	down, left := ez.Scale(-1), ex.Scale(-1)
	m.pen(down, ex, ey.Scale(-1)).size("length", geom.Vec{Y: -half}, geom.Vec{X: length, Y: -half})
	var ends []geom.Vec
	for i, r := range stretches {
		if i < 2 || len(stretches) <= 4 {
			ends = append(ends, geom.Vec{X: r[0], Y: s.open, Z: s.z0}, geom.Vec{X: r[1], Y: s.open, Z: s.z0})
		}
	}
	m.pen(down, ex, ey).places("legs", geom.Vec{}, ends...)
	if n := len(stretches); n > 4 {
		m.alike(fmt.Sprintf("%d pairs of legs at equal pitches of %s mm.", n, trim(stretches[1][0]-stretches[0][0])))
	}
	mid := (stretches[0][0] + stretches[0][1]) / 2
	m.section(left, geom.Vec{X: mid}, "through a pair of legs")
	m.pen(left, ey, ez).size("width", geom.Vec{X: mid, Y: -half, Z: t}, geom.Vec{X: mid, Y: half, Z: t})
	m.pen(left, ez, ey.Scale(-1)).size("wall", geom.Vec{X: mid, Y: -half}, geom.Vec{X: mid, Y: -half, Z: t})
	m.snapMeasures(s, mid, left, down)
	m.alike("The two legs of a pair are alike.")
}

// cableMeasures states the sizes of a cable clip. ring and hole are the outlines in y and z, and slope the corner from which the mouth
// opens outward.
func (m *model) cableMeasures(width, inner, outer, base, t float64, ring, hole csg.Outline, slope geom.Vec2, s snap) {
	centre := geom.Vec{Z: outer, X: width}
	p := m.pen(ex, ey, ez)
	p.around(Diameter, "ring inside", centre, centre.Add(ey.Scale(inner)), 1)
	p.around(Diameter, "ring outside", centre, centre.Add(ey.Scale(-outer)), 1)
	diagonal := geom.Vec2{X: 1, Y: 1}.Scale(math.Sqrt2 / 2)
	lip, top := crossing(hole, slope, diagonal), crossing(ring, slope, diagonal)
	at := func(y, z float64) geom.Vec { return geom.Vec{X: width, Y: y, Z: z} }
	p.size("mouth", at(-lip.X, lip.Y), at(lip.X, lip.Y))
	p.remark(at((lip.X+top.X)/2, (lip.Y+top.Y)/2), "45°")
	m.pen(ex, ez, ey.Scale(-1)).places("height", at(-base, 0), at(-base, t), at(-top.X, top.Y))
	p.size("base", at(-base, t), at(base, t))
	m.snapMeasures(s, width, ex, ez.Scale(-1))
	front := ez.Scale(-1)
	m.pen(front, ex, ey).size("width", geom.Vec{Y: base}, geom.Vec{X: width, Y: base})
	m.alike("The clip is its own mirror image over the middle of the slot.")
}

// panelMeasures states the sizes of a panel clip.
func (m *model) panelMeasures(width, half, lap, gap, high, corner float64) {
	down, left := ez.Scale(-1), ex.Scale(-1)
	m.section(left, geom.Vec{}, "through the screw")
	y := half + lap
	m.pen(down, ex, ey).places("clip", geom.Vec{X: -width / 2, Y: half}, geom.Vec{}, geom.Vec{X: width / 2, Y: half})
	m.pen(down, ey, left).places("clip", geom.Vec{X: -width / 2, Y: -half}, geom.Vec{}, geom.Vec{X: -width / 2, Y: half}, geom.Vec{X: -width/2 + 2, Y: y, Z: gap})
	m.pen(left, ez, ey).size("gap", geom.Vec{Y: half}, geom.Vec{Y: y, Z: gap})
	m.pen(left, ez, ey).size("lip", geom.Vec{Y: y, Z: gap}, geom.Vec{Y: y, Z: high})
	if corner > 0 {
		c := geom.Vec{X: width/2 - corner, Y: y - corner, Z: high}
		m.pen(down, ex, ey).around(Radius, "corner", c, c.Add(geom.Vec{X: 1, Y: 1}.Unit().Scale(corner)), 2)
	}
	if ribs := m.ribsOf(geom.Vec{}, ex); len(ribs) > 0 {
		ends := ribEnds(ribs, ey.Scale(-1))
		m.pen(down, ex, ey.Scale(-1)).places("rib ends", geom.Vec{X: -width / 2, Y: -half}, ends...)
		m.pen(down, ey, ex).ribWidth(ribs[len(ribs)-1])
		r := slices.MinFunc(ribs, func(a, b Rib) int { return int(math.Copysign(1, a.At.X-b.At.X)) })
		foot, top := r.At.Sub(ey.Scale(r.Width/2)), r.At.Sub(ey.Scale(r.Width/2-r.Taper)).Sub(ez.Scale(r.Depth))
		m.pen(left, ez, ey.Scale(-1)).size("rib height", top, foot)
	}
}
