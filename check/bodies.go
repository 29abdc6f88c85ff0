package check

import (
	"fmt"
	"math"

	"barwright/frame"
	"barwright/geom"
	"barwright/standard"

	"github.com/hashicorp/hcl/v2"
)

// body is a thing on the frame that is no bar: a bracket, a plate, a foot, a panel or a printed part.
type body struct {
	kind   string // "bracket", "plate", "foot", "panel", "printed"
	name   string // as a message calls it
	prisms []prism
	pieces []convex // of a printed part, its screws' heads among them
	box    geom.Box
	owners []*frame.Member // the bars that it sits on
	joint  *frame.Joint    // of a bracket or plate
	sheet  *sheet          // of a panel
	// screwed is set for a panel that lies on its bars.
	screwed bool
	// exact is what a printed part is compared with: a bought bracket with the heads of its screws; nil for prisms.
	exact   []prism
	printed *frame.PrintedBody
	origin  hcl.Range
}

// bracketThickness is the thickness of a bought bracket's leg or plate as a share of its length (common
// practice, no source; the screws' seats are placed by the same share).
const bracketThickness = 1.0 / 6

func (m *model) makeBodies() {
	printed := m.printedJoints()
	for _, j := range m.f.Joints {
		switch {
		case printed[j]:
		case j.Corner != nil:
			m.addBody(bracketBody(j))
		case j.Shared != nil && j.Shared.Joints[0] != j:
			// Its first joint brings the part.
		case j.With.Method == frame.Plate && len(j.Fasteners) > 0:
			m.addBody(plateBody(j))
		}
	}
	for _, t := range m.f.Feet {
		m.addBody(footBody(t))
	}
	for _, p := range m.f.Panels {
		if s, ok := newSheet(p, m.box.Centre()); ok {
			m.addBody(body{kind: "panel", name: fmt.Sprintf("panel %q", p.Name), prisms: s.solid(), owners: p.HeldBy, sheet: &s, screwed: p.Screwed, origin: p.Origin})
		}
	}
	m.addPrinted()
	boxes := make([]geom.Box, len(m.bodies))
	for i := range m.bodies {
		boxes[i] = m.bodies[i].box
	}
	m.bodyTree = newTree(boxes)
}

func (m *model) addBody(b body) {
	b.box = geom.EmptyBox()
	for i := range b.prisms {
		b.box = b.box.Union(b.prisms[i].box)
	}
	for i := range b.exact {
		b.box = b.box.Union(b.exact[i].box)
	}
	for i := range b.pieces {
		b.box = b.box.Union(b.pieces[i].box)
	}
	m.bodies = append(m.bodies, b)
}

// bracketBody returns the two legs of an angle bracket. It is as wide as the slot's cavity.
func bracketBody(j *frame.Joint) body {
	c := j.Corner
	side := c.LegA.Cross(c.LegB).Unit()
	half, thick := j.B.Bar.Profile.Slot.Cavity/2, c.Leg*bracketThickness
	if c.Thick > 0 {
		thick = c.Thick
	}
	leg := func(along, out geom.Vec) prism {
		// Legs of an adjustable bracket or a brace's foot stand at another angle than a right one.
		up := out.Sub(along.Scale(out.Dot(along))).Unit()
		place := geom.Motion{EX: side, EY: along.Cross(side), EZ: along, T: c.At.Add(up.Scale(thick / 2))}
		return rectPrism(place, geom.Vec2{X: half, Y: thick / 2}, 0, c.Leg)
	}
	return body{kind: "bracket", name: fmt.Sprintf("the bracket of %s and %s", j.A.Name, j.B.Name), joint: j,
		prisms: []prism{leg(c.LegA, c.LegB), leg(c.LegB, c.LegA)}, owners: []*frame.Member{j.A, j.B}, origin: j.Origin}
}

