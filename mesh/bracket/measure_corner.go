package bracket

import (
	"math"

	"barwright/geom"
)

// The axes of the mounted position.
var (
	ex = geom.Vec{X: 1}
	ey = geom.Vec{Y: 1}
	ez = geom.Vec{Z: 1}
)

// angleMeasures states the sizes of a corner angle: c is where its slanting edges meet the axes.
func (m *model) angleMeasures(t, c, leg, gusset, width float64, screws, lines []float64) {
	m.look(ey, ex)
	half, z := width/2, lines[0]
	m.section(ez, geom.Vec{Z: z}, "through the middle of a slot")
	var atA, atB []geom.Vec
	for _, s := range screws {
		atA, atB = append(atA, geom.Vec{X: s, Z: z}), append(atB, geom.Vec{Y: s, Z: z})
	}
	m.pen(ez, ex, ey.Scale(-1)).places("leg A", geom.Vec{Y: relief, Z: z}, append(atA, geom.Vec{X: leg, Z: z})...)
	m.pen(ez, ey, ex.Scale(-1)).places("leg B", geom.Vec{X: relief, Z: z}, append(atB, geom.Vec{Y: leg, Z: z})...)
	m.pen(ez, ey, ex).size("wall", geom.Vec{X: leg, Z: z}, geom.Vec{X: c - t, Y: t, Z: z})
	m.pen(ez, ex, ey).size("wall", geom.Vec{Y: leg, Z: z}, geom.Vec{X: t, Y: c - t, Z: z})
	m.pen(ez, ex.Add(ey), ey.Sub(ex)).remark(geom.Vec{X: 0.45 * c, Y: 0.55 * c, Z: -half}, "45°")
	// The free face of leg A, between the gussets.
	across := m.pen(ey, ez, ex)
	across.size("gusset", geom.Vec{X: c - t, Y: t, Z: half - gusset}, geom.Vec{X: leg, Z: half})
	across.size("width", geom.Vec{X: leg, Z: -half}, geom.Vec{X: leg, Z: half})
	var rows []geom.Vec
	for _, l := range lines {
		rows = append(rows, geom.Vec{X: screws[0], Z: l})
	}
	m.pen(ey, ez, ex.Scale(-1)).places("screws across", geom.Vec{X: relief, Z: -half}, rows...)
	m.ribMeasures(m.ribsOf(geom.Vec{Z: z}, ey), ex.Scale(-1), geom.Vec{X: relief})
	if m.pb != m.p {
		m.ribMeasures(m.ribsOf(geom.Vec{Z: z}, ex), ey.Scale(-1), geom.Vec{Y: relief})
	}
	if a := m.ribsOf(geom.Vec{Z: z}, ex); len(a) > 0 {
		r := a[len(a)-1]
		m.pen(ez, ey, ex).ribHeight(r)
	}
	m.alike("Both legs are alike, and so are both gussets.")
	if len(lines) > 1 {
		m.alike("The screws and ribs of all slots are alike.")
	}
}

// ribMeasures states widths and ends of the ribs of one line on a mating face that looks along face. datum lies in the plane from which
// their ends count.
func (m *model) ribMeasures(ribs []Rib, face, datum geom.Vec) {
	if len(ribs) == 0 {
		return
	}
	along := ribs[0].Along
	side := along.Cross(face)
	datum = datum.Add(ribs[0].At.Sub(along.Scale(ribs[0].At.Dot(along))).Sub(face.Scale(ribs[0].At.Dot(face))))
	m.pen(face, along, side).places("rib ends", datum, ribEnds(ribs, side)...)
	m.pen(face, side, along).ribWidth(ribs[len(ribs)-1])
}

