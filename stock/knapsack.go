package stock

import (
	"math"
	"slices"
)

// Pricing asks for the most valuable way to fill a bar, the value of a piece
// being its dual. It is a bounded knapsack, solved by dynamic programming over
// the places in the bar, in whole numbers: the duals come scaled and rounded
// down, so its answer is exact and proves the bound. One run serves all kinds
// of bar, a shorter bar being a prefix of a longer one.
//
// Places are every size unit (dense), or only the sums that pieces can make,
// where that is less work (sparse). Bars of very many units take a coarser grid
// with sizes rounded up to make patterns and rounded down to prove bounds, and
// the proof may then fall short. Long exact grids have a quick coarse one
// beside them, rounded up, which finds most patterns; the exact one then only
// has to find what is missing and to prove the bound.

const (
	denseCells  = 200_000   // cells up to which the grid is every unit
	sparseCells = 100_000   // most sums of a sparse grid
	sparseSteps = 3_000_000 // most work to find the sums
	quickCells  = 6_000     // cells of the quick grid
	quickFrom   = 12_000    // cells of the exact grid from which there is a quick one
	noValue     = math.MinInt64 / 4
	coarseCells = 100_000 // cells of a coarse grid
)

// layer is one step of the dynamic programme: none, one or (if many) any
// number of bundles of mult pieces of size index item.
type layer struct {
	item int
	mult int
	many bool
}

// arcBonus adds to the value of a piece of size index item that starts at pos.
type arcBonus struct {
	item, pos int
	value     int64
}

// pricer runs the knapsack for one instance.
type pricer struct {
	in     *instance
	exact  bool // the grid holds every place that matters
	up     *grid
	down   *grid // nil if exact
	quick  *grid // nil where up is short enough
	g      *grid // of the last run
	f      []int64
	arg    []int32 // where the best value up to each cell stands, if not monotone
	layers []layer
	bits   []uint64
	words  int
	extra  []int64 // bonuses by place, all zero between uses
	work   *budget
}

// newPricer chooses the grids.
func newPricer(in *instance, work *budget) *pricer {
	p := &pricer{in: in, work: work, exact: true}
	switch {
	case in.maxCap <= quickFrom:
		p.up = denseGrid(in, in.size, 1, false)
		return p
	default:
		if p.up = sparseGrid(in); p.up != nil && p.up.work() <= quickFrom*len(in.size) {
			return p
		}
	}
	p.quick = denseGrid(in, in.size, 1+in.maxCap/quickCells, true)
	if p.up != nil && (p.up.work() < in.maxCap*len(in.size) || in.maxCap > denseCells) {
		return p
	}
	if in.maxCap <= denseCells {
		p.up = denseGrid(in, in.size, 1, false)
		return p
	}
	step := 1 + in.maxCap/coarseCells
	p.exact = false
	p.up = denseGrid(in, in.size, step, true)
	p.down = denseGrid(in, in.size, step, false)
	return p
}

// run fills the table. value[i] is what a piece of size index i is worth;
// need bounds how many of each there may be. Bonuses need an exact grid.
func (p *pricer) run(g *grid, value []int64, need []int, bonus []arcBonus) {
	p.g = g
	n := g.n
	if cap(p.f) < n {
		p.f = make([]int64, n)
	}
	p.f = p.f[:n]
	start := int64(0)
	if len(bonus) > 0 || g.from != nil {
		start = noValue // cell = exact place
	}
	for c := range p.f {
		p.f[c] = start
	}
	p.f[0] = 0
	p.makeLayers(g, value, need, bonus)
	p.words = (n + 63) / 64
	total := p.words * len(p.layers)
	if cap(p.bits) < total {
		p.bits = make([]uint64, total)
	}
	p.bits = p.bits[:total]
	clear(p.bits)
	if len(bonus) > 0 && p.extra == nil {
		p.extra = make([]int64, p.in.maxCap+1)
	}
	extra := p.extra
	for k, la := range p.layers {
		bits := p.bits[k*p.words : (k+1)*p.words]
		own := bonusesOf(bonus, la.item)
		for _, b := range own {
			extra[b.pos] += b.value
		}
		switch {
		case len(own) > 0:
			p.passBonus(g, la, value[la.item], extra, bits)
		case g.from != nil:
			p.passSparse(g, la, value[la.item], bits)
		default:
			p.passDense(g, la, value[la.item], bits)
		}
		for _, b := range own {
			extra[b.pos] = 0
		}
	}
	p.arg = p.arg[:0]
	if start == 0 {
		return
	}
	for c, at := 0, int32(0); c < n; c++ {
		if p.f[c] > p.f[at] {
			at = int32(c)
		}
		p.arg = append(p.arg, at)
	}
}

// bonusesOf returns the run of bonuses for one item; bonus is sorted by item.
func bonusesOf(bonus []arcBonus, item int) []arcBonus {
	lo := 0
	for lo < len(bonus) && bonus[lo].item < item {
		lo++
	}
	hi := lo
	for hi < len(bonus) && bonus[hi].item == item {
		hi++
	}
	return bonus[lo:hi]
}

