package bracket

import (
	"fmt"
	"math"
	"strconv"

	"barwright/geom"
	"barwright/mesh/bracket/csg"
)

// makeSpacer builds the gauge that sets a rail at its height. It lies on the side away from the post.
func makeSpacer(m *model) {
	h, deep := m.v("height"), m.v("deep")
	w := math.Max(m.p.Slot.Opening+6, math.Min(m.p.Pitch-2*sideGap, 24))
	m.stand(geom.Vec{Y: 1}, geom.Vec{Z: 1}, -deep, "height")
	// y < 0 is the free side: the post stands at y > 0.
	place := geom.Motion{EX: geom.Vec{X: 1}, EY: geom.Vec{Z: 1}, EZ: geom.Vec{Y: -1}}
	m.add(csg.Prism(place, csg.Rectangle(geom.Vec2{X: -w / 2}, geom.Vec2{X: w / 2, Y: h}), 0, deep, 0, m.a.First))
	m.contacts = append(m.contacts, Contact{At: geom.Vec{Z: h / 2}, Toward: geom.Vec{Y: 1}, Along: geom.Vec{Z: 1}},
		Contact{At: geom.Vec{Y: -deep / 2, Z: h}, Toward: geom.Vec{Z: 1}, Bar: 1})
	if m.on("ribs") && h > 8 {
		m.rib(m.p, geom.Vec{Z: 1}, geom.Vec{Z: 1}, geom.Vec{Y: 1}, h-2, nil, 0, false, 0)
	}
	m.spacerMeasures(h, w, deep)
	text := strconv.FormatFloat(math.Round(h*10)/10, 'f', -1, 64)
	if m.spec.Text != "" {
		text = m.spec.Text + " " + text
	}
	// On an upright side, read along the gauge.
	size := math.Min(7, math.Min(0.8*deep, 0.9*h/textWidth(text, 1)))
	if m.legible(size) {
		m.sink(text, geom.Vec{X: w / 2, Y: -deep / 2, Z: h / 2}, geom.Vec{Z: -1}, geom.Vec{Y: 1}, size)
	}
	m.notes = append(m.notes, fmt.Sprintf("Measure the printed length: it must be %g mm. Scale the print or pack it with paper until it is.", h),
		"Print lying on the free side, the rib up.")
}

// makeSquare builds the corner square: two arms with a brace, their edges on the bars' faces, and a fence over the
// bars' tops. It lies on the fence.
func makeSquare(m *model) {
	arm, b, high, fence := m.v("arm"), m.v("broad"), m.v("high"), m.v("fence")
	if m.spec.Wall == 0 {
		m.wall = m.a.lines(3.2)
	}
	t := m.wall
	if b > arm/2 {
		m.fail(fight(RuleSize, "broad,arm", "arms %g mm broad and %g mm long leave no square", b, arm))
		return
	}
	// The fence lies over z = 0, the edges under it, between the bars.
	m.stand(geom.Vec{Z: -1}, geom.Vec{X: 1}, -t, "arm,fence")
	one := geom.Identity()
	for _, swap := range []bool{false, true} {
		rect := func(x0, y0, x1, y1 float64) csg.Outline {
			if swap {
				x0, y0, x1, y1 = y0, x0, y1, x1
			}
			return csg.Rectangle(geom.Vec2{X: x0, Y: y0}, geom.Vec2{X: x1, Y: y1})
		}
		m.add(csg.Prism(one, rect(-fence, -fence, arm, b), 0, t, 0, m.a.First))
		m.add(csg.Prism(one, rect(0, 0, arm, b), -high, 0.5, 0, 0))
	}
	// The brace across.
	r := 0.7 * (arm - b)
	for _, z := range [][3]float64{{0, t, m.a.First}, {-high, 0.5, 0}} {
		o := csg.Outline{{N: geom.Vec2{X: 1, Y: 1}.Scale(1 / math.Sqrt2), D: (2*b + r) / math.Sqrt2}, {N: geom.Vec2{X: -1, Y: -1}.Scale(1 / math.Sqrt2), D: -(2*b+r)/math.Sqrt2 + 0.8*b},
			{N: geom.Vec2{X: -1}, D: -b / 2}, {N: geom.Vec2{Y: -1}, D: -b / 2}}
		m.add(csg.Prism(one, o, z[0], z[1], 0, z[2]))
	}
	m.squareMeasures(arm, b, high, fence, t, [2]float64{b + r - 0.8*b*math.Sqrt2, b + r})
	// Room for burrs in the corner.
	m.cut(csg.Prism(one, csg.Circle(geom.Vec2{}, 3), -high-1, 0, 0, 0))
	m.contacts = append(m.contacts, Contact{At: geom.Vec{X: arm / 2, Z: -high / 2}, Toward: geom.Vec{Y: -1}, Along: geom.Vec{X: 1}},
		Contact{At: geom.Vec{Y: arm / 2, Z: -high / 2}, Toward: geom.Vec{X: -1}, Along: geom.Vec{Y: 1}, Bar: 1})
	if m.spec.Text != "" {
		h := math.Min(6, math.Min(0.6*b, 0.5*arm/textWidth(m.spec.Text, 1)))
		if m.legible(h) {
			m.sink(m.spec.Text, geom.Vec{X: arm * 0.6, Y: b / 2, Z: -high}, geom.Vec{X: 1}, geom.Vec{Y: -1}, h)
		}
	}
	m.notes = append(m.notes, "Check it against itself: draw a line along one arm, turn it over on the other side of the same edge; both lines must fall on each other.",
		"Print lying on the fence.")
}
