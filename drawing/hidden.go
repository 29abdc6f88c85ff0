package drawing

import (
	"math"
	"runtime"
	"sync"

	"barwright/geom"
	"barwright/mesh"
)

// Body is a solid in its place, for views with hidden lines removed.
type Body struct {
	Mesh  *mesh.Mesh // closed and oriented; in its own coordinates, mm
	Place geom.Motion
	// Drawn are lines on the surface that are no edges of the mesh: slots and
	// holes of a solid that is simplified because its drawing is small.
	Drawn []FaceLine
	// Fine is the size in mm under which features of the mesh, such as letters and holes, are left out; 0 draws all.
	Fine float64
}

// FaceLine is a line drawn on a flat face of a body, in the body's own coordinates.
type FaceLine struct {
	Points []geom.Vec
	Normal geom.Vec // outward normal of the face
	Kind   LineKind
}

// View is a parallel projection square to its picture plane (ISO 5456-2). The zero View is not a
// view; Toward and Up may not be parallel.
type View struct {
	Toward geom.Vec // the way the viewer looks
	Up     geom.Vec // what stands upright in the picture
}

// The principal views of ISO 5456-2, named by where the viewer stands.
var (
	fromFront = View{Toward: geom.Vec{Y: 1}, Up: geom.Vec{Z: 1}}
	fromAbove = View{Toward: geom.Vec{Z: -1}, Up: geom.Vec{Y: 1}}
	fromLeft  = View{Toward: geom.Vec{X: 1}, Up: geom.Vec{Z: 1}}
	fromRight = View{Toward: geom.Vec{X: -1}, Up: geom.Vec{Z: 1}}
)

// Pictorial returns the axonometric view from the front, the right and above, which
// the arrangement and the exploded view share. It is trimetric, so that in frames with equal sides
// no corner covers another as it would in an isometric view.
func Pictorial() View { return orbit(30, 24) }

// orbit returns the view of a viewer who has walked azimuth degrees from the front to
// the right and looks down by elevation degrees.
func orbit(azimuth, elevation float64) View {
	sa, ca := math.Sincos(azimuth * math.Pi / 180)
	se, ce := math.Sincos(elevation * math.Pi / 180)
	return View{Toward: geom.Vec{X: -sa * ce, Y: ca * ce, Z: -se}, Up: geom.Vec{Z: 1}}
}

// axes returns the unit vectors to the right, up and into the picture.
func (v View) axes() (right, up, into geom.Vec) {
	into = v.Toward.Unit()
	right = into.Cross(v.Up).Unit()
	return right, right.Cross(into), into
}

// Project returns where a point of the frame lies in the picture plane, in mm of the frame.
func (v View) Project(p geom.Vec) geom.Vec2 {
	r, u, _ := v.axes()
	return geom.Vec2{X: r.Dot(p), Y: u.Dot(p)}
}

// LineKind says why an edge is drawn.
type LineKind uint8

// The kinds of lines of a view, the most important first: where two lie on
// one another only the first is drawn.
const (
	Silhouette LineKind = iota // the surface turns away from the viewer
	Crease                     // two faces meet at an angle
	Machined                   // boundary of a hole, a counterbore or a thread
	Slotline                   // edge of a slot of a simplified bar
	Tangent                    // middle of a rounding, drawn thin or left out (ISO 128-3)
)

// ViewLine is one line of a view. Points are sheet millimetres: the picture plane
// times the scale, with the frame's origin at the view's origin.
type ViewLine struct {
	Points []geom.Vec2
	Body   int // index of the body that it belongs to
	Kind   LineKind
	Hidden bool
}

// LineOptions chooses what a view shows.
type LineOptions struct {
	Scale  float64 // sheet mm for each mm; 0 counts as 1
	Hidden bool    // return hidden edges too
}

// HiddenLines returns the feature edges of bodies as a viewer sees them: creases, outlines, boundaries
// of machined faces, and the middle of roundings; smooth and flat joints of triangles are left out.
// The visible stretches of an edge are computed exactly, by subtracting the shadow
// of every triangle in front of it (after A. Appel, "The notion of quantitative
// invisibility and the machine rendering of solids", 1967; the count of surfaces is replaced by
// intervals, which need no sorted crossings). The order of the lines depends on the input alone.
func HiddenLines(bodies []Body, v View, o LineOptions) []ViewLine {
	return newLineModel(bodies, nil).view(v, o)
}

// Tolerances of hidden lines. Meshes hold float32, whose step at 1000 mm is 0.00006 mm; placed
// bars touch within geom.Coincident.
const (
	// behindTolerance is how far in mm a point must lie behind a face, square to it, to be
	// hidden: an edge in the face of a bar that it touches is drawn.
	behindTolerance = 0.02
	// rimTolerance grows the shadow of a triangle in mm, so that neighbours leave
	// no gap and an edge exactly behind an outline is hidden.
	rimTolerance = 0.002
	// frontTolerance is the sine under which a face counts as seen edge-on: half a millimetre wide, it may lean by as much from the
	// rounding of its corners. Were it taken for a front, its far edge would be the outline, and the face before it would hide that.
	frontTolerance = 2e-4
	// shortest is the length in sheet mm under which a visible stretch or a gap is dropped.
	shortest = 0.08
)

// lineModel is bodies made ready for views: what does not depend on the view is
// computed once for each mesh.
type lineModel struct {
	bodies []Body
	topos  []*topology
}

