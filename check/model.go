package check

import (
	"barwright/frame"
	"barwright/geom"
)

// model is a frame with what several rules need, worked out once.
type model struct {
	f        *frame.Frame
	index    map[*frame.Member]int
	sections map[*geom.Profile][][]geom.Vec2
	parts    map[*geom.Profile]*sectionParts
	bars     []prism // of the members
	tree     *tree   // of the members' boxes
	box      geom.Box
	contacts [][]*frame.Contact
	bodies   []body                     // brackets, plates, feet, panels and printed parts
	printed  map[*frame.PrintedBody]int // their bodies
	bodyTree *tree
	slots    []slotItem // what stands in slots, made when it is first asked for
}

func newModel(f *frame.Frame) *model {
	m := &model{f: f, box: f.Box(), index: make(map[*frame.Member]int, len(f.Members)), sections: map[*geom.Profile][][]geom.Vec2{}}
	boxes := make([]geom.Box, len(f.Members))
	for i, b := range f.Members {
		m.index[b] = i
		m.bars = append(m.bars, m.barPrism(b))
		boxes[i] = b.Box
	}
	m.tree = newTree(boxes)
	m.contacts = make([][]*frame.Contact, len(f.Members))
	for _, c := range f.Contacts {
		a, b := m.index[c.A], m.index[c.B]
		m.contacts[a] = append(m.contacts[a], c)
		m.contacts[b] = append(m.contacts[b], c)
	}
	m.makeBodies()
	return m
}

// section returns the polygons of a profile's section.
func (m *model) section(p *geom.Profile) [][]geom.Vec2 {
	s, ok := m.sections[p]
	if !ok {
		s = p.Region().Polygons(sectionTolerance)
		m.sections[p] = s
	}
	return s
}

// moving returns the travelling group of a member, or nil.
func moving(m *frame.Member) *frame.Group {
	if m.Group != nil && m.Group.Travel != nil {
		return m.Group
	}
	return nil
}

// lowEnd returns the raw end of a bar that looks down.
func lowEnd(b *frame.Member) int {
	if b.Direction().Z > 0 {
		return 0
	}
	return 1
}

// on returns a point of the frame in a member's raw coordinates: z from end 0 and the offset on a side.
func on(b *frame.Member, s geom.Side, p geom.Vec) (z, offset float64) {
	q := b.Place.Unapply(p)
	return q.Z, geom.Vec2{X: q.X, Y: q.Y}.Dot(s.Toward())
}

// endName says which end of a member a raw end is: "left", "top".
func endName(b *frame.Member, end int) string { return frame.DirectionName(b.EndNormal(end)) }

// sideName says which side of a member a raw side is: "front", "bottom".
func sideName(b *frame.Member, s geom.Side) string { return frame.DirectionName(b.SideNormal(s)) }

// fromEnd returns the distance of a place on a bar from its nearer end, and that end.
func fromEnd(b *frame.Member, z float64) (float64, int) {
	low, high := z-b.Bar.Plane(0), b.Bar.Plane(1)-z
	if high < low {
		return high, 1
	}
	return low, 0
}
