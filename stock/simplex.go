package stock

import "math"

// The linear programme of column generation, solved by a revised simplex
// method with a dense inverse of the basis: there are at most a few hundred
// rows, thousands of short columns, and the same programme is solved again and
// again after small changes, so that a warm start counts for more than
// anything else. Primal pivots follow new columns, dual pivots follow changed
// right-hand sides. Its numbers are floating point and so never prove
// anything: every bound is recomputed from its duals in whole numbers
// (bound.go), every plan is counted in whole numbers.

// rowKind says what a row of the programme counts.
type rowKind uint8

const (
	needRow  rowKind = iota // pieces of one size: at least rhs
	limitRow                // bars of one kind: at most rhs
	floorRow                // bars of one kind: at least rhs
	arcUpRow                // pieces of a size that start at one place in a bar: at least rhs
	arcDnRow                // the same: at most rhs
)

// lprow is one row. Rows of kind need, floor and arcUp are "≥" and carry an
// artificial of cost big; the others are "≤".
type lprow struct {
	kind rowKind
	key  int // size index, or bin index
	pos  int // arc rows: where in the bar, in size units
	rhs  float64
	big  float64
}

func (r *lprow) atLeast() bool { return r.kind == needRow || r.kind == floorRow || r.kind == arcUpRow }

// column is a pattern with its coefficients in the rows of one programme.
type column struct {
	pat  *pattern
	cost float64
	row  []int32
	val  []float64
}

// lp is the programme with its current basis.
type lp struct {
	rows  []lprow
	cols  []column
	dear  []bool    // cols that may not be used now: their cost counts as penalty
	pen   float64   // that penalty
	basis []int     // variable basic in each row: a column, or logical (see slackOf)
	inBas []bool    // columns that are basic
	inv   []float64 // m×m, row by row
	x     []float64 // values of the basic variables
	y     []float64 // duals
	d     []float64 // work: entering column in terms of the basis
	tol   float64   // a reduced cost below −tol is worth a pivot
	work  *budget
	since int // pivots since the inverse was last made afresh
}

// Logical variables of row r are numbered below zero: its slack and its artificial.
func slackOf(r int) int      { return -1 - 2*r }
func artificialOf(r int) int { return -2 - 2*r }

// costOf returns a variable's cost.
func (l *lp) costOf(v int) float64 {
	switch {
	case v >= 0:
		if l.dear[v] {
			return l.cols[v].cost + l.pen
		}
		return l.cols[v].cost
	case v&1 == 0: // artificial: −2−2r
		return l.rows[(-2-v)/2].big
	}
	return 0
}

// value returns the objective.
func (l *lp) value() float64 {
	s := 0.0
	for r, v := range l.basis {
		if l.x[r] != 0 {
			s += l.x[r] * l.costOf(v)
		}
	}
	return s
}

// ftran computes d = B⁻¹a for the variable v.
func (l *lp) ftran(v int) {
	m := len(l.rows)
	if v < 0 {
		r, sign := (-1-v)/2, 1.0
		if v&1 != 0 && l.rows[r].atLeast() {
			sign = -1
		}
		for i := range m {
			l.d[i] = sign * l.inv[i*m+r]
		}
		return
	}
	c := &l.cols[v]
	for i := range m {
		row := l.inv[i*m : i*m+m]
		s := 0.0
		for k, r := range c.row {
			s += row[r] * c.val[k]
		}
		l.d[i] = s
	}
	l.work.spend(m * (len(c.row) + 1))
}

// reduced returns the reduced cost of column k.
func (l *lp) reduced(k int) float64 {
	c := &l.cols[k]
	s := c.cost
	for t, r := range c.row {
		s -= c.val[t] * l.y[r]
	}
	return s
}

// pivot brings v into row r; d must hold its ftran. rc is its reduced cost.
func (l *lp) pivot(r, v int, rc float64) {
	m := len(l.rows)
	prow := l.inv[r*m : r*m+m]
	p := 1 / l.d[r]
	step := l.x[r] * p
	theta := rc * p
	for i, a := range prow {
		if a != 0 {
			l.y[i] += theta * a
			prow[i] = a * p
		}
	}
	touched := 1
	for i, di := range l.d {
		if i == r || math.Abs(di) < 1e-13 {
			continue
		}
		touched++
		row := l.inv[i*m : i*m+m]
		row = row[:len(prow)]
		for k, a := range prow {
			row[k] -= di * a
		}
		l.x[i] -= di * step
		if math.Abs(l.x[i]) < 1e-12 {
			l.x[i] = 0
		}
	}
	l.x[r] = step
	if old := l.basis[r]; old >= 0 {
		l.inBas[old] = false
	}
	l.basis[r] = v
	if v >= 0 {
		l.inBas[v] = true
	}
	l.since++
	l.work.spend(touched*m + 64)
}

