package frame

import (
	"fmt"
	"math"

	"barwright/geom"

	"github.com/hashicorp/hcl/v2"
)

// Shared is one printed part that holds three bars, and so serves all joints between them: a plate over a crossing, or a three-way
// corner.
type Shared struct {
	Kind string // "plate-cross", "corner-inside" or "corner-outside"
	// Bars are, of a plate, the bar that runs through and the two that butt it; of a corner the bars along EX, EY and
	// EZ of Mount.
	Bars   [3]*Member
	Mount  geom.Motion // from the part's own axes, as package bracket states them for the kind, to the frame
	Joints []*Joint    // those that it serves; none where the file joins the bars otherwise and the part only stiffens them
	Block  *Bracket    // the bracket block that asks for it, nil where the joints do
	Origin hcl.Range
}

// holds reports whether a bar is one of those that the part holds.
func (s *Shared) holds(m *Member) bool { return m == s.Bars[0] || m == s.Bars[1] || m == s.Bars[2] }

// Name names the bars that the part holds.
func (s *Shared) Name() string {
	b := s.Bars
	if s.Kind != crossPlate {
		b = [3]*Member{b[2], b[0], b[1]} // the post first
	}
	return fmt.Sprintf("%s, %s and %s", b[0].Name, b[1].Name, b[2].Name)
}

// Kinds of printed parts that make a difference to the frame itself.
const (
	crossPlate    = "plate-cross"
	insideCorner  = "corner-inside"
	outsideCorner = "corner-outside"
	footPad       = "foot-pad"
	casterPlate   = "caster-plate"
)

// blockShared finds the places of the bracket blocks whose parts hold bars that meet, and lets each block choose the joining of the
// contacts between its bars there.
func (f *Frame) blockShared() hcl.Diagnostics {
	var diags hcl.Diagnostics
	var between map[[2]*Member][]*Contact
	for i := range f.rules {
		r := &f.rules[i]
		if r.block == nil {
			continue
		}
		var list []*Shared
		var d *hcl.Diagnostic
		if r.block.Kind == crossPlate {
			list, d = crossOf(r.block)
		} else {
			list, d = f.cornersOf(r.block)
		}
		if d != nil {
			diags = append(diags, d)
			continue
		}
		f.Shared = append(f.Shared, list...)
		if between == nil {
			between = f.contactsBetween()
		}
		r.places = map[*Contact]*Shared{}
		for _, s := range list {
			for _, p := range [][2]int{{0, 1}, {0, 2}, {1, 2}} {
				for _, c := range between[[2]*Member{s.Bars[p[0]], s.Bars[p[1]]}] {
					if r.places[c] == nil && c.Kind == EndToSide {
						r.places[c] = s
					}
				}
			}
		}
	}
	return diags
}

// contactsBetween lists the contacts of each pair of members, in both orders.
func (f *Frame) contactsBetween() map[[2]*Member][]*Contact {
	out := map[[2]*Member][]*Contact{}
	for _, c := range f.Contacts {
		out[[2]*Member{c.A, c.B}] = append(out[[2]*Member{c.A, c.B}], c)
		out[[2]*Member{c.B, c.A}] = append(out[[2]*Member{c.B, c.A}], c)
	}
	return out
}

// crossOf places the flat plate of a block over a bar and two that butt it from both sides.
func crossOf(b *Bracket) ([]*Shared, *hcl.Diagnostic) {
	if len(b.On) != 3 {
		return nil, problem(b.Origin, fmt.Sprintf("bracket %q names %d bars", b.Name, len(b.On)), "A cross lies over three: the bar that runs through, then the two that butt it.")
	}
	through, first, second := b.On[0], b.On[1], b.On[2]
	z := sideDirection(b.Face)
	if why := crossMisfit(through, first, second, z); why != "" {
		return nil, problem(b.Origin, fmt.Sprintf("No cross plate fits %s, %s and %s", through.Name, first.Name, second.Name), why)
	}
	s := crossOver(through, first, second, z)
	s.Block, s.Origin = b, b.Origin
	return []*Shared{s}, nil
}

