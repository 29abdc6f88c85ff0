package statics

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"barwright/geom"
	"barwright/internal/sparse"
)

// part is a piece of a beam between two nodes of the mesh, with its element.
type part struct {
	beam     int
	from, to float64 // mm from the beam's start
	ends     [2]int  // nodes of the mesh
	element
}

// mesh is a model cut into parts, with its unknowns numbered.
type mesh struct {
	model  *Model
	nodes  int
	parts  []part
	first  []int // first part of each beam; the parts of a beam lie in a row
	of     []int32
	free   int
	blocks []int
}

// check returns an error for a model that cannot be built at all.
func (m *Model) check() error {
	node := func(n int, what string, i int) error {
		if n < 0 || n >= len(m.Nodes) {
			return fmt.Errorf("%s %d stands on node %d of %d", what, i, n, len(m.Nodes))
		}
		return nil
	}
	for i, b := range m.Beams {
		if err := errorsOr(node(b.Ends[0], "beam", i), node(b.Ends[1], "beam", i)); err != nil {
			return err
		}
		s, mt := b.Section, b.Material
		if s == nil || mt == nil {
			return fmt.Errorf("beam %d of %q has no section or no material", i, b.Member)
		}
		for _, v := range []float64{s.Area, s.Iy, s.Iz, s.J, mt.E, mt.G} {
			if !(v > 0) || math.IsInf(v, 0) {
				return fmt.Errorf("beam %d of %q: its section and moduli must be positive numbers", i, b.Member)
			}
		}
		if l := m.length(i); !(l > 0) || math.IsInf(l, 0) {
			return fmt.Errorf("beam %d of %q has no length", i, b.Member)
		}
		for _, r := range b.Release {
			for _, v := range r {
				if !(v >= 0) {
					return fmt.Errorf("beam %d of %q: an end spring of %g", i, b.Member, v)
				}
			}
		}
	}
	for i, s := range m.Springs {
		if err := node(s.A, "spring", i); err != nil {
			return err
		}
		if s.B >= len(m.Nodes) {
			return node(s.B, "spring", i)
		}
	}
	for i, s := range m.Supports {
		if err := node(s.Node, "support", i); err != nil {
			return err
		}
	}
	for i, s := range m.Masses {
		for _, p := range s.Path {
			if p.Beam < 0 || p.Beam >= len(m.Beams) {
				return fmt.Errorf("mass %d lies on beam %d of %d", i, p.Beam, len(m.Beams))
			}
		}
	}
	return nil
}

func errorsOr(errs ...error) error {
	for _, e := range errs {
		if e != nil {
			return e
		}
	}
	return nil
}

// tips returns the ends of a beam behind its arms.
func (m *Model) tips(i int) (a, b geom.Vec) {
	bm := &m.Beams[i]
	return m.Nodes[bm.Ends[0]].Add(bm.Offset[0]), m.Nodes[bm.Ends[1]].Add(bm.Offset[1])
}

// length returns the length of a beam, mm.
func (m *Model) length(i int) float64 {
	a, b := m.tips(i)
	return a.Dist(b)
}

// cuts says where beams are cut, as places in mm from their starts.
type cuts map[int][]float64

// newMesh cuts the beams, at least into as many equal parts as parts says (nil: one), and at the given places.
func newMesh(m *Model, parts []int, at cuts) *mesh {
	k := &mesh{model: m, nodes: len(m.Nodes), first: make([]int, len(m.Beams)+1), parts: make([]part, 0, len(m.Beams))}
	for i := range m.Beams {
		b := &m.Beams[i]
		start, end := m.tips(i)
		l := start.Dist(end)
		n := 1
		if parts != nil {
			n = parts[i]
		}
		k.first[i] = len(k.parts)
		prev, last := b.Ends[0], 0.0
		for _, x := range stations(l, n, at[i]) {
			p := part{beam: i, from: last, to: x, ends: [2]int{prev, b.Ends[1]}}
			from, to := last/l, x/l
			if x < l {
				p.ends[1] = k.nodes
				k.nodes++
			} else {
				to = 1
			}
			p.element = newElement(b, start, end, from, to)
			k.parts = append(k.parts, p)
			prev, last = p.ends[1], x
		}
	}
	k.first[len(m.Beams)] = len(k.parts)
	return k
}

