package frame

import (
	"fmt"
	"math"
	"sort"

	"barwright/geom"

	"github.com/hashicorp/hcl/v2"
)

// maxNeighbours is how many neighbours a member may have on average. Bars that do not run into each
// other have far fewer; rows laid over each other by mistake would fill the memory.
const maxNeighbours = 200

// findContacts fills Contacts: every pair of members whose surfaces meet over an area. Pairs
// come in the order of the members. The boxes are swept along X, so that the cost grows with the
// number of neighbours, not of pairs. It returns an error where the members crowd.
func (f *Frame) findContacts() hcl.Diagnostics {
	order := make([]int, len(f.Members))
	for i := range order {
		order[i] = i
	}
	sort.SliceStable(order, func(a, b int) bool {
		return f.Members[order[a]].Box.Low.X < f.Members[order[b]].Box.Low.X
	})
	type pair struct{ a, b int }
	var pairs []pair
	active := make([]int, 0, 64)
	for _, i := range order {
		box := f.Members[i].Box.Grow(geom.Coincident)
		keep := active[:0]
		for _, j := range active {
			if f.Members[j].Box.High.X < box.Low.X {
				continue
			}
			keep = append(keep, j)
			if !f.Members[j].Box.Intersect(box).Empty() {
				pairs = append(pairs, pair{min(i, j), max(i, j)})
			}
		}
		if len(pairs) > maxNeighbours*max(len(f.Members), 1) {
			m := f.Members[i]
			return hcl.Diagnostics{problem(m.Origin, "The bars crowd", fmt.Sprintf(
				"%s and the bars around it touch or run into each other in more than %d places. Two sets probably lie over each other: compare their faces.",
				m.Name, len(pairs)))}
		}
		active = append(keep, i)
	}
	sort.Slice(pairs, func(i, j int) bool {
		if pairs[i].a != pairs[j].a {
			return pairs[i].a < pairs[j].a
		}
		return pairs[i].b < pairs[j].b
	})
	for _, p := range pairs {
		f.addContact(f.Members[p.a], f.Members[p.b])
	}
	return nil
}

// addContact adds the contact of two members if they meet.
func (f *Frame) addContact(a, b *Member) {
	apart := a.travels() != b.travels()
	if a.Brace || b.Brace {
		if a.Brace && b.Brace {
			return
		}
		if b.Brace {
			a, b = b, a
		}
		for end := range 2 {
			if c := braceContact(a, end, b); c != nil {
				c.Apart = apart
				f.Contacts = append(f.Contacts, c)
			}
		}
		return
	}
	if c := boxContact(a, b); c != nil {
		c.Apart = apart
		f.Contacts = append(f.Contacts, c)
	}
}

// travels returns the travelling group that the member belongs to, or nil.
func (m *Member) travels() *Group {
	if m.Group != nil && m.Group.Travel != nil {
		return m.Group
	}
	return nil
}

// boxContact returns the contact of two bars square to the axes, or nil.
func boxContact(a, b *Member) *Contact {
	common := a.Box.Intersect(b.Box)
	size := common.Size()
	axis, normals := geom.X, 0
	for _, ax := range []geom.Axis{geom.X, geom.Y, geom.Z} {
		switch s := size.Along(ax); {
		case s < -geom.Coincident:
			return nil
		case s <= geom.Coincident:
			axis = ax
			normals++
		}
	}
	if normals != 1 {
		return nil // they share a piece, or meet only along an edge
	}
	if b.Axis == axis && a.Axis != axis {
		a, b = b, a
	}
	n := axis.Unit()
	if a.Box.Centre().Along(axis) > b.Box.Centre().Along(axis) {
		n = n.Scale(-1)
	}
	mid := common.Centre().Along(axis)
	c := &Contact{A: a, B: b, EndA: -1, EndB: -1, Normal: n,
		Patch: geom.Box{Low: common.Low.With(axis, mid), High: common.High.With(axis, mid)}}
	switch {
	case a.Axis == axis && b.Axis == axis:
		c.Kind, c.EndA, c.EndB = EndToEnd, a.endFacing(n), b.endFacing(n.Scale(-1))
	case a.Axis == axis:
		c.Kind, c.EndA, c.SideB = EndToSide, a.endFacing(n), b.SideFacing(n.Scale(-1))
	default:
		c.Kind, c.SideA, c.SideB = SideToSide, a.SideFacing(n), b.SideFacing(n.Scale(-1))
	}
	return c
}

// endFacing returns the raw end that looks along d.
func (m *Member) endFacing(d geom.Vec) int {
	if m.Direction().Dot(d) > 0 {
		return 1
	}
	return 0
}

// braceTolerance is how far in mm the middle of a mitred end may lie off the face that it meets: a
// brace is placed through square roots, so that its ends carry a few roundings more than a square bar's.
const braceTolerance = 0.01

// braceContact returns the contact of a brace's end with a side of a bar, or nil.
func braceContact(brace *Member, end int, b *Member) *Contact {
	p, n := brace.EndPoint(end), brace.EndNormal(end)
	for _, s := range []geom.Side{geom.Right, geom.Top, geom.Left, geom.Bottom} {
		normal := b.SideNormal(s)
		if normal.Dot(n) > -1+1e-6 {
			continue
		}
		z, offset := b.sideCoordinates(s, p)
		if math.Abs(p.Sub(b.SidePoint(s, z, offset, 0)).Dot(normal)) > braceTolerance {
			continue
		}
		if z < 0 || z > b.Bar.Length || math.Abs(offset) > b.Bar.Profile.Along(s)/2 {
			continue
		}
		return &Contact{A: brace, B: b, Kind: EndToSide, EndA: end, EndB: -1, SideB: s, Normal: n,
			Patch: bracePatch(brace, end)}
	}
	return nil
}

// bracePatch returns the box round a brace's mitred end.
func bracePatch(m *Member, end int) geom.Box {
	half := m.Bar.Profile.Size().Scale(0.5)
	c, z0 := m.Bar.Cuts[end], m.Bar.Plane(end)
	box := geom.EmptyBox()
	for _, sx := range []float64{-1, 1} {
		for _, sy := range []float64{-1, 1} {
			x, y := sx*half.X, sy*half.Y
			z := z0 + float64(c.SlopeX*x) + float64(c.SlopeY*y)
			box = box.Extend(m.Place.Apply(geom.Vec{X: x, Y: y, Z: z}))
		}
	}
	return box
}
