package stock

import (
	"cmp"
	"slices"
	"sort"
)

// filler fills bars one after another with the longest pieces that still go
// in (first-fit decreasing, bar by bar instead of piece by piece, which gives
// the same bars). It works on quantities: a way to fill a bar is repeated as
// often as the quantities allow, so a million equal pieces take no longer than one.
type filler struct {
	in    *instance
	need  []int
	limit []int
	next  []int32 // union-find: the first size index ≥ i that is still needed
}

// newFiller starts from what is still needed and how many bars are left.
func newFiller(in *instance, need, limit []int) *filler {
	f := &filler{in: in, need: slices.Clone(need), limit: slices.Clone(limit), next: make([]int32, len(need)+1)}
	for i := range f.next {
		f.next[i] = int32(i)
		if i < len(need) && need[i] == 0 {
			f.next[i] = int32(i + 1)
		}
	}
	return f
}

// avail returns the first size index ≥ i still needed, or len(size).
func (f *filler) avail(i int) int {
	r := i
	for int(f.next[r]) != r {
		r = int(f.next[r])
	}
	for int(f.next[i]) != i {
		f.next[i], i = int32(r), int(f.next[i])
	}
	return r
}

// fill returns the pattern of longest pieces first for bin j, or nil if none fits.
func (f *filler) fill(j int) *pattern {
	p := &pattern{bin: j}
	size := f.in.size
	rest := f.in.bins[j].cap
	for i := 0; ; i++ {
		if i < len(size) && size[i] > rest {
			i += sort.Search(len(size)-i, func(k int) bool { return size[i+k] <= rest })
		}
		if i = f.avail(i); i >= len(size) {
			break
		}
		if size[i] > rest {
			i--
			continue
		}
		n := min(f.need[i], rest/size[i])
		p.item = append(p.item, int32(i))
		p.count = append(p.count, int32(n))
		rest -= n * size[i]
	}
	p.used = f.in.bins[j].cap - rest
	if len(p.item) == 0 {
		return nil
	}
	return p
}

// take books n bars cut by p.
func (f *filler) take(p *pattern, n int) {
	p.take(f.need, n)
	f.limit[p.bin] -= n
	for _, i := range p.item {
		if f.need[i] == 0 {
			f.next[i] = i + 1
		}
	}
}

// done reports whether nothing is needed any more.
func (f *filler) done() bool { return f.avail(0) == len(f.need) }

// chooser ranks the ways to fill the next bar; the lowest wins.
type chooser func(in *instance, p *pattern) float64

// byPrice prefers the lowest price for the length used.
func byPrice(in *instance, p *pattern) float64 {
	return float64(in.bins[p.bin].cost) / float64(p.used)
}

// byWaste prefers the bar that is filled best.
func byWaste(in *instance, p *pattern) float64 {
	return 1 - float64(p.used)/float64(in.bins[p.bin].cap)
}

// byRate prefers the bar whose price per length is lowest, full or not.
func byRate(in *instance, p *pattern) float64 {
	return float64(in.bins[p.bin].cost) / float64(in.bins[p.bin].cap)
}

// greedy is a whole plan made by greedyUses, or nil if the bars run out.
func (in *instance) greedy(need, limit []int, choose chooser) *solution {
	uses, left := in.greedyUses(need, limit, choose)
	if left == nil {
		return nil
	}
	return in.finished(uses, left)
}

// greedyUses fills bars until nothing is needed or no bar is left, each time
// the one the chooser ranks first. It returns what is then still needed, or
// nil if pieces are left that may not be.
func (in *instance) greedyUses(need, limit []int, choose chooser) ([]use, []int) {
	f := newFiller(in, need, limit)
	var uses []use
	for !f.done() {
		var best *pattern
		var rank float64
		for j := range in.bins {
			if f.limit[j] == 0 {
				continue
			}
			p := f.fill(j)
			if p == nil {
				continue
			}
			if r := choose(in, p); best == nil || r < rank-1e-12 {
				best, rank = p, r
			}
		}
		if best == nil {
			break
		}
		n := min(best.times(f.need), f.limit[best.bin])
		uses = append(uses, use{best, n})
		f.take(best, n)
	}
	if !f.done() && in.skip == nil {
		return nil, nil // a dive may hand in too few bars
	}
	return uses, f.need
}

// finished moves bars to cheaper ones that also hold their pieces and counts the cost.
func (in *instance) finished(uses []use, left []int) *solution {
	s := &solution{uses: in.downsized(merged(uses))}
	if slices.ContainsFunc(left, func(n int) bool { return n > 0 }) {
		s.skip = slices.Clone(left)
	}
	s.cost = in.costOf(s.uses, s.skip)
	return s
}

// downsized moves each use, the greatest saving first, to the cheapest kind of
// bar that holds it and is not used up.
func (in *instance) downsized(uses []use) []use {
	limit := make([]int, len(in.bins))
	for j, b := range in.bins {
		limit[j] = b.limit
	}
	for _, u := range uses {
		limit[u.pat.bin] -= u.n
	}
	out := slices.Clone(uses)
	for changed := true; changed; {
		changed = false
		for k := 0; k < len(out); k++ {
			u := out[k]
			best := u.pat.bin
			for j, b := range in.bins {
				if limit[j] > 0 && b.cap >= u.pat.used && b.cost < in.bins[best].cost {
					best = j
				}
			}
			if best == u.pat.bin || u.n == 0 {
				continue
			}
			n := min(u.n, limit[best])
			moved := *u.pat
			moved.bin = best
			limit[best] -= n
			limit[u.pat.bin] += n
			out[k].n -= n
			out = append(out, use{&moved, n})
			changed = true
		}
	}
	return merged(out)
}

