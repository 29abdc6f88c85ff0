package bracket

import (
	"math"

	"barwright/geom"
	"barwright/mesh/bracket/csg"
)

// apexUp is how three-way corners are printed: the corner's point up, so that every face square to an axis leans by
// 35° from the upright and every web stands on the bed.
var apexUp = geom.Vec{X: -1, Y: -1, Z: -1}

// makeInside builds the three-way corner in the inside: two wings on the rails' tops, two on the post, and three webs
// that cross in the corner. All is cut by the bed, the plane x + y + z = c.
func makeInside(m *model) {
	thread := m.slotThread()
	head := m.headRadius("ISO 7380-1", thread, false)
	m.fitWall(thread, "ISO 7380-1", 0, 0)
	t, p := m.wall, m.p.Pitch
	web := m.v("gusset")
	if web == 0 {
		web = math.Max(4*m.a.Line, 0.06*math.Min(p, 100)+0.8)
	}
	web = m.a.lines(web)
	s := math.Ceil(2*math.Max(p/2, t+inCorner+head)) / 2
	leg := math.Ceil(s + head + 2)
	c := leg + t + web
	m.stand(apexUp, geom.Vec{X: 1, Y: -1}, -c/math.Sqrt(3), "wall,gusset")
	low := -p + sideGap
	slab := func(lo, hi geom.Vec) {
		b := csg.Box(lo, hi)
		m.add(b.With(m.onBed()))
	}
	for _, k := range []geom.Motion{
		{EX: geom.Vec{X: 1}, EY: geom.Vec{Y: 1}, EZ: geom.Vec{Z: 1}},
		{EX: geom.Vec{Y: 1}, EY: geom.Vec{X: 1}, EZ: geom.Vec{Z: 1}},
	} {
		put := func(lo, hi geom.Vec) {
			b := geom.EmptyBox().Extend(k.Apply(lo)).Extend(k.Apply(hi))
			slab(b.Low, b.High)
		}
		put(geom.Vec{Y: low}, geom.Vec{X: leg, Y: web, Z: t}) // on the rail
		put(geom.Vec{Y: low}, geom.Vec{X: t, Y: web, Z: leg}) // on the post
		put(geom.Vec{}, geom.Vec{X: c, Y: web, Z: c})         // the web that stands on the rail
	}
	slab(geom.Vec{}, geom.Vec{X: c, Y: c, Z: web})
	m.insideEdges(c, low)
	for bar, k := range []geom.Motion{
		{EX: geom.Vec{X: 1}, EY: geom.Vec{Z: 1}, EZ: geom.Vec{Y: 1}, T: geom.Vec{Y: -p / 2}},
		{EX: geom.Vec{Z: 1}, EY: geom.Vec{X: 1}, EZ: geom.Vec{Y: 1}, T: geom.Vec{Y: -p / 2}},
		{EX: geom.Vec{Y: 1}, EY: geom.Vec{Z: 1}, EZ: geom.Vec{X: 1}, T: geom.Vec{X: -p / 2}},
		{EX: geom.Vec{Z: 1}, EY: geom.Vec{Y: 1}, EZ: geom.Vec{X: 1}, T: geom.Vec{X: -p / 2}},
	} {
		m.leg(k, m.p, []float64{0}, []float64{s}, leg, t, thread, []int{1, 0, 2, 0}[bar], false)
	}
	w, area := ribbed(p-2*sideGap, t, web, leg-t)
	m.root(s-t, w, area, geom.Vec{X: 1}, "load square on a wing at its screw, root of the wing with its web")
	if m.spec.Text != "" {
		m.notes = append(m.notes, "The mark "+m.spec.Text+" has no flat place here: write it on by hand.")
	}
	m.notes = append(m.notes, "Print with the corner's point up, as the file lies: the mating faces look up, the webs stand on the bed, and a third of each wing's bending pulls across layers.")
}

// insideEdges cuts the reliefs along the bars' corners.
func (m *model) insideEdges(c, low float64) {
	far := 2 * c
	for _, k := range []struct {
		place    geom.Motion
		from, to float64
	}{
		{geom.Motion{EX: geom.Vec{X: 1}, EY: geom.Vec{Z: 1}, EZ: geom.Vec{Y: -1}}, 0, far},
		{geom.Motion{EX: geom.Vec{Y: 1}, EY: geom.Vec{Z: 1}, EZ: geom.Vec{X: 1}}, -far, 0},
	} {
		// The corner of rail and post.
		o := csg.Polygon(geom.Vec2{X: -5, Y: -5}, geom.Vec2{X: relief + 5, Y: -5}, geom.Vec2{X: -5, Y: relief + 5})
		m.cut(csg.Prism(k.place, o, k.from, k.to, 0, 0))
	}
	// The post's own edge is rounded; only the web's edge along it is broken.
	o := csg.Polygon(geom.Vec2{X: -0.5, Y: -0.5}, geom.Vec2{X: 1, Y: -0.5}, geom.Vec2{X: -0.5, Y: 1})
	m.cut(csg.Prism(geom.Identity(), o, m.wall, far, 0, 0))
}