// plateBody returns a flat plate over the seats of its screws, with half a pitch less a twentieth round them.
func plateBody(j *frame.Joint) body {
	if s := j.Shared; s != nil {
		return sharedPlate(s)
	}
	box := seatsBox(j.Fasteners, math.Min(j.A.Bar.Profile.Pitch, j.B.Bar.Profile.Pitch))
	return body{kind: "plate", name: fmt.Sprintf("the plate over %s and %s", j.A.Name, j.B.Name), joint: j,
		prisms: []prism{boxPrism(box)}, owners: []*frame.Member{j.A, j.B}, origin: j.Origin}
}

// sharedPlate returns a plate that several joints share: a strip over the bar that runs through, and one over those that butt it.
func sharedPlate(s *frame.Shared) body {
	var strips [2][]frame.Fastener
	for _, j := range s.Joints {
		for _, x := range j.Fasteners {
			k := 1
			if x.TipIn == s.Bars[0] {
				k = 0
			}
			strips[k] = append(strips[k], x)
		}
	}
	out := body{kind: "plate", name: "the plate over " + s.Name(), joint: s.Joints[0], owners: s.Bars[:], origin: s.Origin}
	for _, list := range strips {
		if len(list) > 0 {
			out.prisms = append(out.prisms, boxPrism(seatsBox(list, s.Bars[0].Bar.Profile.Pitch)))
		}
	}
	return out
}

// seatsBox returns the box of a plate over the seats of screws.
func seatsBox(screws []frame.Fastener, pitch float64) geom.Box {
	box := geom.EmptyBox()
	for i := range screws {
		s := &screws[i]
		r := geom.Vec{X: 1, Y: 1, Z: 1}.Sub(geom.Vec{X: math.Abs(s.Dir.X), Y: math.Abs(s.Dir.Y), Z: math.Abs(s.Dir.Z)}).Scale(0.45 * pitch)
		foot := s.Seat.Add(s.Dir.Scale(pitch * bracketThickness))
		box = box.Union(geom.Box{Low: s.Seat.Sub(r), High: s.Seat.Add(r)}).Extend(foot)
	}
	return box
}

// footPad is the radius of a foot's pad and footPadHigh its height, in diameters of its thread (common practice, no
// source).
const (
	footPad     = 2.2
	footPadHigh = 1.5
)

// footBody returns pad, stud and lock nut of a foot, and its slot plate.
func footBody(t *frame.Foot) body {
	d := 8.0
	if row, ok := standard.ThreadByName(t.Thread); ok {
		d = row.Nominal
	}
	flats, high := 1.6*d, 0.8*d
	if nut, ok := standard.HexNut(t.Thread); ok {
		flats, high = nut.AcrossFlats, nut.Height
	}
	unit := math.Min(d, t.Height/5)
	place := geom.Shift(t.At.Sub(geom.Vec{Z: t.Height}))
	top := t.Height
	var prisms []prism
	if t.On == frame.FootSlotPlate {
		side := t.Under.Bar.Profile.Pitch
		top -= 0.7 * unit
		prisms = append(prisms, rectPrism(place, geom.Vec2{X: side / 2, Y: side / 2}, top, t.Height))
	}
	prisms = append(prisms, roundPrism(place, footPad*d, 0, footPadHigh*unit),
		roundPrism(place, d/2, footPadHigh*unit, top), roundPrism(place, flats/2, math.Max(top-high, footPadHigh*unit), top))
	return body{kind: "foot", name: "the foot under " + t.Under.Name, prisms: prisms, owners: []*frame.Member{t.Under}, origin: t.Origin}
}

// sheet is the place of a panel.
type sheet struct {
	panel      *frame.Panel
	normal     geom.Axis
	box        geom.Box // with the edges that stand in slots
	open       geom.Box // the opening between the bars
	engagement float64
	lines      bool // the bars have slots in one plane
}

