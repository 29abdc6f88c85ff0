package statics

import "barwright/geom"

// Sample is one place of a beam's axis and how it moves, for pictures.
type Sample struct {
	At    geom.Vec // undeformed, in the frame, mm
	Shift geom.Vec // mm; in a mode, of which the largest shift is 1
}

// Model returns the model that was solved. Names of members stand in its beams.
func (sol *Solution) Model() *Model { return sol.sys.Model }

// Model returns the model that rings.
func (m *Mode) Model() *Model { return m.sys.Model }

// Samples returns steps+1 places along a beam under the case.
func (sol *Solution) Samples(beam, steps int) []Sample {
	return samples(sol.sys.Model, beam, steps, func(p Place) geom.Vec { return sol.At(p).Shift })
}

// Samples returns steps+1 places along a beam in the mode.
func (m *Mode) Samples(beam, steps int) []Sample { return samples(m.sys.Model, beam, steps, m.At) }

func samples(m *Model, beam, steps int, shift func(Place) geom.Vec) []Sample {
	a, b := m.tips(beam)
	l := a.Dist(b)
	out := make([]Sample, 0, steps+1)
	for i := range steps + 1 {
		s := float64(i) / float64(steps)
		out = append(out, Sample{a.Add(b.Sub(a).Scale(s)), shift(Place{beam, l * s})})
	}
	return out
}
