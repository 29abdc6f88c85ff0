package bracket

import (
	"math"
	"slices"

	"barwright/geom"
	"barwright/mesh/bracket/csg"
	"barwright/standard"
)

// plateArms are the ways of a plate's arms from the crossing of the bars' middles.
var plateArms = map[string][]geom.Vec{
	"plate-straight": {{X: 1}, {X: -1}},
	"plate-tee":      {{X: 1}, {X: -1}, {Y: 1}},
	"plate-ell":      {{X: 1}, {Y: 1}},
	"plate-cross":    {{X: 1}, {X: -1}, {Y: 1}, {Y: -1}},
}

// makePlate builds a flat plate. It lies on its outer face, so that layers run along all arms, and the ribs stand up.
func makePlate(m *model) {
	thread := m.slotThread()
	head, sunk := "ISO 7380-1", 0.0
	if m.on("head") {
		head = "ISO 4762"
		bore, _ := standard.Counterbore(thread)
		sunk = bore.Depth
		if m.spec.Wall == 0 {
			m.wall = m.a.lines(math.Max(m.wall, sunk+3*m.a.Layer+m.a.Seat+0.5))
		}
		if m.wall < sunk+3*m.a.Layer+m.a.Seat-1e-9 {
			m.fail(fight(RuleThin, "wall,head", "a counterbore %.1f mm deep leaves less than %g mm of a plate of %g mm", sunk, m.a.Seat, m.wall))
			return
		}
	} else if m.spec.Wall == 0 {
		m.wall = m.a.lines(m.wall + 0.8)
	}
	m.fitWall(thread, head, sunk, 0)
	t := m.wall
	radius := m.headRadius(head, thread, m.on("washer"))
	arms, cells := plateArms[m.kind.Name], int(m.v("cells"))
	n := int(m.v("screws"))
	half := float64(cells)*m.p.Pitch/2 - sideGap
	straight := m.kind.Name == "plate-straight"
	screws, arm := m.plateScrews(radius)
	beyond := arm
	if !straight {
		beyond -= float64(cells) * m.p.Pitch / 2
	}
	if room := m.v("room"); room > 0 && beyond > room {
		m.fail(fight(RuleRoom, "room,screws", "an arm reaches %.1f mm over its bar, which is %g mm long", beyond, room))
		return
	}
	m.stand(geom.Vec{Z: -1}, geom.Vec{X: 1}, -t, "screws,cells")
	m.plateBody(arms, half, arm, t)
	var ways []geom.Vec
	for bar, d := range arms {
		m.plateArm(d, screws, arm, t, sunk, thread, head, cells, m.barOf(arms, bar))
		ways = append(ways, d)
	}
	m.plateMeasures(arms, half, arm, t, screws, slotLines(cells, m.p.Pitch))
	m.plateText(ways, half, arm, t, screws, radius)
	// In the plate's own plane; a hole in the middle of the width takes little of the modulus, all of its width of the area.
	holes := float64(cells) * m.screwHole(thread) / 1.42
	w := t * (8*half*half*half - holes*holes*holes) / (12 * half)
	m.root(screws[n-1], w, t*(2*half-holes), geom.Vec{X: 1}, "load in the plate's plane at an arm's last screw, section through a hole at the joint")
	m.notes = append(m.notes, "Print lying on its outer face: the layers run along all arms.")
}

// plateScrews returns where the screws of an arm stand and where it ends, from the crossing of the bars' middles. The
// first stands clear of the crossing, or on a straight plate half a pitch from the joint.
func (m *model) plateScrews(radius float64) (at []float64, arm float64) {
	pitch := m.p.Pitch
	first, step := m.v("cells")*pitch/2+pitch/2, math.Max(pitch, math.Ceil(2*radius+2))
	if m.kind.Name == "plate-straight" {
		first = math.Max(pitch/2, math.Ceil(radius+1))
	}
	n := int(m.v("screws"))
	for k := range n {
		at = append(at, first+float64(k)*step)
	}
	return at, at[n-1] + math.Max(pitch/2-sideGap, radius+1)
}

// plateReach returns how far an arm reaches from the crossing.
func (m *model) plateReach() float64 {
	head := "ISO 7380-1"
	if m.on("head") {
		head = "ISO 4762"
	}
	_, arm := m.plateScrews(m.headRadius(head, m.slotThread(), m.on("washer")))
	return arm
}

