package frame

import (
	"fmt"
	"math"
	"slices"

	"github.com/hashicorp/hcl/v2"

	"barwright/geom"
	"barwright/standard"
)

// PanelSheet is the sheet of a panel as it is cut. Its own coordinates are those of the frame's two axes in its plane, in the order of
// the axes that follow the normal's, with the lower corner at the origin; mm.
type PanelSheet struct {
	Normal geom.Axis
	Box    geom.Box // in the frame, before notches
	Size   geom.Vec2
	// Outline goes round counter-clockwise, notches included; Holes are those of a screwed sheet.
	Outline []geom.Vec2
	Holes   []PanelHole
	Notches int
	Mass    float64 // kg
	// Growth is by how much more than the bars the longer side grows in the warmth, mm.
	Growth float64
}

// PanelHole is a hole for a screw.
type PanelHole struct {
	At       geom.Vec2
	Diameter float64
	Thread   string
	Length   float64 // of the screw under its head
	Washers  int     // under its head
	bar      *Member
}

// Figures of panels: common practice, no source.
const (
	panelWarmth  = 40.0  // K above the day of cutting where no limit block says how warm it gets
	panelFree    = 1.0   // mm free at the floor of the slot apart from growth
	panelNotch   = 1.0   // mm round what stands at an edge, beside what the sheet grows
	panelTongue  = 20.0  // mm between two notches, or a notch and a corner, under which what is left would break off
	panelStep    = 250.0 // mm between screws at most
	panelDensity = 1.2e-6
	slotLine     = 0.25 // mm by which slots may lie off one plane
)

// At returns the place in the frame of a point of the sheet, at a height over its low face.
func (s *PanelSheet) At(q geom.Vec2, high float64) geom.Vec {
	u, v := s.Normal.Others()
	return s.Box.Low.Add(u.Unit().Scale(q.X)).Add(v.Unit().Scale(q.Y)).Add(s.Normal.Unit().Scale(high))
}

// cutPanels works out the sheet of every panel whose bars leave one plane.
func (f *Frame) cutPanels() hcl.Diagnostics {
	var diags hcl.Diagnostics
	for _, p := range f.Panels {
		normal, ok := p.normal()
		if !ok {
			continue
		}
		s := &PanelSheet{Normal: normal}
		open, held := p.opening(normal)
		if d := f.clear(p, s, open); d != nil {
			diags = append(diags, d)
			continue
		}
		if !f.lay(p, s, open, held) {
			continue
		}
		s.Size = sizeIn(s.Box, normal)
		s.notch(f, p)
		if p.Screwed {
			if d := s.drill(f, p); d != nil {
				diags = append(diags, d)
				continue
			}
		}
		s.Mass = s.area() * p.Thickness * p.density()
		p.Sheet = s
	}
	return diags
}

// area returns the area of the sheet less its notches and holes, mm².
func (s *PanelSheet) area() float64 {
	a := geom.PolygonArea(s.Outline)
	for _, h := range s.Holes {
		a -= math.Pi / 4 * h.Diameter * h.Diameter
	}
	return a
}

// centroid returns the middle of the sheet's area; holes, which lie round it, are left out.
func (s *PanelSheet) centroid() geom.Vec2 {
	var c geom.Vec2
	for i, a := range s.Outline {
		b := s.Outline[(i+1)%len(s.Outline)]
		c = c.Add(a.Add(b).Scale(a.Cross(b)))
	}
	return c.Scale(1 / (6 * geom.PolygonArea(s.Outline)))
}

func (p *Panel) density() float64 {
	if m, ok := standard.PanelMaterial(p.Material); ok {
		return m.Density
	}
	return panelDensity
}

func sizeIn(b geom.Box, n geom.Axis) geom.Vec2 {
	u, v := n.Others()
	return geom.Vec2{X: b.Size().Along(u), Y: b.Size().Along(v)}
}

// normal returns the axis that none of the bars runs along.
func (p *Panel) normal() (geom.Axis, bool) {
	var along [3]bool
	for _, b := range p.HeldBy {
		if b.Brace {
			return 0, false
		}
		along[b.Axis] = true
	}
	n := -1
	for ax, has := range along {
		if !has && n >= 0 {
			return 0, false
		} else if !has {
			n = ax
		}
	}
	return geom.Axis(max(n, 0)), n >= 0
}

// opening returns the box between the inner faces of the bars, and the bar on each of its sides, low and high on each axis, nil where
// the panel has a free edge.
func (p *Panel) opening(n geom.Axis) (geom.Box, [3][2]*Member) {
	outer, middle := geom.EmptyBox(), geom.Vec{}
	for _, b := range p.HeldBy {
		outer = outer.Union(b.Box)
		middle = middle.Add(b.Box.Centre().Scale(1 / float64(len(p.HeldBy))))
	}
	var held [3][2]*Member
	for _, b := range p.HeldBy {
		ax := geom.Axis(3 - int(n) - int(b.Axis))
		if b.Box.Centre().Along(ax) < p.Between(b, ax, middle) {
			held[ax][0] = b
			outer.Low = outer.Low.With(ax, b.Box.High.Along(ax))
		} else {
			held[ax][1] = b
			outer.High = outer.High.With(ax, b.Box.Low.Along(ax))
		}
	}
	return outer, held
}

