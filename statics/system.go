package statics

import (
	"math"

	"barwright/geom"
	"barwright/internal/sparse"
)

// System is a model with its stiffness factored: every load case, influence line and mode reuses the factor.
// It is not safe for use by several goroutines.
type System struct {
	*Model
	mesh   *mesh
	held   []bool // movements held by supports, feet that may lift included
	factor *sparse.Factor
	stiff  *sparse.Sym
	feet   *feet // the supports that may lift, factored when one does
}

// Prepare assembles and factors the model. It returns a [*Mechanism] where something can move without
// resistance, and another error where the model makes no sense.
func (m *Model) Prepare() (*System, error) {
	if err := m.check(); err != nil {
		return nil, err
	}
	s := &System{Model: m, mesh: newMesh(m, nil, nil)}
	s.held = m.heldBy(func(*Support) bool { return true })
	s.mesh.number(s.held)
	s.stiff = s.mesh.stiffness()
	s.factor = sparse.Factorize(s.stiff, s.mesh.blocks)
	if mech := findMechanism(s.mesh, s.stiff, s.factor); mech != nil {
		return nil, mech
	}
	return s, nil
}

// heldBy returns which movements the supports hold that pass the filter.
func (m *Model) heldBy(take func(*Support) bool) []bool {
	held := make([]bool, 6*len(m.Nodes))
	for i := range m.Supports {
		if s := &m.Supports[i]; take(s) {
			for c, f := range s.Fixed {
				held[6*s.Node+c] = held[6*s.Node+c] || f
			}
		}
	}
	return held
}

// partLoad is what acts on one part of a beam between its ends, in local axes: point loads by place, and even loads.
type partLoad struct {
	points []localPoint
	spread []localSpread
	warm   float64 // K
}

type localPoint struct {
	x             float64 // from the part's start
	force, moment [3]float64
}

type localSpread struct {
	from, to      float64
	force, moment [3]float64 // per mm
}

// loading is a case put onto a mesh.
type loading struct {
	nodal []float64 // by movement of a node, 6 a node
	parts []*partLoad
	ends  []vec12 // forces on the parts' own ends that the loads between them amount to
}

// load puts a case onto the mesh.
func (k *mesh) load(c *Case) *loading {
	l := &loading{nodal: make([]float64, 6*k.nodes), parts: make([]*partLoad, len(k.parts)), ends: make([]vec12, len(k.parts))}
	for _, n := range c.Nodes {
		addAt(l.nodal, n.Node, n.Force, n.Moment)
	}
	for _, p := range c.Points {
		k.loadPoint(l, p)
	}
	for _, s := range c.Spread {
		k.loadSpread(l, s)
	}
	for i := range k.parts {
		p := &k.parts[i]
		field := c.Field.Add(c.BeamField[p.beam])
		if field != (geom.Vec{}) && !k.model.Beams[p.beam].Massless && p.mat.Density > 0 {
			k.loadPart(l, i, 0, p.length, field.Scale(p.mat.Density*p.section.Area), geom.Vec{})
		}
	}
	for i := range k.model.Masses {
		k.loadMass(l, c, i)
	}
	for i := range k.parts {
		w := c.Warm
		if c.WarmBeams != nil {
			w += c.WarmBeams[k.parts[i].beam]
		}
		if w != 0 {
			l.at(i).warm = w
			n := k.parts[i].mat.E * k.parts[i].section.Area * k.parts[i].mat.Expansion * w
			l.ends[i][0] -= n
			l.ends[i][6] += n
		}
	}
	return l
}

func (l *loading) at(i int) *partLoad {
	if l.parts[i] == nil {
		l.parts[i] = new(partLoad)
	}
	return l.parts[i]
}

// addAt adds a force and a moment on a node to a vector of 6 movements a node.
func addAt(v []float64, node int, force, moment geom.Vec) {
	d := v[6*node : 6*node+6]
	d[0] += force.X
	d[1] += force.Y
	d[2] += force.Z
	d[3] += moment.X
	d[4] += moment.Y
	d[5] += moment.Z
}

// loadPoint adds a point load.
func (k *mesh) loadPoint(l *loading, p PointLoad) {
	i, x := k.locate(p.Place)
	e := &k.parts[i]
	q := l.at(i)
	q.points = append(q.points, localPoint{x, e.local(p.Force), e.local(p.Moment)})
	n := e.shapeAt(x)
	f := e.endForces(&n, p.Force, p.Moment)
	for j, v := range f {
		l.ends[i][j] += v
	}
}

