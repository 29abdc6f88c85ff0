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
	// Warmed says that the shifts hold the growth of the whole frame, which is no sag.
	Warmed bool `json:"warmed,omitempty"`
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
	drawn := &scene{FrameModel: m, sys: s, places: m.ridesAt(0)}
	r.run(drawn, &Case{Name: "standing", Field: weight, At: drawn.places}, nil)
	drawn.places = r.rides(drawn, "")
	scenes := []*scene{drawn}
	for _, g := range m.Carried {
		more, err := r.travel(g)
		if err != nil {
			return nil, err
		}
		scenes = append(scenes, more...)
	}
	r.extra(drawn, o)
	r.rack(drawn, o)
	return r, r.ring(scenes, o)
}

// weight is the field of gravity.
var weight = geom.Vec{Z: -Gravity}

// scene is the frame with everything that travels in one place.
type scene struct {
	*FrameModel
	sys    *System
	places map[int]Place
}

// rides runs the case of each travelling mass at its worst place, and returns those places.
func (r *Report) rides(c *scene, where string) map[int]Place {
	places := c.ridesAt(0)
	for _, ride := range c.Rides {
		name := ride.Name + " at its worst place" + where
		w, err := c.sys.WorstPlace(ride.Mass, &Case{Field: weight, At: places})
		if err != nil {
			r.LoadCases = append(r.LoadCases, LoadCase{Name: name, Failed: err.Error(), Reactions: []ReactionReport{}})
			continue
		}
		places[ride.Mass] = w.Places[ride.Mass]
		r.run(c, &Case{Name: name, Field: weight, At: w.Solution.Case.At}, w)
	}
	return places
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

// ridesAt puts every travelling mass at a share of its path.
func (m *FrameModel) ridesAt(share float64) map[int]Place {
	out := map[int]Place{}
	for _, r := range m.Rides {
		if p, ok := along(m.Masses[r.Mass].Path, share); ok {
			out[r.Mass] = p
		}
	}
	return out
}

// extra runs acceleration and warming.
func (r *Report) extra(c *scene, o LoadOptions) {
	if a := o.Accelerate; a != (geom.Vec{}) {
		field := map[int]geom.Vec{}
		for i := range c.places {
			field[i] = a.Scale(-Gravity) // the inertia of what speeds up pushes back
		}
		beams := map[int]geom.Vec{}
		for _, g := range c.Carried {
			for _, m := range g.Members {
				for _, b := range c.Pieces[m] {
					beams[b] = a.Scale(-Gravity)
				}
			}
			for i, m := range c.Masses {
				if !m.Travels && len(m.Path) > 0 && beams[m.Path[0].Beam] != (geom.Vec{}) {
					field[i] = a.Scale(-Gravity)
				}
			}
		}
		r.run(c, &Case{Name: fmt.Sprintf("accelerating (%g, %g, %g) g", a.X, a.Y, a.Z), Field: weight, At: c.places, MassField: field, BeamField: beams}, nil)
	}
	if o.Warm != 0 {
		r.run(c, &Case{Name: fmt.Sprintf("warmed by %g K", o.Warm), Field: weight, At: c.places, Warm: o.Warm}, nil)
	}
}

// run solves a case and adds its result.
func (r *Report) run(m *scene, c *Case, w *Worst) *Solution {
	out := LoadCase{Name: c.Name, Warmed: c.Warm != 0, Reactions: []ReactionReport{}}
	sol, err := m.sys.Solve(c)
	if err != nil {
		out.Failed = err.Error()
		r.LoadCases = append(r.LoadCases, out)
		return nil
	}
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
	out.Masses = m.stand(c.At)
	if w != nil {
		for _, e := range w.Envelope {
			out.Envelope = append(out.Envelope, EnvelopePoint{tidy(e.Way), tidy(e.Under), tidy(e.Largest)})
		}
	}
	r.LoadCases = append(r.LoadCases, out)
	r.Solutions = append(r.Solutions, sol)
	return sol
}

// stand lists where travelling masses and groups stand, in the order of the model.
func (m *scene) stand(at map[int]Place) (out []MassPlace) {
	for i := range m.Masses {
		if p, ok := at[i]; ok {
			a, b := m.tips(p.Beam)
			out = append(out, MassPlace{m.Masses[i].Name, m.Beams[p.Beam].Member, triple(a.Add(b.Sub(a).Unit().Scale(p.At)))})
		}
	}
	for _, g := range m.Carried {
		box := geom.EmptyBox()
		for _, x := range g.Members {
			box = box.Union(x.Box)
		}
		shift := g.Travel.Axis.Unit().Scale(m.options.Shifts[g.Name])
		out = append(out, MassPlace{g.Name, g.Members[0].Name, triple(box.Centre().Add(shift))})
	}
	return out
}

// topShare is the height below the top of the frame, as a share of its height, in which bars take the push.
const topShare = 0.02

// rack pushes the top along X and Y, evenly on every node up there, and reads the mean shift. The feet hold, as weight keeps
// them down.
func (r *Report) rack(c *scene, o LoadOptions) {
	s := c.sys
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

// ring finds the frequencies with travelling masses and groups where the frame rings lowest, of the scenes that were looked at
// and the ends of the paths. Feet that lift under weight are left out.
func (r *Report) ring(scenes []*scene, o LoadOptions) error {
	var best *scene
	lowest := math.Inf(1)
	for _, c := range scenes {
		tries := []map[int]Place{c.places}
		if len(c.Rides) > 0 {
			tries = append(tries, c.ridesAt(0), c.ridesAt(1))
		}
		for _, at := range tries {
			if len(scenes) == 1 && len(tries) == 1 {
				best = c
				continue
			}
			modes, err := c.sys.Modes(1, WithLifted(c.lifted(at)), WithMassAt(at))
			if err != nil {
				return err
			}
			if len(modes) > 0 && modes[0].Frequency < lowest*(1-1e-9) {
				lowest, best = modes[0].Frequency, &scene{c.FrameModel, c.sys, at}
			}
		}
	}
	if best == nil {
		return nil
	}
	modes, err := best.sys.Modes(o.Modes, WithLifted(best.lifted(best.places)), WithMassAt(best.places))
	if err != nil {
		return err
	}
	r.Modes, r.ModeMasses = modes, best.stand(best.places)
	for _, m := range modes {
		r.Frequencies = append(r.Frequencies, tidy(m.Frequency))
	}
	return nil
}

// lifted returns the feet that lift under weight.
func (c *scene) lifted(at map[int]Place) []int {
	if sol, err := c.sys.Solve(&Case{Field: weight, At: at}); err == nil {
		return sol.Lifted
	}
	return nil
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
