// Package mesh turns machined bars, feet and printed brackets into closed triangle meshes,
// writes them as STL, OBJ, 3MF and GLB, and draws shaded pictures of them.
//
// [Solid] makes the mesh of one machined bar, closed by construction. [NewScene] makes
// each part of a frame once and places it many times; writers and pictures take a [Scene].
package mesh

// Surface says what a triangle belongs to, for colours and feature edges.
type Surface uint8

// The kinds of surface.
const (
	Skin     Surface = iota // as extruded: outside, slots, chambers, core bore
	CutEnd                  // the sawn or mitred end
	Machined                // walls and floors of holes and counterbores, tapped bores
	Printed                 // printed brackets
	Fitting                 // bought feet, nuts and the like
)

// Mesh is a closed, oriented triangle mesh in mm. Points are float32, as every
// format holds them, so that what is written is what was checked. Triangles run
// counter-clockwise seen from outside.
type Mesh struct {
	Points    [][3]float32
	Triangles [][3]uint32
	Surfaces  []Surface // one for each triangle
}
