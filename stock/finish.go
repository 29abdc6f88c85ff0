package stock

import (
	"cmp"
	"slices"
)

// Among plans of the same cost the one with fewer bars is better, then the one
// with the longest single leftover, then the one with the fewest different
// patterns. The bars are found by a second search with a cost that counts them
// too; the leftover and the patterns by exchanging pieces between bars. Only
// the cost is proven in the plan.

// fewerBars searches for a plan of the same cost, or a lower one, with fewer bars.
func (s *solver) fewerBars(pool []use) {
	in := s.in
	same := true
	for _, b := range in.bins {
		same = same && b.cost == in.bins[0].cost
	}
	bars := s.best.bars()
	if (same && in.bins[0].cost > 0) || bars < 2 || s.best.skip != nil || s.best.cost > 1<<40/int64(bars+1) {
		return
	}
	if in.skip != nil && slices.Max(in.skip) > 1<<40/int64(bars+1) {
		return
	}
	k := int64(bars + 1)
	two := *in
	two.bins = slices.Clone(in.bins)
	for j := range two.bins {
		two.bins[j].cost = in.bins[j].cost*k + 1
	}
	two.skip = nil
	if in.skip != nil {
		two.skip = slices.Clone(in.skip)
		for i := range two.skip {
			two.skip[i] *= k + 1
		}
	}
	first := *s.best
	first.cost = two.costOf(first.uses, nil)
	t := newSolver(&two, &first, s.work)
	t.price = s.price // sizes and lengths are the same
	t.prove(s.lb*k + two.fewestBars())
	if t.closed() {
		return
	}
	s.work.within(min((s.work.limit-s.work.used)/4, s.work.used/2+20e6), func() { t.improve(pool) })
	if t.best != &first {
		s.best = t.best
		s.best.cost = in.costOf(s.best.uses, s.best.skip)
	}
}

// fewestBars bounds the number of bars from below by length alone, longest bars first.
func (in *instance) fewestBars() int64 {
	length, n := 0, 0
	for i, w := range in.size {
		length += w * in.need[i]
	}
	for _, b := range in.bins {
		k := min(b.limit, (length+b.cap-1)/b.cap)
		n += k
		if length -= k * b.cap; length <= 0 {
			break
		}
	}
	return int64(n)
}

// finish improves all but the cost.
func (s *solver) finish(pool []use) {
	in, work := s.in, s.work
	s.fewerBars(pool)
	c := *s.best
	s.best = &c
	var special *pattern
	work.within(max((work.limit-work.used)/2, 1), func() { special = in.longestLeft(s.best, work) })
	s.longerLeft(pool)
	for k, u := range s.best.uses { // merging may have made another of it
		if k == 0 || in.slack(u.pat) > in.slack(special) {
			special = u.pat
		}
	}
	if special != nil && in.slack(special) == 0 {
		special = nil // nothing to keep
	}
	work.within(max((work.limit-work.used)/2, 1), func() { in.fewerPatterns(s.best, special, work) })
}

// slack is what a pattern leaves of its bar.
func (in *instance) slack(p *pattern) int { return in.bins[p.bin].cap - p.used }

// longestLeft makes one bar's leftover as long as exchanges with one other
// bar at a time can, and returns that bar's pattern. Each exchange fills the
// other bar from both contents as full as it can be.
func (in *instance) longestLeft(s *solution, work *budget) *pattern {
	total := 0
	for _, u := range s.uses {
		total += u.n * in.slack(u.pat)
	}
	order := make([]int, len(s.uses))
	for k := range order {
		order[k] = k
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Compare(in.slack(s.uses[b].pat), in.slack(s.uses[a].pat))
	})
	if len(order) == 0 {
		return nil
	}
	best := s.uses
	top := s.uses[order[0]].pat
	for _, k := range order[:min(len(order), 8)] {
		if in.slack(top) >= min(total, in.bins[top.bin].cap-in.size[len(in.size)-1]) {
			break
		}
		if uses, p := in.empty(s.uses, k, work); in.slack(p) > in.slack(top) {
			best, top = uses, p
		}
	}
	s.uses = best
	return top
}

// empty moves pieces out of one bar of use k into the others' slack, as far
// as it goes, and returns the new uses and that bar's pattern.
func (in *instance) empty(uses []use, k int, work *budget) ([]use, *pattern) {
	out := slices.Clone(uses)
	mine := out[k].pat
	out[k].n--
	for again := true; again && work.left(); {
		again = false
		for o := 0; o < len(out) && work.left(); o++ {
			if out[o].n == 0 || in.slack(out[o].pat) == 0 {
				continue
			}
			full, rest := in.repack(out[o].pat, mine, work)
			if full == nil {
				continue
			}
			mine, again = rest, true
			out[o].n--
			out = append(out, use{full, 1})
		}
	}
	if len(mine.item) == 0 { // it emptied: one bar fewer, and the rest is as good
		out = merged(out)
		return out, out[0].pat
	}
	return merged(append(out, use{mine, 1})), mine
}

