// Package statics answers whether a frame sags, racks or rings: a three-dimensional analysis by beams that
// bend, stretch, twist and shear, with joints that give and feet that lift.
//
// A [Model] is nodes joined by beams; [FromFrame] makes one of a frame. [Model.Prepare] factors it into a [System],
// or returns a [*Mechanism] that names what can move. [System.Solve] finds what a [Case] does; a [Solution] knows the
// shift, the forces and the stress at every place, exactly within beam theory: one element a beam is enough, as loads
// between the ends are integrated in closed form. [System.WorstPlace] moves a mass along its path, and [System.Modes]
// finds the lowest natural frequencies on a mesh that it cuts as fine as they need.
//
// Elements follow Przemieniecki, "Theory of Matrix Structural Analysis" (1968): bending with shear flexibility,
// consistent mass with rotary inertia, springs at the ends by condensation, rigid arms from the axes to the faces.
// Small displacements are assumed, and so is elastic metal.
//
// Units are mm, N, MPa, kg and radians.
//
// What comes out is an estimate for comparing designs, not a structural certificate; see [Caution].
package statics

// Caution is printed with every result.
const Caution = "An estimate for comparing designs, not a structural certificate. Joints and feet are the least certain. " +
	"Follow your local codes, and ask a licensed engineer where people or heavy loads depend on it."
