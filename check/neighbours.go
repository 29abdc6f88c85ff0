package check

import (
	"sort"

	"barwright/frame"
	"barwright/geom"
)

// neighbours calls fn for every pair of members whose boxes, grown by a distance, share a
// point; pairs come in a fixed order. The boxes are swept along X, so that the cost
// grows with the number of neighbours.
func neighbours(members []*frame.Member, grow float64, fn func(a, b *frame.Member)) {
	order := make([]int, len(members))
	for i := range order {
		order[i] = i
	}
	sort.SliceStable(order, func(i, j int) bool {
		return members[order[i]].Box.Low.X < members[order[j]].Box.Low.X
	})
	var active []int
	for _, i := range order {
		box := members[i].Box.Grow(grow)
		keep := active[:0]
		for _, j := range active {
			if members[j].Box.High.X < box.Low.X {
				continue
			}
			keep = append(keep, j)
			if !members[j].Box.Intersect(box).Empty() {
				fn(members[min(i, j)], members[max(i, j)])
			}
		}
		active = append(keep, i)
	}
}

// moving returns the travelling group of a member, or nil.
func moving(m *frame.Member) *frame.Group {
	if m.Group != nil && m.Group.Travel != nil {
		return m.Group
	}
	return nil
}

// box is the outer box of a member shrunk by what still counts as touching.
func shrunk(m *frame.Member) geom.Box { return m.Box.Grow(-geom.Coincident) }
