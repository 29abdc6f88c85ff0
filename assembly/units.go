package assembly

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"barwright/frame"
	"barwright/geom"
)

// unit is bars that lie in one plane and hold together, or a group of the file: it can be built by itself on the table.
type unit struct {
	name    string
	bars    set
	normal  geom.Vec // of its plane; zero for a group that is not flat
	given   bool     // a group of the file
	travels bool     // a group that moves on its own
	ring    bool     // a ring of the file, all of it
}

// leastUnit is how many bars make a unit worth building by itself.
const leastUnit = 3

// units returns the groups of the file and the flat units among some bars, each once.
func (m *model) units(r set) []unit {
	var out []unit
	add := func(u unit) {
		for _, o := range out {
			if o.bars.equal(u.bars) {
				return
			}
		}
		out = append(out, u)
	}
	for _, g := range m.f.Groups {
		s := newSet(m.n)
		for _, b := range g.Members {
			s.add(m.index[b])
		}
		if s.within(r) {
			add(unit{name: g.Name, bars: s, normal: m.planeOf(s), given: true, travels: g.Travel != nil})
		}
	}
	for _, g := range m.f.Sets {
		s := newSet(m.n)
		for _, b := range g.Members {
			s.add(m.index[b])
		}
		if g.Kind == frame.Ring && s.within(r) && m.connected(s) {
			add(unit{name: g.Name, bars: s, normal: m.planeOf(s), ring: true})
		}
	}
	for _, ax := range []geom.Axis{geom.Z, geom.Y, geom.X} {
		for _, layer := range m.layers(r, ax) {
			for _, c := range m.components(layer) {
				if c.count() >= leastUnit {
					add(unit{name: m.unitName(c, ax, r), bars: c, normal: ax.Unit()})
				}
			}
		}
	}
	return out
}

// layers returns the bars of r that lie across an axis in the same stretch of it, in rising order.
func (m *model) layers(r set, ax geom.Axis) []set {
	type key struct{ low, high int64 }
	var keys []key
	bars := map[key]set{}
	r.each(func(i int) bool {
		b := m.f.Members[i]
		if b.Brace || b.Axis != ax {
			k := key{micron(b.Box.Low.Along(ax)), micron(b.Box.High.Along(ax))}
			if bars[k] == nil {
				bars[k] = newSet(m.n)
				keys = append(keys, k)
			}
			bars[k].add(i)
		}
		return true
	})
	slices.SortFunc(keys, func(a, b key) int { return cmp.Or(cmp.Compare(a.low, b.low), cmp.Compare(a.high, b.high)) })
	var out []set
	for _, k := range keys {
		out = append(out, bars[k])
	}
	return out
}

func micron(v float64) int64 { return int64(math.Round(v * 1000)) }

// components splits bars into what holds together by joints and touches.
func (m *model) components(s set) []set { return m.split(s, nil) }

// split returns the parts of a set that hang together by neighbours that hold, all where holds is nil.
func (m *model) split(s set, holds func(a, b int) bool) []set {
	var out []set
	left := s.clone()
	s.each(func(i int) bool {
		if !left.has(i) {
			return true
		}
		c := setOf(m.n, i)
		queue := []int{i}
		for len(queue) > 0 {
			k := queue[len(queue)-1]
			queue = queue[:len(queue)-1]
			for _, o := range m.touch[k] {
				if s.has(o) && !c.has(o) && (holds == nil || holds(k, o)) {
					c.add(o)
					queue = append(queue, o)
				}
			}
		}
		out = append(out, c)
		left = left.minus(c)
		return true
	})
	return out
}

// connected reports whether bars hold together.
func (m *model) connected(s set) bool {
	n := s.count()
	return n == 0 || len(m.components(s)) == 1
}

// planeOf returns the normal of the plane in which all bars of a set lie, zero where there is none.
func (m *model) planeOf(s set) geom.Vec {
	for _, ax := range []geom.Axis{geom.Z, geom.Y, geom.X} {
		if l := m.layers(s, ax); len(l) == 1 && l[0].equal(s) {
			return ax.Unit()
		}
	}
	return geom.Vec{}
}

// unitName names bars: after the set or group that they are, else after where they lie.
func (m *model) unitName(s set, ax geom.Axis, all set) string {
	for _, g := range m.f.Sets {
		if m.same(s, g.Members) {
			return g.Name
		}
	}
	for _, g := range m.f.Sets {
		if g.Kind == frame.Ring && m.contains(s, g.Members) {
			return g.Name
		}
	}
	box, whole := geom.EmptyBox(), geom.EmptyBox()
	s.each(func(i int) bool { box = box.Union(m.bodies[i].box); return true })
	all.each(func(i int) bool { whole = whole.Union(m.bodies[i].box); return true })
	names := [3][2]string{{"left", "right"}, {"front", "back"}, {"bottom", "top"}}[ax]
	switch {
	case box.Low.Along(ax) < whole.Low.Along(ax)+1 && box.High.Along(ax) < whole.High.Along(ax)-1:
		return names[0] + " frame"
	case box.High.Along(ax) > whole.High.Along(ax)-1 && box.Low.Along(ax) > whole.Low.Along(ax)+1:
		return names[1] + " frame"
	}
	first := m.f.Members[s.list()[0]]
	if first.Set != nil {
		return fmt.Sprintf("cross frame of %s", first.Set.Name)
	}
	return fmt.Sprintf("cross frame at %s = %s", ax, show(box.Low.Along(ax)))
}

func (m *model) same(s set, members []*frame.Member) bool {
	return s.count() == len(members) && m.contains(s, members)
}

func (m *model) contains(s set, members []*frame.Member) bool {
	for _, b := range members {
		if !s.has(m.index[b]) {
			return false
		}
	}
	return len(members) > 0
}
