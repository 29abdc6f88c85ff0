package geom

import (
	"fmt"
	"math"
	"strings"
)

// MinWall is the thinnest wall in mm that a section may have.
const MinWall = 0.6

// RuleError says that a shape cannot be. Fields names the two (or more) dimensions that fight, as
// a profile block writes them.
type RuleError struct {
	Rule   string   // short name of the rule: "lips-meet"
	Fields []string // the dimensions that fight: "slot.cavity", "pitch"
	At     Vec2     // place in the section, mm
	Detail string   // what is wrong, with the numbers
}

// Error returns the detail with the names of the fields.
func (e *RuleError) Error() string {
	return fmt.Sprintf("%s (%s)", e.Detail, strings.Join(e.Fields, " against "))
}

// maxCells and maxPitch bound what a profile block may ask for.
const (
	maxCells = 8
	maxPitch = 500
)

// Validate returns a *RuleError for the first rule that the section breaks, or nil.
func (p *Profile) Validate() error {
	if e := p.checkNumbers(); e != nil {
		return e
	}
	if e := p.checkSlot(); e != nil {
		return e
	}
	if e := p.checkWalls(); e != nil {
		return e
	}
	return nil
}

func (p *Profile) checkNumbers() *RuleError {
	type field struct {
		name string
		v    float64
		zero bool // may be zero
	}
	for _, f := range []field{
		{"pitch", p.Pitch, false}, {"corner_radius", p.CornerRadius, true}, {"slot.opening", p.Slot.Opening, false},
		{"slot.lip", p.Slot.Lip, false}, {"slot.cavity", p.Slot.Cavity, false}, {"slot.depth", p.Slot.Depth, false},
		{"slot.chamfer", p.Slot.Chamfer, true}, {"core.bore", p.Core, false},
	} {
		if !(f.v > 0 || f.zero && f.v == 0) || f.v > maxPitch {
			return &RuleError{"size", []string{f.name}, Vec2{}, fmt.Sprintf("%s is %g; it must be a positive size up to %d mm", f.name, f.v, maxPitch)}
		}
	}
	for i, c := range p.Cells {
		if c < 1 || c > maxCells {
			return &RuleError{"cells", []string{"cells"}, Vec2{}, fmt.Sprintf("cells[%d] is %d; a section has 1 to %d pitches each way", i, c, maxCells)}
		}
	}
	return nil
}

func (p *Profile) checkSlot() *RuleError {
	t, h := p.Slot, p.Pitch/2
	at := func(offset, depth float64) Vec2 { return Vec2{offset, h - depth} }
	switch {
	case t.Opening >= t.Cavity:
		return &RuleError{"no-lip", []string{"slot.opening", "slot.cavity"}, at(t.Opening/2, t.Lip),
			fmt.Sprintf("the opening of %g is as wide as the cavity of %g, so that no lip holds a nut", t.Opening, t.Cavity)}
	case t.Lip < MinWall:
		return &RuleError{"thin-lip", []string{"slot.lip"}, at(t.Opening/2, t.Lip),
			fmt.Sprintf("a lip of %g is thinner than %g", t.Lip, MinWall)}
	case t.Lip+t.Chamfer > t.Depth:
		f := []string{"slot.lip", "slot.depth"}
		if t.Lip < t.Depth {
			f = []string{"slot.chamfer", "slot.depth"}
		}
		return &RuleError{"shallow-slot", f, at(t.Cavity/2, t.Depth),
			fmt.Sprintf("a lip of %g and a floor chamfer of %g need %g, the slot is only %g deep", t.Lip, t.Chamfer, t.Lip+t.Chamfer, t.Depth)}
	case t.Lip == t.Depth:
		return &RuleError{"shallow-slot", []string{"slot.lip", "slot.depth"}, at(0, t.Depth),
			fmt.Sprintf("the lip of %g takes the whole depth of %g, so that there is no cavity", t.Lip, t.Depth)}
	case 2*t.Chamfer > t.Cavity:
		return &RuleError{"floor-gone", []string{"slot.chamfer", "slot.cavity"}, at(0, t.Depth),
			fmt.Sprintf("two floor chamfers of %g leave nothing of a cavity %g wide", t.Chamfer, t.Cavity)}
	case t.Opening/2+p.CornerRadius > h:
		return &RuleError{"corner-in-slot", []string{"corner_radius", "slot.opening"}, at(t.Opening/2, 0),
			fmt.Sprintf("a corner radius of %g and half the opening of %g do not fit in half the pitch, %g", p.CornerRadius, t.Opening, h)}
	}
	return nil
}

func (p *Profile) checkWalls() *RuleError {
	t, h := p.Slot, p.Pitch/2
	thin := func(rule string, wall float64, at Vec2, what string, fields ...string) *RuleError {
		if wall >= MinWall-1e-9 {
			return nil
		}
		text := fmt.Sprintf("the wall %s is %.2f thick; at least %g is needed", what, wall, MinWall)
		if wall <= 0 {
			text = fmt.Sprintf("there is no wall left %s (%.2f missing)", what, MinWall-wall)
		}
		return &RuleError{rule, fields, at, text}
	}
	if e := thin("lips-meet", h-t.Cavity/2, Vec2{t.Cavity / 2, h - t.Lip}, "between the cavity and the next outside face", "slot.cavity", "pitch"); e != nil {
		return e
	}
	// The floor chamfers of two neighbouring slots are parallel lines under 45°.
	web := (h - t.Depth - t.Cavity/2 + t.Chamfer) * math.Sqrt2
	if e := thin("slots-meet", web, Vec2{t.Cavity / 2, h - t.Depth}, "between two neighbouring slots", "slot.cavity", "slot.depth"); e != nil {
		return e
	}
	if e := thin("core-in-slot", h-t.Depth-p.Core/2, Vec2{0, h - t.Depth}, "between the core bore and the slot floor", "core.bore", "slot.depth"); e != nil {
		return e
	}
	return thin("corner-in-cavity", p.cornerWall(), Vec2{t.Cavity / 2, h - t.Lip}, "between the outside corner and the cavity", "corner_radius", "slot.cavity")
}

// cornerWall returns the thickness between the rounded outside corner and the nearest corner of a cavity.
func (p *Profile) cornerWall() float64 {
	h, r := p.Pitch/2, p.CornerRadius
	c, q := Vec2{h - r, h - r}, Vec2{p.Slot.Cavity / 2, h - p.Slot.Lip}
	if q.X <= c.X || q.Y <= c.Y {
		return math.Inf(1)
	}
	return r - q.Dist(c)
}