// repack fills bar a as full as the pieces of a and b allow, the rest going to
// b's bar; nil if that is no fuller than a is, or the rest would not fit.
func (in *instance) repack(a, b *pattern, work *budget) (full, rest *pattern) {
	const cells = 1 << 17 // beyond that many units, sizes are rounded up
	step := 1 + in.bins[a.bin].cap/cells
	var items []int
	both := map[int]int{}
	for _, p := range []*pattern{a, b} {
		for k, it := range p.item {
			both[int(it)] += int(p.count[k])
		}
	}
	pieces := 0
	for i, n := range both { // sorted below
		items = append(items, i)
		pieces += n
	}
	slices.Sort(items)
	c := in.bins[a.bin].cap / step
	f := fullest{in: in, words: c/64 + 1, size: make([]int, len(in.size))}
	f.table = make([]uint64, f.words, f.words*(pieces+1))
	f.table[0] = 1
	for k := len(items) - 1; k >= 0; k-- {
		i := items[k]
		f.size[i] = (in.size[i] + step - 1) / step
		for range both[i] {
			at := len(f.table) - f.words
			f.table = append(f.table, f.table[at:]...)
			orShift(f.table[at+f.words:], f.table[at:at+f.words], f.size[i])
			f.layer = append(f.layer, i)
		}
	}
	work.spend(len(f.table))
	chosen := f.trace(f.highest(c))
	sum := 0
	for _, t := range chosen {
		sum += t.n * in.size[t.i]
	}
	if sum <= a.used || a.used+b.used-sum > in.bins[b.bin].cap {
		return nil, nil
	}
	full, rest = &pattern{bin: a.bin, used: sum}, &pattern{bin: b.bin}
	for _, t := range chosen {
		full.item, full.count = append(full.item, int32(t.i)), append(full.count, int32(t.n))
		both[t.i] -= t.n
	}
	for _, i := range items {
		if n := both[i]; n > 0 {
			rest.item, rest.count = append(rest.item, int32(i)), append(rest.count, int32(n))
			rest.used += n * in.size[i]
		}
	}
	return full, rest
}

// fewerPatterns turns single bars into copies of patterns that are used
// already, another single bar taking the pieces that this moves. special keeps its leftover.
func (in *instance) fewerPatterns(s *solution, special *pattern, work *budget) {
	const most = 150 // patterns beyond which the search would take too long
	for changed := true; changed && len(s.uses) <= most && work.left(); {
		changed = in.shareOnce(s, special) || in.average(s, special)
		work.spend(len(s.uses) * len(s.uses) * 64)
	}
}

// shareOnce makes one exchange that lowers the number of patterns.
func (in *instance) shareOnce(s *solution, special *pattern) bool {
	for a := range s.uses {
		u := s.uses[a]
		if u.n != 1 || u.pat == special {
			continue
		}
		for b := range s.uses {
			r := s.uses[b].pat
			if b == a || r.bin != u.pat.bin {
				continue
			}
			for c := range s.uses {
				v := s.uses[c]
				if c == a || c == b || v.pat == special {
					continue
				}
				moved := in.shifted(v.pat, u.pat, r)
				if moved == nil {
					continue
				}
				known := slices.ContainsFunc(s.uses, func(o use) bool { return o.pat.equal(moved) })
				if v.n > 1 && !known {
					continue // one pattern gone, one more made
				}
				s.uses[a].n--
				s.uses[b].n++
				s.uses[c].n--
				s.uses = merged(append(s.uses, use{moved, 1}))
				return true
			}
		}
	}
	return false
}

// shifted returns v + u − r if that is a way to cut v's bar, else nil.
func (in *instance) shifted(v, u, r *pattern) *pattern {
	used := v.used + u.used - r.used
	if used > in.bins[v.bin].cap {
		return nil
	}
	// r's pieces must all be in v or u: looked at first, as most are not.
	for k, it := range r.item {
		if int(r.count[k]) > v.countOf(int(it))+u.countOf(int(it)) {
			return nil
		}
	}
	p := &pattern{bin: v.bin, used: used}
	for i, j := 0, 0; i < len(v.item) || j < len(u.item); {
		var it int32
		switch {
		case j == len(u.item) || (i < len(v.item) && v.item[i] <= u.item[j]):
			it = v.item[i]
		default:
			it = u.item[j]
		}
		n := v.countOf(int(it)) + u.countOf(int(it)) - r.countOf(int(it))
		if n > 0 {
			p.item, p.count = append(p.item, it), append(p.count, int32(n))
		}
		if i < len(v.item) && v.item[i] == it {
			i++
		}
		if j < len(u.item) && u.item[j] == it {
			j++
		}
	}
	if len(p.item) == 0 {
		return nil
	}
	return p
}

// average joins two uses of one kind of bar whose pieces divide evenly.
func (in *instance) average(s *solution, special *pattern) bool {
	for a := range s.uses {
		for b := a + 1; b < len(s.uses); b++ {
			u, v := s.uses[a], s.uses[b]
			if u.pat.bin != v.pat.bin || u.pat == special || v.pat == special {
				continue
			}
			if p := in.evenly(u, v); p != nil {
				s.uses[a] = use{p, u.n + v.n}
				s.uses[b].n = 0
				s.uses = merged(s.uses)
				return true
			}
		}
	}
	return false
}

// evenly returns the pattern that, cut for both uses' bars, makes the same pieces; nil if none does.
func (in *instance) evenly(u, v use) *pattern {
	n := int32(u.n + v.n)
	p := &pattern{bin: u.pat.bin}
	i, j := 0, 0
	for i < len(u.pat.item) || j < len(v.pat.item) {
		var it, c int32
		switch {
		case j == len(v.pat.item) || (i < len(u.pat.item) && u.pat.item[i] < v.pat.item[j]):
			it, c = u.pat.item[i], u.pat.count[i]*int32(u.n)
			i++
		case i == len(u.pat.item) || v.pat.item[j] < u.pat.item[i]:
			it, c = v.pat.item[j], v.pat.count[j]*int32(v.n)
			j++
		default:
			it, c = u.pat.item[i], u.pat.count[i]*int32(u.n)+v.pat.count[j]*int32(v.n)
			i++
			j++
		}
		if c%n != 0 {
			return nil
		}
		p.item, p.count = append(p.item, it), append(p.count, c/n)
		p.used += int(c/n) * in.size[it]
	}
	if p.used > in.bins[p.bin].cap {
		return nil
	}
	return p
}
