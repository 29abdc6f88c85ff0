package frame

import (
	"barwright/geom"

	"github.com/hashicorp/hcl/v2"
)

// PrintedBody is a printed part in its place, as the design rules see it. [Load] makes none: whoever builds the parts adds them
// with [Frame.AddPrinted] before the frame is checked.
type PrintedBody struct {
	Name   string    // as a message calls it: "printed foot-pad P3 (leg bottom)"
	Kind   string    // of the printed part
	On     []*Member // the bars that it sits on, at least one
	Joints []*Joint  // the joints that it serves
	// Pieces are convex and together make the part, in the frame's coordinates; holes of screws are not taken off.
	Pieces []geom.Polyhedron
	// Screws are those of a part that serves no joint; those of others are their joints'.
	Screws []Fastener
	// Squeeze is the volume in mm³ that the part may share with a panel that it clamps.
	Squeeze float64
	Origin  hcl.Range
}

// AddPrinted adds printed parts in their places.
func (f *Frame) AddPrinted(parts ...*PrintedBody) { f.Printed = append(f.Printed, parts...) }
