package mesh

import (
	"math"

	"barwright/geom"
)

// model is a shape ready for drawing.
type model struct {
	mesh   *Mesh
	smooth *smoothMesh
	edges  []modelEdge
	box    geom.Box
	light  []float64 // of each vertex of smooth, how much light its place lets in
	dye    []tint    // of each point, or nil
}

// modelEdge is an edge that may be drawn: where two facets bend.
type modelEdge struct {
	a, b   uint32 // points
	t0, t1 uint32 // triangles beside it
	crease bool   // drawn wherever it is seen; else only as a silhouette
	hollow bool   // the facets form an inner corner
}

// flatAngle is the bend in radians under which two facets are one plane.
const flatAngle = 0.3 * math.Pi / 180

func newModel(sh *Shape, box geom.Box) *model {
	m := sh.Mesh
	out := &model{mesh: m, smooth: smooth(m), edges: meshEdges(m), box: box, dye: sh.dye}
	out.light = make([]float64, len(out.smooth.point))
	for i := range out.light {
		out.light[i] = 1
	}
	if sh.profile != nil {
		out.skinLight(newSectionLight(sh.profile))
	}
	return out
}

// skinLight sets the light on the extruded surfaces of a bar. Cut ends lie open, and what is machined has its own colour to tell it by.
func (m *model) skinLight(l *sectionLight) {
	for i, vs := range m.smooth.triangle {
		if m.mesh.Surfaces[i] != Skin {
			continue
		}
		for _, v := range vs {
			p, n := m.mesh.Points[m.smooth.point[v]], m.smooth.normal[v]
			m.light[v] = l.at(p[0], p[1], n[0], n[1])
		}
	}
}

// meshEdges returns the edges of a closed mesh where facets bend, in the order of their triangles.
func meshEdges(m *Mesh) []modelEdge {
	units := facetUnits(facetAreas(m))
	round := cornersOf(m)
	flat, sharp := math.Cos(flatAngle), math.Cos(smoothAngle)
	var out []modelEdge
	for i, t := range m.Triangles {
		for k := range t {
			a, b := t[k], t[(k+1)%3]
			if a > b {
				continue // the other triangle brings it
			}
			j, ok := twin(m, round, a, b)
			if !ok {
				continue
			}
			bend := dot3(units[i], units[j])
			if bend > flat {
				continue
			}
			// Where the far corner of the neighbour lies in front of the facet, the corner is an inner one.
			far := m.Points[farCorner(m.Triangles[j], a, b)]
			near := m.Points[a]
			side := dot3(units[i], [3]float64{float64(far[0] - near[0]), float64(far[1] - near[1]), float64(far[2] - near[2])})
			crease := bend < sharp || m.Surfaces[i] != m.Surfaces[j]
			out = append(out, modelEdge{a, b, uint32(i), j, crease, side > 0})
		}
	}
	return out
}

// twin returns the triangle that runs over the edge from b to a.
func twin(m *Mesh, round corners, a, b uint32) (uint32, bool) {
	for _, c := range round.around(b) {
		t := m.Triangles[c/3]
		if t[(c%3+1)%3] == a {
			return c / 3, true
		}
	}
	return 0, false
}

// farCorner returns the corner of a triangle that is neither a nor b.
func farCorner(t [3]uint32, a, b uint32) uint32 {
	for _, p := range t {
		if p != a && p != b {
			return p
		}
	}
	return t[0]
}
