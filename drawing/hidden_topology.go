package drawing

import (
	"cmp"
	"math"
	"slices"

	"barwright/geom"
	"barwright/mesh"
)

// edgeClass says how two triangles meet in an edge of a mesh, whatever the view.
type edgeClass uint8

const (
	flatJoint        edgeClass = iota // in one plane: never drawn
	smoothJoint                       // on a curved surface: drawn only as an outline
	middleOfRounding                  // the middle edge of a rounded corner
	creaseEdge
	machinedEdge
)

// Angles between neighbouring triangles in radians.
const (
	flatAngle   = 1.0 * math.Pi / 180
	creaseAngle = 30.0 * math.Pi / 180 // arcs are split into steps of 22.5° at most
	sliver      = 1e-3                 // a triangle lower than this in mm has no normal of its own
)

// meshEdge is an edge of a mesh with its triangles; t[1] is -1 at an open border.
type meshEdge struct {
	a, b  uint32
	t     [2]int32
	class edgeClass
}

// topology is what the hidden lines of any view need of one mesh.
type topology struct {
	at        []geom.Vec
	triangles [][3]uint32
	normals   []geom.Vec
	offsets   []float64 // of the triangles' planes: normal · p
	edges     []meshEdge
	tree      boxTree
	spans     []float64 // by edge; see spanOf
}

func newTopology(m *mesh.Mesh) *topology {
	t := &topology{triangles: m.Triangles, at: make([]geom.Vec, len(m.Points))}
	for i, p := range m.Points {
		t.at[i] = geom.Vec{X: float64(p[0]), Y: float64(p[1]), Z: float64(p[2])}
	}
	t.joinEdges()
	thinTriangles := t.setNormals()
	t.mendNormals(thinTriangles)
	t.classify(m.Surfaces)
	t.markRoundings(m.Surfaces)
	t.tree = newBoxTree(t.at, t.triangles)
	return t
}

// joinEdges finds the two triangles of each edge.
func (t *topology) joinEdges() {
	type half struct {
		key uint64
		tri int32
	}
	halves := make([]half, 0, 3*len(t.triangles))
	for i, tri := range t.triangles {
		for k := range 3 {
			a, b := tri[k], tri[(k+1)%3]
			halves = append(halves, half{uint64(min(a, b))<<32 | uint64(max(a, b)), int32(i)})
		}
	}
	slices.SortFunc(halves, func(x, y half) int {
		return cmp.Or(cmp.Compare(x.key, y.key), cmp.Compare(x.tri, y.tri))
	})
	t.edges = make([]meshEdge, 0, len(halves)/2)
	for i := 0; i < len(halves); {
		h := halves[i]
		e := meshEdge{a: uint32(h.key >> 32), b: uint32(h.key), t: [2]int32{h.tri, -1}}
		i++
		if i < len(halves) && halves[i].key == h.key {
			e.t[1] = halves[i].tri
			i++
		}
		t.edges = append(t.edges, e)
	}
}

// setNormals computes the planes of the triangles and returns which are too thin to have one.
func (t *topology) setNormals() []bool {
	thin := make([]bool, len(t.triangles))
	t.normals = make([]geom.Vec, len(t.triangles))
	t.offsets = make([]float64, len(t.triangles))
	for i, tri := range t.triangles {
		a, b, c := t.at[tri[0]], t.at[tri[1]], t.at[tri[2]]
		n := b.Sub(a).Cross(c.Sub(a))
		longest := max(a.Dist(b), b.Dist(c), c.Dist(a))
		thin[i] = n.Len() < sliver*longest
		t.normals[i] = n.Unit()
		t.offsets[i] = t.normals[i].Dot(a)
	}
	return thin
}

// mendNormals gives thin triangles the normal of the neighbour across their longest edge, as often as
// thin neighbours follow one another.
func (t *topology) mendNormals(thin []bool) {
	for range 4 {
		again := false
		longest := map[int32]float64{}
		from := map[int32]int32{}
		for _, e := range t.edges {
			if e.t[1] < 0 {
				continue
			}
			for k := range 2 {
				own, other := e.t[k], e.t[1-k]
				if l := t.at[e.a].Dist(t.at[e.b]); thin[own] && l > longest[own] {
					longest[own], from[own] = l, other
				}
			}
		}
		if len(from) == 0 {
			return
		}
		for own := range thin {
			other, ok := from[int32(own)]
			if !ok {
				continue
			}
			if thin[other] {
				again = true
				continue
			}
			t.normals[own] = t.normals[other]
			t.offsets[own] = t.normals[own].Dot(t.at[t.triangles[own][0]])
			thin[own] = false
		}
		if !again {
			return
		}
	}
}

