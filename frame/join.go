package frame

import (
	"fmt"
	"math"

	"barwright/geom"
	"barwright/standard"

	"github.com/hashicorp/hcl/v2"
)

// onLine is how far in mm a core's axis may lie off a slot's centre line and still be
// on it: less than the play of any screw in its slot (common practice, no source).
const onLine = 0.05

// makeJoints chooses the joining of every contact and works out its screws and
// machining. A contact that its joining cannot serve takes the frame's other
// joining; one that this cannot serve either stays a touch.
func (f *Frame) makeJoints() hcl.Diagnostics {
	f.centre = f.Box().Centre()
	if diags := f.blockShared(); diags.HasErrors() {
		return diags
	}
	for i := range f.rules {
		f.rules[i].index()
	}
	choices := make([]choice, len(f.Contacts))
	var corners []*Contact
	for i, c := range f.Contacts {
		if c.Apart {
			continue
		}
		choices[i] = f.chosen(c)
		c.Wanted = choices[i].with
		if c.Wanted != nil && c.Wanted.Method == ThreeWay && choices[i].shared == nil {
			corners = append(corners, c)
		}
	}
	found, missing := f.jointCorners(corners)
	for i, c := range f.Contacts {
		if c.Apart {
			continue
		}
		x := choices[i]
		if s := found[c]; s != nil {
			x.shared = s
			if s.Origin.Filename == "" {
				s.Origin = x.origin
			}
		}
		j, why := f.join(c, x)
		if missing[c] != "" {
			j, why = nil, missing[c]
		}
		if j == nil && why != "" {
			c.Misfit = why
			if f.joiningElse != nil && f.joiningElse != x.with {
				j, _ = f.join(c, choice{with: f.joiningElse, origin: x.origin})
			}
		}
		if j != nil {
			f.Joints = append(f.Joints, j)
		}
	}
	f.sharePlates()
	for _, s := range f.Shared {
		s.seat()
	}
	return nil
}

// choice is the joining that the file asks for at a contact, where it does, and the part that serves other joints too, or nil.
type choice struct {
	with   *Joining
	origin hcl.Range
	shared *Shared
}

// chosen returns the joining of a contact.
func (f *Frame) chosen(c *Contact) choice {
	out := choice{with: f.joining, origin: c.A.Origin}
	for i := range f.rules {
		if r := &f.rules[i]; r.fits(c) {
			out = choice{r.with, r.origin, r.places[c]}
		}
	}
	return out
}

// join makes the joint of a contact with a joining. It returns nil and why where the
// joining does not fit, and nil and "" where the joining is none.
func (f *Frame) join(c *Contact, x choice) (*Joint, string) {
	with := x.with
	if with == nil || with.Method == NoJoining {
		return nil, ""
	}
	j := &Joint{Contact: c, With: with, Size: with.sizeFor(c.A.Bar.Profile.Thread), At: c.Patch.Centre(), Origin: x.origin}
	var why string
	switch with.Method {
	case EndScrew:
		why = j.endScrews()
	case ThroughScrew:
		why = j.throughScrews()
	case AngleBracket:
		why = f.angleBracket(j)
	case Plate:
		var face geom.Vec
		if x.shared != nil {
			face = x.shared.Mount.EZ
		}
		why = f.plate(j, face)
	case ThreeWay:
		if x.shared == nil {
			why = fmt.Sprintf("a printed corner holds three bars that meet; %s and %s alone take \"printed-angle\"", c.A.Name, c.B.Name)
		}
	}
	if why != "" {
		return nil, why
	}
	if x.shared != nil {
		f.share(x.shared, j)
	}
	return j, ""
}

// coreHit is a core bore of the butting bar whose axis meets a cell's centre line of the other bar.
type coreHit struct {
	core   geom.Vec2
	z      float64 // on B from its raw end 0
	offset float64 // on B's side
}

