package mesh

import "slices"

// faces holds the solid as directed edges between points of the float32 grid, face by face.
type faces struct {
	edges  []edge     // by face
	start  []int32    // of each face, its first edge; one more at the end
	spare  []edge     // room for the next edges
	points table      // by grid coordinates
	merged []bool     // of each point: more than one vertex fell on it
	normal [][3]int64 // of each face, out of the solid
	kind   []Surface

	triangles [][3]uint32
	surfaces  []Surface

	triangulator triangulator
	painter      painter
	small        table   // of the few edges between merged points
	at           []int32 // point of each vertex
	number       []int32
}

// settle rounds the vertices of an engine's edges to the grid and drops what has no size there: edges shorter
// than the grid can tell, and pairs that run back and forth in one face. Every vertex of one place becomes
// one point, so the boundary of the solid stays closed. It returns false where more than two faces meet at an edge:
// the solid touches itself there.
func (f *faces) settle(e *engine) bool {
	at := slices.Grow(f.at[:0], len(e.corners.keys))[:len(e.corners.keys)]
	f.at = at
	f.points.reset(len(at))
	f.merged = slices.Grow(f.merged[:0], len(at))
	any := false
	for i, k := range e.corners.keys {
		p := e.place(k)
		before := len(f.points.keys)
		at[i] = f.points.number([3]int32{int32(p[0]), int32(p[1]), int32(p[2])})
		if len(f.points.keys) > before {
			f.merged = append(f.merged, false)
		} else {
			f.merged[at[i]], any = true, true
		}
	}
	// The engine gets the room of the last solid's edges for its next ones.
	f.edges, e.edges = e.edges, f.edges
	all := f.edges
	f.edges = all[:0]
	for _, d := range all {
		if a, b := at[d.a], at[d.b]; a != b {
			f.edges = append(f.edges, edge{d.face, a, b})
		}
	}
	f.describe(e)
	f.byFace()
	if !any {
		return true
	}
	for f.splitTouched() {
	}
	f.cancel()
	return f.proper()
}

// splitTouched divides edges of a face at merged points of the same face that lie exactly on them, in every
// face that has the edge, and tells whether there were any.
func (f *faces) splitTouched() bool {
	var found splits
	found.reset(16)
	for face := range f.normal {
		own := f.edges[f.start[face]:f.start[face+1]]
		for _, d := range own {
			if !f.merged[d.a] {
				continue
			}
			for _, o := range own {
				if f.within(d.a, o) {
					n := found.number([3]int32{min(o.a, o.b), max(o.a, o.b), 0})
					if int(n) == len(found.points) {
						found.points = append(found.points, d.a)
					}
				}
			}
		}
	}
	if len(found.points) == 0 {
		return false
	}
	f.divide(&found.table, found.points)
	return true
}

// within tells whether a point lies on an edge, between its ends.
func (f *faces) within(m int32, d edge) bool {
	p, a, b := f.points.keys[m], f.points.keys[d.a], f.points.keys[d.b]
	for i := range p {
		if p[i] < min(a[i], b[i]) || p[i] > max(a[i], b[i]) {
			return false
		}
	}
	var u, v [3]int64
	for i := range u {
		u[i], v[i] = int64(b[i])-int64(a[i]), int64(p[i])-int64(a[i])
	}
	return m != d.a && m != d.b && u[1]*v[2] == u[2]*v[1] && u[2]*v[0] == u[0]*v[2] && u[0]*v[1] == u[1]*v[0]
}

// describe lists the faces: one for each plane.
func (f *faces) describe(e *engine) {
	f.normal = fill(f.normal, len(e.planes), [3]int64{})
	f.kind = fill(f.kind, len(e.planes), Skin)
	for i := range e.planes {
		n := e.planes[i].n
		if j := e.owner[i]; j >= 0 {
			n = [3]int64{-n[0], -n[1], -n[2]}
			f.kind[i] = e.tools[j].surface
		}
		f.normal[i] = n
	}
}

// byFace sorts the edges by face, keeping their order within each, and finds where each face's begin.
func (f *faces) byFace() {
	n := len(f.normal)
	f.start = fill(f.start, n+2, 0)
	for _, d := range f.edges {
		f.start[d.face+2]++
	}
	for i := 2; i < len(f.start); i++ {
		f.start[i] += f.start[i-1]
	}
	out := f.spare[:0]
	if cap(out) < len(f.edges) {
		out = make([]edge, 0, len(f.edges)+len(f.edges)/8)
	}
	out = out[:len(f.edges)]
	for _, d := range f.edges {
		out[f.start[d.face+1]] = d
		f.start[d.face+1]++
	}
	f.edges, f.spare, f.start = out, f.edges, f.start[:n+1]
}

// cancel drops edges that one face has in both directions. Only edges between merged points can be such.
func (f *faces) cancel() {
	t := &f.small
	t.reset(16)
	var count []int32
	key := func(d edge) ([3]int32, int32) {
		if d.a < d.b {
			return [3]int32{d.face, d.a, d.b}, 1
		}
		return [3]int32{d.face, d.b, d.a}, -1
	}
	for _, d := range f.edges {
		if f.merged[d.a] && f.merged[d.b] {
			k, way := key(d)
			n := t.number(k)
			if int(n) == len(count) {
				count = append(count, 0)
			}
			count[n] += way
		}
	}
	kept := f.edges[:0]
	for _, d := range f.edges {
		if f.merged[d.a] && f.merged[d.b] {
			k, way := key(d)
			n := t.number(k)
			if count[n]*way <= 0 {
				continue
			}
			count[n] -= way
		}
		kept = append(kept, d)
	}
	if len(kept) < len(f.edges) {
		f.edges = kept
		f.byFace()
	}
}

// proper tells whether each edge is between two faces, once in each direction.
func (f *faces) proper() bool {
	t := &f.small
	t.reset(16)
	for _, d := range f.edges {
		if f.merged[d.a] && f.merged[d.b] {
			before := len(t.keys)
			t.number([3]int32{d.a, d.b, 0})
			if len(t.keys) == before {
				return false
			}
		}
	}
	return true
}
