package statics

import (
	"errors"
	"math"

	"barwright/geom"
)

// Travelling masses. A force that wanders along a beam loads its ends by cubics of the place, so four
// solutions with the factor at hand give the movements of every node as cubics too: the influence lines of the
// whole frame, exact at every place.

// Influence is how the nodes move under a force that wanders along one beam.
type Influence struct {
	Beam   int
	Length float64
	// Moved[k] are the movements of all nodes, 6 a node, that go with the k-th power of the place as a share of
	// the beam's length.
	Moved [4][]float64
	force [4][]float64 // the same for the forces on the nodes
}

// Influence returns the influence lines of a constant force and moment on a beam's axis, all supports holding.
func (s *System) Influence(beam int, force, moment geom.Vec) *Influence {
	p := &s.mesh.parts[s.mesh.first[beam]]
	out := &Influence{Beam: beam, Length: p.length}
	// The cubic through four places.
	var at [4]vec12
	for i := range 4 {
		n := p.shapeAt(p.length * float64(i) / 3)
		at[i] = p.forceRow(&n, force, moment)
	}
	x := make([]float64, 4*s.mesh.free)
	for k := range 4 {
		out.force[k] = make([]float64, 6*s.mesh.nodes)
		for j := range 12 {
			var v float64
			for i := range 4 {
				v += cubicThrough[k][i] * at[i][j]
			}
			out.force[k][6*p.ends[j/6]+j%6] += v
		}
		for i, r := range s.mesh.of {
			if r >= 0 {
				x[4*int(r)+k] = out.force[k][i]
			}
		}
	}
	s.factor.Solve(x, 4)
	for k := range 4 {
		out.Moved[k] = make([]float64, 6*s.mesh.nodes)
		for i, r := range s.mesh.of {
			if r >= 0 {
				out.Moved[k][i] = x[4*int(r)+k]
			}
		}
	}
	return out
}

// cubicThrough[k][i] is what the value at place i/3 adds to the coefficient of the k-th power.
var cubicThrough = [4][4]float64{
	{1, 0, 0, 0},
	{-5.5, 9, -4.5, 1},
	{9, -22.5, 18, -4.5},
	{-4.5, 13.5, -13.5, 4.5},
}

// At returns the movements of the nodes with the force at a place, mm from the beam's start.
func (f *Influence) At(x float64) []float64 { return cubic(&f.Moved, x/f.Length) }

func cubic(c *[4][]float64, s float64) []float64 {
	out := make([]float64, len(c[0]))
	for i := range out {
		out[i] = c[0][i] + s*(c[1][i]+s*(c[2][i]+s*c[3][i]))
	}
	return out
}

// Worst is the worst place of a travelling mass, and the envelope along its way.
type Worst struct {
	Mass int
	Place
	Solution *Solution // with the mass there
	Peak     Peak      // the largest shift anywhere then
	Envelope []Envelope
}

// Envelope is one place of the travelling mass: how far the bar gives there, along the force, and the largest shift
// anywhere.
type Envelope struct {
	Place
	Way     float64 // along the path from its beginning, mm
	Under   float64 // shift of the bar's axis at the mass in the direction of the force, mm
	Largest float64 // largest shift of any place, mm
}

// envelopeSteps is how many places of each beam of a path are looked at before the worst is refined.
const envelopeSteps = 8

