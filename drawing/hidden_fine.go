package drawing

import "barwright/geom"

// spanOf returns for each edge of a mesh how large in mm the feature is that it belongs to: the box round all edges that hang together
// with it, flat joints left out. A hole or a letter in a flat face is a feature by itself.
func (t *topology) spanOf() []float64 {
	if t.spans != nil {
		return t.spans
	}
	parent := make([]uint32, len(t.at))
	for i := range parent {
		parent[i] = uint32(i)
	}
	root := func(i uint32) uint32 {
		for parent[i] != i {
			parent[i] = parent[parent[i]]
			i = parent[i]
		}
		return i
	}
	for _, e := range t.edges {
		if e.class != flatJoint {
			parent[root(e.a)] = root(e.b)
		}
	}
	boxes := map[uint32]geom.Box{}
	for _, e := range t.edges {
		if e.class == flatJoint {
			continue
		}
		r := root(e.a)
		b, ok := boxes[r]
		if !ok {
			b = geom.EmptyBox()
		}
		boxes[r] = b.Extend(t.at[e.a]).Extend(t.at[e.b])
	}
	t.spans = make([]float64, len(t.edges))
	for i, e := range t.edges {
		if e.class != flatJoint {
			size := boxes[root(e.a)].Size()
			t.spans[i] = size.Len()
		}
	}
	return t.spans
}
