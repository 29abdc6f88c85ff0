package statics

import (
	"math"
	"slices"

	"barwright/frame"
	"barwright/geom"
)

// A travelling group hangs on each bar that carries it by one guide, where the two come nearest. The file does not say what the
// guide is: it is taken to hold shifts, and turns about the carried bar's axis as a bracket would, but to turn almost freely across
// it, so that nobody counts on a carriage to brace the frame or to clamp its beam. A lone guide holds all turns.

// guide is one of them on its way into the model.
type guide struct {
	carrier, bar *bar
	at           geom.Vec // on the carried bar's axis
	alone        bool     // the only guide of its group
}

// findCarried fills Carried: travelling groups with a carrier that stands, or that is carried itself.
func (b *builder) findCarried() {
	stands := func(m *frame.Member) bool {
		g := travels(m)
		return g == nil || slices.Contains(b.out.Carried, g)
	}
	for again := true; again; {
		again = false
		for _, g := range b.out.Frame.Groups {
			if g.Travel != nil && !slices.Contains(b.out.Carried, g) && slices.ContainsFunc(g.CarriedBy, stands) {
				b.out.Carried = append(b.out.Carried, g)
				again = true
			}
		}
	}
	for _, g := range b.out.Frame.Groups {
		if g.Travel != nil && !slices.Contains(b.out.Carried, g) {
			b.note("Group %s travels, but carried_by names no bar that stands: it is left out.", g.Name)
		}
	}
}

// deepestCarriage bounds groups that ride on groups.
const deepestCarriage = 8

// shiftOf returns how far a member's group stands from where it is drawn, with what carries it.
func (b *builder) shiftOf(m *frame.Member, depth int) geom.Vec {
	g := travels(m)
	if g == nil || depth > deepestCarriage {
		return geom.Vec{}
	}
	v := g.Travel.Axis.Unit().Scale(b.o.Shifts[g.Name])
	for _, c := range g.CarriedBy {
		if travels(c) != g {
			return v.Add(b.shiftOf(c, depth+1))
		}
	}
	return v
}

// planGuides finds where each carrier and its group come nearest.
func (b *builder) planGuides() {
	for _, g := range b.out.Carried {
		first := len(b.guides)
		for _, c := range g.CarriedBy {
			carrier := b.bars[c]
			if carrier == nil {
				continue
			}
			best, gd := math.Inf(1), (*guide)(nil)
			for _, m := range g.Members {
				n := b.bars[m]
				if n == nil || n == carrier {
					continue
				}
				p, q := nearest(n.point(n.from), n.point(n.to), carrier.point(carrier.from), carrier.point(carrier.to))
				if d := p.Dist(q); d < best-geom.Coincident {
					best, gd = d, &guide{carrier: carrier, bar: n, at: p}
				}
			}
			if gd == nil {
				continue
			}
			b.guides = append(b.guides, gd)
			b.fix(gd.bar, gd.at)
			b.fix(carrier, gd.at)
		}
		if len(b.guides) == first+1 {
			b.guides[first].alone = true
		}
		b.note("Group %s hangs on what carries it by guides that hold shifts and twist, and turn almost freely otherwise: an estimate.", g.Name)
	}
}

// fix asks for a node of the bar's own nearest to a place.
func (b *builder) fix(n *bar, p geom.Vec) {
	z := n.project(p)
	n.cut(z)
	for end := range 2 {
		if math.Abs(z-n.end(end)) < sameCut {
			n.loose[end] = true
		}
	}
}

// freeTurn is the share of a bracket's stiffness that is left to a guide across the carried bar.
const freeTurn = 0.01

// addGuides adds the springs.
func (b *builder) addGuides() {
	for _, g := range b.guides {
		p := g.at
		size := g.bar.member.Profile.Size()
		arm := math.Min(size.X, size.Y) / 2
		twist := 2 * lipStiffness(g.bar.member.Profile.Thread) * arm * arm
		across := twist * freeTurn
		if g.alone {
			across = twist
		}
		x, y := g.bar.member.Direction(), g.bar.y
		b.out.Springs = append(b.out.Springs, Spring{A: g.carrier.nodeAt(g.carrier.project(p)), B: g.bar.nodeAt(g.bar.project(p)), At: &p,
			Axes: [3]geom.Vec{x, y, x.Cross(y)}, K: [6]float64{shiftStiffness, shiftStiffness, shiftStiffness, twist, across, across}})
	}
}

// nearest returns the nearest points of the segments a-b and c-d (Ericson, Real-Time Collision Detection, 5.1.9).
func nearest(a, b, c, d geom.Vec) (p, q geom.Vec) {
	u, v, w := b.Sub(a), d.Sub(c), a.Sub(c)
	uu, vv, uv := u.Dot(u), v.Dot(v), u.Dot(v)
	unit := func(x float64) float64 { return math.Max(0, math.Min(x, 1)) }
	s, t := 0.0, 0.0
	if den := uu*vv - uv*uv; den > 1e-12*uu*vv {
		s = unit((uv*v.Dot(w) - vv*u.Dot(w)) / den)
	}
	if vv > 0 {
		t = (uv*s + v.Dot(w)) / vv
	}
	if t < 0 || t > 1 {
		t = unit(t)
		if uu > 0 {
			s = unit((uv*t - u.Dot(w)) / uu)
		}
	}
	return a.Add(u.Scale(s)), c.Add(v.Scale(t))
}