// WorstPlace finds where on its path a travelling mass makes the largest shift anywhere in the frame, on top of everything
// else in the case. Other travelling masses stay where the case has them.
func (s *System) WorstPlace(mass int, c *Case) (*Worst, error) {
	m := &s.Masses[mass]
	w := &Worst{Mass: mass, Peak: Peak{Value: -1}}
	base := *c
	base.At = copyPlaces(c.At, mass)
	rest, err := s.Solve(&base)
	if err != nil {
		return nil, err
	}
	field := c.Field.Add(c.MassField[mass])
	force := field.Scale(m.Kg)
	way := 0.0
	best := struct {
		value  float64
		lo, hi Place
	}{value: -1}
	for _, st := range m.Path {
		r := s.newRide(rest, st.Beam, force, m.Offset.Cross(force), &base)
		span := st.To - st.From
		for i := range envelopeSteps + 1 {
			at := Place{st.Beam, st.From + span*float64(i)/envelopeSteps}
			e, err := r.look(at)
			if err != nil {
				return nil, err
			}
			e.Way = way + math.Abs(at.At-st.From)
			w.Envelope = append(w.Envelope, e)
			if e.Largest > best.value {
				best.value = e.Largest
				best.lo = Place{st.Beam, st.From + span*float64(max(i-1, 0))/envelopeSteps}
				best.hi = Place{st.Beam, st.From + span*float64(min(i+1, envelopeSteps))/envelopeSteps}
			}
		}
		way += math.Abs(span)
	}
	if best.value < 0 {
		return nil, errNoPath
	}
	r := s.newRide(rest, best.lo.Beam, force, m.Offset.Cross(force), &base)
	var failed error
	x, _ := maximum(best.lo.At, best.hi.At, 2, func(x float64) float64 {
		e, err := r.look(Place{best.lo.Beam, x})
		if err != nil {
			failed = err
		}
		return e.Largest
	})
	if failed != nil {
		return nil, failed
	}
	w.Place = Place{best.lo.Beam, x}
	full := base
	full.At = copyPlaces(base.At, -1)
	full.At[mass] = w.Place
	if w.Solution, err = s.Solve(&full); err != nil {
		return nil, err
	}
	w.Peak = w.Solution.Largest(geom.Vec{})
	return w, nil
}

func copyPlaces(m map[int]Place, without int) map[int]Place {
	out := make(map[int]Place, len(m)+1)
	for k, v := range m {
		if k != without {
			out[k] = v
		}
	}
	return out
}

// ride is a force that wanders along one beam of a frame that is loaded already.
type ride struct {
	sys           *System
	rest          *Solution
	beam          int
	force, moment geom.Vec
	line          *Influence
	base          *Case
}

func (s *System) newRide(rest *Solution, beam int, force, moment geom.Vec, base *Case) *ride {
	return &ride{sys: s, rest: rest, beam: beam, force: force, moment: moment, base: base, line: s.Influence(beam, force, moment)}
}

// look returns what the force does at a place.
func (r *ride) look(at Place) (Envelope, error) {
	sol, err := r.solution(at)
	if err != nil {
		return Envelope{}, err
	}
	peak := sol.Largest(geom.Vec{})
	dir := r.force.Unit()
	return Envelope{Place: at, Under: sol.At(at).Shift.Dot(dir), Largest: peak.Value}, nil
}

// solution adds the force at a place to the solution of the rest: by the influence line while every foot stands, else
// by a new solution.
func (r *ride) solution(at Place) (*Solution, error) {
	c := *r.base
	c.Points = append(c.Points[:len(c.Points):len(c.Points)], PointLoad{at, r.force, r.moment})
	if len(r.rest.Lifted) > 0 {
		return r.sys.Solve(&c)
	}
	sol := &Solution{Case: &c, sys: r.sys, load: r.rest.load.with(r.sys.mesh, PointLoad{at, r.force, r.moment})}
	sol.moved = r.line.At(at.At)
	for i, v := range r.rest.moved {
		sol.moved[i] += v
	}
	sol.recover()
	if r.sys.pulled(sol) {
		return r.sys.Solve(&c)
	}
	return sol, nil
}

// with returns the loading with one more point load.
func (l *loading) with(k *mesh, p PointLoad) *loading {
	out := &loading{nodal: l.nodal, parts: append([]*partLoad(nil), l.parts...), ends: append([]vec12(nil), l.ends...)}
	i, _ := k.locate(p.Place)
	own := new(partLoad)
	if old := l.parts[i]; old != nil {
		*own = *old
		own.points = append([]localPoint(nil), old.points...)
	}
	out.parts[i] = own
	k.loadPoint(out, p)
	return out
}

var errNoPath = errors.New("the travelling mass has no path")
