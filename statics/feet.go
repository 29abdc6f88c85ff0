package statics

import (
	"errors"
	"math"

	"barwright/internal/sparse"
)

// Supports that only push. As long as all of them push, they are ordinary supports. Where one would pull,
// the frame is factored once more with a spring under every such support; removing a spring or making it rigid is
// then a small dense system over the feet (Woodbury), so that no state of the feet needs another factorization.

// feet is the frame on springs.
type feet struct {
	mesh    *mesh
	factor  *sparse.Factor
	spring  float64
	moves   []footMove  // the movements held by feet
	give    [][]float64 // give[i][j]: movement i under a unit force on movement j
	support []int       // the supports that lift
}

// footMove is one movement of one foot.
type footMove struct {
	foot int // index into feet.support
	at   int // 6·node + movement
	up   bool
}

// ErrTips says that the frame does not stay on its feet under a case.
var ErrTips = errors.New("the frame does not stand: under these loads it lifts off its feet and tips or slides")

// pullTolerance is the share of the largest foot load that a foot may pull before it counts as lifted: rounding only.
const pullTolerance = 1e-9

// mostFeet is how many supports may lift. With more of them, all hold: a frame on that many feet lies as on a bed, and the dense
// system over them would grow out of hand.
const mostFeet = 64

// pulled reports whether any support that lifts would have to pull.
func (s *System) pulled(sol *Solution) bool {
	lifting := 0
	for _, p := range s.Supports {
		if p.Lifts {
			lifting++
		}
	}
	if lifting == 0 || lifting > mostFeet {
		return false
	}
	var most float64
	reactions := sol.Reactions()
	for _, r := range reactions {
		most = math.Max(most, r.Force.Len())
	}
	for i, p := range s.Supports {
		if p.Lifts && reactions[i].Force.Z < -pullTolerance*most {
			return true
		}
	}
	return false
}

// onSprings factors the frame with a spring under each movement of the feet.
func (s *System) onSprings() *feet {
	if s.feet != nil {
		return s.feet
	}
	f := &feet{mesh: newMesh(s.Model, nil, nil), spring: s.typicalStiffness()}
	soft := *s.Model
	soft.Springs = append([]Spring(nil), s.Springs...)
	hard := s.heldBy(func(p *Support) bool { return !p.Lifts })
	for i, p := range s.Supports {
		if !p.Lifts {
			continue
		}
		spring := Spring{A: p.Node, B: -1}
		for c, on := range p.Fixed {
			if on && !hard[6*p.Node+c] {
				spring.K[c] = f.spring
				f.moves = append(f.moves, footMove{len(f.support), 6*p.Node + c, c == 2})
			}
		}
		soft.Springs = append(soft.Springs, spring)
		f.support = append(f.support, i)
	}
	f.mesh.model = &soft
	f.mesh.number(hard)
	k := f.mesh.stiffness()
	f.factor = sparse.Factorize(k, f.mesh.blocks)
	f.measure()
	s.feet = f
	return f
}

// atOnce is how many feet movements are solved for together.
const atOnce = 8

// measure fills give.
func (q *feet) measure() {
	n := len(q.moves)
	q.give = make([][]float64, n)
	for i := range q.give {
		q.give[i] = make([]float64, n)
	}
	for from := 0; from < n; from += atOnce {
		w := min(atOnce, n-from)
		x := make([]float64, q.mesh.free*w)
		for j := range w {
			x[int(q.mesh.of[q.moves[from+j].at])*w+j] = 1
		}
		q.factor.Solve(x, w)
		for i, m := range q.moves {
			copy(q.give[i][from:from+w], x[int(q.mesh.of[m.at])*w:])
		}
	}
}

// typicalStiffness returns a spring that neither vanishes beside the frame nor drowns it.
func (s *System) typicalStiffness() float64 {
	var sum float64
	for i := range s.mesh.parts {
		p := &s.mesh.parts[i]
		sum += p.mat.E * p.section.Area / p.length
	}
	return sum / float64(len(s.mesh.parts)) / 10
}