// stations returns the ends of the parts of a beam: n equal ones, cut again at the given places.
func stations(l float64, n int, at []float64) []float64 {
	if n == 1 && len(at) == 0 {
		return []float64{l}
	}
	all := make([]float64, 0, n+len(at))
	for i := 1; i < n; i++ {
		all = append(all, l*float64(i)/float64(n))
	}
	for _, x := range at {
		all = append(all, x)
	}
	slices.SortFunc(all, cmp.Compare[float64])
	out := all[:0]
	last := 0.0
	for _, x := range all {
		if x-last > shortest*l && l-x > shortest*l {
			out = append(out, x)
			last = x
		}
	}
	return append(out, l)
}

// shortest is the least share of a beam that a part may have: closer cuts are one.
const shortest = 1e-6

// number gives every movement that is not held an unknown, node by node. held says which are.
func (k *mesh) number(held []bool) {
	used := make([]bool, k.nodes)
	for i := range k.parts {
		used[k.parts[i].ends[0]], used[k.parts[i].ends[1]] = true, true
	}
	for _, s := range k.model.Springs {
		used[s.A] = true
		if s.B >= 0 {
			used[s.B] = true
		}
	}
	k.of = make([]int32, 6*k.nodes)
	k.free, k.blocks = 0, nil
	for n := range k.nodes {
		start := k.free
		for c := range 6 {
			i := 6*n + c
			if !used[n] || i < len(held) && held[i] {
				k.of[i] = -1
				continue
			}
			k.of[i] = int32(k.free)
			k.free++
		}
		if k.free > start {
			k.blocks = append(k.blocks, start)
		}
	}
}

// ends returns the give of a part's ends: only at the beam's own ends.
func (k *mesh) ends(i int) (out [2]*Release) {
	b := &k.model.Beams[k.parts[i].beam]
	if i == k.first[k.parts[i].beam] {
		out[0] = &b.Release[0]
	}
	if i+1 == k.first[k.parts[i].beam+1] {
		out[1] = &b.Release[1]
	}
	return out
}

// stiffness assembles the stiffness of the free movements. It fills the parts' give.
func (k *mesh) stiffness() *sparse.Sym {
	b := sparse.NewBuilder(k.free, 78*len(k.parts))
	for i := range k.parts {
		p := &k.parts[i]
		p.give, p.slip = nil, nil
		local := p.stiffness()
		p.soften(local, k.ends(i))
		k.add(b, p, p.toFrame(local))
	}
	for i := range k.model.Springs {
		k.addSpring(b, &k.model.Springs[i])
	}
	return b.Sym()
}

// mass assembles the mass in tonnes, travelling masses at the given places. The stiffness must be assembled first.
func (k *mesh) mass(at map[int]Place) *sparse.Sym {
	b := sparse.NewBuilder(k.free, 78*len(k.parts))
	for i := range k.parts {
		p := &k.parts[i]
		if k.model.Beams[p.beam].Massless || p.mat.Density == 0 {
			continue
		}
		m := p.massMatrix()
		if p.give != nil {
			m = congruent(m, p.give)
		}
		k.add(b, p, p.toFrame(m))
	}
	k.addMasses(b, at)
	return b.Sym()
}

// add adds a part's matrix.
func (k *mesh) add(b *sparse.Builder, p *part, m *mat12) {
	for i := range 12 {
		r := k.of[6*p.ends[i/6]+i%6]
		if r < 0 {
			continue
		}
		for j := 0; j <= i; j++ {
			if c := k.of[6*p.ends[j/6]+j%6]; c >= 0 && (m[i][j] != 0 || i == j) {
				b.Add(int(r), int(c), m[i][j])
			}
		}
	}
}

// addSpring adds a spring between nodes or to the ground.
func (k *mesh) addSpring(b *sparse.Builder, s *Spring) {
	e := element{axes: s.directions(), offset: k.model.arms(s)}
	m := new(mat12)
	for c, v := range s.K {
		m[c][c] = v
		if s.B >= 0 {
			m[6+c][6+c], m[c][6+c], m[6+c][c] = v, -v, -v
		}
	}
	p := part{ends: [2]int{s.A, max(s.B, 0)}}
	g := e.toFrame(m)
	if s.B < 0 {
		for i := range 6 {
			for j := 0; j <= i; j++ {
				if r, c := k.of[6*s.A+i], k.of[6*s.A+j]; r >= 0 && c >= 0 {
					b.Add(int(r), int(c), g[i][j])
				}
			}
		}
		return
	}
	k.add(b, &p, g)
}

