// Package csg makes closed triangle meshes from convex pieces that are added and cut in turn.
//
// A [Body] is a list of pieces; each is a [Convex], the common part of half-spaces. A point belongs to the body
// if the last piece that holds it was added, not cut. [Body.Build] finds the surface and returns a [Mesh].
//
// # Why the mesh is closed
//
// Every half-space is rounded once to a plane with small integer coefficients. After that nothing is rounded until
// the last step: corners are meetings of three planes, kept as fractions of integers, and every question (which of two
// corners comes first on a line, does a plane hold a line, are two corners one) is answered by integers of 128 bits.
//
// The work goes line by line. On a line where planes meet, each piece covers one stretch and, round the line, one
// wedge between planes; between two ends of stretches the wedges decide which sectors hold material. Where the
// pattern is not that of a plain face, the stretch is an edge, and each plane on which material meets air gets it with the
// same two corners. So the faces on both sides of an edge take it from one computation, as in
// Bernstein and Fussell, "Fast, exact, linear booleans" (2009), but without a tree.
//
// The corners are rounded last, to a binary grid that float32 holds exactly, and the faces are cut into triangles in those
// rounded coordinates with integer arithmetic. A detail narrower than the grid can spoil a face; then the grid is
// tried at other offsets, and what still fails is an error, never a mesh with a flaw.
//
// Lengths are mm.
package csg
