package stock

import (
	"cmp"
	"math/bits"
	"slices"
)

// fullest fills bars as full as they can be, one after another, each with the
// longest piece still needed (after Gupta and Ho, "A new heuristic algorithm
// for the one-dimensional bin-packing problem", Production Planning & Control
// 10 (1999) 598–603, whose minimum bin slack search is replaced by a
// subset-sum table in bits). Where lengths are many and pieces of each few it
// comes far closer than first-fit decreasing.
type fullest struct {
	in    *instance
	step  int   // size units per cell
	size  []int // in cells, rounded up
	caps  []int // per bin
	words int
	table []uint64 // one row of bits per layer, sums that can be made so far
	layer []int    // size index of each layer, shortest first
}

// fullestCells is the most cells of the table; fullestWork the most word
// operations it may cost in all.
const (
	fullestCells = 1 << 14
	fullestWork  = 400e6
)

// newFullest prepares the table, or returns nil where it would take too long.
func newFullest(in *instance) *fullest {
	f := &fullest{in: in, step: 1 + in.maxCap/fullestCells}
	for _, w := range in.size {
		f.size = append(f.size, (w+f.step-1)/f.step)
	}
	length := 0
	for i, w := range in.size {
		length += w * min(in.need[i], 4)
	}
	for _, b := range in.bins {
		f.caps = append(f.caps, b.cap/f.step)
	}
	f.words = in.maxCap/f.step/64 + 1
	bars := length/in.maxCap + 1
	copies := 0
	for i, n := range in.need {
		copies += bits.Len(uint(min(n, in.maxCap/in.size[i])))
	}
	if float64(bars)*float64(copies)*float64(f.words) > fullestWork || copies*f.words > 1<<22 {
		return nil
	}
	return f
}

// plan fills bars until nothing is needed, the cheapest per length used first.
func (f *fullest) plan(need, limit []int) *solution {
	in := f.in
	need, limit = slices.Clone(need), slices.Clone(limit)
	var uses []use
	for first := 0; ; {
		for first < len(need) && need[first] == 0 {
			first++
		}
		if first == len(need) {
			break
		}
		p := f.bar(need, limit, first)
		if p == nil {
			break
		}
		n := min(p.times(need), limit[p.bin])
		p.take(need, n)
		limit[p.bin] -= n
		uses = append(uses, use{p, n})
	}
	if in.skip == nil && slices.Max(need) > 0 {
		return nil
	}
	return in.finished(uses, need)
}

// bar returns the best filling that holds size index first, or nil.
func (f *fullest) bar(need, limit []int, first int) *pattern {
	in := f.in
	base := f.size[first]
	need[first]--
	defer func() { need[first]++ }()
	f.fill(need, first)
	best, at, rank := -1, 0, 0.0
	for j, b := range in.bins {
		if limit[j] == 0 || b.cap < in.size[first] {
			continue
		}
		c := f.highest(max(f.caps[j]-base, 0))
		r := float64(b.cost) / float64(c+base)
		if best < 0 || r < rank-1e-12 {
			best, at, rank = j, c, r
		}
	}
	if best < 0 {
		return nil
	}
	count := f.trace(at)
	p := &pattern{bin: best}
	for _, c := range count {
		p.item, p.count = append(p.item, int32(c.i)), append(p.count, int32(c.n))
		p.used += c.n * in.size[c.i]
	}
	p.plus(first, in.size[first])
	if p.used > in.bins[best].cap {
		// Only if the first piece alone fits but not its rounded size.
		return &pattern{bin: best, item: []int32{int32(first)}, count: []int32{1}, used: in.size[first]}
	}
	return p
}

// fill makes the table from the shortest pieces to the longest, so that
// tracing back takes the longest first and keeps short ones for later.
func (f *fullest) fill(need []int, first int) {
	f.layer = f.layer[:0]
	top := f.in.maxCap/f.step - f.size[first]
	row := make([]uint64, f.words)
	row[0] = 1
	f.table = append(f.table[:0], row...)
	for i := len(need) - 1; i >= first; i-- {
		for c := min(need[i], max(top, 0)/f.size[i]); c > 0; {
			// Bundles of 1, 2, 4 … pieces would do with fewer rows, but single
			// ones trace back without carrying.
			f.layer = append(f.layer, i)
			at := len(f.table)
			f.table = append(f.table, f.table[at-f.words:]...)
			orShift(f.table[at:], f.table[at-f.words:at], f.size[i])
			c--
		}
	}
}

// orShift sets dst |= src << n.
func orShift(dst, src []uint64, n int) {
	w, b := n/64, uint(n%64)
	if b == 0 {
		for k := len(dst) - 1; k >= w; k-- {
			dst[k] |= src[k-w]
		}
		return
	}
	for k := len(dst) - 1; k > w; k-- {
		dst[k] |= src[k-w]<<b | src[k-w-1]>>(64-b)
	}
	if w < len(dst) {
		dst[w] |= src[0] << b
	}
}

// highest returns the greatest sum ≤ c that can be made.
func (f *fullest) highest(c int) int {
	row := f.table[len(f.table)-f.words:]
	k := c / 64
	if v := row[k] << (63 - uint(c%64)); v != 0 {
		return c - bits.LeadingZeros64(v)
	}
	for k--; k >= 0; k-- {
		if row[k] != 0 {
			return k*64 + bits.Len64(row[k]) - 1
		}
	}
	return 0
}

// counted is a number of pieces of one size index.
type counted struct{ i, n int }

// trace returns pieces that make the sum, sizes rising in index.
func (f *fullest) trace(sum int) []counted {
	var out []counted
	for k := len(f.layer) - 1; k >= 0 && sum > 0; k-- {
		i := f.layer[k]
		w := f.size[i]
		row := f.table[k*f.words : (k+1)*f.words]
		if w > sum || row[(sum-w)/64]>>(uint(sum-w)%64)&1 == 0 {
			continue
		}
		sum -= w
		if n := len(out); n > 0 && out[n-1].i == i {
			out[n-1].n++
		} else {
			out = append(out, counted{i, 1})
		}
	}
	slices.SortFunc(out, func(a, b counted) int { return cmp.Compare(a.i, b.i) })
	return out
}
