// Package bracket makes printed brackets, feet, caps, clips, drill jigs and gauges that fit a slotted profile.
//
// [Kinds] lists what there is, each with its parameters. A [Spec] names a kind, the profile it sits on and what
// differs from the defaults; [Build] returns a [Result]: a closed mesh in the position in which it is printed, the motion that mounts
// it, the faces that touch the bars, its screws, notes for the printer and an estimate of its strength. [BuildAll] serves
// kinds that come in several pieces. [ForJoint] derives a spec and a place from a joint of a frame.
//
// # Coordinates
//
// Each kind is drawn in its own mounted coordinates, where the bars' faces are the planes that its description in
// [Kind] names; [Result.Place] leads from the printed to the mounted position. Lengths are mm, angles radians
// except where a parameter's unit says degrees, forces N.
//
// # How a kind is written
//
// A kind is one function that fills a model: it adds convex pieces and asks for screws, ribs and text. Holes are cut last, so
// that nothing fills them again. The geometry under it is package csg, which keeps planes on integers, so that flush faces and
// shared edges are exact and every mesh is a closed oriented 2-manifold.
//
// # Allowances
//
// [Allowances] holds every figure that only practice gives: fits, what holes gain, walls in whole lines of extrusion.
// None of them has a standard; each can be changed.
//
// The strength notes are estimates for choosing a wall, not a structural certificate: follow local codes and ask a
// licensed engineer where people or heavy loads depend on a part.
package bracket
