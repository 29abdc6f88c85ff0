package frame

import (
	"cmp"
	"math"
	"slices"

	"barwright/geom"
)

// Balance is the mass of a frame, where its centre lies, and how far it can be tilted.
type Balance struct {
	Bars     float64  // kg, machined bars alone
	Fittings float64  // kg of panels, printed parts, screws and nuts, as far as it is known
	Carried  float64  // kg of masses and of what rides on groups
	Centre   geom.Vec // of all three, as drawn; masses on a path at its middle
	// Tip is the least angle in radians by which the floor may tilt before the frame falls over, toward the
	// direction TipTo. It is negative where the centre lies beyond the feet, and NaN where the frame stands on
	// fewer than three points or on points in one line.
	Tip   float64
	TipTo geom.Vec
	// Stands is the corners of the area on which the frame stands: feet, printed pads and casters, supports, or the bars that lie lowest.
	Stands []geom.Vec2
}

// Balance works out mass, centre of gravity and tipping angle. A bar's mass lies in the middle of its length on its axis:
// holes and taps shift it by less than a millimetre.
func (f *Frame) Balance() Balance {
	var b Balance
	moment := geom.Vec{}
	for _, m := range f.Members {
		kg := m.Part.Mass
		b.Bars += kg
		moment = moment.Add(m.EndPoint(0).Add(m.EndPoint(1)).Scale(kg / 2))
	}
	for _, t := range f.Fittings() {
		b.Fittings += t.Kg
		moment = moment.Add(t.At.Scale(t.Kg))
	}
	for _, w := range f.Masses {
		at := (w.From + w.To) / 2
		b.Carried += w.Kg
		moment = moment.Add(w.On.axisAt(at).Add(w.Offset).Scale(w.Kg))
	}
	for _, g := range f.Groups {
		if g.Mass == 0 {
			continue
		}
		box := geom.EmptyBox()
		for _, m := range g.Members {
			box = box.Union(m.Box)
		}
		b.Carried += g.Mass
		moment = moment.Add(box.Centre().Scale(g.Mass))
	}
	if kg := b.Bars + b.Fittings + b.Carried; kg > 0 {
		b.Centre = moment.Scale(1 / kg)
	}
	b.Stands = f.standsOn()
	b.tip(f.Floor)
	return b
}

// OnFloor reports whether the frame stands on feet, or on printed pads or casters.
func (f *Frame) OnFloor() bool {
	return len(f.Feet) > 0 || slices.ContainsFunc(f.Brackets, (*Bracket).Stands)
}

// axisAt returns the point of the bar's axis at a distance from its low end.
func (m *Member) axisAt(at float64) geom.Vec {
	end := m.LowEnd()
	d := m.Direction()
	if end == 1 {
		d = d.Scale(-1)
	}
	return m.EndPoint(end).Add(d.Scale(at))
}

// standsOn returns the convex hull of the points on which the frame stands, counter-clockwise from above.
func (f *Frame) standsOn() []geom.Vec2 {
	var points []geom.Vec2
	for _, t := range f.Feet {
		points = append(points, geom.Vec2{X: t.At.X, Y: t.At.Y})
	}
	for _, b := range f.Brackets {
		if b.Stands() {
			for _, m := range b.On {
				p := m.EndPoint(m.LowEnd())
				points = append(points, geom.Vec2{X: p.X, Y: p.Y})
			}
		}
	}
	for _, s := range f.Supports {
		p := s.On.axisAt(s.At)
		points = append(points, geom.Vec2{X: p.X, Y: p.Y})
	}
	if len(points) == 0 {
		low := f.Box().Low.Z
		for _, m := range f.Members {
			if m.Box.Low.Z <= low+geom.Coincident {
				c := m.Box.Corners()
				for _, p := range c[:4] {
					points = append(points, geom.Vec2{X: p.X, Y: p.Y})
				}
			}
		}
	}
	return convex(points)
}

// convex returns the convex hull of points, counter-clockwise (Andrew 1979).
func convex(points []geom.Vec2) []geom.Vec2 {
	p := slices.Clone(points)
	slices.SortFunc(p, func(a, b geom.Vec2) int {
		if a.X != b.X {
			return cmp.Compare(a.X, b.X)
		}
		return cmp.Compare(a.Y, b.Y)
	})
	p = slices.Compact(p)
	if len(p) < 3 {
		return p
	}
	half := func(list []geom.Vec2) []geom.Vec2 {
		var out []geom.Vec2
		for _, q := range list {
			for len(out) > 1 && out[len(out)-1].Sub(out[len(out)-2]).Cross(q.Sub(out[len(out)-2])) <= 1e-9 {
				out = out[:len(out)-1]
			}
			out = append(out, q)
		}
		return out[:len(out)-1]
	}
	low := half(p)
	slices.Reverse(p)
	return append(low, half(p)...)
}

// tip works out the least tilt over an edge of the area on which the frame stands.
func (b *Balance) tip(floor float64) {
	b.Tip = math.NaN()
	if len(b.Stands) < 3 || b.Centre.Z <= floor {
		return
	}
	c := geom.Vec2{X: b.Centre.X, Y: b.Centre.Y}
	best := math.Inf(1)
	for i, p := range b.Stands {
		e := b.Stands[(i+1)%len(b.Stands)].Sub(p)
		out := geom.Vec2{X: e.Y, Y: -e.X}.Scale(1 / e.Len())
		if d := -out.Dot(c.Sub(p)); d < best-1e-9 {
			best = d
			b.TipTo = geom.Vec{X: out.X + 0, Y: out.Y + 0}
		}
	}
	b.Tip = math.Atan2(best, b.Centre.Z-floor)
}
