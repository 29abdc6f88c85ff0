package geom

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"

	"barwright/internal/sparse"
)

// Torsion is the properties of a section that need a solution of it as a whole: how it carries torque
// and shear.
type Torsion struct {
	// J is the St Venant torsion constant in mm⁴: the torque is G·J times the twist per length. It lies
	// between JLow and JHigh; Error is the largest relative error that these leave.
	J, JLow, JHigh, Error float64
	// ShearX and ShearY are the shear areas in mm² for forces along x and y: the energy of a force V over a
	// length is V²/(2·G·Shear). ShearXY is the coupling 1/α of both forces, 0 where there is none. They
	// hold for the shear flow that balances the bending stress, Poisson's ratio taken as 0, and are good
	// to about twice the tolerance.
	ShearX, ShearY, ShearXY float64
	// ShearCentre is the point through which a force does not twist the section, in the coordinates of the region.
	ShearCentre Vec2
	Triangles   int // of the mesh that was needed
}

// TorsionTolerance is the relative error of J that [Profile.Torsion] reaches.
const TorsionTolerance = 0.001

// Torsion solves the profile, which must pass [Profile.Validate], to [TorsionTolerance].
func (p *Profile) Torsion() (Torsion, error) { return p.Region().Torsion(TorsionTolerance) }

// maxRounds and maxCorners end the refinement.
const (
	maxRounds  = 24
	maxCorners = 60000
)

// Torsion solves the region until the relative error of J is known to be below tolerance. The
// stress function gives a lower bound of J and the warping function an upper one (Prager and Synge 1947;
// Timoshenko and Goodier, "Theory of Elasticity", chapter 10); triangles where the two stresses
// differ are made smaller. Both are solved on six-node triangles. Arcs become parabolas over 15°, which moves
// the outline by less than 1e-5 of the radius, and the bounds by as little.
//
// It returns an error where the loops cross, the region is empty or in several pieces, or the tolerance
// is out of reach.
func (r Region) Torsion(tolerance float64) (Torsion, error) {
	sec := r.Properties()
	if !(sec.Area > 0) {
		return Torsion{}, errors.New("the section has no area")
	}
	m, err := meshRegion(r, arcTurn, newSizeField(r, sec.Area, sec.High.Sub(sec.Low).Len(), tolerance).at, maxCorners)
	if err != nil {
		return Torsion{}, err
	}
	if n := m.parts(); n != 1 {
		return Torsion{}, fmt.Errorf("the section is in %d pieces that do not touch", n)
	}
	for range maxRounds {
		s := newSolution(r, sec, m.elements())
		if err := s.solve(); err != nil {
			return Torsion{}, err
		}
		if relativeGap(s.low, s.high) <= tolerance {
			return s.result(), nil
		}
		if !m.refineWhere(s, tolerance) {
			break
		}
	}
	return Torsion{}, fmt.Errorf("the torsion constant could not be bounded to %g %%", tolerance*100)
}

// arcTurn is the most that one edge of the first mesh turns along an arc: 15°.
const arcTurn = 0.2617993877991494

// parts counts the pieces of material.
func (m *refiner) parts() int {
	seen := make([]bool, len(m.tri))
	n := 0
	for t := range m.tri {
		if !m.tri[t].inside || seen[t] {
			continue
		}
		n++
		stack := []int32{int32(t)}
		seen[t] = true
		for len(stack) > 0 {
			u := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			for i, v := range m.tri[u].n {
				if v >= 0 && m.tri[u].seg[i] < 0 && m.tri[v].inside && !seen[v] {
					seen[v] = true
					stack = append(stack, v)
				}
			}
		}
	}
	return n
}

// refineWhere cuts the triangles that hold most of the gap. It reports whether any could be cut.
func (m *refiner) refineWhere(s *solution, tolerance float64) bool {
	order := make([]int, len(s.err))
	var total float64
	for i, e := range s.err {
		order[i] = i
		total += e
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(s.err[b], s.err[a]) })
	var sum float64
	before := len(m.at)
	for _, i := range order {
		if sum > markShare*total {
			break
		}
		sum += s.err[i]
		t := s.mesh.tri[i]
		m.bad = append(m.bad, badTriangle{t, m.tri[t].v})
	}
	m.refine()
	return len(m.at) > before && len(m.at) < m.limit
}

