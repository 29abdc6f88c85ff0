package stock

import "math/bits"

// A bound is proven in whole numbers. The duals of the linear programme, in
// floating point, are only a hint: scaled and rounded they become whole numbers
// π ≥ 0 per piece, φ ≥ 0 and σ per branching row. Moving those rows into the
// objective (Lagrange) leaves one knapsack per kind of bar, solved exactly, so
//
//	cost ≥ Σ rhs·dual + Σ_j limit_j · min(0, c_j − φ_j − V_j)
//
// whatever the duals were, V_j being the greatest value that bar j can hold.
// Where V_j > c_j for a bar without limit the duals are first divided by the
// ratio, which makes them feasible (Farley, "A note on bounding a class of
// linear programming problems", Operations Research 38 (1990) 922–923).

// dualInts are the rounded duals of a programme, scaled by solver.scale.
type dualInts struct {
	value []int64 // per size
	floor []int64 // per bin, of floor rows
	limit []int64 // per bin, of limit rows, ≤ 0; only guides the search
	bonus []arcBonus
	rows  []int64 // per row, as used in the bound (0 for limit rows)
}

// roundDuals makes whole numbers with the signs the bound asks for.
func (s *solver) roundDuals(l *lp, y []float64) *dualInts {
	d := &dualInts{
		value: make([]int64, len(s.in.size)),
		floor: make([]int64, len(s.in.bins)),
		limit: make([]int64, len(s.in.bins)),
		rows:  make([]int64, len(l.rows)),
	}
	for r := range l.rows {
		row := &l.rows[r]
		v := int64(min(max(y[r], -row.big-float64(s.bigM)), float64(s.bigM)) * float64(s.scale))
		if row.atLeast() {
			v = min(max(v, 0), int64(row.big)*s.scale)
		} else {
			v = min(v, 0)
		}
		switch row.kind {
		case needRow:
			d.value[row.key] = v
		case floorRow:
			d.floor[row.key] += v
		case limitRow:
			d.limit[row.key] += v
			continue
		case arcUpRow, arcDnRow:
			if v != 0 {
				d.bonus = append(d.bonus, arcBonus{row.key, row.pos, v})
			}
		}
		d.rows[r] = v
	}
	sortBonus(d.bonus)
	return d
}

// lagrange returns the bound, in cost units rounded up, from the duals and
// the knapsack values V (all scaled), for bars up to limit.
func (s *solver) lagrange(l *lp, d *dualInts, limit []int, v []int64) int64 {
	// Farley's ratio num/den ≤ 1 over the bars that are never short.
	num, den := int64(1), int64(1)
	for j := range s.in.bins {
		c := s.in.bins[j].cost * s.scale
		if t := v[j] + d.floor[j]; t > c && limit[j] >= s.manyBars && c > 0 && less(c, t, num, den) {
			num, den = c, t
		}
	}
	plain := s.lagrangeScaled(l, d, limit, v, 1, 1)
	if num == den {
		return plain
	}
	return max(plain, s.lagrangeScaled(l, d, limit, v, num, den))
}

// less reports a/b < c/d for positive numbers.
func less(a, b, c, d int64) bool {
	h1, l1 := bits.Mul64(uint64(a), uint64(d))
	h2, l2 := bits.Mul64(uint64(c), uint64(b))
	return h1 < h2 || (h1 == h2 && l1 < l2)
}

// lagrangeScaled is the bound with all duals times num/den.
func (s *solver) lagrangeScaled(l *lp, d *dualInts, limit []int, v []int64, num, den int64) int64 {
	var sum int64
	for r, y := range d.rows {
		if y != 0 {
			sum += mulFloor(y, num, den) * int64(l.rows[r].rhs)
		}
	}
	for j := range s.in.bins {
		c := s.in.bins[j].cost * s.scale
		over := mulCeil(v[j]+d.floor[j], num, den) - c
		if over <= 0 || limit[j] == 0 {
			continue
		}
		hi, lo := bits.Mul64(uint64(over), uint64(limit[j]))
		if hi != 0 || lo > 1<<62 {
			return 0
		}
		sum -= int64(lo)
		if sum < 0 {
			return 0
		}
	}
	if sum <= 0 {
		return 0
	}
	return (sum + s.scale - 1) / s.scale
}