// classify sets the class of every edge from the angle between its triangles.
func (t *topology) classify(surfaces []mesh.Surface) {
	for i := range t.edges {
		e := &t.edges[i]
		if e.t[1] < 0 {
			e.class = creaseEdge
			continue
		}
		angle := t.turn(*e)
		machined := len(surfaces) > 0 &&
			(surfaces[e.t[0]] == mesh.Machined) != (surfaces[e.t[1]] == mesh.Machined)
		switch {
		case angle < flatAngle:
			e.class = flatJoint
		case machined:
			e.class = machinedEdge
		case angle < creaseAngle:
			e.class = smoothJoint
		default:
			e.class = creaseEdge
		}
	}
}

// turn returns the angle between the triangles of an edge.
func (t *topology) turn(e meshEdge) float64 {
	p, q := t.normals[e.t[0]], t.normals[e.t[1]]
	return math.Atan2(p.Cross(q).Len(), p.Dot(q))
}

// strip is a flat facet that meets others smoothly along two parallel edges: a piece of a rounding or
// the flat between two of them.
type strip struct {
	edges [2]int // indices of the smooth edges on either side
	width float64
	facet int32
}

// markRoundings finds runs of narrow strips that turn a corner between two faces and marks
// the edge in their middle. A bore is a run without ends and gets no mark.
func (t *topology) markRoundings(surfaces []mesh.Surface) {
	facets := t.facets()
	strips := t.strips(facets, surfaces)
	for i := range t.edges {
		if t.edges[i].class != smoothJoint {
			continue
		}
		left, right := facets[t.edges[i].t[0]], facets[t.edges[i].t[1]]
		if t.isArc(left, strips, facets) == t.isArc(right, strips, facets) {
			continue
		}
		if t.isArc(right, strips, facets) {
			left, right = right, left
		}
		t.followRounding(i, left, strips, facets)
	}
}

// followRounding walks from the edge where a rounding begins to where it ends and marks its middle, if
// the walk is the one from the lower-numbered edge.
func (t *topology) followRounding(first int, facet int32, strips map[int32]strip, facets []int32) {
	run := []int{first}
	total := t.turn(t.edges[first])
	for e := first; t.isArc(facet, strips, facets); {
		s := strips[facet]
		next := s.edges[0]
		if next == e {
			next = s.edges[1]
		}
		if len(run) > 64 || next == first {
			return
		}
		run = append(run, next)
		total += t.turn(t.edges[next])
		a, b := facets[t.edges[next].t[0]], facets[t.edges[next].t[1]]
		if a == facet {
			facet = b
		} else {
			facet = a
		}
		e = next
	}
	last := run[len(run)-1]
	if last < first || total < creaseAngle {
		return
	}
	t.edges[run[len(run)/2]].class = middleOfRounding
}

// isArc reports whether a facet is a strip no wider than the strips beside it.
func (t *topology) isArc(facet int32, strips map[int32]strip, facets []int32) bool {
	s, ok := strips[facet]
	if !ok {
		return false
	}
	narrow := math.Inf(1)
	for _, e := range s.edges {
		other := facets[t.edges[e].t[0]]
		if other == facet {
			other = facets[t.edges[e].t[1]]
		}
		if o, ok := strips[other]; ok {
			narrow = min(narrow, o.width)
		}
	}
	return s.width < 2*narrow
}

// facets numbers the flat faces: triangles joined by flat joints share a number.
func (t *topology) facets() []int32 {
	parent := make([]int32, len(t.triangles))
	for i := range parent {
		parent[i] = int32(i)
	}
	find := func(i int32) int32 {
		for parent[i] != i {
			parent[i] = parent[parent[i]]
			i = parent[i]
		}
		return i
	}
	for _, e := range t.edges {
		if e.class == flatJoint {
			a, b := find(e.t[0]), find(e.t[1])
			parent[max(a, b)] = min(a, b)
		}
	}
	for i := range parent {
		parent[i] = find(int32(i))
	}
	return parent
}

// strips returns the facets of extruded skin that have exactly two smooth edges, parallel to one another.
func (t *topology) strips(facets []int32, surfaces []mesh.Surface) map[int32]strip {
	count := map[int32]int{}
	out := map[int32]strip{}
	for i, e := range t.edges {
		if e.class != smoothJoint || len(surfaces) > 0 && surfaces[e.t[0]] != mesh.Skin {
			continue
		}
		for _, tri := range e.t {
			f := facets[tri]
			if n := count[f]; n < 2 {
				s := out[f]
				s.facet = f
				s.edges[n] = i
				out[f] = s
			}
			count[f]++
		}
	}
	for f, s := range out {
		e, g := t.edges[s.edges[0]], t.edges[s.edges[1]]
		d := t.at[e.b].Sub(t.at[e.a]).Unit()
		if count[f] != 2 || d.Cross(t.at[g.b].Sub(t.at[g.a]).Unit()).Len() > 1e-3 {
			delete(out, f)
			continue
		}
		s.width = t.at[g.a].Sub(t.at[e.a]).Cross(d).Len()
		out[f] = s
	}
	return out
}
