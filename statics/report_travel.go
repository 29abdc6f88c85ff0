package statics

import (
	"maps"

	"barwright/frame"
	"barwright/geom"
)

// shiftSteps is how many equal steps of a group's travel are looked at before its worst place is refined.
const shiftSteps = 4

// travel runs the case of a group at its worst place, and returns the scenes at the ends of its travel and there.
func (r *Report) travel(g *frame.Group) ([]*scene, error) {
	seen := map[float64]*scene{}
	var failed error
	look := func(shift float64) float64 {
		c, err := r.Model.shifted(g, shift)
		if err != nil {
			failed = err
			return 0
		}
		seen[shift] = c
		sol, err := c.sys.Solve(&Case{Field: weight, At: c.places})
		if err != nil {
			return 0 // it tips there: the case below says so
		}
		return sol.Largest(geom.Vec{}).Value
	}
	from, to := g.Travel.From, g.Travel.To
	at := from
	if from != to {
		at, _ = maximumWithin(from, to, shiftSteps, shiftFlat, look)
	} else {
		look(from)
	}
	if failed != nil {
		return nil, failed
	}
	worst := seen[at]
	if worst == nil {
		look(at)
		worst = seen[at]
	}
	r.run(worst, &Case{Name: g.Name + " at its worst place", Field: weight, At: worst.places}, nil)
	worst.places = r.rides(worst, ", "+g.Name+" at its own")
	scenes := []*scene{worst}
	for _, x := range []float64{from, to} {
		if c := seen[x]; c != nil && c != worst {
			scenes = append(scenes, c)
		}
	}
	return scenes, nil
}

// shiftFlat is the share of its travel to which a group's worst place is found: the peak is flat there.
const shiftFlat = 0.01

// shifted returns the frame with one group moved, everything that rides on it in the middle of its path.
func (m *FrameModel) shifted(g *frame.Group, shift float64) (*scene, error) {
	o := m.options
	o.Shifts = maps.Clone(o.Shifts)
	if o.Shifts == nil {
		o.Shifts = map[string]float64{}
	}
	o.Shifts[g.Name] = shift
	n, err := FromFrame(m.Frame, o)
	if err != nil {
		return nil, err
	}
	s, err := n.Prepare()
	if err != nil {
		return nil, err
	}
	return &scene{n, s, n.ridesAt(0.5)}, nil
}
