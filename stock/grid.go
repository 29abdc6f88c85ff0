package stock

import "slices"

// grid is the set of places, for one rounding of the sizes.
type grid struct {
	size []int // in grid units
	caps []int // per bin: last cell
	n    int   // cells
	from [][]int32
	to   [][]int32 // sparse: cell pairs per item; nil for a dense grid
	sums []int     // sparse: the place of each cell, rising
}

// denseGrid has a cell for every step units; sizes are rounded up or down.
func denseGrid(in *instance, size []int, step int, up bool) *grid {
	g := &grid{}
	for _, w := range size {
		if up {
			w += step - 1
		}
		g.size = append(g.size, w/step)
	}
	for _, b := range in.bins {
		g.caps = append(g.caps, b.cap/step)
		g.n = max(g.n, b.cap/step+1)
	}
	return g
}

// sparseGrid has a cell for every sum that the needed pieces can make, or is
// nil where there are too many.
func sparseGrid(in *instance) *grid {
	sums := []int{0}
	steps := 0
	for i, w := range in.size {
		copies := min(in.need[i], in.maxCap/w)
		// Sums with 0…copies more: merged pass by pass.
		last := sums
		for range copies {
			var next []int
			for _, s := range last {
				if s+w <= in.maxCap {
					next = append(next, s+w)
				}
			}
			merged, fresh := mergeSums(sums, next)
			if len(fresh) == 0 {
				break
			}
			sums, last = merged, fresh
			if steps += len(sums); len(sums) > sparseCells || steps > sparseSteps {
				return nil
			}
		}
	}
	g := &grid{n: len(sums), sums: sums}
	for _, w := range in.size {
		var from, to []int32
		k := 0
		for a, s := range sums {
			for k < len(sums) && sums[k] < s+w {
				k++
			}
			if k < len(sums) && sums[k] == s+w {
				from, to = append(from, int32(a)), append(to, int32(k))
			}
		}
		g.from, g.to = append(g.from, from), append(g.to, to)
	}
	g.size = in.size
	for _, b := range in.bins {
		k, ok := slices.BinarySearch(sums, b.cap)
		if !ok {
			k--
		}
		g.caps = append(g.caps, k)
	}
	return g
}

// mergeSums merges two rising lists and also returns what only b had.
func mergeSums(a, b []int) (all, fresh []int) {
	all = make([]int, 0, len(a)+len(b))
	i := 0
	for _, v := range b {
		for i < len(a) && a[i] < v {
			all = append(all, a[i])
			i++
		}
		if i < len(a) && a[i] == v {
			continue
		}
		all = append(all, v)
		fresh = append(fresh, v)
	}
	return append(all, a[i:]...), fresh
}

// work is about how many steps one run over a sparse grid takes.
func (g *grid) work() int {
	n := 0
	for _, f := range g.from {
		n += 3 * len(f)
	}
	return n
}
