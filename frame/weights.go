package frame

import (
	"fmt"
	"slices"
	"strings"

	"barwright/geom"
)

// FittingKind says what a fitting is.
type FittingKind string

// The kinds of fittings.
const (
	PanelFitting    FittingKind = "panel"
	PrintedFitting  FittingKind = "printed part"
	HardwareFitting FittingKind = "hardware" // screws and nuts
)

// Fitting is something besides the bars whose mass is known, where it sits.
type Fitting struct {
	Kind FittingKind
	Name string
	Kg   float64
	At   geom.Vec  // its centre of gravity in the frame, mm; of a screw its seat
	On   []*Member // the bars that hold it
	Last bool      // it goes on when all bars stand: a screwed panel and its screws
}

// AddFittings adds printed parts and what holds them, which the frame cannot work out itself.
func (f *Frame) AddFittings(list []Fitting) { f.fittings = append(f.fittings, list...) }

// Fittings returns everything besides the bars whose mass is known: panels, the screws and nuts of joints, feet and panels, and what
// was added with [Frame.AddFittings].
func (f *Frame) Fittings() []Fitting {
	var out []Fitting
	for _, p := range f.Panels {
		if s := p.Sheet; s != nil {
			out = append(out, Fitting{Kind: PanelFitting, Name: p.Name, Kg: s.Mass, At: s.At(s.centroid(), p.Thickness/2), On: p.HeldBy, Last: p.Screwed})
		}
	}
	out = append(out, f.fittings...)
	add := func(h Hardware, n int, at geom.Vec, last bool, on ...*Member) {
		if kg := h.Kg(); kg > 0 && n > 0 {
			out = append(out, Fitting{Kind: HardwareFitting, Name: h.Item + " " + h.Size, Kg: kg * float64(n), At: at, On: on, Last: last})
		}
	}
	for _, j := range f.Joints {
		if j.With.Printed {
			continue // its part brings its own
		}
		for i := range j.Fasteners {
			add(j.Fasteners[i].hardware(), 1, j.Fasteners[i].Seat, false, j.A, j.B)
		}
	}
	for _, t := range f.Feet {
		add(footNut(t), 1, t.At, false, t.Under)
		if t.On == FootSlotPlate {
			add(plateScrew(t), slotPlateScrews, t.At, false, t.Under)
		}
	}
	for _, p := range f.Panels {
		if p.Sheet == nil {
			continue
		}
		for _, h := range p.Sheet.Holes {
			add(h.screw(), 1, p.Sheet.At(h.At, p.Thickness), true, h.bar)
			add(h.washer(), h.Washers, p.Sheet.At(h.At, p.Thickness), true, h.bar)
		}
	}
	return out
}

// Weights is the mass of a frame by what it is made of, kg. What it carries is not among it.
type Weights struct {
	Bars     float64 // machined
	Panels   float64 // as cut
	Printed  float64 // printed parts on the frame, as if printed solid; not gauges and jigs
	Hardware float64 // screws and nuts of a standard, by its sizes; not the spares
	// Uncounted is what the frame has besides and no mass is known of: "slot nuts", "levelling feet".
	Uncounted []string
}

// Weights returns the mass of the frame by what it is made of. Printed parts are among it once they were added with [Frame.AddFittings].
func (f *Frame) Weights() Weights {
	var w Weights
	for _, p := range f.Parts {
		w.Bars += p.Mass * float64(p.Quantity())
	}
	for _, t := range f.Fittings() {
		switch t.Kind {
		case PanelFitting:
			w.Panels += t.Kg
		case PrintedFitting:
			w.Printed += t.Kg
		case HardwareFitting:
			w.Hardware += t.Kg
		}
	}
	for _, h := range f.Hardware {
		if name := plural(h.Item); h.Kg() == 0 && !slices.Contains(w.Uncounted, name) {
			w.Uncounted = append(w.Uncounted, name)
		}
	}
	for _, p := range f.Panels {
		if p.Sheet == nil {
			w.Uncounted = append(w.Uncounted, fmt.Sprintf("panel %q", p.Name))
		}
	}
	return w
}

// plural returns the plural of an item of the hardware list.
func plural(item string) string {
	if rest, ok := strings.CutSuffix(item, "foot"); ok {
		return rest + "feet"
	}
	return item + "s"
}

// Total returns the sum, kg.
func (w Weights) Total() float64 { return w.Bars + w.Panels + w.Printed + w.Hardware }

// String says what is counted and what is not: "bars 9.08 kg, panels 2.04 kg, screws and nuts 0.31 kg; slot nuts and levelling feet are not counted".
func (w Weights) String() string {
	var parts []string
	for _, p := range []struct {
		name string
		kg   float64
	}{{"bars", w.Bars}, {"panels", w.Panels}, {"printed parts", w.Printed}, {"screws and nuts", w.Hardware}} {
		if p.kg > 0 {
			parts = append(parts, fmt.Sprintf("%s %.2f kg", p.name, p.kg))
		}
	}
	s := strings.Join(parts, ", ")
	if u := w.Uncounted; len(u) > 0 {
		are := "are"
		if len(u) == 1 && strings.HasPrefix(u[0], "panel ") {
			are = "is"
		}
		s += "; " + andList(u) + " " + are + " not counted"
	}
	return s
}

// andList joins names: "a", "a and b", "a, b and c".
func andList(names []string) string {
	if n := len(names); n > 1 {
		return strings.Join(names[:n-1], ", ") + " and " + names[n-1]
	}
	return strings.Join(names, "")
}

// Mass returns the mass of the frame in kg as far as it is known: see [Frame.Weights].
func (f *Frame) Mass() float64 { return f.Weights().Total() }

// MassOf returns the mass in kg of some bars with the fittings that they alone hold.
func (f *Frame) MassOf(bars []*Member) float64 {
	kg := 0.0
	among := make(map[*Member]bool, len(bars))
	for _, b := range bars {
		kg += b.Part.Mass
		among[b] = true
	}
	for _, t := range f.Fittings() {
		held := true
		for _, b := range t.On {
			held = held && among[b]
		}
		if held {
			kg += t.Kg
		}
	}
	return kg
}