// markShare is the share of the gap whose triangles are cut in one round (Dörfler 1996).
const markShare = 0.9

// solution holds the fields of one mesh.
type solution struct {
	region    Region
	sec       Section
	mesh      *quadMesh
	phi       []float64 // stress function at the nodes
	omega     []float64 // warping function
	shear     [2][]float64
	loads     [3][]float64 // right-hand sides of the warping function and of the two shear functions
	low, high float64
	err       []float64 // share of the gap in each element
}

func newSolution(r Region, sec Section, q *quadMesh) *solution {
	q.unfold()
	return &solution{region: r, sec: sec, mesh: q}
}

// stressUnknowns numbers the unknowns of the stress function: none on the outside, one round each hole.
func (s *solution) stressUnknowns() (of []int, n int) {
	hole := make([]int, len(s.region))
	for i, l := range s.region {
		hole[i] = -1
		if l.Area() < 0 {
			hole[i] = n
			n++
		}
	}
	of = make([]int, len(s.mesh.at))
	for i, l := range s.mesh.loop {
		if l >= 0 {
			of[i] = hole[l]
			continue
		}
		of[i] = n
		n++
	}
	return of, n
}

// solve finds both functions and the bounds.
func (s *solution) solve() error {
	q := s.mesh
	of, n := s.stressUnknowns()
	free := len(q.at)
	stress, warp := sparse.NewBuilder(max(n, 1), 21*len(q.el)), sparse.NewBuilder(free, 21*len(q.el)+1)
	f := make([]float64, n)
	for i := range s.loads {
		s.loads[i] = make([]float64, free)
	}
	for i, l := range s.region {
		if a := l.Area(); a < 0 {
			f[holeIndex(s.region, i)] -= 2 * a
		}
	}
	var sh [6]shape
	var polar float64
	for el, e := range q.el {
		q.shapes(el, s.sec.Centroid, &sh)
		k := stiffness(&sh)
		for i := range 6 {
			for j := 0; j <= i; j++ {
				warp.Add(int(e[i]), int(e[j]), k[i][j])
				a, b := of[e[i]], of[e[j]]
				switch {
				case a < 0 || b < 0:
				case a == b && i != j:
					stress.Add(a, b, 2*k[i][j])
				default:
					stress.Add(a, b, k[i][j])
				}
			}
		}
		for g := range sh {
			p, w := sh[g].p, sh[g].w
			polar += w * p.square()
			for i, node := range e {
				ni := sh[g].n[i] * w
				if a := of[node]; a >= 0 {
					f[a] += 2 * ni
				}
				s.loads[0][node] += w * (float64(p.Y*sh[g].grad[i].X) - float64(p.X*sh[g].grad[i].Y))
				s.loads[1][node] += ni * p.X
				s.loads[2][node] += ni * p.Y
			}
		}
	}
	// The two systems share nothing, so that they may be solved side by side.
	done := make(chan error)
	go func() { done <- s.solveStress(stress, of, f) }()
	warpErr := s.solveWarping(warp)
	if err := <-done; err != nil {
		return err
	}
	if warpErr != nil {
		return warpErr
	}
	s.high = polar
	for i, w := range s.omega {
		s.high -= w * s.loads[0][i]
	}
	if s.low > s.high { // by rounding only, where the mesh holds the solution itself
		s.low, s.high = s.high, s.low
	}
	s.measure()
	return nil
}

// holeIndex returns the number of a hole among the holes of a region.
func holeIndex(r Region, loop int) (n int) {
	for _, l := range r[:loop] {
		if l.Area() < 0 {
			n++
		}
	}
	return n
}

var errSolve = errors.New("the section could not be solved: its mesh is degenerate")