// barOf numbers the bar under an arm: arms in one line on a through bar share it; the bars of a straight plate are two.
func (m *model) barOf(arms []geom.Vec, i int) int {
	if m.kind.Name == "plate-straight" {
		return i
	}
	n := 0
	for k := range i {
		if arms[k].Dot(arms[k+1]) == 0 || arms[k+1].Y != 0 {
			n++
		}
	}
	return n
}

// plateRound is the radius of a plate's corners, mm (common practice, no source).
const plateRound = 3

// plateFillet is how far the bevel of a plate's inner corner reaches along its arms (common practice, no source).
func plateFillet(half, arm float64) float64 { return math.Min(8, (arm-half)/2) }

// plateBody adds the arms and the fillets of their inner corners.
func (m *model) plateBody(arms []geom.Vec, half, arm, t float64) {
	place := geom.Identity()
	put := func(o csg.Outline) { m.add(csg.Prism(place, o, 0, t, 0, m.a.First)) }
	has := func(d geom.Vec) bool { return slices.Contains(arms, d) }
	reach := func(d geom.Vec) float64 {
		if has(d) {
			return arm
		}
		return half
	}
	x, y := geom.Vec{X: 1}, geom.Vec{Y: 1}
	if has(x) || has(x.Scale(-1)) {
		put(csg.Rounded(geom.Vec2{X: -reach(geom.Vec{X: -1}), Y: -half}, geom.Vec2{X: reach(x), Y: half}, plateRound))
	}
	if has(y) || has(geom.Vec{Y: -1}) {
		put(csg.Rounded(geom.Vec2{X: -half, Y: -reach(geom.Vec{Y: -1})}, geom.Vec2{X: half, Y: reach(y)}, plateRound))
	}
	fillet := plateFillet(half, arm)
	for i, d := range arms {
		for _, e := range arms[i+1:] {
			if d.Dot(e) != 0 {
				continue
			}
			at := func(a, b float64) geom.Vec2 {
				v := d.Scale(a).Add(e.Scale(b))
				return geom.Vec2{X: v.X, Y: v.Y}
			}
			pts := []geom.Vec2{at(half-2, half-2), at(half+fillet, half-2), at(half+fillet, half), at(half, half+fillet), at(half-2, half+fillet)}
			if geom.PolygonArea(pts) < 0 {
				slices.Reverse(pts)
			}
			put(csg.Polygon(pts...))
		}
	}
}

// plateArm adds the screws and ribs of an arm along d.
func (m *model) plateArm(d geom.Vec, screws []float64, arm, t, sunk float64, thread, head string, cells, bar int) {
	side := geom.Vec{Z: 1}.Cross(d)
	toward := geom.Vec{Z: -1}
	from := float64(cells)*m.p.Pitch/2 + 1
	if m.kind.Name == "plate-straight" {
		from = 1
	}
	for _, l := range slotLines(cells, m.p.Pitch) {
		at := side.Scale(l)
		m.contacts = append(m.contacts, Contact{At: at.Add(d.Scale((from + arm) / 2)), Toward: toward, Along: d, Bar: bar})
		if m.on("ribs") {
			gaps := make([]float64, len(screws))
			for i, s := range screws {
				gaps[i] = s - from
			}
			m.rib(m.p, at.Add(d.Scale(from)), d, toward, arm-from-1.5, gaps, m.screwHole(thread)/2/1.42+1, false, bar)
		}
		for _, s := range screws {
			m.screw(screwSpec{face: at.Add(d.Scale(s)).Add(geom.Vec{Z: t}), dir: toward, wall: t, sunk: sunk, thread: thread, head: head, p: m.p, bar: bar})
		}
	}
}

// plateText sinks the mark into the outer face, between the heads.
func (m *model) plateText(arms []geom.Vec, half, arm, t float64, screws []float64, radius float64) {
	if m.spec.Text == "" {
		return
	}
	// The crossing, or at a straight plate the joint, is free of heads.
	room := 2 * (half - 2)
	if m.kind.Name == "plate-straight" {
		room = 2 * (screws[0] - radius - 1)
	}
	h := math.Min(8, math.Min(room*0.9, 2*half*0.9/textWidth(m.spec.Text, 1)))
	right, up := geom.Vec{X: 1}, geom.Vec{Y: 1}
	if m.kind.Name == "plate-straight" {
		right, up = geom.Vec{Y: 1}, geom.Vec{X: -1}
	}
	if m.legible(h) {
		m.sink(m.spec.Text, geom.Vec{Z: t}, right, up, h)
	} else {
		m.notes = append(m.notes, "The mark "+m.spec.Text+" did not fit on the face: write it on by hand.")
	}
}
