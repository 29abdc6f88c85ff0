package sparse

// Solve replaces x, cols right-hand sides side by side (entry i of vector c at i*cols+c), by the solutions.
// Loose unknowns come out as zero.
func (f *Factor) Solve(x []float64, cols int) {
	y := make([]float64, len(x))
	for i, old := range f.perm {
		copy(y[i*cols:(i+1)*cols], x[int(old)*cols:(int(old)+1)*cols])
	}
	if cols == 1 {
		f.forwardOne(y)
		f.backOne(y, true)
	} else {
		f.forward(y, cols)
		f.back(y, cols)
	}
	for i, old := range f.perm {
		copy(x[int(old)*cols:(int(old)+1)*cols], y[i*cols:(i+1)*cols])
	}
}

func (f *Factor) forwardOne(y []float64) {
	for s := range f.fronts {
		fr := &f.fronts[s]
		m := len(fr.rows)
		for c := range fr.cols {
			v := y[fr.first+c]
			if v == 0 {
				continue
			}
			col := f.val[fr.at+c*m : fr.at+(c+1)*m]
			for i := c + 1; i < fr.cols; i++ {
				y[fr.first+i] -= col[i] * v
			}
			for i := fr.cols; i < m; i++ {
				y[fr.rows[i]] -= col[i] * v
			}
		}
	}
}

// backOne solves with D (where scale is set) and Lᵀ.
func (f *Factor) backOne(y []float64, scale bool) {
	for s := len(f.fronts) - 1; s >= 0; s-- {
		fr := &f.fronts[s]
		m := len(fr.rows)
		for c := fr.cols - 1; c >= 0; c-- {
			col := f.val[fr.at+c*m : fr.at+(c+1)*m]
			v := y[fr.first+c]
			if scale {
				v *= col[c]
			}
			for i := c + 1; i < fr.cols; i++ {
				v -= col[i] * y[fr.first+i]
			}
			for i := fr.cols; i < m; i++ {
				v -= col[i] * y[fr.rows[i]]
			}
			y[fr.first+c] = v
		}
	}
}

func (f *Factor) forward(y []float64, cols int) {
	for s := range f.fronts {
		fr := &f.fronts[s]
		m := len(fr.rows)
		for c := range fr.cols {
			src := y[(fr.first+c)*cols : (fr.first+c+1)*cols]
			col := f.val[fr.at+c*m : fr.at+(c+1)*m]
			for i := c + 1; i < m; i++ {
				l := col[i]
				dst := y[int(fr.rows[i])*cols : (int(fr.rows[i])+1)*cols]
				for q, v := range src {
					dst[q] -= l * v
				}
			}
		}
	}
}

func (f *Factor) back(y []float64, cols int) {
	for s := len(f.fronts) - 1; s >= 0; s-- {
		fr := &f.fronts[s]
		m := len(fr.rows)
		for c := fr.cols - 1; c >= 0; c-- {
			col := f.val[fr.at+c*m : fr.at+(c+1)*m]
			dst := y[(fr.first+c)*cols : (fr.first+c+1)*cols]
			for q := range dst {
				dst[q] *= col[c]
			}
			for i := c + 1; i < m; i++ {
				l := col[i]
				src := y[int(fr.rows[i])*cols : (int(fr.rows[i])+1)*cols]
				for q, v := range src {
					dst[q] -= l * v
				}
			}
		}
	}
}

// Free returns the movement that k-th loose unknown stands for: a vector x with A·x = 0 as
// far as the numbers go, in which that unknown is 1.
func (f *Factor) Free(k int) []float64 {
	y := make([]float64, f.n)
	y[f.where[f.Loose[k]]] = 1
	// Lᵀ·y = e; the other loose unknowns stay zero, as their columns are empty.
	f.backOne(y, false)
	x := make([]float64, f.n)
	for i, old := range f.perm {
		x[old] = y[i]
	}
	return x
}
