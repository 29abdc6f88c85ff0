package frame

import (
	"barwright/geom"

	"github.com/hashicorp/hcl/v2"
)

// ContactKind says which surfaces of two members meet.
type ContactKind string

// The kinds of contact.
const (
	EndToSide  ContactKind = "end-to-side"
	EndToEnd   ContactKind = "end-to-end"
	SideToSide ContactKind = "side-to-side"
)

// Contact is a place where the surfaces of two members meet over an area. In an end-to-side contact A is the
// butting bar and B the bar whose side it meets.
type Contact struct {
	A, B   *Member
	Kind   ContactKind
	EndA   int       // raw end of A, -1 for side to side
	EndB   int       // raw end of B in end to end, else -1
	SideA  geom.Side // raw side of A, side to side only
	SideB  geom.Side // raw side of B unless end to end
	Patch  geom.Box  // the common area, flat on the axis of Normal (for braces its bounding box)
	Normal geom.Vec  // out of A, into B
	// Wanted is the joining that the file chooses here; Misfit says why it cannot
	// serve this contact, "" where it does.
	Wanted *Joining
	Misfit string
	// Apart says that a travelling group lies between the two: no joint is made.
	Apart bool
}

// Method is what a joining does.
type Method string

// The methods of joining. A joining block names one of them as its base.
const (
	EndScrew     Method = "end-screw"     // screw in the tapped end, head in the other bar's slot, access hole through that bar
	ThroughScrew Method = "through-screw" // counterbored clearance hole through the other bar, screw into the tapped end
	AngleBracket Method = "angle-bracket" // bought bracket, screws and slot nuts, no machining
	Plate        Method = "plate"         // flat plate over both bars, screws and slot nuts
	ThreeWay     Method = "three-way"     // printed corner over three bars, screws and slot nuts
	NoJoining    Method = "none"
)

// The built-in joinings by printed parts: an angle bracket or, for a brace, its foot; a flat plate; and a corner that holds three bars.
const (
	PrintedAngle  = "printed-angle"
	PrintedPlate  = "printed-plate"
	PrintedCorner = "printed-corner"
)

// Joining is a joining method with its sizes, by thread of the tapped bar.
type Joining struct {
	Name   string
	Method Method
	// Printed says that its bracket or plate is printed: package bracket makes it.
	Printed bool
	// Sizes holds the figures for each thread; a joining block with figures of
	// its own has a single entry with Thread "" that fits every bar.
	Sizes  []JoiningSize
	Origin hcl.Range
}

// JoiningSize is the figures of a joining for one thread, mm.
type JoiningSize struct {
	Thread      string  // of the core bore that is tapped, or of the bar that the bracket sits on
	Screw       string  // thread of the screw: the core's own for screws into an end
	ScrewLength float64 // 0: computed
	fixed       bool    // the file gives ScrewLength
	TapDepth    float64
	Access      float64 // diameter of the access hole
	Key         float64 // hex key across flats
	Screws      int     // bracket or plate: screws on each bar
}

// Fastener is a screw in its place.
type Fastener struct {
	Item     string  // "button head screw", "socket head cap screw"
	Standard string  // "ISO 7380-1"
	Thread   string  // "M8"
	Length   float64 // mm under the head
	Key      float64 // hex key across flats, mm
	Seat     geom.Vec
	// Dir is the way in which the screw goes in: from head to tip.
	Dir geom.Vec
	// HeadIn is the member on or in which the head seats, HeadSide its raw side
	// that the head presses on; TipIn is the member that the thread goes into (nil for a slot nut's).
	HeadIn   *Member
	HeadSide geom.Side
	TipIn    *Member
	TipEnd   int  // raw end of TipIn that is tapped, -1 where the thread is in a slot nut
	SlotNut  bool // the thread is in a slot nut of TipIn
	InSlot   bool // the head sits in the slot and must slide in from a slot end
	Printed  bool // the head presses on a printed part
	Access   *Hole
}

// Joint is a contact that a joining serves.
type Joint struct {
	*Contact
	With      *Joining
	Size      JoiningSize
	At        geom.Vec // middle of the contact area
	Fasteners []Fastener
	// Corner is where a bracket sits, or nil.
	Corner *Corner
	// Shared is the printed part that serves this joint and others, or nil.
	Shared *Shared
	Origin hcl.Range // the joint block that chose the method, or the frame block
}

// Corner is the place of an angle bracket: the inner edge that its two legs share and the ways
// that the legs lie. LegA lies on A's side along A, LegB on B's side along the
// other direction.
type Corner struct {
	At         geom.Vec // on the inner edge, over the slots' centre line
	LegA, LegB geom.Vec // unit directions from At along the legs
	Leg        float64  // length of each leg, mm
	Thick      float64  // of the legs of a printed part, mm; 0: that of a bought bracket
	SideA      geom.Side
	SideB      geom.Side
}

// Hardware is one line of the hardware list.
type Hardware struct {
	Item     string // "button head screw"
	Standard string // "ISO 7380-1", or "" where no open standard covers it
	Size     string // "M8x20"
	Quantity int
	Note     string
	Mass     float64 // kg each where the item itself knows it: a printed part; else 0
}

// Part is a bar that can be swapped for another: the same profile, length and
// machining after turning.
type Part struct {
	Mark    string
	Bar     Bar // in the part's own coordinates: end 0 is end 1 of the drawing (the datum end), side 0 its face 1
	Members []*Member
	Mass    float64 // kg, machined
	Twin    *Part   // the part that is its mirror image, or nil
}

// Quantity returns how many of the part the frame needs.
func (p *Part) Quantity() int { return len(p.Members) }

// Turn is one of the rotations that map a bar to itself end for end and round
// its axis: first the flip (end for end about the section's x axis), then the quarter turns.
type Turn struct {
	Flip     bool
	Quarters int // counter-clockwise seen against z
}
