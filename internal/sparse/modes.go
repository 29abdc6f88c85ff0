package sparse

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/mat"
)

// Mode is one solution of K·x = λ·M·x.
type Mode struct {
	Lambda float64
	X      []float64 // xᵀ·M·x = 1
}

// ErrNotConverged says that the modes could not be found to the tolerance.
var ErrNotConverged = errors.New("the modes did not converge")

// residualTolerance is the relative residual at which a mode counts as found. Its λ is never farther off than that, and in practice
// by its square.
const residualTolerance = 1e-5

// maxSteps ends the iteration.
const maxSteps = 400

// roomFor returns how many vectors the basis may hold before it is made short again.
func roomFor(count, width int) int { return 2*count + 10*width }

// Modes returns the modes of lowest λ, rising: as many as count, or fewer where the mass has not
// so many movements. k is the factor of a positive definite K, m the mass, which may be singular.
//
// It is block Lanczos on K⁻¹·M in the inner product of M with full orthogonalization (Grimes, Lewis and Simon, "A shifted
// block Lanczos algorithm for solving sparse symmetric generalized eigenproblems", SIAM J. Matrix Anal. Appl. 15, 1994).
// The block is as wide as the number of modes, up to eight, so that modes that share a frequency are found together.
//
// A basis that has grown long is replaced by its best vectors (Wu and Simon, "Thick-restart Lanczos method for large symmetric
// eigenvalue problems", SIAM J. Matrix Anal. Appl. 22, 2000).
func Modes(k *Factor, m *Sym, count int) ([]Mode, error) {
	if count <= 0 || k.n == 0 {
		return nil, nil
	}
	width := min(max(count, 2), 8, k.n)
	return modes(k, m, count, width, roomFor(count, width))
}

// modes is Modes with a block of a width and room for a number of vectors.
func modes(k *Factor, m *Sym, count, width, room int) ([]Mode, error) {
	l := &lanczos{k: k, m: m, n: k.n}
	x := make([]float64, l.n*width)
	fillRandom(x)
	y := make([]float64, len(x))
	m.Mul(y, x, width)
	k.Solve(y, width)
	l.grow(y, width)
	for range maxSteps {
		if l.width == 0 {
			return l.extract(count), nil
		}
		l.step()
		if l.size >= count && l.converged(count) {
			return l.extract(count), nil
		}
		if l.size > room {
			l.restart(min(count+l.width, len(l.t)))
		}
	}
	return nil, ErrNotConverged
}

// restart replaces the blocks that are done by their leading combinations. The last block, whose turn is next, stays: the next
// step finds how it hangs on them.
func (l *lanczos) restart(keep int) {
	l.solveProjected()
	n := len(l.t)
	best := block{width: keep, v: make([]float64, l.n*keep), mv: make([]float64, l.n*keep)}
	last := l.basis[len(l.basis)-1]
	for _, b := range l.basis[:len(l.basis)-1] {
		for c := range b.width {
			for q := range keep {
				s := l.vectors.At(b.first+c, n-1-q)
				for i := range l.n {
					best.v[i*keep+q] += s * b.v[i*b.width+c]
					best.mv[i*keep+q] += s * b.mv[i*b.width+c]
				}
			}
		}
	}
	l.t = make([][]float64, keep)
	for q := range keep {
		l.t[q] = make([]float64, keep)
		l.t[q][q] = l.theta[n-1-q]
	}
	last.first = keep
	l.basis = []block{best, last}
	l.size = keep + last.width
}

// fillRandom fills x with fixed numbers in (-1, 1) by xorshift (Marsaglia 2003).
func fillRandom(x []float64) {
	s := uint64(0x2545f4914f6cdd1d)
	for i := range x {
		s ^= s << 13
		s ^= s >> 7
		s ^= s << 17
		x[i] = float64(int64(s)>>11) / (1 << 52)
	}
}

// block is a few vectors side by side with their products with M.
type block struct {
	width int
	v, mv []float64
	first int // index of its first vector
}

// lanczos holds the basis and the projection T of K⁻¹·M on it.
type lanczos struct {
	k     *Factor
	m     *Sym
	n     int
	basis []block
	size  int
	t     [][]float64 // full rows, symmetric
	// width and coupling describe the last block: vectors that the next step adds, and how they hang on the
	// block before.
	width    int
	coupling [][]float64
	theta    []float64
	vectors  *mat.Dense
}

// grow orthonormalizes y against the basis and within itself, and adds what is new as a block. It returns the
// coefficients against the basis, by vector, and sets coupling: what the old columns of y are in the new vectors.
func (l *lanczos) grow(y []float64, width int) [][]float64 {
	coef := make([][]float64, l.size)
	for i := range coef {
		coef[i] = make([]float64, width)
	}
	my := make([]float64, len(y))
	l.m.Mul(my, y, width)
	before := columnNorms(y, my, width)
	for range 2 {
		for b := range l.basis {
			l.basis[b].project(y, width, coef)
		}
	}
	l.m.Mul(my, y, width)
	l.orthonormalize(y, my, width, before)
	return coef
}

// project takes the block's part out of y.
func (b *block) project(y []float64, width int, coef [][]float64) {
	n := len(y) / width
	h := make([]float64, b.width*width)
	for i := range n {
		v, q := b.mv[i*b.width:(i+1)*b.width], y[i*width:(i+1)*width]
		for r, a := range v {
			if a == 0 {
				continue
			}
			row := h[r*width : (r+1)*width]
			for c, x := range q {
				row[c] += a * x
			}
		}
	}
	for i := range n {
		v, q := b.v[i*b.width:(i+1)*b.width], y[i*width:(i+1)*width]
		for r, a := range v {
			if a == 0 {
				continue
			}
			row := h[r*width : (r+1)*width]
			for c := range q {
				q[c] -= a * row[c]
			}
		}
	}
	for r := range b.width {
		for c := range width {
			coef[b.first+r][c] += h[r*width+c]
		}
	}
}

