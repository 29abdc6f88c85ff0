package bracket

import (
	"math"
	"slices"

	"barwright/geom"
	"barwright/mesh/bracket/csg"
)

// rib keys the part into a slot: along a line on the contact face from at, over the length, gaps left round the
// screws (distances along the line). A full taper slopes its flanks by 45° all the way, for a rib that lies in the print.
func (m *model) rib(p *geom.Profile, at, along, toward geom.Vec, length float64, gaps []float64, gap float64, full bool, bar int) {
	depth := ribDepth(p)
	width := p.Slot.Opening - 2*m.a.Fit
	taper := math.Min(0.4*depth, 0.25*width)
	if full {
		depth = math.Min(depth, (width-m.a.LeastTo)/2)
		taper = depth
	}
	if width-2*taper < m.a.LeastTo-1e-9 || depth < 0.3 {
		m.fail(fight(RuleWall, "fit,slot.opening", "a rib of %.2f mm in a slot of %g mm has no body left", width, p.Slot.Opening))
		return
	}
	side := toward.Cross(along)
	from := 0.0
	stops := append(slices.Clone(gaps), length+gap)
	for _, g := range stops {
		to := math.Min(g-gap, length)
		if to-from > 2*taper+2 {
			m.add(m.ribPiece(geom.Motion{EX: along, EY: side, EZ: toward, T: at}, from, to, width/2, depth, taper))
			m.ribs = append(m.ribs, Rib{At: at.Add(along.Scale(from)), Along: along, Toward: toward, Length: to - from, Width: width, Depth: depth, Taper: taper,
				Clearance: m.a.Fit, Bar: bar})
		}
		from = math.Max(from, g+gap)
	}
}

// ribPiece returns a rib on the plane z = 0 of a motion. Its entry is tapered by 45° on all sides but those where the taper
// would hang over in the print.
func (m *model) ribPiece(place geom.Motion, from, to, half, depth, taper float64) csg.Convex {
	// The rib is rooted in the wall, and a taper over its whole height begins there, so that no plane ends in the wall's face.
	root, out0 := math.Min(0.4, m.wall/2), 0.0
	if taper >= depth {
		out0 = root / 2
	}
	o := csg.Rectangle(geom.Vec2{X: from - out0, Y: -half - out0}, geom.Vec2{X: to + out0, Y: half + out0})
	c := csg.Prism(place, o, -root, depth, 0, taper+out0)
	out := c[:0]
	for _, h := range c {
		if h.Bevel != nil && h.N.Add(place.EZ).Unit().Dot(m.up) < -math.Sqrt2/2-1e-6 {
			continue
		}
		out = append(out, h)
	}
	return out
}

// ribDepth returns how far a rib stands into a slot: it ends short of the lip's inner edge, so that a nut never meets it
// (common practice, no source).
func ribDepth(p *geom.Profile) float64 { return math.Min(p.Slot.Lip-0.3, math.Max(0.75*p.Slot.Lip, 1)) }
