package assembly

import "math/bits"

// set is a set of members by their index in the frame.
type set []uint64

func newSet(n int) set { return make(set, (n+63)/64) }

func (s set) has(i int) bool { return s[i/64]>>(i%64)&1 == 1 }
func (s set) add(i int)      { s[i/64] |= 1 << (i % 64) }
func (s set) clone() set     { return append(set{}, s...) }

func (s set) count() int {
	n := 0
	for _, w := range s {
		n += bits.OnesCount64(w)
	}
	return n
}

func (s set) empty() bool {
	for _, w := range s {
		if w != 0 {
			return false
		}
	}
	return true
}

// minus returns the members of s that are not in t.
func (s set) minus(t set) set {
	out := s.clone()
	for i := range out {
		out[i] &^= t[i]
	}
	return out
}

// and returns the members of both.
func (s set) and(t set) set {
	out := s.clone()
	for i := range out {
		out[i] &= t[i]
	}
	return out
}

// join adds the members of t to s.
func (s set) join(t set) {
	for i := range s {
		s[i] |= t[i]
	}
}

// within reports whether all of s is in t.
func (s set) within(t set) bool {
	for i := range s {
		if s[i]&^t[i] != 0 {
			return false
		}
	}
	return true
}

// meets reports whether s and t have a member in common.
func (s set) meets(t set) bool {
	for i := range s {
		if s[i]&t[i] != 0 {
			return true
		}
	}
	return false
}

func (s set) equal(t set) bool { return s.within(t) && t.within(s) }

// each calls f for the members in rising order until it returns false.
func (s set) each(f func(i int) bool) {
	for w, word := range s {
		for word != 0 {
			i := bits.TrailingZeros64(word)
			word &^= 1 << i
			if !f(w*64 + i) {
				return
			}
		}
	}
}

// list returns the members in rising order.
func (s set) list() []int {
	out := make([]int, 0, s.count())
	s.each(func(i int) bool { out = append(out, i); return true })
	return out
}

// setOf returns a set of n possible members with those given.
func setOf(n int, members ...int) set {
	s := newSet(n)
	for _, i := range members {
		s.add(i)
	}
	return s
}