// makeOutside builds the cap over an outside corner: three triangular plates on the coordinate planes, outside the bars.
func makeOutside(m *model) {
	thread := m.slotThread()
	head := m.headRadius("ISO 7380-1", thread, false)
	m.fitWall(thread, "ISO 7380-1", 0, 0)
	t, p := m.wall, m.p.Pitch
	s := 1.5 * p
	c := m.v("size")
	least := s + p/2 + math.Sqrt2*(head+0.5) + t
	if c == 0 {
		c = math.Ceil(least)
	}
	if c < least {
		m.fail(fight(RuleDriver, "size,thread", "a plate %.1f mm long has no room for a screw head at %.1f mm beside the corner bar; it needs %.1f", c, s, least))
		return
	}
	m.stand(apexUp, geom.Vec{X: 1, Y: -1}, -c/math.Sqrt(3), "size")
	x, y, z := geom.Vec{X: 1}, geom.Vec{Y: 1}, geom.Vec{Z: 1}
	tetra := csg.Convex{m.onBed()}
	for _, d := range []geom.Vec{x, y, z} {
		tetra = append(tetra, csg.Half{N: d.Scale(-1), D: t}, m.foot(d.Scale(-1), t, c), m.tip(d, t))
	}
	// The point and the three edges of the corner are broken.
	tetra = append(tetra, csg.Facing(apexUp, geom.Vec{X: -t, Y: -t, Z: -t}.Add(geom.Vec{X: m.a.Edge * 2})))
	for _, d := range []geom.Vec{{X: -1, Y: -1}, {Y: -1, Z: -1}, {X: -1, Z: -1}} {
		tetra = append(tetra, csg.Facing(d, geom.Vec{X: -t, Y: -t, Z: -t}.Sub(d.Scale(m.a.Edge/2))))
	}
	m.add(tetra)
	for _, d := range []geom.Vec{x, y, z} {
		m.solid = append(m.solid, tetra.With(csg.Half{N: d}))
	}
	m.body.Cut(csg.Convex{{N: x.Scale(-1)}, {N: y.Scale(-1)}, {N: z.Scale(-1)}, csg.Facing(apexUp.Scale(-1), geom.Vec{X: c + 5})})
	// Burrs of the bars' ends find room in the inner corner.
	for k, d := range []geom.Vec{x, y, z} {
		others := [][2]geom.Vec{{y, z}, {z, x}, {x, y}}[k]
		for i, o := range others {
			face := others[1-i] // the plate square to it holds a leg along d
			place := geom.Motion{EX: d, EY: face, EZ: o, T: o.Scale(p / 2)}
			// face is the plate's axis: the leg lies on the plane face = 0, outside, that is at negative face.
			place.EY = face.Scale(-1)
			m.capLeg(place, s, t, thread, k)
		}
	}
	w, area := plateModulus(p, t)
	m.root(s-p, w, area, geom.Vec{X: 1}, "load square on a plate at its screw, section at the edge of the corner bar, one plate alone")
	if m.spec.Text != "" {
		h := math.Min(7, (s-head-2)/math.Max(1, textWidth(m.spec.Text, 1)))
		if m.legible(h) {
			at := p/2 - 1
			m.sink(m.spec.Text, geom.Vec{X: at, Y: -t, Z: at}, geom.Vec{X: -1, Z: 1}.Unit(), geom.Vec{X: -1, Z: -1}.Unit(), h)
		}
	}
	m.notes = append(m.notes, "Print with the corner's point up, as the file lies: it stands on the slanting edges of its plates like a tent.")
}

// foot takes the knife edge off a plate where its outer face d = t meets the bed at an acute angle: a plane square to the
// bed, and over it the chamfer of the first layer.
func (m *model) foot(d geom.Vec, t, c float64) csg.Half {
	level := d.Sub(m.up.Scale(d.Dot(m.up))).Unit()
	// A point of the outer face on the bed.
	e := geom.Vec{X: 1, Y: 1, Z: 1}.Add(d) // the two other axes
	on := d.Scale(t).Add(e.Scale((c + t) / 2))
	n := level.Add(m.up.Scale(-1)).Unit()
	return csg.Facing(n, on.Sub(level.Scale(1.2)))
}

// tip cuts the acute tips of the plates off, square to the axis they run along.
func (m *model) tip(d geom.Vec, t float64) csg.Half {
	return csg.Half{N: d, D: -m.floor*math.Sqrt(3) - 1.5*t}
}

// capLeg adds the screw of one bar on one plate of the cap, beside the corner's own cube. It has no ribs: its three planes
// already hold it in place, and a rib on a face that looks down would begin in the air.
func (m *model) capLeg(place geom.Motion, s, t float64, thread string, bar int) {
	toward := place.EY.Scale(-1)
	m.contacts = append(m.contacts, Contact{At: place.Apply(geom.Vec{X: s}), Toward: toward, Along: place.EX, Bar: bar})
	m.screw(screwSpec{face: place.Apply(geom.Vec{X: s, Y: t}), dir: toward, wall: t, thread: thread, head: "ISO 7380-1", p: m.p, bar: bar})
}
