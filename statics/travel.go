package statics

import (
	"errors"
	"math"
	"slices"

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
		f := make([]float64, 6*s.mesh.nodes)
		for j := range 12 {
			var v float64
			for i := range 4 {
				v += cubicThrough[k][i] * at[i][j]
			}
			f[6*p.ends[j/6]+j%6] += v
		}
		for i, r := range s.mesh.of {
			if r >= 0 {
				x[4*int(r)+k] = f[i]
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

// Worst is the worst place of what travels, and the envelope along its way.
type Worst struct {
	Places   map[int]Place // of each mass
	Solution *Solution     // with the masses there
	Peak     Peak          // the largest shift anywhere then
	Envelope []Envelope
}

// Envelope is one place on the way.
type Envelope struct {
	Way     float64 // along the path of the first mass from its beginning, mm
	Under   float64 // shift of the bar's axis at the first mass in the direction of its force, mm
	Largest float64 // largest shift of any place, mm
}

// envelopeSteps is how many places of each stretch of a path are looked at before the worst is refined.
const envelopeSteps = 8

// WorstPlace finds where on its path one travelling mass is worst: see [System.Worst].
func (s *System) WorstPlace(mass int, c *Case) (*Worst, error) { return s.Worst([]int{mass}, c) }

// Worst finds where travelling masses that move together (each at the same share of its path) make the largest shift
// anywhere in the frame, on top of everything else in the case. Other travelling masses stay where the case has them.
func (s *System) Worst(masses []int, c *Case) (*Worst, error) {
	base := *c
	base.At = copyPlaces(c.At, masses)
	rest, err := s.Solve(&base)
	if err != nil {
		return nil, err
	}
	t := &train{sys: s, rest: rest, base: &base, masses: masses, lines: map[[2]int]*Influence{}}
	stops := t.stops()
	if len(stops) == 0 {
		return nil, errNoPath
	}
	w := &Worst{}
	best, lo, hi := -1.0, 0.0, 0.0
	for i, x := range stops {
		e, err := t.look(x)
		if err != nil {
			return nil, err
		}
		w.Envelope = append(w.Envelope, e)
		if e.Largest > best {
			best, lo, hi = e.Largest, stops[max(i-1, 0)], stops[min(i+1, len(stops)-1)]
		}
	}
	at, _ := maximum(lo, hi, 2, func(x float64) float64 {
		e, lookErr := t.look(x)
		if lookErr != nil {
			err = lookErr
		}
		return e.Largest
	})
	if err != nil {
		return nil, err
	}
	w.Places = t.places(at)
	full := base
	full.At = copyPlaces(base.At, nil)
	for i, p := range w.Places {
		full.At[i] = p
	}
	if w.Solution, err = s.Solve(&full); err != nil {
		return nil, err
	}
	w.Peak = w.Solution.Largest(geom.Vec{})
	return w, nil
}

// copyPlaces copies places, leaving out those of some masses.
func copyPlaces(m map[int]Place, without []int) map[int]Place {
	out := make(map[int]Place, len(m)+1)
	for k, v := range m {
		if !slices.Contains(without, k) {
			out[k] = v
		}
	}
	return out
}

// train is masses that move together over a frame that is loaded already.
type train struct {
	sys    *System
	rest   *Solution
	base   *Case
	masses []int
	lines  map[[2]int]*Influence // by mass and beam
}

// force returns the force and moment of a mass on the axis.
func (t *train) force(mass int) (f, m geom.Vec) {
	x := &t.sys.Masses[mass]
	f = t.base.Field.Add(t.base.MassField[mass]).Scale(x.Kg)
	return f, x.Offset.Cross(f)
}

// stops returns the shares of the way that are looked at: every stretch of every path in equal steps.
func (t *train) stops() []float64 {
	var out []float64
	for _, m := range t.masses {
		path := t.sys.Masses[m].Path
		total := pathLength(path)
		if len(path) > 0 && total == 0 {
			out = append(out, 0)
		}
		var way float64
		for _, st := range path {
			l := math.Abs(st.To - st.From)
			for i := range envelopeSteps + 1 {
				if l > 0 {
					out = append(out, (way+l*float64(i)/envelopeSteps)/total)
				}
			}
			way += l
		}
	}
	slices.Sort(out)
	kept := out[:0]
	for _, x := range out {
		if len(kept) == 0 || x-kept[len(kept)-1] > 1e-9 {
			kept = append(kept, x)
		}
	}
	return kept
}

// places returns where the masses are at a share of the way.
func (t *train) places(share float64) map[int]Place {
	out := map[int]Place{}
	for _, m := range t.masses {
		if p, ok := along(t.sys.Masses[m].Path, share); ok {
			out[m] = p
		}
	}
	return out
}

// along returns the place at a share of a path; false where the path is empty.
func along(path []Stretch, share float64) (Place, bool) {
	way := share * pathLength(path)
	for i, st := range path {
		l := math.Abs(st.To - st.From)
		if way > l && i < len(path)-1 {
			way -= l
			continue
		}
		at := st.From
		if l > 0 {
			at += (st.To - st.From) * math.Min(way/l, 1)
		}
		return Place{st.Beam, at}, true
	}
	return Place{}, false
}

// look returns what the masses do at a share of the way.
func (t *train) look(share float64) (Envelope, error) {
	at := t.places(share)
	sol, err := t.solution(at)
	if err != nil {
		return Envelope{}, err
	}
	first := t.masses[0]
	f, _ := t.force(first)
	return Envelope{Way: share * pathLength(t.sys.Masses[first].Path), Under: sol.At(at[first]).Shift.Dot(f.Unit()),
		Largest: sol.Largest(geom.Vec{}).Value}, nil
}

// solution adds the masses at their places to the solution of the rest: by the influence lines while every foot stands, else
// by a new solution.
func (t *train) solution(at map[int]Place) (*Solution, error) {
	c := *t.base
	c.Points = c.Points[:len(c.Points):len(c.Points)]
	load := t.rest.load
	for _, m := range t.masses {
		f, mo := t.force(m)
		p := PointLoad{at[m], f, mo}
		c.Points = append(c.Points, p)
		load = load.with(t.sys.mesh, p)
	}
	if len(t.rest.Lifted) > 0 {
		return t.sys.Solve(&c)
	}
	sol := &Solution{Case: &c, sys: t.sys, load: load, moved: append([]float64(nil), t.rest.moved...)}
	for _, m := range t.masses {
		for i, v := range t.line(m, at[m].Beam).At(at[m].At) {
			sol.moved[i] += v
		}
	}
	sol.recover()
	if t.sys.pulled(sol) {
		return t.sys.Solve(&c)
	}
	return sol, nil
}

// line returns the influence lines of a mass on a beam.
func (t *train) line(mass, beam int) *Influence {
	key := [2]int{mass, beam}
	if t.lines[key] == nil {
		f, m := t.force(mass)
		t.lines[key] = t.sys.Influence(beam, f, m)
	}
	return t.lines[key]
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