// makeLayers splits each size's allowed copies into bundles: any number in one
// pass where the need does not bind, else powers of two.
func (p *pricer) makeLayers(g *grid, value []int64, need []int, bonus []arcBonus) {
	p.layers = p.layers[:0]
	for i, w := range p.in.size {
		own := len(bonusesOf(bonus, i)) > 0
		if need[i] == 0 || (value[i] <= 0 && !own) {
			continue
		}
		fit := p.in.maxCap / w
		if g.from == nil && g.size[i] > 0 {
			fit = (g.n - 1) / g.size[i]
		}
		c := min(need[i], fit)
		switch {
		case c == 0:
		case c == fit && g.size[i] > 0:
			p.layers = append(p.layers, layer{i, 1, true})
		default:
			for b := 1; c > 0; b *= 2 {
				b = min(b, c)
				if own || g.from != nil {
					b = 1
				}
				p.layers = append(p.layers, layer{i, b, false})
				c -= b
			}
		}
	}
}

// passDense is the inner loop of the program on an even grid.
func (p *pricer) passDense(g *grid, la layer, v int64, bits []uint64) {
	w := g.size[la.item] * la.mult
	v *= int64(la.mult)
	if w >= g.n {
		return
	}
	p.work.spend(g.n - w)
	lo := p.f[:g.n-w]
	hi := p.f[w:]
	hi = hi[:len(lo)]
	if la.many {
		for c := range lo {
			if t := lo[c] + v; t > hi[c] {
				hi[c] = t
				bits[uint(c+w)>>6] |= 1 << (uint(c+w) & 63)
			}
		}
		return
	}
	for c := len(lo) - 1; c >= 0; c-- {
		if t := lo[c] + v; t > hi[c] {
			hi[c] = t
			bits[uint(c+w)>>6] |= 1 << (uint(c+w) & 63)
		}
	}
}

// passSparse is the same over the pairs of a sparse grid; bundles are single.
func (p *pricer) passSparse(g *grid, la layer, v int64, bits []uint64) {
	from, to := g.from[la.item], g.to[la.item]
	p.work.spend(2 * len(from))
	step := func(k int) {
		a, b := from[k], to[k]
		if t := p.f[a] + v; t > p.f[b] && p.f[a] > noValue {
			p.f[b] = t
			bits[b>>6] |= 1 << (b & 63)
		}
	}
	if la.many {
		for k := range from {
			step(k)
		}
		return
	}
	for k := len(from) - 1; k >= 0; k-- {
		step(k)
	}
}

// passBonus is a pass in which the place matters; bundles are single.
func (p *pricer) passBonus(g *grid, la layer, v int64, extra []int64, bits []uint64) {
	w := g.size[la.item]
	step := func(a, b int) {
		if p.f[a] <= noValue/2 {
			return
		}
		if t := p.f[a] + v + extra[p.place(a)]; t > p.f[b] {
			p.f[b] = t
			bits[uint(b)>>6] |= 1 << (uint(b) & 63)
		}
	}
	p.work.spend(3 * g.n)
	if g.from != nil {
		from, to := g.from[la.item], g.to[la.item]
		for k := range from {
			if !la.many {
				k = len(from) - 1 - k
			}
			step(int(from[k]), int(to[k]))
		}
		return
	}
	for c := range max(g.n-w, 0) {
		if !la.many {
			c = g.n - w - 1 - c
		}
		step(c, c+w)
	}
}

// place returns where in the bar a cell is, in size units of the grid.
func (p *pricer) place(cell int) int {
	if p.g.sums != nil {
		return p.g.sums[cell]
	}
	return cell
}

// best returns the highest value that fits bin j, and the cell that has it.
func (p *pricer) best(j int) (int64, int) {
	c := p.g.caps[j]
	if len(p.arg) > 0 {
		c = int(p.arg[c])
	}
	return p.f[c], c
}

// trace returns the pattern that reaches a cell.
func (p *pricer) trace(j, cell int) *pattern {
	pat := &pattern{bin: j}
	c := cell
	for k := len(p.layers) - 1; k >= 0; k-- {
		la := p.layers[k]
		bits := p.bits[k*p.words : (k+1)*p.words]
		n := 0
		for c > 0 && bits[uint(c)>>6]>>(uint(c)&63)&1 == 1 {
			n += la.mult
			c = p.back(la, c)
			if !la.many {
				break
			}
		}
		if n == 0 {
			continue
		}
		if t := len(pat.item); t > 0 && int(pat.item[t-1]) == la.item {
			pat.count[t-1] += int32(n)
		} else {
			pat.item = append(pat.item, int32(la.item))
			pat.count = append(pat.count, int32(n))
		}
		pat.used += n * p.in.size[la.item]
	}
	slices.Reverse(pat.item)
	slices.Reverse(pat.count)
	return pat
}

// back returns the cell before a bundle of layer la that ends at c.
func (p *pricer) back(la layer, c int) int {
	if p.g.from == nil {
		return c - p.g.size[la.item]*la.mult
	}
	k, _ := slices.BinarySearch(p.g.to[la.item], int32(c))
	return int(p.g.from[la.item][k])
}