// lift finds which supports let go, and the movements then.
func (s *System) lift(f []float64) (moved []float64, lifted []int, err error) {
	q := s.onSprings()
	x := make([]float64, q.mesh.free)
	for i, r := range q.mesh.of {
		if r >= 0 {
			x[r] = f[i]
		}
	}
	q.factor.Solve(x, 1)
	free := make([]float64, len(q.moves)) // movements of the feet on springs
	for i, m := range q.moves {
		free[i] = x[q.mesh.of[m.at]]
	}
	down := make([]bool, len(q.support))
	for i := range down {
		down[i] = true
	}
	push, err := q.settle(down, free)
	if err != nil {
		return nil, nil, err
	}
	load := make([]float64, q.mesh.free)
	for i, m := range q.moves {
		load[q.mesh.of[m.at]] = push[i]
	}
	q.factor.Solve(load, 1)
	for i := range x {
		x[i] += load[i]
	}
	for i, d := range down {
		if !d {
			lifted = append(lifted, q.support[i])
		}
	}
	return q.mesh.expand(x), lifted, nil
}

// settle finds the state of the feet: those down have no movement and push, those up have no force and rise. down is
// changed in place. It returns the forces to add to the frame on springs.
func (q *feet) settle(down []bool, free []float64) ([]float64, error) {
	seen := map[string]bool{}
	for {
		push, err := q.state(down, free)
		if err != nil {
			return nil, err
		}
		key := make([]byte, len(down))
		for i, d := range down {
			if d {
				key[i] = 1
			}
		}
		// Once a state comes back, feet change one at a time, the worst first, which cannot cycle for long.
		single := seen[string(key)]
		if seen[string(key)+"!"] {
			return nil, ErrTips
		}
		if single {
			seen[string(key)+"!"] = true
		}
		seen[string(key)] = true
		if !q.change(down, free, push, single) {
			return push, nil
		}
	}
}

// change corrects the feet that pull or sink. It reports whether there were any.
func (q *feet) change(down []bool, free, push []float64, single bool) bool {
	var most float64
	force := make([]float64, len(q.moves))
	move := make([]float64, len(q.moves))
	for i := range q.moves {
		u := free[i]
		for j, p := range push {
			u += q.give[i][j] * p
		}
		move[i], force[i] = u, push[i]-q.spring*u
		most = math.Max(most, math.Abs(force[i]))
	}
	worst, at := 0.0, -1
	changed := false
	for i, m := range q.moves {
		if !m.up {
			continue
		}
		wrong := 0.0
		if down[m.foot] {
			wrong = -force[i]
		} else {
			wrong = -move[i] * q.spring
		}
		if wrong <= pullTolerance*most {
			continue
		}
		if wrong > worst {
			worst, at = wrong, m.foot
		}
		if !single {
			down[m.foot] = !down[m.foot]
			changed = true
		}
	}
	if single && at >= 0 {
		down[at] = !down[at]
		changed = true
	}
	return changed
}

// state solves for the added forces with the feet in a given state.
func (q *feet) state(down []bool, free []float64) ([]float64, error) {
	n := len(q.moves)
	a, b := make([][]float64, n), make([]float64, n)
	for i, m := range q.moves {
		a[i] = make([]float64, n)
		if down[m.foot] { // no movement: free + give·push = 0
			copy(a[i], q.give[i])
			b[i] = -free[i]
			for j := range a[i] { // in units of the spring
				a[i][j] *= q.spring
			}
			b[i] *= q.spring
			continue
		}
		for j, g := range q.give[i] { // no force: push = spring·movement
			a[i][j] = -q.spring * g
		}
		a[i][i]++
		b[i] = q.spring * free[i]
	}
	if !solveDense(a, b) {
		return nil, ErrTips
	}
	return b, nil
}

// singularPivot is how small a pivot of the feet's system may be, in which a spring counts as 1.
const singularPivot = 1e-9

// solveDense solves a small system in place by elimination with row exchanges. It reports false for a singular one.
func solveDense(a [][]float64, b []float64) bool {
	n := len(b)
	for c := range n {
		best := c
		for r := c + 1; r < n; r++ {
			if math.Abs(a[r][c]) > math.Abs(a[best][c]) {
				best = r
			}
		}
		if !(math.Abs(a[best][c]) > singularPivot) {
			return false
		}
		a[c], a[best] = a[best], a[c]
		b[c], b[best] = b[best], b[c]
		for r := c + 1; r < n; r++ {
			f := a[r][c] / a[c][c]
			if f == 0 {
				continue
			}
			for k := c; k < n; k++ {
				a[r][k] -= f * a[c][k]
			}
			b[r] -= f * b[c]
		}
	}
	for c := n - 1; c >= 0; c-- {
		for k := c + 1; k < n; k++ {
			b[c] -= a[c][k] * b[k]
		}
		b[c] /= a[c][c]
	}
	return true
}