// mulFloor returns ⌊v·num/den⌋ for num ≤ den, v of either sign.
func mulFloor(v, num, den int64) int64 {
	if num == den {
		return v
	}
	if v < 0 {
		return -mulCeil(-v, num, den)
	}
	hi, lo := bits.Mul64(uint64(v), uint64(num))
	q, _ := bits.Div64(hi, lo, uint64(den))
	return int64(q)
}

// mulCeil returns ⌈v·num/den⌉ for num ≤ den.
func mulCeil(v, num, den int64) int64 {
	if num == den {
		return v
	}
	if v < 0 {
		return -mulFloor(-v, num, den)
	}
	hi, lo := bits.Mul64(uint64(v), uint64(num))
	q, r := bits.Div64(hi, lo, uint64(den))
	if r > 0 {
		q++
	}
	return int64(q)
}

// simpleBound needs no linear programme: the length of all pieces at the
// lowest price per length, filling the limited bars in that order; and for
// bars of one kind the bound L2 of Martello and Toth ("Lower bounds and
// reduction procedures for the bin packing problem", Discrete Applied
// Mathematics 28 (1990) 59–70).
func (in *instance) simpleBound() int64 {
	if in.skip != nil {
		return 0
	}
	length := 0
	for i, w := range in.size {
		length += w * in.need[i]
	}
	var cost int64
	left := length
	for _, j := range in.binOrders()[1] {
		b := in.bins[j]
		n := min(b.limit, left/b.cap)
		cost += int64(n) * b.cost
		left -= n * b.cap
		if n < b.limit { // the rest, a part of such a bar
			cost += (int64(left)*b.cost + int64(b.cap) - 1) / int64(b.cap)
			left = 0
		}
		if left == 0 {
			break
		}
	}
	if len(in.bins) == 1 {
		cost = max(cost, int64(in.martelloToth())*in.bins[0].cost)
	}
	return cost
}

// martelloToth is L2 for one kind of bar, in bars.
func (in *instance) martelloToth() int {
	c := in.bins[0].cap
	best := 0
	// Prefix counts and lengths over falling sizes.
	m := len(in.size)
	num, sum := make([]int, m+1), make([]int, m+1)
	for i, w := range in.size {
		num[i+1], sum[i+1] = num[i]+in.need[i], sum[i]+w*in.need[i]
	}
	half := 0 // sizes > c/2
	for half < m && 2*in.size[half] > c {
		half++
	}
	first := 0
	for k := m - 1; k >= half-1; k-- { // alpha = the size at k, or just above c/2
		alpha, end := c/2+1, half
		if k >= half {
			alpha, end = in.size[k], k+1
		}
		first = 0
		for first < half && in.size[first] > c-alpha {
			first++ // alone in a bar: sizes > c−alpha
		}
		room := (num[half]-num[first])*c - (sum[half] - sum[first])
		rest := sum[end] - sum[half] - room
		n := num[half]
		if rest > 0 {
			n += (rest + c - 1) / c
		}
		best = max(best, n)
		if m > 5000 && m-k > 2000 {
			break
		}
	}
	return best
}

// reachable lists, as bits, the costs that some number of bars can have, up to
// top; nil where that says nothing. A bound may be raised to the next of them.
func (in *instance) reachable(top int64) []uint64 {
	if in.skip != nil || top > 1<<22 || top < 2 {
		return nil
	}
	n := int(top) + 1
	ok := make([]bool, n)
	ok[0] = true
	for _, b := range in.bins {
		c := int(b.cost)
		if c == 0 || c >= n {
			continue
		}
		used := make([]int32, n) // of this bin, fewest for each cost
		for v := c; v < n; v++ {
			if !ok[v] && ok[v-c] && int(used[v-c]) < b.limit {
				ok[v] = true
				used[v] = used[v-c] + 1
			}
		}
	}
	out := make([]uint64, (n+63)/64)
	for v, y := range ok {
		if y {
			out[v>>6] |= 1 << (v & 63)
		}
	}
	return out
}