// loadSpread adds an even load, part by part.
func (k *mesh) loadSpread(l *loading, s SpreadLoad) {
	lo, hi := math.Min(s.From, s.To), math.Max(s.From, s.To)
	for i := k.first[s.Beam]; i < k.first[s.Beam+1]; i++ {
		p := &k.parts[i]
		if a, b := math.Max(lo, p.from), math.Min(hi, p.to); b > a {
			k.loadPart(l, i, a-p.from, b-p.from, s.Force, s.Moment)
		}
	}
}

// loadPart adds an even load from a to b on a part.
func (k *mesh) loadPart(l *loading, i int, a, b float64, force, moment geom.Vec) {
	e := &k.parts[i]
	q := l.at(i)
	q.spread = append(q.spread, localSpread{a, b, e.local(force), e.local(moment)})
	for _, g := range gauss3 { // the shapes are cubic: exact
		n := e.shapeAt(a + (b-a)*g[0])
		f := e.endForces(&n, force, moment)
		for j, v := range f {
			l.ends[i][j] += v * (b - a) * g[1]
		}
	}
}

// loadMass adds the weight of one mass under the case's field.
func (k *mesh) loadMass(l *loading, c *Case, i int) {
	m := &k.model.Masses[i]
	field := c.Field.Add(c.MassField[i])
	if field == (geom.Vec{}) {
		return
	}
	force := field.Scale(m.Kg)
	if m.Travels {
		if at, ok := c.At[i]; ok {
			k.loadPoint(l, PointLoad{at, force, m.Offset.Cross(force)})
		}
		return
	}
	total := pathLength(m.Path)
	for _, s := range m.Path {
		if total == 0 {
			f := force.Scale(1 / float64(len(m.Path)))
			k.loadPoint(l, PointLoad{Place{s.Beam, s.From}, f, m.Offset.Cross(f)})
			continue
		}
		f := force.Scale(1 / total)
		k.loadSpread(l, SpreadLoad{s, f, m.Offset.Cross(f)})
	}
}

// vector returns the forces on all nodes, 6 a node.
func (k *mesh) vector(l *loading) []float64 {
	f := append([]float64(nil), l.nodal...)
	for i := range k.parts {
		if l.ends[i] == (vec12{}) {
			continue
		}
		p := &k.parts[i]
		n := p.toNodes(&l.ends[i])
		for j, v := range n {
			f[6*p.ends[j/6]+j%6] += v
		}
	}
	return f
}

// Solution is what a case does to the frame.
type Solution struct {
	Case *Case
	// Lifted lists the supports that let go.
	Lifted []int
	sys    *System
	load   *loading
	moved  []float64 // movements of the nodes, 6 a node
	ends   []vec12   // movements of the parts' own ends, local
	forces []vec12   // forces that the parts' own ends take from outside, local
}

// Solve finds what a case does. It returns an error where the frame tips or slides off its feet.
func (s *System) Solve(c *Case) (*Solution, error) {
	sol := s.solveHeld(c)
	if !s.pulled(sol) {
		return sol, nil
	}
	u, lifted, err := s.lift(s.mesh.vector(sol.load))
	if err != nil {
		return nil, err
	}
	sol.moved, sol.Lifted = u, lifted
	sol.recover()
	return sol, nil
}

// solveHeld finds what a case does while every support holds.
func (s *System) solveHeld(c *Case) *Solution {
	sol := &Solution{Case: c, sys: s, load: s.mesh.load(c)}
	sol.moved = s.mesh.expand(s.solveFree(s.mesh.vector(sol.load)))
	sol.recover()
	return sol
}

// solveFree solves for the free movements.
func (s *System) solveFree(f []float64) []float64 {
	x := make([]float64, s.mesh.free)
	for i, r := range s.mesh.of {
		if r >= 0 {
			x[r] = f[i]
		}
	}
	s.factor.Solve(x, 1)
	return x
}

// expand spreads the free movements over all.
func (k *mesh) expand(x []float64) []float64 {
	u := make([]float64, 6*k.nodes)
	for i, r := range k.of {
		if r >= 0 {
			u[i] = x[r]
		}
	}
	return u
}

