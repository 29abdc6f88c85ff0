package bracket

import (
	"fmt"
	"math"

	"barwright/geom"
	"barwright/mesh/bracket/csg"
)

// snapLegs adds the two legs that snap behind a slot's lips, as a figure of y and z swept along x over stretches.
// first is the chamfer of their low ends, for legs that stand on the bed; rooted is how far they reach into the part. It returns their figure.
func (m *model) snapLegs(place geom.Motion, stretches [][2]float64, first, rooted float64) (snap, bool) {
	s, leg, catch := m.p.Slot, m.a.lines(m.v("leg")), m.v("catch")
	open := s.Opening/2 - m.a.Fit
	if gap := 2 * (open - leg); gap < 2*catch+0.4 {
		m.fail(fight(RuleWall, "leg,slot.opening", "two legs of %g mm leave %.2f mm between them in a slot of %g mm; to snap in they need %.2f", leg, gap, s.Opening, 2*catch+0.4))
		return snap{}, false
	}
	if open+catch > s.Cavity/2-0.1 {
		m.fail(fight(RuleWall, "catch,slot.cavity", "catches that reach %g mm behind the lips meet the walls of a cavity %g mm wide", catch, s.Cavity))
		return snap{}, false
	}
	// Behind the lip the catch slopes out by 45°, so that it prints and lets go; then it tapers in for the entry.
	z0 := -s.Lip - m.a.Fit
	z1 := z0 - catch
	z2 := z1 - 0.4
	tip := z2 - math.Min(2*catch, 1.4)
	if -tip > s.Depth-0.4 {
		m.fail(fight(RuleWall, "catch,slot.depth", "legs that reach %.1f mm into the slot meet its floor at %g mm", -tip, s.Depth))
		return snap{}, false
	}
	in := open - leg
	for _, sign := range []float64{1, -1} {
		put := func(pts ...geom.Vec2) {
			for i := range pts {
				pts[i].X *= sign
			}
			if geom.PolygonArea(pts) < 0 {
				for i, j := 0, len(pts)-1; i < j; i, j = i+1, j-1 {
					pts[i], pts[j] = pts[j], pts[i]
				}
			}
			for _, r := range stretches {
				m.add(csg.Prism(place, csg.Polygon(pts...), r[0], r[1], first, 0))
			}
		}
		// The catch's flanks run on into the leg, so that none ends in a corner of it.
		put(geom.Vec2{X: in, Y: z1}, geom.Vec2{X: open, Y: z1}, geom.Vec2{X: open, Y: rooted}, geom.Vec2{X: in, Y: rooted})
		put(geom.Vec2{X: in, Y: tip}, geom.Vec2{X: open - 0.3*leg, Y: tip}, geom.Vec2{X: open + catch, Y: z2}, geom.Vec2{X: open + catch, Y: z1}, geom.Vec2{X: in, Y: z1 + open + catch - in})
	}
	return snap{in: in, open: open, catch: catch, z0: z0, z1: z1, z2: z2, tip: tip}, true
}

// sweep is the motion whose plane is y and z and whose third axis is x.
var sweep = geom.Motion{EX: geom.Vec{Y: 1}, EY: geom.Vec{Z: 1}, EZ: geom.Vec{X: 1}}

// makeCover builds a slot cover: a flat strip with short pairs of snap legs. It lies on its outside, legs up.
func makeCover(m *model) {
	length := m.v("length")
	t := m.a.lines(1.2)
	if m.spec.Wall != 0 {
		t = m.wall
	}
	m.wall = t
	m.stand(geom.Vec{Z: -1}, geom.Vec{X: 1}, -t, "length")
	half := m.p.Slot.Opening/2 + m.v("overlap")
	if half > m.p.Pitch/2 {
		m.fail(fight(RuleSize, "overlap,pitch", "the strip is %.1f mm wide; the bar's face has %g", 2*half, m.p.Pitch))
		return
	}
	m.add(csg.Prism(geom.Identity(), csg.Rectangle(geom.Vec2{Y: -half}, geom.Vec2{X: length, Y: half}), 0, t, 0, math.Min(m.a.First, t/2)))
	const long, every = 8, 25
	n := max(1, int(math.Round(length/every)))
	var stretches [][2]float64
	for k := range n {
		mid := length * (float64(k) + 0.5) / float64(n)
		stretches = append(stretches, [2]float64{mid - long/2, mid + long/2})
	}
	m.contacts = append(m.contacts, Contact{At: geom.Vec{X: length / 2, Y: half}, Toward: geom.Vec{Z: -1}, Along: geom.Vec{X: 1}})
	if s, ok := m.snapLegs(sweep, stretches, 0, t/2); ok {
		m.coverMeasures(length, half, t, stretches, s)
		m.notes = append(m.notes, fmt.Sprintf("%d pairs of legs snap behind the lips; print lying on the outside.", n))
	}
}