// columnNorms returns the lengths of the columns in the inner product of M.
func columnNorms(y, my []float64, width int) []float64 {
	out := make([]float64, width)
	for i, v := range y {
		out[i%width] += v * my[i]
	}
	for i, v := range out {
		out[i] = math.Sqrt(math.Max(v, 0))
	}
	return out
}

// dependent is the share of its length that a vector must keep to count as new.
const dependent = 1e-11

// orthonormalize turns the columns of y into a new block by modified Gram–Schmidt, twice over, leaving out those that are
// not new.
func (l *lanczos) orthonormalize(y, my []float64, width int, before []float64) {
	var keep []int
	r := make([][]float64, width) // r[new][old]
	for i := range r {
		r[i] = make([]float64, width)
	}
	dot := func(a, b int) (s float64) {
		for i := range l.n {
			s += y[i*width+a] * my[i*width+b]
		}
		return s
	}
	for c := range width {
		for range 2 {
			for _, p := range keep {
				s := dot(c, p)
				r[p][c] += s
				for i := range l.n {
					y[i*width+c] -= s * y[i*width+p]
					my[i*width+c] -= s * my[i*width+p]
				}
			}
		}
		norm := math.Sqrt(math.Max(dot(c, c), 0))
		if !(norm > dependent*before[c]) {
			continue
		}
		r[c][c] = norm
		for i := range l.n {
			y[i*width+c] /= norm
			my[i*width+c] /= norm
		}
		keep = append(keep, c)
	}
	l.width = len(keep)
	l.coupling = l.coupling[:0]
	b := block{width: len(keep), first: l.size, v: make([]float64, l.n*len(keep)), mv: make([]float64, l.n*len(keep))}
	for k, c := range keep {
		l.coupling = append(l.coupling, r[c])
		for i := range l.n {
			b.v[i*b.width+k], b.mv[i*b.width+k] = y[i*width+c], my[i*width+c]
		}
	}
	if b.width > 0 {
		l.basis = append(l.basis, b)
		l.size += b.width
	}
}

// step applies K⁻¹·M to the last block and adds what is new.
func (l *lanczos) step() {
	b := &l.basis[len(l.basis)-1]
	width, first := b.width, b.first
	y := append([]float64(nil), b.mv...)
	l.k.Solve(y, width)
	coef := l.grow(y, width)
	for len(l.t) < first+width {
		l.t = append(l.t, nil)
	}
	for i := range l.t {
		for len(l.t[i]) < first+width {
			l.t[i] = append(l.t[i], 0)
		}
	}
	for r := range coef {
		for c := range width {
			l.t[r][first+c], l.t[first+c][r] = coef[r][c], coef[r][c]
		}
	}
}

// converged solves the projected problem and reports whether its leading modes are good: what the next block would add
// to them is small.
func (l *lanczos) converged(count int) bool {
	n := len(l.t)
	if n < count && l.width > 0 {
		return false
	}
	l.solveProjected()
	prev := n - len(l.lastCoupling())
	for i := range min(count, n) {
		var res float64
		for _, row := range l.coupling {
			var s float64
			for c, v := range row[:n-prev] {
				s += v * l.vectors.At(prev+c, n-1-i)
			}
			res += s * s
		}
		if math.Sqrt(res) > residualTolerance*l.theta[n-1-i] {
			return false
		}
	}
	return true
}

// lastCoupling returns the row of coupling that gives the width of the block before the last.
func (l *lanczos) lastCoupling() []float64 {
	if len(l.coupling) == 0 {
		return nil
	}
	return l.coupling[0]
}

// solveProjected finds the eigenvalues of T, rising, and its vectors.
func (l *lanczos) solveProjected() {
	n := len(l.t)
	s := mat.NewSymDense(n, nil)
	for i := range n {
		for j := i; j < n; j++ {
			s.SetSym(i, j, (l.t[i][j]+l.t[j][i])/2)
		}
	}
	var e mat.EigenSym
	e.Factorize(s, true)
	l.theta = e.Values(nil)
	l.vectors = new(mat.Dense)
	e.VectorsTo(l.vectors)
}

// extract returns the leading modes.
func (l *lanczos) extract(count int) []Mode {
	if len(l.t) == 0 {
		return nil
	}
	l.solveProjected()
	n := len(l.t)
	var out []Mode
	for i := range min(count, n) {
		theta := l.theta[n-1-i]
		if !(theta > dependent*l.theta[n-1]) {
			break
		}
		x := make([]float64, l.n)
		for _, b := range l.basis {
			if b.first >= n {
				break
			}
			for c := range b.width {
				s := l.vectors.At(b.first+c, n-1-i)
				for r := range l.n {
					x[r] += s * b.v[r*b.width+c]
				}
			}
		}
		out = append(out, Mode{Lambda: 1 / theta, X: signed(x)})
	}
	return out
}

// signed turns a vector so that its largest entry (the first of equals, within rounding) is positive.
func signed(x []float64) []float64 {
	var most float64
	for _, v := range x {
		most = math.Max(most, math.Abs(v))
	}
	for _, v := range x {
		if math.Abs(v) > most*(1-1e-6) {
			if v < 0 {
				for i := range x {
					x[i] = -x[i]
				}
			}
			break
		}
	}
	return x
}
