package stock

import "math"

// This file makes and changes the linear programme of simplex.go: its rows,
// its columns and the inverse of its basis.

// newLP makes a programme whose basis is its artificials and slacks.
func newLP(rows []lprow, tol, pen float64, work *budget) *lp {
	m := len(rows)
	l := &lp{rows: rows, tol: tol, pen: pen, work: work,
		basis: make([]int, m), inv: make([]float64, m*m),
		x: make([]float64, m), y: make([]float64, m), d: make([]float64, m)}
	l.crash()
	return l
}

// crash puts back the basis of artificials and slacks.
func (l *lp) crash() {
	m := len(l.rows)
	clear(l.inv)
	clear(l.inBas)
	for r := range l.rows {
		l.inv[r*m+r] = 1
		l.x[r] = l.rows[r].rhs
		if l.rows[r].atLeast() {
			l.basis[r] = artificialOf(r)
			l.y[r] = l.rows[r].big
		} else {
			l.basis[r] = slackOf(r)
			l.y[r] = 0
		}
	}
	l.since = 0
}

// clone copies all that pivots change; the columns themselves are shared.
func (l *lp) clone() *lp {
	c := *l
	c.rows = append([]lprow(nil), l.rows...)
	c.cols = append(make([]column, 0, len(l.cols)+64), l.cols...)
	c.dear = append([]bool(nil), l.dear...)
	c.basis = append([]int(nil), l.basis...)
	c.inBas = append([]bool(nil), l.inBas...)
	c.inv = append([]float64(nil), l.inv...)
	c.x = append([]float64(nil), l.x...)
	c.y = append([]float64(nil), l.y...)
	c.d = make([]float64, len(l.d))
	l.work.spend(len(l.inv) / 4)
	return &c
}

// coefficient of a pattern in a row.
func (r *lprow) coefficient(p *pattern, size []int) float64 {
	switch r.kind {
	case needRow:
		return float64(p.countOf(r.key))
	case limitRow, floorRow:
		if p.bin == r.key {
			return 1
		}
	case arcUpRow, arcDnRow:
		if p.hasArc(r.pos, r.key, size) {
			return 1
		}
	}
	return 0
}

// addColumn appends a pattern to the pool. The first len(size) rows are the need rows.
func (l *lp) addColumn(p *pattern, cost float64, size []int) {
	c := column{pat: p, cost: cost}
	for k, i := range p.item {
		c.row = append(c.row, i)
		c.val = append(c.val, float64(p.count[k]))
	}
	for r := len(size); r < len(l.rows); r++ {
		if v := l.rows[r].coefficient(p, size); v != 0 {
			c.row = append(c.row, int32(r))
			c.val = append(c.val, v)
		}
	}
	l.cols = append(l.cols, c)
	l.dear = append(l.dear, false)
	l.inBas = append(l.inBas, false)
}

// bytes is about what a programme holds of its own.
func (l *lp) bytes() int { return 8*len(l.inv) + 80*len(l.cols) }

// addRow appends a row, with its slack basic, which leaves the duals as they
// were and may make the slack negative: a dual simplex repairs that.
func (l *lp) addRow(row lprow, size []int) {
	m := len(l.rows)
	n := m + 1
	inv := make([]float64, n*n)
	for r := range m {
		copy(inv[r*n:r*n+m], l.inv[r*m:r*m+m])
	}
	l.rows = append(l.rows, row)
	coef := make([]float64, m) // of the basic variables in the new row
	for k := range l.cols {
		v := row.coefficient(l.cols[k].pat, size)
		if v == 0 {
			continue
		}
		c := &l.cols[k]
		c.row = append(append(make([]int32, 0, len(c.row)+1), c.row...), int32(m))
		c.val = append(append(make([]float64, 0, len(c.val)+1), c.val...), v)
	}
	for r, v := range l.basis {
		if v >= 0 {
			coef[r] = row.coefficient(l.cols[v].pat, size)
		}
	}
	sign := 1.0 // of the slack in its row
	if row.atLeast() {
		sign = -1
	}
	last := inv[m*n : m*n+n]
	lhs := 0.0
	for r, c := range coef {
		if c == 0 {
			continue
		}
		lhs += c * l.x[r]
		for i, v := range l.inv[r*m : r*m+m] {
			last[i] -= sign * c * v
		}
	}
	last[m] = sign
	l.inv = inv
	l.basis = append(l.basis, slackOf(m))
	l.x = append(l.x, sign*(row.rhs-lhs))
	l.y = append(l.y, 0)
	l.d = append(l.d, 0)
	l.work.spend(n * n)
}

