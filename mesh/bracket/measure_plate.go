package bracket

import (
	"math"
	"slices"

	"barwright/geom"
)

// plateMeasures states the sizes of a flat plate, seen on its mating face as it lies on the printer.
func (m *model) plateMeasures(arms []geom.Vec, half, arm, t float64, screws, lines []float64) {
	down, front := ez.Scale(-1), ey
	reach := func(d geom.Vec) float64 {
		if slices.Contains(arms, d) {
			return arm
		}
		return half
	}
	m.section(front, geom.Vec{Y: lines[0]}, "through the screws")
	// From the left edge and from the lower one, as the sheet shows them.
	for _, w := range []struct{ along, other geom.Vec }{{ex, ey}, {ey.Scale(-1), ex.Scale(-1)}} {
		low := w.along.Scale(-reach(w.along.Scale(-1)))
		var to []geom.Vec
		for _, h := range m.holes {
			p := h.At
			p.Z = 0
			to = append(to, p)
		}
		if side := w.other; m.kind.Name != "plate-straight" {
			if !slices.Contains(arms, side) {
				side = side.Scale(-1)
			}
			edge := side.Scale(arm - 4)
			to = append(to, edge.Sub(w.along.Scale(half)), edge.Add(w.along.Scale(half)))
		}
		m.pen(down, w.along, w.other).places("plate", low, append(to, w.along.Scale(reach(w.along)))...)
	}
	m.pen(front, ez, ex).size("wall", geom.Vec{X: arm, Y: lines[0]}, geom.Vec{X: arm, Y: lines[0], Z: t})
	if ribs := m.ribsOf(geom.Vec{Y: lines[0]}, ex); len(ribs) > 0 {
		last := ribs[len(ribs)-1]
		m.pen(down, ex, ey.Scale(-1)).places("rib ends", geom.Vec{X: -reach(ex.Scale(-1))}, ribEnds(ribs, ey.Scale(-1))...)
		m.pen(down, ey, ex).ribWidth(last)
		m.pen(front, ez, ex).ribHeight(last)
		m.alike("The ribs of all arms and slots are alike, each on the middle of its slot.")
	}
	m.plateCorners(arms, half, arm)
}

// plateCorners states the roundings of a plate's corners and the bevels of its inner ones.
func (m *model) plateCorners(arms []geom.Vec, half, arm float64) {
	p := m.pen(ez.Scale(-1), ex, ey)
	left, ell := slices.Contains(arms, ex.Scale(-1)), len(arms) == 2 && arms[0].Dot(arms[1]) == 0
	corners := 2 * len(arms)
	if ell {
		corners = 5
	}
	centre := geom.Vec{X: arm - plateRound, Y: half - plateRound}
	r := p.around(Radius, "corner", centre, centre.Add(geom.Vec{X: 1, Y: 1}.Unit().Scale(plateRound)), corners)
	r.Also = []geom.Vec{{X: r.To.X, Y: -r.To.Y}}
	if left {
		r.Also = append(r.Also, geom.Vec{X: -r.To.X, Y: r.To.Y}, geom.Vec{X: -r.To.X, Y: -r.To.Y})
	}
	if len(arms) > 2 || ell {
		fillet := plateFillet(half, arm)
		p.remark(geom.Vec{X: 1, Y: 1}.Scale(half+fillet/2), " × 45°").Value = fillet
	}
}

// endPlateMeasures states the sizes that foot pad and caster plate share, and then those of the caster's holes.
func (m *model) endPlateMeasures(half geom.Vec2, t, corner float64, pegs []geom.Box, own []Hole) {
	front := ey.Scale(-1)
	cores := m.p.Cores()
	m.section(front, geom.Vec{Y: cores[0].Y}, "through the screws")
	for _, w := range []struct {
		along, out geom.Vec
		half       float64
	}{{ex, ey.Scale(-1), half.X}, {ey, ex.Scale(-1), half.Y}} {
		edge := w.along.Scale(-w.half)
		var to []geom.Vec
		for _, h := range m.holes {
			if !slices.ContainsFunc(own, func(o Hole) bool { return o == h }) {
				to = append(to, geom.Vec{X: h.At.X, Y: h.At.Y})
			}
		}
		if len(own) > 0 {
			// The first hole from the edge, the others from the first.
			first, last := own[0].At, own[2].At
			first.Z, last.Z = 0, 0
			to = append(to, first)
			m.pen(ez, w.along, w.out.Scale(-1)).size("pattern", first, last)
		}
		m.pen(ez, w.along, w.out).places("plate", edge, append(to, edge.Scale(-1))...)
	}
	m.pen(front, ez, ex).size("wall", geom.Vec{X: half.X, Y: cores[0].Y, Z: -t}, geom.Vec{X: half.X, Y: cores[0].Y})
	if corner > 0 {
		c := geom.Vec{X: half.X - corner, Y: half.Y - corner}
		m.corners(m.pen(ez, ex, ey), c, corner)
	}
	m.pegMeasures(half, pegs, ez, front, "peg height", "Pegs are alike on all sides, each on the middle of its slot.")
}

