// Package geom holds the geometry that knows nothing of frames: vectors, boxes,
// rigid motions, planar regions bounded by lines and arcs, and the parametric
// slotted profile with its section properties.
//
// Lengths are millimetres, angles radians. Start with [Profile]: its
// [Profile.Region] is the exact outline of the section, a [Region] of loops of
// [Edge] values; [Region.Polygons] splits the arcs once by a chord tolerance, and
// everything after that sees the same points.
//
// A section lies in its own plane with its centre at the origin, x to the right and y up.
// A bar stands on its section: z runs along the bar. Its four long sides are
// numbered by [Side] in the direction from x to y.
//
// [Region.Properties] gives area and second moments at once, exact from lines and arcs; [Region.Torsion] solves
// the section for its torsion constant, between bounds, its shear areas and its shear centre.
//
// Products are rounded before they are added (float64(a*b) + float64(c*d)), so
// that no compiler fuses them and every machine computes the same bits.
package geom
