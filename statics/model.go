package statics

import (
	"math"

	"barwright/geom"
)

// Model is a frame as its analysis sees it: nodes joined by beams and springs, held by supports. Lengths
// are mm, forces N, stresses MPa, masses kg, angles radians. Fill it and call [Model.Prepare].
type Model struct {
	Nodes    []geom.Vec
	Beams    []Beam
	Springs  []Spring
	Supports []Support
	Masses   []Mass
}

// Section is a beam's cross-section about its own principal axes y and z through the centroid.
type Section struct {
	Area           float64 // mm²
	Iy, Iz         float64 // ∫z²dA and ∫y²dA, mm⁴
	J              float64 // torsion constant, mm⁴
	ShearY, ShearZ float64 // shear areas for forces along y and z, mm²; 0: stiff in shear
	// ShearCentre is the place of the shear centre from the centroid along y and z, mm.
	ShearCentre geom.Vec2
	// Fibres are the points of the section (y, z) among which is the one that is stressed
	// most. Without them no stress is found.
	Fibres []geom.Vec2
	// Polar is the polar second moment that resists turning about the axis in vibration, mm⁴; 0: Iy + Iz.
	Polar float64
}

func (s *Section) polar() float64 {
	if s.Polar > 0 {
		return s.Polar
	}
	return s.Iy + s.Iz
}

// Material is what a beam is made of.
type Material struct {
	E, G      float64 // MPa
	Density   float64 // kg/mm³
	Expansion float64 // 1/K
	Yield     float64 // MPa, 0: unknown
}

// Release is how an end of a beam is held to its node, as springs along and about the beam's
// own axes x, y, z: N/mm, then N·mm/rad. [Rigid] has them all without give; 0 lets go.
type Release [6]float64

// Rigid returns the release that gives nowhere.
func Rigid() Release {
	inf := math.Inf(1)
	return Release{inf, inf, inf, inf, inf, inf}
}

// Pinned returns the release that turns freely about y and z, and holds the rest.
func Pinned() Release {
	r := Rigid()
	r[4], r[5] = 0, 0
	return r
}

// rigid reports whether the end has no give.
func (r *Release) rigid() bool { return *r == Rigid() }

// Beam is a straight piece of a bar between two nodes, of one section.
type Beam struct {
	Ends     [2]int      // nodes
	Offset   [2]geom.Vec // from the node to the end of the beam: a rigid arm, mm in the frame
	Release  [2]Release  // between the arm and the beam; the zero array lets go of everything
	Y        geom.Vec    // direction of the section's y axis in the frame
	Section  *Section
	Material *Material
	Member   string // the bar that it is a piece of
	Set      string // what the bar belongs to, in a builder's words: "ring crown"; or ""
	// At is the place of the piece's start along the bar, mm; only for reports.
	At float64
	// Massless pieces (links inside a joint) weigh nothing.
	Massless bool
}

// Spring joins two nodes, or a node to the ground (B < 0), by springs along and about its axes: N/mm, then N·mm/rad.
type Spring struct {
	A, B int
	K    [6]float64
	// Axes are the directions of the springs; the zero array stands for the axes of the frame.
	Axes [3]geom.Vec
	// At is where the springs act, reached from both nodes by rigid arms; nil: at B (at A on the ground).
	At *geom.Vec
}

// directions returns the axes of the springs.
func (s *Spring) directions() [3]geom.Vec {
	if s.Axes == ([3]geom.Vec{}) {
		return [3]geom.Vec{{X: 1}, {Y: 1}, {Z: 1}}
	}
	return s.Axes
}

// arms returns the arms from the nodes to where the springs act.
func (m *Model) arms(s *Spring) (out [2]geom.Vec) {
	at := m.Nodes[s.A]
	if s.B >= 0 {
		at = m.Nodes[s.B]
	}
	if s.At != nil {
		at = *s.At
	}
	out[0] = at.Sub(m.Nodes[s.A])
	if s.B >= 0 {
		out[1] = at.Sub(m.Nodes[s.B])
	}
	return out
}

// Support holds movements of a node: shifts along X, Y, Z, then turns about them.
type Support struct {
	Node  int
	Fixed [6]bool
	// Lifts says that the support only pushes up: where it would have to pull along Z it lets go of
	// everything.
	Lifts bool
	Name  string
}

// Mass is a mass on the beams. It counts in vibration and as weight.
type Mass struct {
	Name string
	Kg   float64
	// Path is where it is: spread evenly over the pieces; or, with Travels, anywhere on them;
	// a single piece with From = To is one place.
	Path    []Stretch
	Travels bool
	Offset  geom.Vec // of its centre from the axis of the bar, in the frame
}

// Stretch is a part of a beam, by distances from its start in mm. From may be above To: a path has a direction.
type Stretch struct {
	Beam     int
	From, To float64
}

// Gravity is standard gravity in N/kg (ISO 80000-3; 3rd CGPM 1901).
const Gravity = 9.80665

// Case is one way of loading.
type Case struct {
	Name string
	// Field is the force on every kg of the frame and its masses, N/kg: (0, 0, -Gravity) for weight.
	Field geom.Vec
	// Nodes, Points and Spread are forces.
	Nodes  []NodeLoad
	Points []PointLoad
	Spread []SpreadLoad
	// Warm is a rise of temperature of the whole frame, K; Beams adds to it beam by beam where it is not nil.
	Warm      float64
	WarmBeams []float64
	// At places travelling masses: mass index to place. A travelling mass without one is left out.
	At map[int]Place
	// MassField adds a force in N/kg on single masses: acceleration of a moving group.
	MassField map[int]geom.Vec
	// BeamField adds a force in N/kg on single beams.
	BeamField map[int]geom.Vec
}

// Place is a place on a beam, mm from its start.
type Place struct {
	Beam int
	At   float64
}

// NodeLoad is a force (N) and a moment (N·mm) on a node.
type NodeLoad struct {
	Node          int
	Force, Moment geom.Vec
}

// PointLoad is a force and a moment at a place on a beam's axis, in the frame.
type PointLoad struct {
	Place
	Force, Moment geom.Vec
}

// SpreadLoad is an even load over a part of a beam's axis: force in N/mm and moment in N·mm/mm, in the frame.
type SpreadLoad struct {
	Stretch
	Force, Moment geom.Vec
}