// coreHits returns the cores of A that meet one of the given lines of B's side.
func (c *Contact) coreHits(lines []float64) []coreHit {
	var hits []coreHit
	for _, core := range c.A.Bar.Profile.Cores() {
		z := c.A.Bar.Plane(c.EndA)
		p := c.A.Place.Apply(geom.Vec{X: core.X, Y: core.Y, Z: z})
		zb, offset := c.B.sideCoordinates(c.SideB, p)
		if zb <= 0 || zb >= c.B.Bar.Length {
			continue
		}
		for _, line := range lines {
			if math.Abs(line-offset) <= onLine {
				hits = append(hits, coreHit{core, zb, line})
			}
		}
	}
	return hits
}

// squareEnd says why screws into the end of A cannot be: "" where they can.
func (c *Contact) squareEnd() string {
	switch {
	case c.Kind == EndToEnd:
		return "the bars meet end to end: a screw into one end has no slot to hold its head"
	case c.Kind == SideToSide:
		return "the bars meet side to side: no end is there to be tapped"
	case !c.A.Bar.Cuts[c.EndA].Square():
		return "a mitred end cannot be tapped square to the face that it meets"
	}
	return ""
}

// endScrews adds the screws, taps and access holes of an end-screw joint.
func (j *Joint) endScrews() string {
	if why := j.squareEnd(); why != "" {
		return why
	}
	profile := j.B.Bar.Profile
	if profile.Closed[j.SideB] {
		return fmt.Sprintf("the face of %s that %s meets is closed: it has no slot for the screw's head", j.B.Name, j.A.Name)
	}
	hits := j.coreHits(profile.SlotLines(j.SideB))
	if len(hits) == 0 {
		return j.offLine("slot")
	}
	screw, ok := j.With.screw(j.Size.Screw)
	thread, ok2 := standard.ThreadByName(j.Size.Screw)
	if !ok || !ok2 {
		return fmt.Sprintf("no button head screw of ISO 7380-1 fits the thread %s", j.Size.Screw)
	}
	slot := profile.Slot
	switch {
	case thread.Nominal > slot.Opening:
		return fmt.Sprintf("a screw %s does not pass the slot of %s, %g wide", j.Size.Screw, j.B.Name, slot.Opening)
	case screw.HeadDiameter > slot.Cavity:
		return fmt.Sprintf("the head of a screw %s is %g wide, the slot of %s only %g behind its lips", j.Size.Screw, screw.HeadDiameter, j.B.Name, slot.Cavity)
	case screw.HeadHeight > slot.Depth-slot.Lip:
		return fmt.Sprintf("the head of a screw %s is %g high, the slot of %s only %g deep behind its lips", j.Size.Screw, screw.HeadHeight, j.B.Name, slot.Depth-slot.Lip)
	}
	for _, h := range hits {
		j.tapEnd(h.core)
		hole := Hole{Side: j.SideB.Opposite(), Z: h.z, Offset: -h.offset + 0, Diameter: j.Size.Access, Purpose: Access}
		j.B.Bar.Holes = append(j.B.Bar.Holes, hole)
		j.Fasteners = append(j.Fasteners, Fastener{
			Item: j.With.screwItem(), Standard: screw.Standard, Thread: j.Size.Screw, Length: j.Size.ScrewLength, Key: j.Size.Key,
			Seat: j.B.SidePoint(j.SideB, h.z, h.offset, slot.Lip), Dir: j.Normal.Scale(-1),
			HeadIn: j.B, HeadSide: j.SideB, TipIn: j.A, TipEnd: j.EndA, InSlot: true, Access: &hole,
		})
	}
	return ""
}