// chooseEntering returns the variable with the most negative reduced cost,
// artificials last, and false at the optimum. bland takes the first instead.
func (l *lp) chooseEntering(bland bool) (int, float64, bool) {
	best, bestRC, found := 0, -l.tol, false
	for r := range l.rows {
		s := l.y[r] // reduced cost of a "≥" slack
		if !l.rows[r].atLeast() {
			s = -s
		}
		if s < bestRC {
			best, bestRC, found = slackOf(r), s, true
		}
		if l.rows[r].atLeast() {
			if s := l.rows[r].big - l.y[r]; s < bestRC {
				best, bestRC, found = artificialOf(r), s, true
			}
		}
	}
	for k := range l.cols {
		if l.inBas[k] || l.dear[k] {
			continue
		}
		if s := l.reduced(k); s < bestRC {
			best, bestRC, found = k, s, true
			if bland {
				break
			}
		}
	}
	l.work.spend(6 * len(l.cols))
	return best, bestRC, found
}

// leaving returns the row that blocks first when d's variable grows, or −1.
// Rows that block within a tolerance of the first compete by the size of
// their pivot (Harris, "Pivot selection methods of the Devex LP code",
// Mathematical Programming 5 (1973) 1–28), which keeps the basis well conditioned.
func (l *lp) leaving() int {
	const eps, slack = 1e-9, 1e-9
	bound := math.Inf(1)
	for i, di := range l.d {
		if di > eps {
			bound = min(bound, (max(l.x[i], 0)+slack)/di)
		}
	}
	r, best := -1, eps
	for i, di := range l.d {
		if di > best && max(l.x[i], 0) <= bound*di {
			r, best = i, di
		}
	}
	return r
}

// primal pivots to the optimum over the pool. It reports false when the
// numbers have gone bad or the budget is spent.
func (l *lp) primal() bool {
	stall := 0
	for l.work.left() {
		v, rc, ok := l.chooseEntering(stall > 200+2*len(l.rows))
		if !ok {
			return true
		}
		l.ftran(v)
		r := l.leaving()
		if r < 0 {
			if l.since == 0 || !l.refactor() {
				return false
			}
			continue
		}
		if l.x[r] > 1e-9 {
			stall = 0
		} else if stall++; stall > 20000 {
			return false
		}
		l.pivot(r, v, rc)
		if l.since > 200+len(l.rows) && !l.refactor() {
			return false
		}
	}
	return false
}

// dual restores x ≥ 0 after right-hand sides fell, over the pool. It reports
// false when it cannot; a crash start remains then.
func (l *lp) dual() bool {
	m := len(l.rows)
	for iter := 0; l.work.left(); iter++ {
		r, worst := -1, -1e-9
		for i, v := range l.x {
			if v < worst {
				r, worst = i, v
			}
		}
		if r < 0 {
			return true
		}
		if iter > 20*m+200 {
			return false
		}
		v, rc, ok := l.dualEntering(r)
		if !ok {
			return false
		}
		l.ftran(v)
		if l.d[r] > -1e-9 {
			return false
		}
		l.pivot(r, v, rc)
		if l.since > 200+len(l.rows) && !l.refactor() {
			return false
		}
	}
	return false
}

// dualEntering finds the variable that keeps the duals feasible when row r leaves.
func (l *lp) dualEntering(r int) (int, float64, bool) {
	m := len(l.rows)
	row := l.inv[r*m : r*m+m]
	best, bestT, bestA, bestRC := 0, math.Inf(1), 0.0, 0.0
	found := false
	try := func(v int, alpha, rc float64) {
		if alpha > -1e-8 {
			return
		}
		t := max(rc, 0) / -alpha
		if t < bestT-1e-12 || (t <= bestT+1e-12 && -alpha > bestA) {
			best, bestT, bestA, bestRC, found = v, min(t, bestT), -alpha, rc, true
		}
	}
	for i := range l.rows {
		if l.rows[i].atLeast() {
			try(slackOf(i), -row[i], l.y[i])
			try(artificialOf(i), row[i], l.rows[i].big-l.y[i])
		} else {
			try(slackOf(i), row[i], -l.y[i])
		}
	}
	for k := range l.cols {
		if l.inBas[k] || l.dear[k] {
			continue
		}
		c := &l.cols[k]
		a := 0.0
		for t, i := range c.row {
			a += row[i] * c.val[t]
		}
		if a < -1e-8 {
			try(k, a, l.reduced(k))
		}
	}
	l.work.spend(8 * len(l.cols))
	return best, bestRC, found
}
