package sparse

import "math"

// Factor is A = L·D·Lᵀ in the order of its pattern. It is not changed after Factorize and may be
// used by several goroutines.
type Factor struct {
	*Pattern
	val []float64 // the panels of the fronts by columns, unit diagonal replaced by 1/D
	// Loose lists unknowns whose pivot vanished: they were held at zero instead. Each is a movement
	// that nothing resists, see [Factor.Free].
	Loose []int
	// Negative is the number of negative pivots: by Sylvester's law the number of negative eigenvalues.
	Negative int
}

// ZeroPivot is how small a pivot may get against the diagonal entry that it started from before it counts as zero.
// Rounding leaves some 1e-15 of that entry; a real frame keeps far more than 1e-11.
const ZeroPivot = 1e-11

// Factorize factors a matrix whose pattern was analysed. There is no pivoting: a definite matrix
// needs none. The error of an indefinite one (a shifted one) is unbounded in theory; use it for counts.
func (p *Pattern) Factorize(a *Sym) *Factor {
	f := &Factor{Pattern: p, val: make([]float64, p.nonzer)}
	w := newWorker(f, a)
	for s := range p.fronts {
		w.run(s)
	}
	return f
}

// Factorize analyses and factors in one call.
func Factorize(a *Sym, blocks []int) *Factor { return Analyse(a, blocks).Factorize(a) }

// worker carries the state of one factorization.
type worker struct {
	f       *Factor
	a       *Sym // lower triangle in the new numbering
	diag    []float64
	at      []int32     // place of an unknown in the current front
	updates [][]float64 // what a finished front passes on: lower triangle, full square storage
	spare   [][]float64
	pack    packing
	places  []int // scratch of extend
}

func newWorker(f *Factor, a *Sym) *worker {
	w := &worker{f: f, a: a.permuted(f.where), at: make([]int32, f.n), updates: make([][]float64, len(f.fronts))}
	w.diag = w.a.Diagonal()
	return w
}

// permuted returns the matrix in a new numbering, lower triangle by columns, rows unsorted.
func (s *Sym) permuted(where []int32) *Sym {
	out := &Sym{N: s.N, Ptr: make([]int, s.N+1), Row: make([]int32, len(s.Row)), Val: make([]float64, len(s.Val))}
	for j := range s.N {
		for _, i := range s.Row[s.Ptr[j]:s.Ptr[j+1]] {
			out.Ptr[min(where[i], where[j])+1]++
		}
	}
	for j := range s.N {
		out.Ptr[j+1] += out.Ptr[j]
	}
	next := append([]int(nil), out.Ptr[:s.N]...)
	for pass := range 2 { // the diagonal first
		for j := range s.N {
			for p := s.Ptr[j]; p < s.Ptr[j+1]; p++ {
				i := int(s.Row[p])
				if (i == j) != (pass == 0) {
					continue
				}
				c, r := where[j], where[i]
				if r < c {
					c, r = r, c
				}
				out.Row[next[c]], out.Val[next[c]] = r, s.Val[p]
				next[c]++
			}
		}
	}
	return out
}

// buffer returns a cleared buffer of a length.
func (w *worker) buffer(n int) []float64 {
	for k := len(w.spare) - 1; k >= 0; k-- {
		if b := w.spare[k]; cap(b) >= n && cap(b) <= 4*n+256 {
			w.spare = append(w.spare[:k], w.spare[k+1:]...)
			b = b[:n]
			clear(b)
			return b
		}
	}
	if len(w.spare) > 64 {
		w.spare = w.spare[32:]
	}
	return make([]float64, n)
}

// run assembles and eliminates one front.
func (w *worker) run(s int) {
	fr := &w.f.fronts[s]
	m, k := len(fr.rows), fr.cols
	rest := m - k
	panel := w.f.val[fr.at : fr.at+m*k] // column c at c*m
	var update []float64
	if rest > 0 {
		update = w.buffer(rest * rest)
	}
	for i, r := range fr.rows {
		w.at[r] = int32(i)
	}
	for c := range k {
		j := fr.first + c
		for p := w.a.Ptr[j]; p < w.a.Ptr[j+1]; p++ {
			panel[c*m+int(w.at[w.a.Row[p]])] += w.a.Val[p]
		}
	}
	for _, ch := range fr.children {
		w.extend(panel, update, m, k, ch)
	}
	w.eliminate(fr, panel, update)
	w.updates[s] = update
}

// extend adds what a child front passed on.
func (w *worker) extend(panel, update []float64, m, k, child int) {
	fc := &w.f.fronts[child]
	rows := fc.rows[fc.cols:]
	u := w.updates[child]
	r, rest := len(rows), m-k
	at := w.places[:0]
	for _, row := range rows {
		at = append(at, int(w.at[row]))
	}
	w.places = at
	for j := range r {
		col := u[j*r : (j+1)*r]
		if c := at[j]; c < k {
			dst := panel[c*m : (c+1)*m]
			for i := j; i < r; i++ {
				dst[at[i]] += col[i]
			}
		} else {
			dst := update[(c-k)*rest : (c-k+1)*rest]
			for i := j; i < r; i++ {
				dst[at[i]-k] += col[i]
			}
		}
	}
	w.updates[child] = nil
	w.spare = append(w.spare, u)
}

// panelWidth is how many columns are eliminated before the rest of the front is updated.
const panelWidth = 32

// eliminate factors the front's own columns and subtracts their part from the update matrix.
func (w *worker) eliminate(fr *front, panel, update []float64) {
	m, k := len(fr.rows), fr.cols
	for c0 := 0; c0 < k; c0 += panelWidth {
		c1 := min(c0+panelWidth, k)
		for c := c0; c < c1; c++ {
			w.pivot(fr, panel, c, c1)
		}
		w.pack.load(panel, m, c0, c1)
		w.pack.subtract(panel, m, 0, c1, k, m)
		if m > k {
			w.pack.subtract(update, m-k, k, k, m, m)
		}
	}
}

// pivot eliminates column c within columns up to c1.
func (w *worker) pivot(fr *front, panel []float64, c, c1 int) {
	m := len(fr.rows)
	col := panel[c*m : (c+1)*m]
	d := col[c]
	switch {
	case !(math.Abs(d) > ZeroPivot*math.Abs(w.diag[fr.first+c])):
		w.f.Loose = append(w.f.Loose, int(w.f.perm[fr.first+c]))
		clear(col)
		col[c] = 0
		return
	case d < 0:
		w.f.Negative++
	}
	inv := 1 / d
	for j := c + 1; j < c1; j++ {
		if l := col[j] * inv; l != 0 {
			dst, src := panel[j*m+j:(j+1)*m], col[j:]
			for i, v := range src {
				dst[i] -= l * v
			}
		}
	}
	for i := c + 1; i < m; i++ {
		col[i] *= inv
	}
	col[c] = inv
}