// Between returns the coordinate that parts the two bars that run like one: the middle of both, or of all bars where there is no second.
func (p *Panel) Between(b *Member, across geom.Axis, middle geom.Vec) float64 {
	sum, n := 0.0, 0
	for _, o := range p.HeldBy {
		if o.Axis == b.Axis {
			sum += o.Box.Centre().Along(across)
			n++
		}
	}
	if n > 1 {
		return sum / float64(n)
	}
	return middle.Along(across)
}

// clear works out growth, engagement and clearance, or says what fights.
func (f *Frame) clear(p *Panel, s *PanelSheet, open geom.Box) *hcl.Diagnostic {
	warm := panelWarmth
	if f.Limit != nil && f.Limit.Warm > 0 {
		warm = f.Limit.Warm
	}
	size := sizeIn(open, s.Normal)
	alloy, _ := standard.Alloy(geom.DefaultAlloy)
	if m, ok := standard.PanelMaterial(p.Material); ok {
		s.Growth = math.Max(0, m.Expansion-alloy.Expansion) * warm * math.Max(size.X, size.Y)
	}
	if p.Screwed {
		return nil
	}
	depth := math.Inf(1)
	for _, b := range p.HeldBy {
		depth = math.Min(depth, b.Bar.Profile.Slot.Depth)
	}
	need := s.Growth / 2
	switch {
	case p.Engagement > depth+geom.Coincident:
		return problem(p.Origin, fmt.Sprintf("An engagement of %s mm is more than the slot of panel %q is deep", show(p.Engagement), p.Name),
			fmt.Sprintf("The slot is %s mm deep; leave engagement out, and it is worked out.", show(depth)))
	case p.Engagement > 0 && p.Clearance > 0 && p.Engagement+p.Clearance > depth+geom.Coincident:
		return problem(p.Origin, fmt.Sprintf("engagement %s and clearance %s fight the slot of panel %q", show(p.Engagement), show(p.Clearance), p.Name),
			fmt.Sprintf("The slot is %s mm deep.", show(depth)))
	case p.Engagement == 0 && p.Clearance == 0:
		p.Clearance = math.Ceil(2*(panelFree+need)) / 2
		p.Engagement = snap(depth - p.Clearance)
	case p.Engagement == 0:
		p.Engagement = snap(depth - p.Clearance)
	case p.Clearance == 0:
		p.Clearance = snap(depth - p.Engagement)
	}
	lip := p.HeldBy[0].Bar.Profile.Slot.Lip
	switch {
	case p.Clearance < need:
		return problem(p.Origin, fmt.Sprintf("panel %q has no room to grow", p.Name),
			fmt.Sprintf("The sheet grows %.2f mm more than the bars when it gets %g °C warmer; the clearance of %s mm on each side is less than half of that.", s.Growth, warm, show(p.Clearance)))
	case p.Engagement <= lip+need:
		return problem(p.Origin, fmt.Sprintf("panel %q does not stay in its slots", p.Name),
			fmt.Sprintf("An engagement of %s mm reaches too little behind lips of %s mm; with clearance %s the slot of %s mm leaves no more.", show(p.Engagement), show(lip), show(p.Clearance), show(depth)))
	}
	return nil
}

// lay places the sheet: in the slots that the bars have in one plane, or outside on the bars.
func (f *Frame) lay(p *Panel, s *PanelSheet, open geom.Box, held [3][2]*Member) bool {
	n := s.Normal
	u, v := n.Others()
	if p.Screwed {
		s.Box = geom.EmptyBox()
		for _, b := range p.HeldBy {
			s.Box = s.Box.Union(b.Box)
		}
		face := s.Box.High.Along(n)
		if s.Box.Centre().Along(n) < f.centre.Along(n) {
			face = s.Box.Low.Along(n) - p.Thickness
		}
		s.Box.Low, s.Box.High = s.Box.Low.With(n, face), s.Box.High.With(n, face+p.Thickness)
		return true
	}
	line, ok := slotPlane(p.HeldBy, n, open.Centre())
	if !ok {
		return false // a rule of package check tells of it
	}
	s.Box = open
	for _, ax := range []geom.Axis{u, v} {
		if held[ax][0] != nil {
			s.Box.Low = s.Box.Low.With(ax, s.Box.Low.Along(ax)-p.Engagement)
		}
		if held[ax][1] != nil {
			s.Box.High = s.Box.High.With(ax, s.Box.High.Along(ax)+p.Engagement)
		}
	}
	s.Box.Low, s.Box.High = s.Box.Low.With(n, line-p.Thickness/2), s.Box.High.With(n, line+p.Thickness/2)
	size := sizeIn(s.Box, n)
	return size.X > 2*p.Engagement && size.Y > 2*p.Engagement
}

// slotPlane returns the height along an axis at which the sides of all bars that look to a place have a slot.
func slotPlane(bars []*Member, n geom.Axis, middle geom.Vec) (float64, bool) {
	lines := func(b *Member) []float64 {
		ax := geom.Axis(3 - int(n) - int(b.Axis))
		d := ax.Unit()
		if b.Box.Centre().Along(ax) > middle.Along(ax) {
			d = d.Scale(-1)
		}
		var out []float64
		side := b.SideFacing(d)
		for _, o := range b.Bar.Profile.SlotLines(side) {
			out = append(out, b.SidePoint(side, 0, o, 0).Along(n))
		}
		return out
	}
	for _, at := range lines(bars[0]) {
		if !slices.ContainsFunc(bars[1:], func(b *Member) bool {
			return !slices.ContainsFunc(lines(b), func(v float64) bool { return math.Abs(v-at) <= slotLine })
		}) {
			return at, true
		}
	}
	return 0, false
}
