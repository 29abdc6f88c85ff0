package statics

import (
	"fmt"
	"math"

	"barwright/geom"
)

// LoadOptions say which load cases are run, beside standing and each travelling mass at its worst place.
type LoadOptions struct {
	// Push is the force in N of the push at the top, 0: 100 N.
	Push float64
	// Accelerate is the acceleration of what travels, in g along X, Y, Z.
	Accelerate geom.Vec
	// Warm is a rise of temperature of the whole frame, K.
	Warm float64
	// Modes is how many natural frequencies are found, 0: six.
	Modes int
}

// Report is everything that the stiffness command tells. Its JSON names are stable.
type Report struct {
	LoadCases   []LoadCase `json:"load_cases"`
	Frequencies []float64  `json:"frequencies_hz"`
	// ModePlaces are the places of travelling masses in the modes, the worst ones.
	ModeMasses []MassPlace `json:"mode_masses,omitempty"`
	Racking    []Racking   `json:"racking"`
	Mass       float64     `json:"mass_kg"`
	Notes      []string    `json:"notes"`
	Caution    string      `json:"caution"`

	// Solutions and Modes are what the pictures are drawn from.
	Model     *FrameModel `json:"-"`
	Solutions []*Solution `json:"-"`
	Modes     []Mode      `json:"-"`
}

// LoadCase is the result of one case.
type LoadCase struct {
	Name        string           `json:"name"`
	Deflection  float64          `json:"max_deflection_mm"`
	AtMember    string           `json:"at_member"`
	At          [3]float64       `json:"at_mm"`
	Sag         float64          `json:"max_sag_mm"`
	Slope       float64          `json:"max_slope_mm_per_m"`
	Stress      float64          `json:"max_stress_mpa"`
	StressAt    string           `json:"max_stress_member"`
	Utilisation float64          `json:"utilisation"`
	Reactions   []ReactionReport `json:"reactions_n"`
	Lifted      []string         `json:"lifted,omitempty"`
	Masses      []MassPlace      `json:"masses,omitempty"`
	Envelope    []EnvelopePoint  `json:"envelope,omitempty"`
	// Failed says why the case has no result: the frame tips.
	Failed string `json:"failed,omitempty"`
}

// ReactionReport is the force that a foot gives.
type ReactionReport struct {
	Name  string     `json:"name"`
	At    [3]float64 `json:"at_mm"`
	Force [3]float64 `json:"force_n"`
}

// MassPlace is where a travelling mass stands.
type MassPlace struct {
	Name   string     `json:"name"`
	Member string     `json:"member"`
	At     [3]float64 `json:"at_mm"`
}

// EnvelopePoint is one place of a travelling mass: its way along the path, and how far the bar gives under it.
type EnvelopePoint struct {
	Way     float64 `json:"way_mm"`
	Under   float64 `json:"under_mass_mm"`
	Largest float64 `json:"max_deflection_mm"`
}

// Racking is the push at the top in one direction.
type Racking struct {
	Direction string  `json:"direction"`
	Push      float64 `json:"push_n"`
	Shift     float64 `json:"shift_mm"`
	Stiffness float64 `json:"stiffness_n_per_mm"`
}

