package stock

import "slices"

// pattern is one way to cut a bar: count[k] pieces of size index item[k],
// item rising (so sizes falling).
type pattern struct {
	bin   int
	item  []int32
	count []int32
	used  int // Σ size·count
}

// countOf returns how many pieces of size index i the pattern holds.
func (p *pattern) countOf(i int) int {
	for k, it := range p.item {
		if int(it) == i {
			return int(p.count[k])
		}
	}
	return 0
}

// hasArc reports whether, with the pieces laid from the bar's start by falling
// size, one of size index i starts at pos.
func (p *pattern) hasArc(pos, i int, size []int) bool {
	at := 0
	for k, it := range p.item {
		n := int(p.count[k])
		w := size[it]
		if int(it) == i {
			return pos >= at && (pos-at)%w == 0 && (pos-at)/w < n
		}
		if int(it) > i {
			return false
		}
		at += n * w
	}
	return false
}

// plus adds one piece of size index i, w long.
func (p *pattern) plus(i, w int) {
	k := 0
	for k < len(p.item) && int(p.item[k]) < i {
		k++
	}
	p.used += w
	if k < len(p.item) && int(p.item[k]) == i {
		p.count[k]++
		return
	}
	p.item = slices.Insert(p.item, k, int32(i))
	p.count = slices.Insert(p.count, k, 1)
}

// fits reports whether no count exceeds need.
func (p *pattern) fits(need []int) bool {
	for k, it := range p.item {
		if int(p.count[k]) > need[it] {
			return false
		}
	}
	return true
}

// times returns how often the pattern can be cut before a need is exceeded.
func (p *pattern) times(need []int) int {
	t := int(^uint(0) >> 1)
	for k, it := range p.item {
		t = min(t, need[it]/int(p.count[k]))
	}
	return t
}

// take lowers need by n times the pattern; n may be negative.
func (p *pattern) take(need []int, n int) {
	for k, it := range p.item {
		need[it] -= n * int(p.count[k])
	}
}

// equal reports whether two patterns cut the same pieces from the same kind of bar.
func (p *pattern) equal(q *pattern) bool {
	return p.bin == q.bin && slices.Equal(p.item, q.item) && slices.Equal(p.count, q.count)
}

// hash mixes the pattern into a number, for finding equal ones.
func (p *pattern) hash() uint64 {
	h := uint64(p.bin)*0x9e3779b97f4a7c15 + 1
	for k, it := range p.item {
		h = (h ^ uint64(it)<<20 ^ uint64(p.count[k])) * 0xff51afd7ed558ccd
		h ^= h >> 29
	}
	return h
}

// use is a pattern and how many bars are cut that way.
type use struct {
	pat *pattern
	n   int
}

// solution is a whole plan in whole numbers.
type solution struct {
	uses []use
	skip []int // pieces left out per size, nil for none
	cost int64
}

// cost sums the bins and the pieces left out.
func (in *instance) costOf(uses []use, skip []int) int64 {
	var c int64
	for _, u := range uses {
		c += in.bins[u.pat.bin].cost * int64(u.n)
	}
	for i, n := range skip {
		if n > 0 {
			c += in.skip[i] * int64(n)
		}
	}
	return c
}

// bars counts the bars of a solution.
func (s *solution) bars() int {
	n := 0
	for _, u := range s.uses {
		n += u.n
	}
	return n
}

// newPattern builds a pattern from counts per size index.
func (in *instance) newPattern(bin int, count []int) *pattern {
	p := &pattern{bin: bin}
	for i, c := range count {
		if c > 0 {
			p.item = append(p.item, int32(i))
			p.count = append(p.count, int32(c))
			p.used += c * in.size[i]
		}
	}
	return p
}

// merged returns the uses with equal patterns added up, in order of first appearance.
func merged(uses []use) []use {
	at := map[uint64][]int{}
	var out []use
next:
	for _, u := range uses {
		if u.n == 0 || len(u.pat.item) == 0 {
			continue
		}
		h := u.pat.hash()
		for _, k := range at[h] {
			if out[k].pat.equal(u.pat) {
				out[k].n += u.n
				continue next
			}
		}
		at[h] = append(at[h], len(out))
		out = append(out, u)
	}
	return out
}

// trimmed turns uses that together make at least the need into ones that make
// exactly it, by leaving surplus pieces out of some bars, and drops empty bars.
func (in *instance) trimmed(uses []use) []use {
	over := make([]int, len(in.size))
	for i := range over {
		over[i] = -in.need[i]
	}
	for _, u := range uses {
		u.pat.take(over, -u.n)
	}
	var out []use
	for _, u := range uses {
		for u.n > 0 {
			count := make([]int, len(in.size))
			n := u.n
			cut := false
			for k, it := range u.pat.item {
				c := int(u.pat.count[k])
				drop := min(c, max(over[it], 0))
				count[it] = c - drop
				if drop > 0 {
					cut = true
					n = min(n, max(1, over[it]/drop))
				}
			}
			if !cut {
				out = append(out, u)
				break
			}
			p := in.newPattern(u.pat.bin, count)
			for k, it := range u.pat.item {
				over[it] -= n * (int(u.pat.count[k]) - count[it])
			}
			if len(p.item) > 0 {
				out = append(out, use{p, n})
			}
			u.n -= n
		}
	}
	return merged(out)
}
