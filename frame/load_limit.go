package frame

import (
	"barwright/geom"

	"github.com/hashicorp/hcl/v2"
)

// Limit is what the frame must bear beside its own weight, and how much it may give. A zero stands for no limit, and for
// no such load.
type Limit struct {
	Sag       float64 // largest shift of any place in any load case, mm
	Frequency float64 // lowest natural frequency, Hz
	Racking   float64 // least stiffness against a push at the top, N/mm
	Stress    float64 // largest share of the yield strength, 0 to 1
	// Accelerate is the acceleration of what travels, in g along X, Y and Z of the frame.
	Accelerate geom.Vec
	Warm       float64 // rise of the temperature of all bars, K
	Origin     hcl.Range
	// Where are the lines of the attributes, by name, for findings that point at them.
	Where map[string]hcl.Range
}

// At returns the line of an attribute, or of the block where it is not given.
func (l *Limit) At(name string) hcl.Range {
	if r, ok := l.Where[name]; ok {
		return r
	}
	return l.Origin
}

// readLimit reads the limit block.
func (l *loader) readLimit() {
	b := l.only("limit")
	if b == nil {
		return
	}
	out := &Limit{Origin: b.header, Where: map[string]hcl.Range{}}
	good := true
	for _, v := range []struct {
		name string
		into *float64
	}{{"sag", &out.Sag}, {"frequency", &out.Frequency}, {"racking", &out.Racking}, {"stress", &out.Stress}} {
		var ok bool
		*v.into, ok = b.positive(v.name, 0)
		good = good && ok
	}
	if out.Stress > 1 {
		l.fail(b.at("stress"), "stress is more than 1", "It is a share of the yield strength: 0.5 is half of it.")
		return
	}
	var ok, ok1 bool
	out.Warm, ok = b.num("warm", 0)
	g, ok1 := b.nums("accelerate", 3)
	if !good || !ok || !ok1 {
		return
	}
	if g != nil {
		out.Accelerate = geom.Vec{X: g[0], Y: g[1], Z: g[2]}
	}
	if !l.withinReason(b, out) {
		return
	}
	for name := range b.attrs {
		out.Where[name] = b.at(name)
	}
	l.f.Limit = out
}

// Bounds of what a limit block may ask for: beyond them beam theory and elastic metal say nothing.
const (
	mostG    = 100.0 // g
	mostWarm = 200.0 // K
)

// withinReason refuses accelerations and temperatures that can't be meant.
func (l *loader) withinReason(b *block, m *Limit) bool {
	switch a := m.Accelerate; {
	case a.Len() > mostG:
		l.fail(b.at("accelerate"), "accelerate is more than 100 g", "It is in g: [0.5, 0, 0] is half of gravity, along X.")
		return false
	case m.Warm > mostWarm || m.Warm < -mostWarm:
		l.fail(b.at("warm"), "warm is more than 200 K", "It is how much warmer the bars get than on the day of building.")
		return false
	}
	return true
}
