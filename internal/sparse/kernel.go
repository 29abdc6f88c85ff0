package sparse

// packing holds a panel of columns of a front row by row, plain and times D, so that the update of the rest
// runs over memory in order.
type packing struct {
	l, ld []float64
	width int
}

// load packs columns c0 … c1-1 of a panel with m rows, rows c1 … m-1.
func (q *packing) load(panel []float64, m, c0, c1 int) {
	q.width = c1 - c0
	n := m * q.width
	if cap(q.l) < n {
		q.l, q.ld = make([]float64, n), make([]float64, n)
	}
	q.l, q.ld = q.l[:n], q.ld[:n]
	for c := c0; c < c1; c++ {
		col := panel[c*m : (c+1)*m]
		d := 0.0
		if col[c] != 0 {
			d = 1 / col[c]
		}
		at := c - c0 + c1*q.width
		for _, v := range col[c1:] {
			q.l[at], q.ld[at] = v, v*d
			at += q.width
		}
	}
}

// subtract takes L·D·Lᵀ of the packed columns from columns from … to-1 of the front, rows at and under the diagonal. dst
// holds those columns with ld rows each; its entry (0, 0) is row and column origin of the front.
func (q *packing) subtract(dst []float64, ld, origin, from, to, m int) {
	j := from
	for ; j+2 <= to; j += 2 {
		q.tile(dst, ld, origin, j, m)
	}
	w := q.width
	if j < to {
		b := q.ld[j*w : (j+1)*w]
		col := dst[(j-origin)*ld : (j-origin+1)*ld]
		for i := j; i < m; i++ {
			var s float64
			for p, v := range q.l[i*w : (i+1)*w] {
				s += v * b[p]
			}
			col[i-origin] -= s
		}
	}
}

// tile updates two columns at once, four rows at a time.
func (q *packing) tile(dst []float64, ld, origin, j, m int) {
	w := q.width
	b0, b1 := q.ld[j*w:(j+1)*w], q.ld[(j+1)*w:(j+2)*w]
	b1 = b1[:len(b0)]
	c0, c1 := dst[(j-origin)*ld:(j-origin+1)*ld], dst[(j+1-origin)*ld:(j+2-origin)*ld]
	i := j
	for ; i+4 <= m; i += 4 {
		a := q.l[i*w : (i+4)*w]
		a0, a1, a2, a3 := a[:w], a[w:2*w], a[2*w:3*w], a[3*w:4*w]
		a0, a1, a2, a3 = a0[:len(b0)], a1[:len(b0)], a2[:len(b0)], a3[:len(b0)]
		var s00, s10, s20, s30, s01, s11, s21, s31 float64
		for p, v := range b0 {
			u := b1[p]
			x0, x1, x2, x3 := a0[p], a1[p], a2[p], a3[p]
			s00 += x0 * v
			s10 += x1 * v
			s20 += x2 * v
			s30 += x3 * v
			s01 += x0 * u
			s11 += x1 * u
			s21 += x2 * u
			s31 += x3 * u
		}
		r := i - origin
		d0, d1 := c0[r:r+4:r+4], c1[r:r+4:r+4]
		d0[0] -= s00
		d0[1] -= s10
		d0[2] -= s20
		d0[3] -= s30
		d1[0] -= s01
		d1[1] -= s11
		d1[2] -= s21
		d1[3] -= s31
	}
	for ; i < m; i++ {
		var s0, s1 float64
		for p, x := range q.l[i*w : (i+1)*w] {
			s0 += x * b0[p]
			s1 += x * b1[p]
		}
		c0[i-origin] -= s0
		c1[i-origin] -= s1
	}
}