// corners states the radius of the four corners of a rectangle about the origin; c is the middle of one.
func (m *model) corners(p pen, c geom.Vec, radius float64) {
	r := p.around(Radius, "corner", c, c.Add(geom.Vec{X: 1, Y: 1}.Unit().Scale(radius)), 4)
	r.Also = []geom.Vec{{X: -r.To.X, Y: r.To.Y}, {X: r.To.X, Y: -r.To.Y}, {X: -r.To.X, Y: -r.To.Y}}
}

// pegMeasures states places and height of pegs or tongues: face shows them from their tips, front from a side.
func (m *model) pegMeasures(half geom.Vec2, pegs []geom.Box, face, front geom.Vec, name, note string) {
	if len(pegs) == 0 {
		return
	}
	left, low := pegs[0], pegs[0] // the pegs nearest to the left and the front edge
	for _, b := range pegs {
		if b.Low.X < left.Low.X-1e-9 {
			left = b
		}
		if b.Low.Y < low.Low.Y-1e-9 {
			low = b
		}
	}
	tip := face.Dot(left.High)
	if face.Z < 0 {
		tip = face.Dot(left.Low)
	}
	var x, y []geom.Vec
	for _, b := range pegs {
		if math.Abs(b.Low.X-left.Low.X) < 1e-6 {
			y = append(y, geom.Vec{X: b.Low.X, Y: b.Low.Y}, geom.Vec{X: b.Low.X, Y: b.High.Y})
		}
		if math.Abs(b.Low.Y-low.Low.Y) < 1e-6 {
			x = append(x, geom.Vec{X: b.Low.X, Y: b.Low.Y}, geom.Vec{X: b.High.X, Y: b.Low.Y})
		}
	}
	x = append(x, geom.Vec{X: left.Low.X, Y: left.Low.Y}, geom.Vec{X: left.High.X, Y: left.Low.Y})
	y = append(y, geom.Vec{X: low.Low.X, Y: low.Low.Y}, geom.Vec{X: low.Low.X, Y: low.High.Y})
	up := face.Cross(ex) // of the view, paper up: the face's own y
	m.pen(face, ex, up).places("pegs across", geom.Vec{X: -half.X}, x...)
	m.pen(face, ey.Scale(up.Y), ex).places("pegs across", geom.Vec{Y: -half.Y * up.Y}, y...)
	right := left
	for _, b := range pegs {
		if b.High.X > right.High.X+1e-9 {
			right = b
		}
	}
	foot := geom.Vec{X: right.High.X, Y: right.Low.Y}
	m.pen(front, face, ex).size(name, foot, foot.Add(face.Scale(tip)))
	m.alike(note)
}

// capMeasures states the sizes of an end cap.
func (m *model) capMeasures(half geom.Vec2, t float64, tongues []geom.Box, pins []geom.Vec, pin, depth, corner float64) {
	down, front := ez.Scale(-1), ey
	m.pen(down, ex, ey).size("width", geom.Vec{X: -half.X}, geom.Vec{X: half.X})
	m.pen(down, ey, ex.Scale(-1)).size("width", geom.Vec{Y: -half.Y}, geom.Vec{Y: half.Y})
	m.pen(front, ez, ex).size("wall", geom.Vec{X: half.X}, geom.Vec{X: half.X, Z: t})
	if corner > 0 {
		c := geom.Vec{X: half.X - corner, Y: half.Y - corner}
		m.corners(m.pen(down, ex, ey), c, corner)
	}
	m.pegMeasures(half, tongues, down, front, "tongue", "Tongues are alike on all sides, each on the middle of its slot.")
	if len(pins) == 0 {
		return
	}
	s, c := math.Sincos(math.Pi / 8)
	m.pen(down, ex, ey).around(Diameter, "pin", pins[0], pins[0].Add(geom.Vec{X: c, Y: s}.Scale(pin)), len(pins))
	last := &m.drawn.Measures[len(m.drawn.Measures)-1]
	last.Text, last.Also = " over the edges", pins[1:]
	m.pen(down, ex, ey.Scale(-1)).places("pins", geom.Vec{X: -half.X}, pins...)
	m.pen(down, ey.Scale(-1), ex).places("pins", geom.Vec{Y: half.Y}, pins...)
	foot := pins[0].Add(geom.Vec{X: pin * math.Cos(math.Pi/8)})
	m.pen(front, down, ex).size("pin", foot, foot.Add(down.Scale(depth)))
}
