package frame

import (
	"barwright/geom"

	"github.com/hashicorp/hcl/v2"
)

// Frame is a frame with everything that follows from its file: members in their
// places, joints, machining, parts and hardware. Build one with [Load]; nothing changes it afterwards.
type Frame struct {
	Name       string // the file's stem, or its folder's name where the stem is "frame"
	File       string // as it was given to Load
	Title      string
	Reference  string // the design's own number
	Revision   string
	Units      string  // shown on drawings: "mm" or "inch"
	Projection string  // "first" or "third" angle
	Floor      float64 // its height; where printed pads carry the frame and the file does not say, package job puts it under them
	FloorGiven bool    // the file says it
	// Fingerprint is eight hex digits of the input: the file's text and the settings.
	Fingerprint string
	Settings    []Setting // what --set replaced, in the order of the parameters

	Params    []Param
	Profiles  []*geom.Profile // those that members use, in order of first use
	Members   []*Member       // in the order of the file, sets spread out
	Sets      []*Set
	Groups    []*Group
	Drills    []*Drill
	Feet      []*Foot
	Supports  []*Support
	Stocks    []*Stock
	Suppliers []*Supplier
	Masses    []*Mass
	Panels    []*Panel
	Brackets  []*Bracket // printed parts that the file asks for
	Printing  *Printing  // figures for all printed parts, or nil
	Printed   []*PrintedBody
	Doorways  []*Doorway
	Joinings  []*Joining // built-in ones and the file's own, by name
	Assembly  *Assembly  // what the file says of the order of building, or nil
	Limit     *Limit     // what the frame must keep to, or nil
	// Allowances are the findings that the file lets be.
	Allowances []*Allowance

	Contacts []*Contact // every contact of two members, joints or touches
	Joints   []*Joint
	Shared   []*Shared // printed parts that hold three bars
	// Uses are the printed parts and gauges as the builder meets them, by mark; see AddUses.
	Uses     []*PrintedUse
	Parts    []*Part // by mark
	Hardware []Hardware

	TitleBlock TitleBlock
	// rules are the joint blocks in the order of the file: the last that fits wins.
	rules []jointRule
	// joiningElse is taken where the joint's own joining does not fit the contact.
	joining, joiningElse *Joining
	centre               geom.Vec // of the outer box: brackets look inward

	fittings []Fitting // printed parts and what holds them

	src   []byte // the file's text
	marks *Marks // that parts have had
}

// Param is a number of the frame file that --set can replace.
type Param struct {
	Name     string
	Value    float64
	Min, Max *float64
	Note     string
	Origin   hcl.Range
}

// Setting is one --set name=value.
type Setting struct {
	Name  string
	Value float64
}

// SetKind tells what made a set of members.
type SetKind string

// The kinds of sets.
const (
	Posts SetKind = "posts"
	Ring  SetKind = "ring"
	Row   SetKind = "row"
)

// Set is the members that one posts, ring or row block made.
type Set struct {
	Name    string
	Kind    SetKind
	Members []*Member
	Plane   string // of a ring: "xy", "xz" or "yz"
	Corners string // of a ring: "within", "x-through", "y-through", "pinwheel", or "" where they differ
	Within  *Set   // the posts that a ring stands between, or nil
	Origin  hcl.Range
}

// Box returns the outer box of the set's members.
func (s *Set) Box() geom.Box {
	b := geom.EmptyBox()
	for _, m := range s.Members {
		b = b.Union(m.Box)
	}
	return b
}

// Member is one bar in its place.
type Member struct {
	Name    string // "base.front_rail", "slat[2]"
	Set     *Set   // nil for a member or brace block
	Profile *geom.Profile
	Axis    geom.Axis // of a bar square to the axes; meaningless for a brace
	Brace   bool      // a diagonal: Place is a free turn and Box only its bounding box
	Box     geom.Box  // outer box in the frame
	Place   geom.Motion
	Bar     Bar // machined, in raw bar coordinates: not yet turned to its part's datum
	Origin  hcl.Range
	Mark    string // the mark that the file asks for, or ""

	Part *Part
	// ToPart maps the raw bar to the part's own coordinates.
	ToPart Turn
	Group  *Group // the group it belongs to, or nil
}

// Length returns the cut length over the long points, mm.
func (m *Member) Length() float64 { return m.Bar.Length }

// LowEnd returns the end of the raw bar (0 or 1) that lies at the low end of the
// member's axis: left, front or bottom. For a brace it is the end on its from member.
func (m *Member) LowEnd() int {
	if !m.Brace && m.Axis == geom.Y {
		return 1
	}
	return 0
}

// Group is members that are built as one, or move as one.
type Group struct {
	Name      string
	Members   []*Member
	Travel    *Travel
	Mass      float64   // what rides on it, kg
	CarriedBy []*Member // who bears a travelling group
	Origin    hcl.Range
}

// Travel is the way of a moving group from where it is drawn, mm.
type Travel struct {
	Axis     geom.Axis
	From, To float64
}

// Foot is one foot under a post or rail. It stands on the floor.
type Foot struct {
	Under  *Member
	At     geom.Vec // where its axis meets the underside of the member
	Height float64  // from the floor to the underside
	On     string   // "post-end" or "slot-plate"
	Thread string
	// Given is the height that the file states, or 0: where it differs from
	// Height the feet are not level.
	Given  float64
	Origin hcl.Range
}

// Support is a place where a frame without feet stands or is held.
type Support struct {
	On      *Member
	At      float64 // mm from the member's low end along its axis
	Fixed   [3]bool // which of the shifts along X, Y, Z it holds
	Clamped bool    // holds the turns too
	Origin  hcl.Range
}

// Drill is an extra hole that no joint asks for.
type Drill struct {
	Name   string
	On     []*Member
	Hole   Hole // in raw bar coordinates of the (first) member
	Origin hcl.Range
}

// Stock is the bars of one profile that can be had.
type Stock struct {
	Profile string
	Bars    []StockBar
	Offcuts []float64
	Kerf    float64
	Trim    float64
	Keep    float64 // shortest leftover worth keeping
	Origin  hcl.Range
}

// StockBar is one length that is sold. Quantity 0 means as many as needed.
type StockBar struct {
	Length, Price float64
	Quantity      int
}

// TitleBlock is the fields of the drawings' title block that the file gives (ISO 7200).
type TitleBlock struct {
	Owner, Creator, Approver, Date, DocumentType, Language, Department string
}

// Member returns the member of a name, or nil.
func (f *Frame) Member(name string) *Member {
	for _, m := range f.Members {
		if m.Name == name {
			return m
		}
	}
	return nil
}

// Box returns the outer box of all members.
func (f *Frame) Box() geom.Box {
	b := geom.EmptyBox()
	for _, m := range f.Members {
		b = b.Union(m.Box)
	}
	return b
}