// makeCable builds a cable clip: a figure of y and z, so that it is printed on its side and bends along the layers.
func makeCable(m *model) {
	d, width := m.v("cable"), m.v("width")
	t := m.a.lines(2)
	if m.spec.Wall != 0 {
		t = m.wall
	}
	m.wall = t
	m.stand(geom.Vec{X: 1}, geom.Vec{Y: 1}, 0, "cable,width")
	inner := d/2 + m.a.Fit
	outer := inner + t
	centre := geom.Vec2{Y: outer}
	chamfer := m.a.First
	m.add(csg.Prism(sweep, csg.Circle(centre, outer), 0, width, chamfer, 0))
	base := m.p.Slot.Opening/2 + 2
	m.add(csg.Prism(sweep, csg.Rectangle(geom.Vec2{X: -base}, geom.Vec2{X: base, Y: t}), 0, width, chamfer, 0))
	m.cut(csg.Prism(sweep, csg.Circle(centre, inner), -1, width+1, 0, 0))
	// The mouth is narrower than the cable by a quarter and opens outward.
	mouth := 0.375 * d
	rise := outer * 1.3
	neck, top := centre.Y+0.33*d, centre.Y+rise
	m.cut(csg.Prism(sweep, csg.Rectangle(geom.Vec2{X: -mouth, Y: centre.Y + 0.2*d}, geom.Vec2{X: mouth, Y: top}), -1, width+1, 0, 0))
	m.cut(csg.Prism(sweep, csg.Polygon(geom.Vec2{X: -mouth, Y: neck}, geom.Vec2{X: mouth, Y: neck},
		geom.Vec2{X: mouth + top - neck, Y: top}, geom.Vec2{X: -mouth - top + neck, Y: top}), -1, width+1, 0, 0))
	m.contacts = append(m.contacts, Contact{At: geom.Vec{X: width / 2, Y: base - 1}, Toward: geom.Vec{Z: -1}, Along: geom.Vec{X: 1}})
	if s, ok := m.snapLegs(sweep, [][2]float64{{0, width}}, math.Min(chamfer, m.v("leg")/4), 0.7*t); ok {
		m.cableMeasures(width, inner, outer, base, t, csg.Circle(centre, outer), csg.Circle(centre, inner), geom.Vec2{X: mouth, Y: neck}, s)
		m.notes = append(m.notes, "Print on its side, as the file lies: the arms bend along the layers.")
	}
}

// makePanel builds a panel clip: a foot on the bar and a lip over the panel's edge. It lies on its outside, the foot up.
func makePanel(m *model) {
	thread := m.slotThread()
	panel, lap := m.v("panel"), m.v("lap")
	gap := panel - m.v("squeeze")
	m.fitWall(thread, "ISO 7380-1", 0, gap)
	t := m.wall
	head := m.headRadius("ISO 7380-1", thread, false)
	width := m.v("width")
	if width == 0 {
		width = math.Max(2*head+6, 20)
	}
	high := gap + t
	m.stand(geom.Vec{Z: -1}, geom.Vec{X: 1}, -high, "panel")
	half := math.Max(head+0.8, m.p.Slot.Opening/2+1)
	if 2*head+1.2 > width {
		m.fail(fight(RuleDriver, "width,thread", "a head %.1f mm wide does not fit on a clip %g mm wide", 2*head, width))
		return
	}
	c := m.a.First
	m.add(csg.Prism(geom.Identity(), csg.Rectangle(geom.Vec2{X: -width / 2, Y: -half}, geom.Vec2{X: width / 2, Y: half}), 0, high, 0, c))
	m.add(csg.Prism(geom.Identity(), csg.Rounded(geom.Vec2{X: -width / 2, Y: -half}, geom.Vec2{X: width / 2, Y: half + lap}, 2), gap, high, 0, c))
	ribs := width/2 - 0.5
	hole := m.screwHole(thread) / 1.42
	if m.on("ribs") {
		m.rib(m.p, geom.Vec{X: -ribs}, geom.Vec{X: 1}, geom.Vec{Z: -1}, 2*ribs, []float64{ribs}, hole/2+1, false, 0)
	}
	m.contacts = append(m.contacts, Contact{At: geom.Vec{X: width/2 - 1}, Toward: geom.Vec{Z: -1}, Along: geom.Vec{X: 1}})
	m.screw(screwSpec{face: geom.Vec{Z: high}, dir: geom.Vec{Z: -1}, wall: high, thread: thread, head: "ISO 7380-1", p: m.p})
	m.panelMeasures(width, half, lap, gap, high, 2)
	w, a := plateModulus(width, t)
	m.root(lap, w, a, geom.Vec{Y: 1}, "load on the tip of the lip, its root at the foot")
	m.notes = append(m.notes, fmt.Sprintf("For a panel of %g mm; the gap is %g mm, and %g mm of the panel lie under the lip.", panel, gap, lap), "Print lying on its outside, the foot up.")
}