// newSheet works out where a panel lies: between the inner faces of the bars that hold it, in their slots' common plane, or
// outside on them. It returns false where the bars run so that no plane follows.
func newSheet(p *frame.Panel, centre geom.Vec) (sheet, bool) {
	var along [3]bool
	for _, b := range p.HeldBy {
		if b.Brace {
			return sheet{}, false
		}
		along[b.Axis] = true
	}
	s := sheet{panel: p, normal: -1}
	for ax, has := range along {
		if !has {
			if s.normal >= 0 {
				return sheet{}, false
			}
			s.normal = geom.Axis(ax)
		}
	}
	if s.normal < 0 {
		return sheet{}, false
	}
	s.findOpening()
	s.findPlane(centre)
	return s, !s.open.Empty()
}

// findOpening finds the inner faces of the bars.
func (s *sheet) findOpening() {
	outer, middle := geom.EmptyBox(), geom.Vec{}
	for _, b := range s.panel.HeldBy {
		outer = outer.Union(b.Box)
		middle = middle.Add(b.Box.Centre().Scale(1 / float64(len(s.panel.HeldBy))))
	}
	s.open = outer
	for _, b := range s.panel.HeldBy {
		ax := geom.Axis(3 - int(s.normal) - int(b.Axis))
		if b.Box.Centre().Along(ax) < s.panel.Between(b, ax, middle) {
			s.open.Low = s.open.Low.With(ax, b.Box.High.Along(ax))
		} else {
			s.open.High = s.open.High.With(ax, b.Box.Low.Along(ax))
		}
	}
}

// findPlane places the sheet across the plane: in the slots that all bars have in common, or outside.
func (s *sheet) findPlane(centre geom.Vec) {
	p, n := s.panel, s.normal
	if p.Screwed {
		face := s.open.High.Along(n)
		low := s.open.Centre().Along(n) < centre.Along(n)
		if low {
			face = s.open.Low.Along(n) - p.Thickness
		}
		s.box = geom.EmptyBox()
		for _, b := range p.HeldBy {
			s.box = s.box.Union(b.Box)
		}
		s.box.Low, s.box.High = s.box.Low.With(n, face), s.box.High.With(n, face+p.Thickness)
		s.lines = true
		return
	}
	line, ok := commonLine(p.HeldBy, n, s.open.Centre())
	s.lines = ok
	s.engagement = p.Engagement
	if s.engagement == 0 {
		// A millimetre stays free at the floor of the slot (common practice, no source).
		s.engagement = p.HeldBy[0].Bar.Profile.Slot.Depth - 1
	}
	u, v := n.Others()
	s.box = s.open
	for _, ax := range []geom.Axis{u, v} {
		s.box.Low = s.box.Low.With(ax, s.box.Low.Along(ax)-s.engagement)
		s.box.High = s.box.High.With(ax, s.box.High.Along(ax)+s.engagement)
	}
	s.box.Low, s.box.High = s.box.Low.With(n, line-p.Thickness/2), s.box.High.With(n, line+p.Thickness/2)
	s.open.Low, s.open.High = s.open.Low.With(n, line-p.Thickness/2), s.open.High.With(n, line+p.Thickness/2)
}

// commonLine returns the height along an axis at which the sides of all bars that look to a place have a slot.
func commonLine(bars []*frame.Member, n geom.Axis, middle geom.Vec) (float64, bool) {
	lines := func(b *frame.Member) []float64 {
		ax := geom.Axis(3 - int(n) - int(b.Axis))
		d := ax.Unit()
		if b.Box.Centre().Along(ax) > middle.Along(ax) {
			d = d.Scale(-1)
		}
		side := b.SideFacing(d)
		var out []float64
		for _, o := range b.Bar.Profile.SlotLines(side) {
			out = append(out, b.SidePoint(side, 0, o, 0).Along(n))
		}
		return out
	}
	for _, at := range lines(bars[0]) {
		all := true
		for _, b := range bars[1:] {
			found := false
			for _, v := range lines(b) {
				found = found || math.Abs(v-at) <= slotPlay
			}
			all = all && found
		}
		if all {
			return at, true
		}
	}
	return bars[0].Box.Centre().Along(n), false
}

// slotPlay is how far in mm two slots may lie off one line and still take one thing (common practice, no source).
const slotPlay = 0.25