// solveStress fills phi and low.
func (s *solution) solveStress(b *sparse.Builder, of []int, f []float64) error {
	x := slices.Clone(f)
	if len(f) > 0 {
		k := sparse.Factorize(b.Sym(), nil)
		if len(k.Loose) > 0 {
			return errSolve
		}
		k.Solve(x, 1)
	}
	s.low = 0
	for i, v := range x {
		s.low += v * f[i]
	}
	s.phi = make([]float64, len(of))
	for i, a := range of {
		if a >= 0 {
			s.phi[i] = x[a]
		}
	}
	return nil
}

// solveWarping fills omega and the shear functions. They are only known up to a constant: one node is held by a spring, which
// takes no force as the loads have no sum.
func (s *solution) solveWarping(b *sparse.Builder) error {
	b.Add(0, 0, 1)
	k := sparse.Factorize(b.Sym(), nil)
	if len(k.Loose) > 0 {
		return errSolve
	}
	n := len(s.loads[0])
	x := make([]float64, 3*n)
	for c, l := range s.loads {
		for i, v := range l {
			x[3*i+c] = v
		}
	}
	k.Solve(x, 3)
	s.omega, s.shear = make([]float64, n), [2][]float64{make([]float64, n), make([]float64, n)}
	for i := range n {
		s.omega[i], s.shear[0][i], s.shear[1][i] = x[3*i], x[3*i+1], x[3*i+2]
	}
	return nil
}

// measure fills err: the squared difference of the two stresses in each element, whose sum is the gap of the bounds.
func (s *solution) measure() {
	s.err = make([]float64, len(s.mesh.el))
	var sh [6]shape
	for el := range s.mesh.el {
		s.mesh.shapes(el, s.sec.Centroid, &sh)
		for g := range sh {
			a := s.mesh.gradient(el, &sh[g], s.phi)
			b := s.mesh.gradient(el, &sh[g], s.omega)
			d := Vec2{a.Y - b.X + sh[g].p.Y, -a.X - b.Y - sh[g].p.X}
			s.err[el] += sh[g].w * d.square()
		}
	}
}

// result turns the fields into properties.
func (s *solution) result() Torsion {
	t := Torsion{JLow: s.low, JHigh: s.high, J: (s.low + s.high) / 2, Triangles: len(s.mesh.el)}
	t.Error = relativeGap(s.low, s.high)
	// Bending stress grows along the bar by p·x + q·y for a unit force; see the doc of Section for Ix and Iy.
	det := float64(s.sec.Ix*s.sec.Iy) - float64(s.sec.Ixy*s.sec.Ixy)
	forX := Vec2{s.sec.Ix / det, -s.sec.Ixy / det}
	forY := Vec2{-s.sec.Ixy / det, s.sec.Iy / det}
	var e [2][2]float64 // energies of the two basic shear functions
	var torque [2]float64
	for i := range s.loads[0] {
		for a := range 2 {
			torque[a] -= s.loads[0][i] * s.shear[a][i]
			for b := range 2 {
				e[a][b] += s.loads[1+a][i] * s.shear[b][i]
			}
		}
	}
	energy := func(u, v Vec2) float64 {
		return u.X*(e[0][0]*v.X+e[0][1]*v.Y) + u.Y*(e[1][0]*v.X+e[1][1]*v.Y)
	}
	t.ShearX, t.ShearY = 1/energy(forX, forX), 1/energy(forY, forY)
	if c := energy(forX, forY); c*c > 1e-6*energy(forX, forX)*energy(forY, forY) {
		t.ShearXY = 1 / c
	}
	off := Vec2{forY.X*torque[0] + forY.Y*torque[1], -(forX.X*torque[0] + forX.Y*torque[1])}
	span := s.sec.High.Sub(s.sec.Low)
	if math.Abs(off.X) < centreNoise*span.X {
		off.X = 0
	}
	if math.Abs(off.Y) < centreNoise*span.Y {
		off.Y = 0
	}
	t.ShearCentre = s.sec.Centroid.Add(off)
	return t
}

// centreNoise is the share of the section's size that an unsymmetric mesh moves the shear centre of a
// symmetric section by, at most.
const centreNoise = 1e-3