// locate returns the part that holds a place on a beam, and the place within it.
func (k *mesh) locate(at Place) (i int, x float64) {
	i = k.first[at.Beam]
	for i+1 < k.first[at.Beam+1] && at.At > k.parts[i].to {
		i++
	}
	p := &k.parts[i]
	return i, math.Max(0, math.Min(at.At-p.from, p.to-p.from))
}

// addMasses adds the masses, travelling ones at the given places.
func (k *mesh) addMasses(b *sparse.Builder, at map[int]Place) {
	for i := range k.model.Masses {
		m := &k.model.Masses[i]
		if m.Travels {
			if p, ok := at[i]; ok {
				k.addMass(b, m, p, m.Kg)
			}
			continue
		}
		total := pathLength(m.Path)
		for _, s := range m.Path {
			if total == 0 {
				k.addMass(b, m, Place{s.Beam, s.From}, m.Kg/float64(len(m.Path)))
				continue
			}
			k.spreadMass(b, m, s, m.Kg*math.Abs(s.To-s.From)/total)
		}
	}
}

func pathLength(p []Stretch) (l float64) {
	for _, s := range p {
		l += math.Abs(s.To - s.From)
	}
	return l
}

// gauss3 is Gauss's rule of three points on [0, 1].
var gauss3 = [3][2]float64{{0.1127016653792583, 5. / 18}, {0.5, 8. / 18}, {0.8872983346207417, 5. / 18}}

// spreadMass adds a mass spread over a stretch, part by part.
func (k *mesh) spreadMass(b *sparse.Builder, m *Mass, s Stretch, kg float64) {
	lo, hi := math.Min(s.From, s.To), math.Max(s.From, s.To)
	for i := k.first[s.Beam]; i < k.first[s.Beam+1]; i++ {
		p := &k.parts[i]
		a, c := math.Max(lo, p.from), math.Min(hi, p.to)
		if c <= a {
			continue
		}
		for _, g := range gauss3 {
			k.addMass(b, m, Place{s.Beam, a + (c-a)*g[0]}, kg*(c-a)/(hi-lo)*g[1])
		}
	}
}

// addMass adds a mass at one place with its arm.
func (k *mesh) addMass(b *sparse.Builder, m *Mass, at Place, kg float64) {
	i, x := k.locate(at)
	p := &k.parts[i]
	rows := p.shiftAt(x, m.Offset)
	for i := range 12 {
		r := k.of[6*p.ends[i/6]+i%6]
		if r < 0 {
			continue
		}
		for j := 0; j <= i; j++ {
			if c := k.of[6*p.ends[j/6]+j%6]; c >= 0 {
				v := rows[0][i]*rows[0][j] + rows[1][i]*rows[1][j] + rows[2][i]*rows[2][j]
				b.Add(int(r), int(c), v*kg/1000)
			}
		}
	}
}

// shiftAt returns the shift in the frame of the tip of an arm at x on the part, as combinations of the movements of
// its nodes.
func (e *element) shiftAt(x float64, offset geom.Vec) (rows [3]vec12) {
	n := e.shapeAt(x)
	for c := range 3 {
		// By the unit force in direction c on the tip: what it puts on the nodes is the row.
		f := geom.Vec{}.With(geom.Axis(c), 1)
		rows[c] = e.forceRow(&n, f, offset.Cross(f))
	}
	return rows
}

// forceRow returns the forces on the nodes of a force and a moment on the axis where the shapes are n.
func (e *element) forceRow(n *[6]vec12, force, moment geom.Vec) vec12 {
	f := e.endForces(n, force, moment)
	return e.toNodes(&f)
}

// endForces returns the forces on the element's own ends that do the work of a force and a moment.
func (e *element) endForces(n *[6]vec12, force, moment geom.Vec) (f vec12) {
	u, t := e.local(force), e.local(moment)
	for i := range 3 {
		for j := range 12 {
			f[j] += n[i][j]*u[i] + n[3+i][j]*t[i]
		}
	}
	return f
}