// crossMisfit says why no flat plate lies over a bar and two that butt it on the faces that look along z, "" where one does.
func crossMisfit(through, first, second *Member, z geom.Vec) string {
	x := through.Direction()
	y := z.Cross(x)
	if math.Abs(x.Dot(z)) > 1e-6 {
		return fmt.Sprintf("%s runs toward the %s.", through.Name, DirectionName(z))
	}
	face := through.SidePoint(through.SideFacing(z), 0, 0, 0).Dot(z)
	for _, m := range []*Member{first, second} {
		switch {
		case math.Abs(math.Abs(m.Direction().Dot(y))-1) > 1e-6:
			return m.Name + " does not run square to the first bar in the plane of that face."
		case math.Abs(m.SidePoint(m.SideFacing(z), 0, 0, 0).Dot(z)-face) > onLine:
			return fmt.Sprintf("The %s face of %s does not lie in one plane with that of %s.", DirectionName(z), m.Name, through.Name)
		case !m.Bar.Profile.Same(through.Bar.Profile):
			return fmt.Sprintf("%s is of %s, %s of %s: one plate serves one profile.", m.Name, m.Bar.Profile.Name, through.Name, through.Bar.Profile.Name)
		}
	}
	a, b, t := first.Box.Centre(), second.Box.Centre(), through.Box.Centre()
	if math.Abs(a.Dot(x)-b.Dot(x)) > onLine || a.Sub(t).Dot(y)*b.Sub(t).Dot(y) > 0 {
		return "The two that butt it must lie on one line, one on each side."
	}
	return ""
}

// crossOver returns the plate over a bar and two that butt it: x runs along the first bar, z out of the faces.
func crossOver(through, first, second *Member, z geom.Vec) *Shared {
	x := through.Direction()
	at := through.Box.Centre()
	at = at.Add(x.Scale(first.Box.Centre().Sub(at).Dot(x)))
	at = at.Add(z.Scale(through.SidePoint(through.SideFacing(z), 0, 0, 0).Dot(z) - at.Dot(z)))
	return &Shared{Kind: crossPlate, Bars: [3]*Member{through, first, second}, Mount: geom.Motion{EX: x, EY: z.Cross(x), EZ: z, T: at}}
}

// sharePlates lets one plate serve two joints by printed plates whose bars butt a third from both sides on one line, where two plates
// would run into each other.
func (f *Frame) sharePlates() {
	type key struct {
		through *Member
		face    geom.Side
		at      int64 // along the bar, tenths of a millimetre
	}
	waiting := map[key]*Joint{}
	for _, j := range f.Joints {
		if j.With.Method != Plate || !j.With.Printed || j.Kind != EndToSide || j.A.Brace || j.Shared != nil || len(j.Fasteners) == 0 {
			continue
		}
		z := j.Fasteners[0].Dir.Scale(-1)
		k := key{j.B, j.B.SideFacing(z), int64(math.Round(j.A.Box.Centre().Dot(j.B.Direction()) * 10))}
		o := waiting[k]
		if o == nil {
			waiting[k] = j
			continue
		}
		if crossMisfit(j.B, o.A, j.A, z) != "" {
			continue
		}
		delete(waiting, k)
		s := crossOver(j.B, o.A, j.A, z)
		s.Origin = o.Origin
		f.share(s, o)
		f.share(s, j)
		f.Shared = append(f.Shared, s)
	}
}

// share lets a part serve a joint. The screws in a bar that two joints of a plate have in common are the first one's.
func (f *Frame) share(s *Shared, j *Joint) {
	j.Shared = s
	if s.Kind == crossPlate && len(s.Joints) > 0 {
		var own []Fastener
		for _, x := range j.Fasteners {
			if x.TipIn == j.A {
				own = append(own, x)
			}
		}
		j.Fasteners = own
	}
	s.Joints = append(s.Joints, j)
}
