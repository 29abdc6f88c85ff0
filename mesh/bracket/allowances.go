package bracket

import (
	"fmt"
	"math"

	"barwright/standard"
)

// Allowances are the figures that come from practice with filament printers, not from a standard: every default
// is common practice, no source. Lengths are mm. Start from [DefaultAllowances].
type Allowances struct {
	Line     float64 // width of a line of extrusion; walls are whole multiples
	Layer    float64 // layer height
	LeastTo  float64 // the thinnest wall allowed: two lines
	VHole    float64 // added to the diameter of holes that stand upright in the print
	HHole    float64 // added to the diameter of holes that lie
	Fit      float64 // clearance on each side of ribs, pegs and tongues in a slot
	Slide    float64 // total clearance of a sleeve on a bar
	First    float64 // chamfer of bottom edges against the first layer's bulge
	Edge     float64 // chamfer of other outer edges
	Bridge   float64 // longest bridge that needs no support
	Seat     float64 // least plastic under a screw head
	NutGap   float64 // added to the width across flats of a nut's pocket
	InsertIn float64 // added to the depth of the hole for a heat-set insert
	Across   float64 // strength across layers over strength along them
	Reach    float64 // length of driver that must find room over a screw's head
	Text     float64 // depth of sunk text
}

// DefaultAllowances returns the defaults: common practice, no source. Bridges of 15 mm lie between the usual 10 and the 25
// that good cooling allows; the counterbore of an M10 head needs 13.
func DefaultAllowances() Allowances {
	typical := func(rule string) float64 {
		r, _ := standard.PrintRuleByName(rule)
		return r.Typical
	}
	return Allowances{
		Line: typical("nozzle"), Layer: typical("layer_height"), LeastTo: 2 * typical("nozzle"),
		VHole: typical("hole_vertical_comp"), HHole: typical("hole_horizontal_comp"),
		Fit: typical("clearance_snug") / 2, Slide: typical("clearance_slide"),
		First: 0.4, Edge: 0.8, Bridge: 15, Seat: typical("screw_head_seat"),
		NutGap: typical("nut_trap_clearance"), InsertIn: typical("heat_set_depth"),
		Across: typical("anisotropy"), Reach: 30, Text: 0.6,
	}
}

// allowanceLimits bounds what a user may ask for, so that the geometry stays sound.
func (a Allowances) check() *Error {
	for _, f := range []struct {
		name      string
		v, lo, hi float64
	}{
		{"line", a.Line, 0.2, 1.2}, {"layer", a.Layer, 0.04, 0.8}, {"least_wall", a.LeastTo, 0.2, 5},
		{"hole_upright", a.VHole, 0, 1}, {"hole_lying", a.HHole, 0, 1}, {"fit", a.Fit, 0, 1}, {"slide", a.Slide, 0, 2},
		{"first_layer", a.First, 0, 0.6}, {"edge", a.Edge, 0, 1}, {"bridge", a.Bridge, 1, 60}, {"seat", a.Seat, 0.4, 10},
		{"nut_gap", a.NutGap, 0, 1}, {"insert_depth", a.InsertIn, 0, 5}, {"across", a.Across, 0.05, 1},
		{"reach", a.Reach, 5, 200}, {"text_depth", a.Text, 0.2, 0.8},
	} {
		if !(f.v >= f.lo && f.v <= f.hi) {
			return fight(RuleParameter, f.name, "the allowance %s is %g; it must be %g to %g", f.name, f.v, f.lo, f.hi)
		}
	}
	return nil
}

// lines rounds a wall up to whole lines of extrusion.
func (a Allowances) lines(wall float64) float64 {
	return math.Round(math.Ceil(wall/a.Line-1e-6)*a.Line*1e4) / 1e4
}

// count returns how many lines a wall has, for notes.
func (a Allowances) count(wall float64) string {
	return fmt.Sprintf("%g mm = %d lines of %g", wall, int(math.Round(wall/a.Line)), a.Line)
}