// offLine says how far the nearest core of A lies off the lines of B's side.
func (j *Joint) offLine(what string) string {
	near := math.Inf(1)
	for _, core := range j.A.Bar.Profile.Cores() {
		p := j.A.Place.Apply(geom.Vec{X: core.X, Y: core.Y, Z: j.A.Bar.Plane(j.EndA)})
		_, offset := j.B.sideCoordinates(j.SideB, p)
		for _, line := range j.B.Bar.Profile.CellLines(j.SideB) {
			near = math.Min(near, math.Abs(line-offset))
		}
	}
	return fmt.Sprintf("the core of %s lies %.2f mm off the nearest %s centre line of %s", j.A.Name, near, what, j.B.Name)
}

// tapEnd taps a core bore of A at the joint's end.
func (j *Joint) tapEnd(core geom.Vec2) {
	j.A.tap(j.EndA, core, j.Size.Screw, j.Size.TapDepth)
}

// tap cuts a thread into a core bore of the bar.
func (m *Member) tap(end int, core geom.Vec2, thread string, depth float64) {
	bore := m.Bar.Profile.Core
	t := Tap{End: end, Core: core, Thread: thread, Depth: depth, Drill: bore, DrillDepth: depth}
	if row, ok := standard.ThreadByName(thread); ok && !row.Accepts(bore) && bore < row.MinorMin {
		// The bore is opened to the tap drill, three pitches deeper than the
		// thread for the tap's lead (common practice, no source).
		t.Drill, t.DrillDepth = row.TapDrill, depth+3*row.Pitch
	}
	m.Bar.Taps = append(m.Bar.Taps, t)
}

// throughScrews adds the screws, taps and counterbored holes of a through-screw joint.
func (j *Joint) throughScrews() string {
	if why := j.squareEnd(); why != "" {
		return why
	}
	profile, far := j.B.Bar.Profile, j.SideB.Opposite()
	hits := j.coreHits(profile.CellLines(j.SideB))
	if len(hits) == 0 {
		return j.offLine("cell's")
	}
	screw, ok := j.With.screw(j.Size.Screw)
	hole, ok2 := standard.ClearanceHole(j.Size.Screw)
	bore, ok3 := standard.Counterbore(j.Size.Screw)
	thread, ok4 := standard.ThreadByName(j.Size.Screw)
	if !ok || !ok2 || !ok3 || !ok4 {
		return fmt.Sprintf("no cap screw of ISO 4762 fits the thread %s", j.Size.Screw)
	}
	depth := bore.Depth
	if !profile.Closed[far] {
		depth = profile.Slot.Depth // the head seats on the slot's floor
	}
	across := profile.Across(j.SideB)
	if j.Size.ScrewLength == 0 {
		l, ok := standard.RoundUpLengthOf(screw.Standard, j.Size.Screw, across-depth+2*thread.Nominal)
		if !ok {
			return fmt.Sprintf("no stock screw %s is long enough to pass %s, %g thick", j.Size.Screw, j.B.Name, across)
		}
		j.Size.ScrewLength = l
	}
	// Two pitches of thread beyond the screw's tip, so that it cannot bottom out.
	j.Size.TapDepth = math.Max(j.Size.TapDepth, math.Ceil(j.Size.ScrewLength-(across-depth)+2*thread.Pitch))
	for _, h := range hits {
		j.tapEnd(h.core)
		hole := Hole{Side: far, Z: h.z, Offset: -h.offset + 0, Diameter: hole.Medium, Bore: bore.Diameter, BoreDepth: depth, Purpose: Clearance}
		j.B.Bar.Holes = append(j.B.Bar.Holes, hole)
		j.Fasteners = append(j.Fasteners, Fastener{
			Item: j.With.screwItem(), Standard: screw.Standard, Thread: j.Size.Screw, Length: j.Size.ScrewLength, Key: j.Size.Key,
			Seat: j.B.SidePoint(far, h.z, -h.offset, depth), Dir: j.Normal.Scale(-1),
			HeadIn: j.B, HeadSide: far, TipIn: j.A, TipEnd: j.EndA, Access: &hole,
		})
	}
	return ""
}
