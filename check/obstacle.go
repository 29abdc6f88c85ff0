package check

import (
	"math"

	"barwright/frame"
	"barwright/geom"
)

// obstacle is something solid that can be in a key's way.
type obstacle struct {
	name   string
	bar    *frame.Member // nil for a body
	body   *body
	prisms []prism
	pieces []convex
}

// obstacles returns what lies within the sweep of a key.
func (m *model) obstacles(n *keyNeed, arm [2]float64) []obstacle {
	r := n.key.AcrossCorners / 2
	top := n.from.Add(n.out.Scale(arm[0] + n.key.Size))
	box := geom.EmptyBox().Extend(n.from).Extend(top)
	side := geom.Vec{X: 1, Y: 1, Z: 1}.Sub(geom.Vec{X: math.Abs(n.out.X), Y: math.Abs(n.out.Y), Z: math.Abs(n.out.Z)}).Scale(arm[1] + r)
	box = geom.Box{Low: box.Low.Sub(side), High: box.High.Add(side)}
	var out []obstacle
	for _, k := range m.tree.near(box) {
		b := m.f.Members[k]
		if b == n.screw.HeadIn || b == n.screw.TipIn || moving(b) != moving(n.bars[0]) {
			continue
		}
		out = append(out, obstacle{name: b.Name, bar: b, prisms: m.bars[k : k+1]})
	}
	for _, k := range m.bodyTree.near(box) {
		b := &m.bodies[k]
		if b.kind == "foot" || moving(b.owners[0]) != moving(n.bars[0]) {
			continue // a foot is screwed in last; what moves may be moved away
		}
		out = append(out, obstacle{name: b.name, body: b, prisms: b.prisms, pieces: b.pieces})
	}
	return out
}

// hits reports whether a round arm from a to b meets the obstacle.
func (o *obstacle) hits(a, b geom.Vec, radius float64) bool {
	steps := int(math.Ceil(a.Dist(b)/2)) + 1
	for i := range o.prisms {
		p := &o.prisms[i]
		if !meet(p.box, geom.EmptyBox().Extend(a).Extend(b).Grow(radius)) {
			continue
		}
		for k := 0; k <= steps; k++ {
			if p.distance(a.Add(b.Sub(a).Scale(float64(k)/float64(steps)))) < radius-geom.Coincident {
				return true
			}
		}
	}
	for i := range o.pieces {
		p := &o.pieces[i]
		near := p.box.Grow(radius)
		if !meet(near, geom.EmptyBox().Extend(a).Extend(b)) {
			continue
		}
		for k := 0; k <= steps; k++ {
			q := a.Add(b.Sub(a).Scale(float64(k) / float64(steps)))
			if meet(near, geom.Box{Low: q, High: q}) && p.distance(q) < radius-geom.Coincident {
				return true
			}
		}
	}
	return false
}

// bars returns the members that must stand before the obstacle does. A panel comes last.
func (o *obstacle) bars() []*frame.Member {
	if o.bar != nil {
		return []*frame.Member{o.bar}
	}
	return nil
}
