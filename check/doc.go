// Package check holds the design rules: what goes wrong in the workshop is found at the desk.
//
// [Run] goes through every [Rule] and returns the findings, sorted, each with
// the members, the place, a message with the numbers, a remedy and the line of the frame
// file that it comes from. Each rule has a file of its own; [Rules] lists them. A finding that
// the file allows stays in the list with the reason that the file gives.
//
// # A tour
//
// A rule is a function of a model: the frame with what several rules need, made once (model.go). A box tree (tree.go)
// finds what lies near a place, so that the cost grows with the number of neighbours. Bars, brackets, plates,
// feet and panels are prisms (prism.go, bodies.go): a section swept along an axis, its ends cut
// by planes. The volume that two prisms share is worked out slice by slice (shared.go), exactly where both are square
// to each other. Printed parts, which package job adds to the frame, are convex pieces (convex.go, printed.go).
//
// Lengths are mm, forces N, pressures MPa, masses kg, angles radians.
//
// Severities: an error can't be built, a warning can be built and will be regretted, a note is worth knowing. A
// figure that is recalled, not checked against a published text, warns at most.
package check
