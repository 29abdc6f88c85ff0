package frame

import (
	"fmt"

	"github.com/hashicorp/hcl/v2"

	"barwright/geom"
)

// Mass is a mass on a member: in one place, spread, or travelling between two places.
type Mass struct {
	Name   string
	Kg     float64
	On     *Member
	Kind   MassKind
	From   float64  // mm from the member's low end
	To     float64  // the other end of what it is spread over or of its path; From where it stands in one place
	Offset geom.Vec // of its centre from the bar's axis, in frame axes, mm
	Origin hcl.Range
}

// MassKind says how a mass lies on its member.
type MassKind string

// The kinds of masses.
const (
	MassAt     MassKind = "at"
	MassSpread MassKind = "spread"
	MassPath   MassKind = "path"
)

// readMasses makes the masses of the mass blocks.
func (l *loader) readMasses() {
	l.each("mass", func(b *block) {
		kg, ok := b.positive("kg", 0)
		m, ok1 := b.member("on")
		offset, ok2 := b.nums("offset", 3)
		if !(ok && ok1 && ok2) || b.tried["on"] || !b.has("kg") {
			return
		}
		mass := &Mass{Name: b.name, Kg: kg, On: m, Origin: b.header}
		if offset != nil {
			mass.Offset = geom.Vec{X: offset[0], Y: offset[1], Z: offset[2]}
		}
		if l.massPlace(b, mass) {
			l.f.Masses = append(l.f.Masses, mass)
		}
	})
}

// massPlace reads at, spread or path.
func (l *loader) massPlace(b *block, mass *Mass) bool {
	var given []string
	for _, w := range []string{"at", "spread", "path"} {
		if b.has(w) {
			given = append(given, w)
		}
	}
	if len(given) > 1 {
		l.fail(b.at(given[1]), fmt.Sprintf("%s fights %s", given[1], given[0]), "A mass stands at one place, is spread, or travels on a path.")
		return false
	}
	if len(given) == 0 || given[0] == "at" {
		at, ok := b.num("at", mass.On.Bar.Length/2)
		mass.Kind, mass.From, mass.To = MassAt, at, at
		return ok && l.onMember(b, "at", mass.On, at)
	}
	ends, ok := b.nums(given[0], 2)
	if !ok || !l.onMember(b, given[0], mass.On, ends[0]) || !l.onMember(b, given[0], mass.On, ends[1]) {
		return false
	}
	if ends[0] >= ends[1] {
		l.fail(b.at(given[0]), fmt.Sprintf("%s goes from %s to %s", given[0], show(ends[0]), show(ends[1])), "The first place is the smaller.")
		return false
	}
	mass.Kind, mass.From, mass.To = MassKind(given[0]), ends[0], ends[1]
	return true
}
