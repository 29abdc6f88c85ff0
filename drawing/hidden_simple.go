package drawing

import (
	"math"

	"barwright/frame"
	"barwright/geom"
	"barwright/mesh"
)

// Limits under which a small drawing leaves detail out. ISO 128-2 keeps parallel
// lines 0.7 mm apart; a view at a slant narrows a slot to about half.
const (
	fullScale   = 0.4 // from this scale on the whole section is drawn
	slotSquare  = 1.5 // opening of a slot in sheet mm from which its two edges are drawn in a view square to the bars
	slotSlanted = 2.4 // and in a pictorial view
	roundDetail = 1.2 // diameter of a hole in sheet mm from which it is drawn
	circleSteps = 24
)

// simpleBody returns a bar as a plain box with its mitres and with the slot edges and holes that the scale lets one read. The
// bar's own coordinates are those of the body.
func simpleBody(b *frame.Bar, place geom.Motion, scale, slotDetail float64) Body {
	body := Body{Mesh: barBox(b), Place: place}
	slots := b.Profile.Slot.Opening*scale >= slotDetail
	for s := range geom.Side(4) {
		if slots {
			for _, mid := range b.Profile.SlotLines(s) {
				for _, half := range []float64{-0.5, 0.5} {
					body.Drawn = append(body.Drawn, slotEdge(b, s, mid+half*b.Profile.Slot.Opening))
				}
			}
		}
	}
	for _, h := range b.Holes {
		d := max(h.Diameter, h.Bore)
		if d*scale < roundDetail || !slots && d < b.Profile.Slot.Opening {
			continue
		}
		body.Drawn = append(body.Drawn, holeRim(b, h.Side, h.Z, h.Offset, d))
		if h.Through() && h.Diameter*scale >= roundDetail {
			body.Drawn = append(body.Drawn, holeRim(b, h.Side.Opposite(), h.Z, -h.Offset, h.Diameter))
		}
	}
	if b.Profile.Core*scale >= roundDetail {
		for end := range 2 {
			for _, c := range b.Profile.Cores() {
				body.Drawn = append(body.Drawn, coreRim(b, end, c))
			}
		}
	}
	return body
}

// onCut returns the point of a section where an end's cut meets it.
func onCut(b *frame.Bar, end int, p geom.Vec2) geom.Vec {
	c := b.Cuts[end]
	return geom.Vec{X: p.X, Y: p.Y, Z: b.Plane(end) + float64(c.SlopeX*p.X) + float64(c.SlopeY*p.Y)}
}

// barBox returns the mesh of the outer box of a bar with its ends cut.
func barBox(b *frame.Bar) *mesh.Mesh {
	size := b.Profile.Size()
	m := &mesh.Mesh{Surfaces: make([]mesh.Surface, 12)}
	for end := range 2 {
		for _, c := range [4]geom.Vec2{{X: -1, Y: -1}, {X: 1, Y: -1}, {X: -1, Y: 1}, {X: 1, Y: 1}} {
			p := onCut(b, end, geom.Vec2{X: c.X * size.X / 2, Y: c.Y * size.Y / 2})
			m.Points = append(m.Points, [3]float32{float32(p.X), float32(p.Y), float32(p.Z)})
		}
	}
	for _, q := range [6][4]uint32{{0, 2, 3, 1}, {4, 5, 7, 6}, {0, 1, 5, 4}, {2, 6, 7, 3}, {0, 4, 6, 2}, {1, 3, 7, 5}} {
		m.Triangles = append(m.Triangles, [3]uint32{q[0], q[1], q[2]}, [3]uint32{q[0], q[2], q[3]})
	}
	return m
}

// slotEdge returns one edge of a slot along the bar.
func slotEdge(b *frame.Bar, s geom.Side, offset float64) FaceLine {
	p, n := b.Profile.Point(s, offset, 0), s.Normal()
	return FaceLine{Points: []geom.Vec{onCut(b, 0, p), onCut(b, 1, p)}, Normal: geom.Vec{X: n.X, Y: n.Y}, Kind: Slotline}
}

// holeRim returns the rim of a hole on a side.
func holeRim(b *frame.Bar, s geom.Side, z, offset, diameter float64) FaceLine {
	n := s.Normal()
	l := FaceLine{Normal: geom.Vec{X: n.X, Y: n.Y}, Kind: Machined}
	for k := range circleSteps + 1 {
		sin, cos := math.Sincos(float64(k%circleSteps) * 2 * math.Pi / circleSteps)
		p := b.Profile.Point(s, offset+cos*diameter/2, 0)
		l.Points = append(l.Points, geom.Vec{X: p.X, Y: p.Y, Z: z + sin*diameter/2})
	}
	return l
}

// coreRim returns the rim of a core bore at an end.
func coreRim(b *frame.Bar, end int, core geom.Vec2) FaceLine {
	c := b.Cuts[end]
	l := FaceLine{Normal: geom.Vec{X: -c.SlopeX, Y: -c.SlopeY, Z: 1}.Unit(), Kind: Machined}
	if end == 0 {
		l.Normal = l.Normal.Scale(-1)
	}
	for k := range circleSteps + 1 {
		sin, cos := math.Sincos(float64(k%circleSteps) * 2 * math.Pi / circleSteps)
		l.Points = append(l.Points, onCut(b, end, core.Add(geom.Vec2{X: cos, Y: sin}.Scale(b.Profile.Core/2))))
	}
	return l
}

// sceneBodies returns the items of a scene as bodies for a view at a scale, in their order: bars simplified where the scale is
// small, everything else as it is.
func sceneBodies(s *mesh.Scene, v View, scale float64) []Body {
	slots := slotSlanted
	if d := v.Toward; d.X*d.Y == 0 && d.Y*d.Z == 0 && d.Z*d.X == 0 {
		slots = slotSquare
	}
	out := make([]Body, len(s.Items))
	boxes := map[*frame.Part]Body{}
	for i, it := range s.Items {
		if it.Member == nil || it.Member.Part == nil || scale >= fullScale {
			out[i] = Body{Mesh: s.Shapes[it.Shape].Mesh, Place: it.Place}
			continue
		}
		b, ok := boxes[it.Member.Part]
		if !ok {
			b = simpleBody(&it.Member.Part.Bar, geom.Identity(), scale, slots)
			boxes[it.Member.Part] = b
		}
		b.Place = it.Place
		out[i] = b
	}
	return out
}