// ffdPieces is the textbook first-fit decreasing: each piece, longest first,
// into the first open bar with room, else into a new bar of the first kind, in
// the given order, that holds it.
func (in *instance) ffdPieces(order []int) *solution {
	type open struct {
		bin, rest int
		item      []int32
	}
	var bars []open
	var room roomTree
	limit := in.limits()
	skip := make([]int, len(in.size))
	for i, w := range in.size {
	piece:
		for range in.need[i] {
			if k := room.first(w); k >= 0 {
				bars[k].rest -= w
				bars[k].item = append(bars[k].item, int32(i))
				room.set(k, bars[k].rest)
				continue
			}
			for _, j := range order {
				if limit[j] > 0 && in.bins[j].cap >= w {
					limit[j]--
					room.set(len(bars), in.bins[j].cap-w)
					bars = append(bars, open{j, in.bins[j].cap - w, []int32{int32(i)}})
					continue piece
				}
			}
			skip[i]++
		}
	}
	var uses []use
	for _, b := range bars {
		p := &pattern{bin: b.bin, used: in.bins[b.bin].cap - b.rest}
		for _, it := range b.item {
			if n := len(p.item); n > 0 && p.item[n-1] == it {
				p.count[n-1]++
			} else {
				p.item, p.count = append(p.item, it), append(p.count, 1)
			}
		}
		uses = append(uses, use{p, 1})
	}
	if in.skip == nil && slices.Max(skip) > 0 {
		return nil
	}
	return in.finished(uses, skip)
}

// firstFitPieces is the most pieces that are also packed one by one.
const firstFitPieces = 100_000

// roomTree holds the room in open bars so that the first with enough is found
// in logarithmic time: a binary tree of maxima, the leaves in its second half.
type roomTree struct {
	top  []int
	half int
}

// set notes the room of bar k.
func (t *roomTree) set(k, room int) {
	for k >= t.half {
		leaves := append([]int(nil), t.top[t.half:]...)
		t.half = max(64, 2*t.half)
		t.top = make([]int, 2*t.half)
		copy(t.top[t.half:], leaves)
		for i := t.half - 1; i > 0; i-- {
			t.top[i] = max(t.top[2*i], t.top[2*i+1])
		}
	}
	i := t.half + k
	t.top[i] = room
	for i /= 2; i > 0; i /= 2 {
		t.top[i] = max(t.top[2*i], t.top[2*i+1])
	}
}

// first returns the first bar with room for w, or −1.
func (t *roomTree) first(w int) int {
	if t.half == 0 || t.top[1] < w {
		return -1
	}
	i := 1
	for i < t.half {
		if i *= 2; t.top[i] < w {
			i++
		}
	}
	return i - t.half
}

// firstAnswer returns the best plan of the quick methods, and all of their
// patterns to start the linear programme from.
func (in *instance) firstAnswer() (*solution, []use) {
	var best *solution
	var all []use
	try := func(s *solution) {
		if s == nil {
			return
		}
		all = append(all, s.uses...)
		if best == nil || s.cost < best.cost || (s.cost == best.cost && s.bars() < best.bars()) {
			best = s
		}
	}
	limit := in.limits()
	for _, c := range []chooser{byPrice, byWaste, byRate} {
		try(in.greedy(in.need, limit, c))
	}
	for j := range in.bins { // one kind of bar first, as far as it goes
		if j >= 8 {
			break
		}
		try(in.greedy(in.need, limit, func(in *instance, p *pattern) float64 {
			if p.bin == j {
				return -1
			}
			return byPrice(in, p)
		}))
	}
	if f := newFullest(in); f != nil {
		try(f.plan(in.need, limit))
	}
	if in.total <= firstFitPieces {
		for _, order := range in.binOrders() {
			try(in.ffdPieces(order))
		}
	}
	return best, all
}

// binOrders returns orders in which first-fit opens bars: longest first,
// cheapest per length, cheapest, shortest.
func (in *instance) binOrders() [][]int {
	base := make([]int, len(in.bins))
	for j := range base {
		base[j] = j
	}
	by := func(f func(j int) float64) []int {
		o := slices.Clone(base)
		slices.SortStableFunc(o, func(a, b int) int { return cmp.Compare(f(a), f(b)) })
		return o
	}
	return [][]int{
		base,
		by(func(j int) float64 { return float64(in.bins[j].cost) / float64(in.bins[j].cap) }),
		by(func(j int) float64 { return float64(in.bins[j].cost) }),
		by(func(j int) float64 { return float64(in.bins[j].cap) }),
	}
}

// limits returns how many of each bin there are.
func (in *instance) limits() []int {
	l := make([]int, len(in.bins))
	for j, b := range in.bins {
		l[j] = b.limit
	}
	return l
}