// setRHS changes the right-hand sides and recomputes x.
func (l *lp) setRHS(f func(r *lprow) float64) {
	for r := range l.rows {
		l.rows[r].rhs = f(&l.rows[r])
	}
	l.computeX()
}

// computeX sets x = B⁻¹b.
func (l *lp) computeX() {
	m := len(l.rows)
	for i := range m {
		s := 0.0
		row := l.inv[i*m : i*m+m]
		for r := range row {
			s += row[r] * l.rows[r].rhs
		}
		if math.Abs(s) < 1e-11 {
			s = 0
		}
		l.x[i] = s
	}
	l.work.spend(m * m)
}

// computeY sets y = c_B B⁻¹.
func (l *lp) computeY() {
	m := len(l.rows)
	clear(l.y)
	for i, v := range l.basis {
		c := l.costOf(v)
		if c == 0 {
			continue
		}
		for r, a := range l.inv[i*m : i*m+m] {
			l.y[r] += c * a
		}
	}
	l.work.spend(m * m)
}

// refactor makes the inverse afresh from the basis, by Gauss–Jordan
// elimination with row exchange. It reports false if the basis is singular.
func (l *lp) refactor() bool {
	m := len(l.rows)
	a := make([]float64, m*m) // the basis, column j = basis[j]
	for j, v := range l.basis {
		if v < 0 {
			r := (-1 - v) / 2
			a[r*m+j] = 1
			if v&1 != 0 && l.rows[r].atLeast() {
				a[r*m+j] = -1
			}
			continue
		}
		c := &l.cols[v]
		for k, r := range c.row {
			a[int(r)*m+j] = c.val[k]
		}
	}
	inv := make([]float64, m*m)
	for i := range m {
		inv[i*m+i] = 1
	}
	for col := range m {
		p, big := -1, 1e-10
		for i := col; i < m; i++ {
			if v := math.Abs(a[i*m+col]); v > big {
				p, big = i, v
			}
		}
		if p < 0 {
			return false
		}
		if p != col {
			swapRows(a, m, p, col)
			swapRows(inv, m, p, col)
		}
		eliminate(a, inv, m, col)
	}
	l.inv = inv
	l.since = 0
	l.computeX()
	l.computeY()
	l.work.spend(2 * m * m * m / 3)
	return true
}

// swapRows exchanges rows i and j of an m-column matrix.
func swapRows(a []float64, m, i, j int) {
	for k := range m {
		a[i*m+k], a[j*m+k] = a[j*m+k], a[i*m+k]
	}
}

// eliminate clears column col of a outside its diagonal, doing the same to inv.
func eliminate(a, inv []float64, m, col int) {
	p := 1 / a[col*m+col]
	arow, irow := a[col*m:col*m+m], inv[col*m:col*m+m]
	for k := range m {
		arow[k] *= p
		irow[k] *= p
	}
	for i := range m {
		f := a[i*m+col]
		if i == col || f == 0 {
			continue
		}
		ai, ii := a[i*m:i*m+m], inv[i*m:i*m+m]
		for k := col; k < m; k++ {
			ai[k] -= f * arow[k]
		}
		for k, v := range irow {
			ii[k] -= f * v
		}
	}
}