// recover finds the movements and forces at the parts' own ends.
func (sol *Solution) recover() {
	k := sol.sys.mesh
	sol.ends, sol.forces = make([]vec12, len(k.parts)), make([]vec12, len(k.parts))
	for i := range k.parts {
		p := &k.parts[i]
		d := p.toLocal(k.endMovements(p, sol.moved))
		if p.slip != nil {
			c := p.slip.mul(&sol.load.ends[i])
			for j := range d {
				d[j] += c[j]
			}
		}
		f := p.stiffness().mul(&d)
		for j := range f {
			f[j] -= sol.load.ends[i][j]
		}
		sol.ends[i], sol.forces[i] = d, f
	}
}

// endMovements collects the movements of a part's nodes.
func (k *mesh) endMovements(p *part, u []float64) *vec12 {
	var d vec12
	copy(d[:6], u[6*p.ends[0]:6*p.ends[0]+6])
	copy(d[6:], u[6*p.ends[1]:6*p.ends[1]+6])
	return &d
}

// nodeForces returns the forces that beams and springs take from each node, less its own loads: what the supports give.
func (sol *Solution) nodeForces() []float64 {
	k := sol.sys.mesh
	out := make([]float64, 6*k.nodes)
	for i := range k.parts {
		p := &k.parts[i]
		f := p.tipForces(&sol.forces[i])
		for j, v := range f {
			out[6*p.ends[j/6]+j%6] += v
		}
	}
	for i := range k.model.Springs {
		sol.springForce(&k.model.Springs[i], out)
	}
	for i, v := range sol.load.nodal {
		out[i] -= v
	}
	return out
}

// tipForces turns the forces on an element's own ends into forces on the nodes. Springs pass them on unchanged.
func (e *element) tipForces(f *vec12) vec12 {
	plain := *e
	plain.give = nil
	return plain.toNodes(f)
}

// springForce adds what a spring takes from its nodes.
func (sol *Solution) springForce(s *Spring, out []float64) {
	e := element{axes: s.directions(), offset: sol.sys.arms(s)}
	var d vec12
	copy(d[:6], sol.moved[6*s.A:6*s.A+6])
	if s.B >= 0 {
		copy(d[6:], sol.moved[6*s.B:6*s.B+6])
	}
	d = e.toLocal(&d)
	var f vec12
	for c, v := range s.K {
		f[c] = v * (d[c] - d[6+c])
		f[6+c] = -f[c]
	}
	f = e.toNodes(&f)
	for c := range 6 {
		out[6*s.A+c] += f[c]
		if s.B >= 0 {
			out[6*s.B+c] += f[6+c]
		}
	}
}

// Movement returns the shifts (mm) along X, Y, Z and the turns (radians) about them of a node.
func (sol *Solution) Movement(node int) (d [6]float64) {
	copy(d[:], sol.moved[6*node:6*node+6])
	return d
}

// Shift returns the shift of a node, mm.
func (sol *Solution) Shift(node int) geom.Vec {
	d := sol.moved[6*node:]
	return geom.Vec{X: d[0], Y: d[1], Z: d[2]}
}

// Reaction is what a support gives: N and N·mm, in the frame's axes.
type Reaction struct {
	Support       int
	Force, Moment geom.Vec
}

// Reactions returns what each support gives, in the order of the supports. Two on one node share evenly.
func (sol *Solution) Reactions() []Reaction {
	f := sol.nodeForces()
	m := sol.sys.Model
	share := make([]float64, 6*len(m.Nodes))
	gone := make([]bool, len(m.Supports))
	for _, i := range sol.Lifted {
		gone[i] = true
	}
	for i, s := range m.Supports {
		for c, on := range s.Fixed {
			if on && !gone[i] {
				share[6*s.Node+c]++
			}
		}
	}
	out := make([]Reaction, len(m.Supports))
	for i, s := range m.Supports {
		out[i].Support = i
		if gone[i] {
			continue
		}
		var v [6]float64
		for c, on := range s.Fixed {
			if on {
				v[c] = f[6*s.Node+c] / share[6*s.Node+c]
			}
		}
		out[i].Force = geom.Vec{X: v[0], Y: v[1], Z: v[2]}
		out[i].Moment = geom.Vec{X: v[3], Y: v[4], Z: v[5]}
	}
	return out
}
