package frame

import "barwright/geom"

// Bar is one machined bar in its own coordinates: the section in x and y, the
// bar from z = 0 (end 0) to z = Length (end 1), mm. It is all that a mesh or a part drawing
// needs to know.
type Bar struct {
	Profile *geom.Profile
	Length  float64 // over the long points where an end is mitred
	Cuts    [2]Cut  // the planes of the ends
	Holes   []Hole  // sorted by side, place, offset
	Taps    []Tap   // sorted by end, place
}

// Cut is the plane that ends a bar: z = z0 + SlopeX·x + SlopeY·y. The zero Cut is
// square. z0 is such that the long point of the section's outer rectangle lies on
// z = 0 at end 0 and on z = Length at end 1.
type Cut struct{ SlopeX, SlopeY float64 }

// Square reports whether the cut is square to the bar.
func (c Cut) Square() bool { return c == Cut{} }

// Plane returns the z0 of an end's cut plane z = z0 + SlopeX·x + SlopeY·y.
func (b *Bar) Plane(end int) float64 {
	size := b.Profile.Size()
	c := b.Cuts[end]
	reach := float64(abs(c.SlopeX)*size.X/2) + float64(abs(c.SlopeY)*size.Y/2)
	if end == 0 {
		return reach
	}
	return b.Length - reach
}

func abs(v float64) float64 {
	if v < 0 {
		return -v
	}
	return v
}

// Purpose says what a hole is for.
type Purpose int

// The purposes of a hole.
const (
	Access    Purpose = iota // the hex key passes to a screw in the opposite slot
	Clearance                // a screw passes
	Drilled                  // asked for by a drill block
)

// String returns the word used in lists: "access", "clearance", "drilled".
func (p Purpose) String() string { return [...]string{"access", "clearance", "drilled"}[p] }

// Hole is a round hole square to one side of a bar. Its floor, if it has one, is drawn flat; the cone
// of the drill lies beyond the depth, as ISO 129-1 dimensions blind holes.
type Hole struct {
	Side        geom.Side // the side that the drill (and the key) enters
	Z           float64   // mm from end 0
	Offset      float64   // mm from the middle of the side, growing toward the next side
	Diameter    float64
	Depth       float64 // from the outside face; 0: through the whole section
	Bore        float64 // diameter of a counterbore; 0: none
	BoreDepth   float64 // from the outside face
	Thread      string  // "M6": the hole is tapped, and Diameter is the tap drill; "": plain
	ThreadDepth float64 // full thread from the outside face; 0 with a Thread: through
	Purpose     Purpose
}

// Through reports whether the hole goes through the whole section.
func (h Hole) Through() bool { return h.Depth == 0 }

// Tap is a thread cut into a core bore from an end.
type Tap struct {
	End        int       // 0 or 1
	Core       geom.Vec2 // centre of the core bore in the section
	Thread     string    // "M8"
	Depth      float64   // full thread from the end, mm
	Drill      float64   // diameter of the bore under the thread; the core bore as extruded where they are equal
	DrillDepth float64   // from the end, mm; where Drill is the core bore as extruded, equal to Depth
}