// Analyse runs the load cases of a frame's model and finds its frequencies. It returns a [*Mechanism] where
// something can move freely.
func (m *FrameModel) Analyse(o LoadOptions) (*Report, error) {
	if o.Push == 0 {
		o.Push = 100
	}
	if o.Modes == 0 {
		o.Modes = 6
	}
	s, err := m.Prepare()
	if err != nil {
		return nil, err
	}
	r := &Report{Model: m, Notes: m.Notes, Caution: Caution, Mass: tidy(m.mass()), LoadCases: []LoadCase{}, Frequencies: []float64{}, Racking: []Racking{}}
	weight := geom.Vec{Z: -Gravity}
	standing := &Case{Name: "standing", Field: weight, At: m.parked()}
	first := r.run(s, standing, nil)
	places := m.parked()
	for i := range m.Rides {
		w, err := s.Worst(m.Rides[i].Masses, standing)
		if err != nil {
			r.LoadCases = append(r.LoadCases, LoadCase{Name: m.Rides[i].Name + " at its worst place", Failed: err.Error(), Reactions: []ReactionReport{}})
			continue
		}
		for k, p := range w.Places {
			places[k] = p
		}
		r.run(s, &Case{Name: m.Rides[i].Name + " at its worst place", Field: weight, At: w.Solution.Case.At}, w)
	}
	r.extra(s, o, weight, places)
	r.rack(s, o)
	return r, r.ring(s, o, first, places)
}

// mass returns everything that the model weighs, kg.
func (m *FrameModel) mass() (kg float64) {
	for i, b := range m.Beams {
		if !b.Massless {
			kg += m.length(i) * b.Section.Area * b.Material.Density
		}
	}
	for _, x := range m.Masses {
		kg += x.Kg
	}
	return kg
}

// parked puts every travelling mass at the beginning of its path.
func (m *FrameModel) parked() map[int]Place {
	out := map[int]Place{}
	for i, x := range m.Masses {
		if x.Travels && len(x.Path) > 0 {
			out[i] = Place{x.Path[0].Beam, x.Path[0].From}
		}
	}
	return out
}

// extra runs acceleration and warming.
func (r *Report) extra(s *System, o LoadOptions, weight geom.Vec, places map[int]Place) {
	if o.Accelerate != (geom.Vec{}) && len(places) > 0 {
		field := map[int]geom.Vec{}
		for i := range places {
			field[i] = o.Accelerate.Scale(-Gravity) // the inertia of what speeds up pushes back
		}
		a := o.Accelerate
		r.run(s, &Case{Name: fmt.Sprintf("accelerating (%g, %g, %g) g", a.X, a.Y, a.Z), Field: weight, At: places, MassField: field}, nil)
	}
	if o.Warm != 0 {
		r.run(s, &Case{Name: fmt.Sprintf("warmed by %g K", o.Warm), Field: weight, At: places, Warm: o.Warm}, nil)
	}
}

// run solves a case and adds its result.
func (r *Report) run(s *System, c *Case, w *Worst) *Solution {
	out := LoadCase{Name: c.Name, Reactions: []ReactionReport{}}
	sol, err := s.Solve(c)
	if err != nil {
		out.Failed = err.Error()
		r.LoadCases = append(r.LoadCases, out)
		return nil
	}
	m := r.Model
	p := sol.Largest(geom.Vec{})
	out.Deflection, out.At = tidy(p.Value), triple(p.At)
	out.AtMember = m.Beams[p.Beam].Member
	out.Sag = tidy(math.Max(0, sol.Largest(geom.Vec{Z: -1}).Value))
	out.Slope = tidy(sol.Slope() * 1000)
	st := sol.Stress()
	out.Stress, out.Utilisation, out.StressAt = tidy(st.Value), tidy(st.Utilisation), m.Beams[st.Beam].Member
	for _, q := range sol.Reactions() {
		sup := m.Supports[q.Support]
		out.Reactions = append(out.Reactions, ReactionReport{sup.Name, triple(m.Nodes[sup.Node]), triple(q.Force)})
	}
	for _, i := range sol.Lifted {
		out.Lifted = append(out.Lifted, m.Supports[i].Name)
	}
	out.Masses = r.places(c.At)
	if w != nil {
		for _, e := range w.Envelope {
			out.Envelope = append(out.Envelope, EnvelopePoint{tidy(e.Way), tidy(e.Under), tidy(e.Largest)})
		}
	}
	r.LoadCases = append(r.LoadCases, out)
	r.Solutions = append(r.Solutions, sol)
	return sol
}