// topologies remembers what was computed of a mesh, for several models with the same meshes.
type topologies map[*mesh.Mesh]*topology

func newLineModel(bodies []Body, known topologies) *lineModel {
	m := &lineModel{bodies: bodies, topos: make([]*topology, len(bodies))}
	if known == nil {
		known = topologies{}
	}
	for i, b := range bodies {
		t := known[b.Mesh]
		if t == nil {
			t = newTopology(b.Mesh)
			known[b.Mesh] = t
		}
		m.topos[i] = t
	}
	return m
}

// shader returns what finds visible stretches in one view.
func (m *lineModel) shader(v View) *shader {
	s := &shader{seen: m.look(v), body: -1}
	s.right, s.up, s.into = v.axes()
	return s
}

// seen is one body as a view sees it.
type seen struct {
	*topology
	points []geom.Vec // right, up, depth
	front  []bool     // by triangle
	viewer geom.Vec   // unit vector toward the viewer in the body's coordinates
	place  geom.Motion
	low    geom.Vec
	high   geom.Vec
	start  int // index of its first candidate
}

// candidate is an edge that is drawn where it is visible.
type candidate struct {
	body int
	kind LineKind
	a, b geom.Vec // right, up, depth
	dark bool     // it faces away, so it is hidden all along
}

// span is a stretch of an edge, from 0 at its start to 1 at its end.
type span struct{ from, to float64 }

// view computes the lines of one view.
func (m *lineModel) view(v View, o LineOptions) []ViewLine {
	if o.Scale == 0 {
		o.Scale = 1
	}
	first := m.shader(v)
	edges := m.candidates(first, o.Hidden)
	visible := make([][]span, len(edges))
	var wg sync.WaitGroup
	workers := min(runtime.GOMAXPROCS(0), 1+len(edges)/256)
	for w := range workers {
		wg.Go(func() {
			s := shader{seen: first.seen, right: first.right, up: first.up, into: first.into, body: -1}
			// Whole bodies, so that what lies before a body is looked up once.
			for b := w; b < len(s.seen); b += workers {
				for i := s.seen[b].start; i < len(edges) && edges[i].body == b; i++ {
					visible[i] = s.visible(edges[i], shortest/2/o.Scale)
				}
			}
		})
	}
	wg.Wait()
	var pieces []piece
	for i, e := range edges {
		pieces = appendPieces(pieces, e, visible[i], o)
	}
	return chain(thin(pieces))
}

// look places every body in the view.
func (m *lineModel) look(v View) []seen {
	right, up, into := v.axes()
	sv := make([]seen, len(m.bodies))
	for i, b := range m.bodies {
		s := &sv[i]
		s.topology, s.place = m.topos[i], b.Place
		s.viewer = b.Place.Unturn(into).Scale(-1)
		s.points = make([]geom.Vec, len(b.Mesh.Points))
		inf := math.Inf(1)
		s.low, s.high = geom.Vec{X: inf, Y: inf, Z: inf}, geom.Vec{X: -inf, Y: -inf, Z: -inf}
		for k := range b.Mesh.Points {
			p := b.Place.Apply(s.at[k])
			q := geom.Vec{X: right.Dot(p), Y: up.Dot(p), Z: into.Dot(p)}
			s.points[k] = q
			s.low = geom.Vec{X: min(s.low.X, q.X), Y: min(s.low.Y, q.Y), Z: min(s.low.Z, q.Z)}
			s.high = geom.Vec{X: max(s.high.X, q.X), Y: max(s.high.Y, q.Y), Z: max(s.high.Z, q.Z)}
		}
		s.front = make([]bool, len(s.normals))
		for t, n := range s.normals {
			s.front[t] = n.Dot(s.viewer) > frontTolerance
		}
	}
	return sv
}

// candidates returns the edges that are drawn where nothing hides them, in the order of the bodies.
func (m *lineModel) candidates(sh *shader, hidden bool) []candidate {
	var out []candidate
	for i := range sh.seen {
		s := &sh.seen[i]
		s.start = len(out)
		fine := m.bodies[i].Fine
		var spans []float64
		if fine > 0 {
			spans = s.spanOf()
		}
		for x, e := range s.edges {
			kind, dark, ok := s.kind(e)
			if !ok || dark && !hidden || fine > 0 && spans[x] < fine {
				continue
			}
			out = append(out, candidate{i, kind, s.points[e.a], s.points[e.b], dark})
		}
		for _, l := range m.bodies[i].Drawn {
			dark := l.Normal.Dot(s.viewer) <= frontTolerance
			if dark && !hidden {
				continue
			}
			for k := 1; k < len(l.Points); k++ {
				p, q := s.place.Apply(l.Points[k-1]), s.place.Apply(l.Points[k])
				out = append(out, candidate{i, l.Kind, sh.flat(p), sh.flat(q), dark})
			}
		}
	}
	return out
}

// kind tells whether and as what an edge of the mesh is drawn in the view. An edge between two faces that
// look away is dark: its own solid hides it.
func (s *seen) kind(e meshEdge) (kind LineKind, dark, ok bool) {
	if e.class == flatJoint {
		return 0, false, false
	}
	f := s.front[e.t[0]]
	g := e.t[1] < 0 || s.front[e.t[1]]
	switch {
	case f != g:
		return Silhouette, false, true
	case e.class == smoothJoint:
		return 0, false, false
	case e.class == middleOfRounding:
		return Tangent, !f, f
	case e.class == machinedEdge:
		return Machined, !f, true
	}
	return Crease, !f, true
}
