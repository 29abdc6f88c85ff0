package frame

import (
	"math"

	"barwright/geom"
)

// Direction returns the unit vector along the bar from its raw end 0 to its end 1.
func (m *Member) Direction() geom.Vec { return m.Place.EZ }

// EndPoint returns the point on the bar's axis where a raw end's cut meets it.
func (m *Member) EndPoint(end int) geom.Vec {
	return m.Place.Apply(geom.Vec{Z: m.Bar.Plane(end)})
}

// EndNormal returns the outward normal of a raw end's cut.
func (m *Member) EndNormal(end int) geom.Vec {
	c := m.Bar.Cuts[end]
	n := geom.Vec{X: -c.SlopeX, Y: -c.SlopeY, Z: 1}.Unit()
	if end == 0 {
		n = n.Scale(-1)
	}
	return m.Place.Turn(n)
}

// SideNormal returns the outward normal of a raw side in the frame.
func (m *Member) SideNormal(s geom.Side) geom.Vec {
	n := s.Normal()
	return m.Place.Turn(geom.Vec{X: n.X, Y: n.Y})
}

// SideFacing returns the raw side whose normal lies nearest to a direction of the frame.
func (m *Member) SideFacing(d geom.Vec) geom.Side {
	best, at := math.Inf(-1), geom.Right
	for s := range geom.Side(4) {
		if v := m.SideNormal(s).Dot(d); v > best+1e-9 {
			best, at = v, s
		}
	}
	return at
}

// SidePoint returns the point of the frame on a raw side at z from end 0, an
// offset from the side's middle and a depth under the outside face.
func (m *Member) SidePoint(s geom.Side, z, offset, depth float64) geom.Vec {
	p := m.Bar.Profile.Point(s, offset, depth)
	return m.Place.Apply(geom.Vec{X: p.X, Y: p.Y, Z: z})
}

// sideCoordinates returns z from end 0 and the offset on a raw side of a point of the frame.
func (m *Member) sideCoordinates(s geom.Side, p geom.Vec) (z, offset float64) {
	q := m.Place.Unapply(p)
	return q.Z, geom.Vec2{X: q.X, Y: q.Y}.Dot(s.Toward())
}

// PartPlace returns the motion that puts the part (in its own coordinates, datum end at z = 0) where the member is.
func (m *Member) PartPlace() geom.Motion {
	return m.ToPart.Motion(m.Bar.Length).Inverse().Then(m.Place)
}

// Directions are the names of the six directions of the frame, by axis, low then high.
var directions = [3][2]string{{"left", "right"}, {"front", "back"}, {"bottom", "top"}}

// aslant is the share of a direction's length from which a second axis is named too: the sine of 22.5°.
const aslant = 0.3827

// DirectionName returns the name of the frame's side that a direction points to: "left", "top". A direction
// between two sides, as a brace has, is named by both, the vertical one first: "top-left".
func DirectionName(d geom.Vec) string {
	d = d.Unit()
	largest := math.Max(math.Abs(d.X), math.Max(math.Abs(d.Y), math.Abs(d.Z)))
	name := ""
	for _, ax := range []geom.Axis{geom.Z, geom.Y, geom.X} {
		v := d.Along(ax)
		if v == 0 || math.Abs(v) < aslant && math.Abs(v) < largest {
			continue
		}
		if name != "" {
			name += "-"
		}
		if v > 0 {
			name += directions[ax][1]
		} else {
			name += directions[ax][0]
		}
	}
	return name
}

// EndName returns the side of the frame at which end 1 or 2 of the member's part lies.
func (m *Member) EndName(end int) string {
	d := m.PartPlace().EZ
	if end == 1 {
		d = d.Scale(-1)
	}
	return DirectionName(d)
}

// FaceNames returns the sides of the frame that faces 1 to 4 of the member's part look to.
func (m *Member) FaceNames() [4]string {
	var out [4]string
	place := m.PartPlace()
	for s := range geom.Side(4) {
		n := s.Normal()
		out[s] = DirectionName(place.Turn(geom.Vec{X: n.X, Y: n.Y}))
	}
	return out
}

// Motion returns the turn as a motion from raw bar coordinates to the turned ones,
// for a bar of a length.
func (t Turn) Motion(length float64) geom.Motion {
	m := geom.Identity()
	if t.Flip {
		m = geom.Motion{EX: geom.Vec{X: 1}, EY: geom.Vec{Y: -1}, EZ: geom.Vec{Z: -1}, T: geom.Vec{Z: length}}
	}
	turn := func(v geom.Vec) geom.Vec {
		q := geom.Vec2{X: v.X, Y: v.Y}.Quarter(t.Quarters)
		return geom.Vec{X: q.X, Y: q.Y, Z: v.Z}
	}
	return geom.Motion{EX: turn(m.EX), EY: turn(m.EY), EZ: turn(m.EZ), T: turn(m.T)}
}

// side returns where a side goes.
func (t Turn) side(s geom.Side) geom.Side {
	if t.Flip {
		s = (4 - s) % 4
	}
	return (s + geom.Side(t.Quarters)) % 4
}

// point returns where a point of the section goes.
func (t Turn) point(p geom.Vec2) geom.Vec2 {
	if t.Flip {
		p.Y = -p.Y
	}
	return p.Quarter(t.Quarters)
}

// Apply returns the bar turned, with its machining in the usual order.
func (t Turn) Apply(b *Bar) Bar {
	out := Bar{Profile: b.Profile, Length: b.Length}
	for end, c := range b.Cuts {
		s := geom.Vec2{X: c.SlopeX, Y: c.SlopeY}
		if t.Flip {
			end, s = 1-end, geom.Vec2{X: -s.X, Y: s.Y}
		}
		s = s.Quarter(t.Quarters)
		// Adding zero turns a negative zero into a plain one.
		out.Cuts[end] = Cut{SlopeX: s.X + 0, SlopeY: s.Y + 0}
	}
	for _, h := range b.Holes {
		h.Side = t.side(h.Side)
		if t.Flip {
			h.Z, h.Offset = b.Length-h.Z, -h.Offset+0
		}
		out.Holes = append(out.Holes, h)
	}
	for _, p := range b.Taps {
		p.Core = t.point(p.Core)
		if t.Flip {
			p.End = 1 - p.End
		}
		out.Taps = append(out.Taps, p)
	}
	out.sort()
	return out
}