// insideMeasures states the sizes of the three-way corner in the inside: c is where its webs end, low where the wings begin.
func (m *model) insideMeasures(t, web, s, leg, c, low float64) {
	m.look(ez, ex)
	mid := -m.p.Pitch / 2
	front, down := ey.Scale(-1), ez.Scale(-1)
	m.section(front, geom.Vec{Y: mid}, "through the middle of the slots of a rail and the post")
	ends := func(along, tip geom.Vec) []geom.Vec {
		at := geom.Vec{Y: mid}
		return []geom.Vec{at.Add(along.Scale(s)), at.Add(along.Scale(leg)), tip}
	}
	m.pen(front, ex, down).places("rail wing", geom.Vec{Y: mid, Z: relief}, ends(ex, geom.Vec{X: c})...)
	m.pen(front, ez, ex.Scale(-1)).places("post wing", geom.Vec{X: relief, Y: mid}, ends(ez, geom.Vec{X: brokenEdge, Z: c - brokenEdge})...)
	m.pen(front, ez, ex).size("wall", geom.Vec{X: leg, Y: mid}, geom.Vec{X: leg, Y: mid, Z: t})
	m.pen(front, ex, ez).size("wall", geom.Vec{Y: mid, Z: leg}, geom.Vec{X: t, Y: mid, Z: leg})
	m.pen(ez, ey, ex).size("web", geom.Vec{X: c}, geom.Vec{X: c - 2*web, Y: web, Z: web})
	m.pen(down, ey, ex).places("wing across", geom.Vec{X: leg, Y: low}, geom.Vec{X: s, Y: mid}, geom.Vec{X: leg})
	if ribs := m.ribsOf(geom.Vec{Y: mid}, ex); len(ribs) > 0 {
		m.pen(down, ex, ey.Scale(-1)).places("rib ends", geom.Vec{}, ribEnds(ribs, ey.Scale(-1))...)
		r := ribs[len(ribs)-1]
		m.pen(down, ey, ex.Scale(-1)).size("rib width", r.At.Sub(ey.Scale(r.Width/2)), r.At.Add(ey.Scale(r.Width/2)))
		m.pen(front, ez, ex).ribHeight(r)
	}
	m.alike("All four wings and all three webs are alike; the part is its own mirror image between the rails.")
}

// outsideMeasures states the sizes of the cap over an outside corner.
func (m *model) outsideMeasures(t, s, c float64) {
	m.look(ez, ex)
	front := ey.Scale(-1)
	h := m.p.Pitch / 2
	m.section(ez, geom.Vec{Z: h}, "through the middle of the lowest slots")
	end := c - 1.5*t
	m.pen(front, ex, ez.Scale(-1)).places("plate", geom.Vec{X: -t, Y: -t, Z: -t + m.a.Edge}, geom.Vec{X: h, Y: -t, Z: s}, geom.Vec{X: s, Y: -t, Z: h}, geom.Vec{X: end, Y: -t, Z: -t + 1})
	m.pen(front, ez, ex.Scale(-1)).places("plate", geom.Vec{X: -t + m.a.Edge, Y: -t, Z: -t}, geom.Vec{X: s, Y: -t, Z: h}, geom.Vec{X: h, Y: -t, Z: s}, geom.Vec{X: -t + 1, Y: -t, Z: end})
	m.pen(ez, ey, ex).size("wall", geom.Vec{X: c - h - 4, Y: -t, Z: h}, geom.Vec{X: c - h - 1, Z: h})
	m.alike("All three plates are alike.")
}

// braceMeasures states the sizes of the foot of a diagonal: d runs along the diagonal, n away from its face.
func (m *model) braceMeasures(t, leg, half, web, chord, angle float64, screws []float64, d, n, bisect geom.Vec) {
	m.section(ez, geom.Vec{}, "through the middle of the slots")
	front := ey.Scale(-1)
	var a, b []geom.Vec
	for _, s := range screws {
		a, b = append(a, ex.Scale(s)), append(b, d.Scale(s))
	}
	m.pen(ez, ex, front).places("leg A", geom.Vec{}, append(a, ex.Scale(leg))...)
	m.pen(ez, d, n.Scale(-1)).places("leg B", geom.Vec{}, append(b, d.Scale(leg))...)
	for i := range m.drawn.Measures {
		m.drawn.Measures[i].Sharp = true
	}
	v := m.pen(ez, ex, d).add(Angle, "angle", geom.Vec{}, geom.Vec{})
	v.Value, v.Sharp = math.Pi-angle, true
	m.pen(front, ez, ex).places("across", geom.Vec{X: leg, Z: -half}, geom.Vec{X: screws[0]}, geom.Vec{X: leg, Z: half})
	m.pen(ex, ey, ez).size("wall", geom.Vec{X: leg, Z: half}, geom.Vec{X: leg, Y: t, Z: half})
	if chord > 0 {
		at := bisect.Scale(chord)
		m.pen(ex, ez, ey).size("web", at.Sub(ez.Scale(half)), at.Add(ez.Scale(web-half)))
	}
	if ribs := m.ribsOf(geom.Vec{}, ex); len(ribs) > 0 {
		r := ribs[len(ribs)-1]
		m.pen(front, ex.Scale(-1), ez).places("rib ends", geom.Vec{X: leg, Z: half}, ribEnds(ribs, ez)...)
		m.pen(front, ez, ex.Scale(-1)).size("rib width", ribs[0].At.Sub(ez.Scale(r.Width/2)), ribs[0].At.Add(ez.Scale(r.Width/2)))
		m.pen(ez, ey, ex).ribHeight(r)
	}
	if m.pb == m.p {
		m.alike("Both legs are alike.")
	} else {
		m.alike("Both legs are alike, but for the ribs of the diagonal's: they fit its own slot.")
	}
	m.alike("The lengths of the legs count from where their mating faces would meet.")
}