// places lists where masses stand, in the order of the model.
func (r *Report) places(at map[int]Place) (out []MassPlace) {
	m := r.Model
	for i := range m.Masses {
		p, ok := at[i]
		if !ok {
			continue
		}
		a, b := m.tips(p.Beam)
		out = append(out, MassPlace{m.Masses[i].Name, m.Beams[p.Beam].Member, triple(a.Add(b.Sub(a).Unit().Scale(p.At)))})
	}
	return out
}

// topShare is the height below the top of the frame, as a share of its height, in which bars take the push.
const topShare = 0.02

// rack pushes the top along X and Y, evenly on every node up there, and reads the mean shift. The feet hold, as weight keeps
// them down.
func (r *Report) rack(s *System, o LoadOptions) {
	low, high := math.Inf(1), math.Inf(-1)
	for _, n := range s.Nodes {
		low, high = math.Min(low, n.Z), math.Max(high, n.Z)
	}
	var top []int
	for i, n := range s.Nodes {
		if n.Z >= high-topShare*(high-low)-geom.Coincident {
			top = append(top, i)
		}
	}
	if high-low < geom.Coincident {
		return
	}
	for _, ax := range []geom.Axis{geom.X, geom.Y} {
		c := &Case{Name: "push along " + axisName(ax.Unit())}
		for _, n := range top {
			c.Nodes = append(c.Nodes, NodeLoad{Node: n, Force: ax.Unit().Scale(o.Push / float64(len(top)))})
		}
		sol := s.solveHeld(c)
		var shift float64
		for _, n := range top {
			shift += sol.Shift(n).Along(ax) / float64(len(top))
		}
		r.Solutions = append(r.Solutions, sol)
		r.Racking = append(r.Racking, Racking{axisName(ax.Unit()), o.Push, tidy(shift), tidy(o.Push / shift)})
	}
}

// ring finds the frequencies, with the feet that lift under weight left out and travelling masses where they ring lowest.
func (r *Report) ring(s *System, o LoadOptions, standing *Solution, worst map[int]Place) error {
	var lifted []int
	if standing != nil {
		lifted = standing.Lifted
	}
	tries := []map[int]Place{worst}
	if len(r.Model.Rides) > 0 {
		tries = append(tries, r.Model.parked(), r.Model.ends())
	}
	for _, at := range tries {
		modes, err := s.Modes(o.Modes, WithLifted(lifted), WithMassAt(at))
		if err != nil {
			return err
		}
		if len(r.Modes) == 0 || len(modes) > 0 && modes[0].Frequency < r.Modes[0].Frequency*(1-1e-9) {
			r.Modes, r.ModeMasses = modes, r.places(at)
		}
	}
	for _, m := range r.Modes {
		r.Frequencies = append(r.Frequencies, tidy(m.Frequency))
	}
	return nil
}

// ends puts every travelling mass at the end of its path.
func (m *FrameModel) ends() map[int]Place {
	out := map[int]Place{}
	for i, x := range m.Masses {
		if k := len(x.Path); x.Travels && k > 0 {
			out[i] = Place{x.Path[k-1].Beam, x.Path[k-1].To}
		}
	}
	return out
}

// tidy rounds to six digits and turns -0 into 0, so that the last bits do not show.
func tidy(v float64) float64 {
	if v == 0 || math.IsInf(v, 0) || math.IsNaN(v) {
		return 0
	}
	p := math.Pow(10, math.Floor(math.Log10(math.Abs(v)))-5)
	if p < 1e-9 {
		p = 1e-9
	}
	if p < 1 {
		q := math.Round(1 / p)
		return math.Round(v*q)/q + 0
	}
	return math.Round(v/p)*p + 0
}

func triple(v geom.Vec) [3]float64 {
	r := func(x float64) float64 { return math.Round(x*1e4)/1e4 + 0 }
	return [3]float64{r(v.X), r(v.Y), r(v.Z)}
}
