package frame

import (
	"fmt"
	"math"

	"github.com/hashicorp/hcl/v2"

	"barwright/geom"
	"barwright/standard"
)

// drill adds the holes of a screwed sheet, over the bars' slots, wide enough for what the sheet grows. It says why a bar can't hold it.
func (s *PanelSheet) drill(f *Frame, p *Panel) *hcl.Diagnostic {
	toward := s.Normal.Unit()
	if s.Box.Centre().Along(s.Normal) < f.centre.Along(s.Normal) {
		toward = toward.Scale(-1)
	}
	for _, b := range p.HeldBy {
		side := b.SideFacing(toward)
		line, ok := s.slotUnder(b, side)
		if !ok {
			return problem(p.Origin, fmt.Sprintf("panel %q can't be screwed to %s", p.Name, b.Name),
				fmt.Sprintf("The %s side of %s has no slot. Turn the bar, or take another one.", DirectionName(toward), b.Name))
		}
		if gap := math.Abs(b.SidePoint(side, 0, 0, 0).Sub(s.Box.Centre()).Dot(toward)) - p.Thickness/2; gap > slotLine {
			return problem(p.Origin, fmt.Sprintf("panel %q does not lie on %s", p.Name, b.Name),
				fmt.Sprintf("The %s side of %s stands %s mm back from that of the other bars. Move the bar, or leave it out of held_by.", DirectionName(toward), b.Name, show(gap)))
		}
		if !s.row(p, b, line) {
			size := bracketSizeFor(b.Bar.Profile.Thread)
			return problem(p.Origin, fmt.Sprintf("No screw holds panel %q on %s", p.Name, b.Name),
				fmt.Sprintf("Through a sheet of %s mm every stock length of %s is too short for the nut or meets the slot's floor, %s mm deep, with washers too. Take another thickness.",
					show(p.Thickness), size.Screw, show(b.Bar.Profile.Slot.Depth)))
		}
	}
	return nil
}

// slotUnder returns a point of the slot line on a bar's side over which the holes lie: of several lines the one nearest to the
// sheet's middle, where most of the sheet is left round the hole.
func (s *PanelSheet) slotUnder(b *Member, side geom.Side) (geom.Vec, bool) {
	across := geom.Axis(3 - int(s.Normal) - int(b.Axis))
	middle := s.Box.Centre().Along(across)
	var best geom.Vec
	least := math.Inf(1)
	for _, o := range b.Bar.Profile.SlotLines(side) {
		at := b.SidePoint(side, 0, o, 0)
		if d := math.Abs(at.Along(across) - middle); d < least-geom.Coincident {
			best, least = at, d
		}
	}
	return best, !math.IsInf(least, 1)
}

// row adds the holes over one bar: one and a half pitches from its ends, at most panelStep apart; on a short bar one in its middle. It is false
// where no screw fits.
func (s *PanelSheet) row(p *Panel, b *Member, line geom.Vec) bool {
	size := bracketSizeFor(b.Bar.Profile.Thread)
	hole, ok := standard.ClearanceHole(size.Screw)
	length, under, ok2 := panelScrew(size.Screw, b.Bar.Profile.Slot, p.Thickness)
	if !ok || !ok2 {
		return false
	}
	u, v := s.Normal.Others()
	add := func(along float64) {
		at := line.With(b.Axis, along).Sub(s.Box.Low)
		s.Holes = append(s.Holes, PanelHole{At: geom.Vec2{X: at.Along(u), Y: at.Along(v)}, Diameter: math.Ceil(2*(hole.Medium+s.Growth)) / 2,
			Thread: size.Screw, Length: length, Washers: under, bar: b})
	}
	lo, hi := b.Box.Low.Along(b.Axis), b.Box.High.Along(b.Axis)
	inset := 1.5 * b.Bar.Profile.Pitch
	span := hi - lo - 2*inset
	if span < inset {
		add((lo + hi) / 2)
		return true
	}
	n := math.Ceil(span / panelStep)
	for k := 0.0; k <= n; k++ {
		add(lo + inset + span*k/n)
	}
	return true
}

// panelWashers is how many washers go under a panel screw's head at most (common practice, no source).
const panelWashers = 3

// panelScrew returns the length of the screw through a sheet into a slot nut, and the washers under its head: as few as let a stock
// length hold in the nut without meeting the slot's floor.
func panelScrew(thread string, slot geom.Slot, thickness float64) (length float64, washers int, ok bool) {
	washer, _ := standard.Washer(thread)
	for n := 0; n <= panelWashers; n++ {
		if l := slotScrew("ISO 7380-1", thread, slot, thickness+float64(n)*washer.Thickness, 0); l > 0 {
			return l, n, true
		}
	}
	return 0, 0, false
}

// screw returns the list line of the hole's screw.
func (h *PanelHole) screw() Hardware {
	return Hardware{Item: "button head screw", Standard: "ISO 7380-1", Size: fmt.Sprintf("%sx%g", h.Thread, h.Length)}
}

// washer returns the list line of a washer under its head.
func (h *PanelHole) washer() Hardware {
	return Hardware{Item: "plain washer", Standard: "ISO 7089", Size: h.Thread}
}

// panelHardware lists the screws and nuts of the screwed panels.
func (f *Frame) panelHardware(add func(h Hardware, n int)) {
	for _, p := range f.Panels {
		if p.Sheet == nil {
			continue
		}
		for _, h := range p.Sheet.Holes {
			add(h.screw(), 1)
			if h.Washers > 0 {
				add(h.washer(), h.Washers)
			}
			add(slotNut(h.bar, h.Thread), 1)
		}
	}
}
