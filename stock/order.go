package stock

import (
	"cmp"
	"slices"
)

// sawing is a pattern with the order in which its sizes are cut from the first
// bar; the next equal bar goes the other way round, so that the saw's stop
// stays where it is from one bar to the next.
type sawing struct {
	u     use
	order []int32
}

// last returns the size at which the stop stands when all bars are cut.
func (w *sawing) last() int32 {
	if w.u.n%2 == 0 {
		return w.order[0]
	}
	return w.order[len(w.order)-1]
}

// maxSawOrder is the number of patterns beyond which they keep their order.
const maxSawOrder = 2000

// sawOrder orders the patterns, and the sizes within each, so that the stop is
// moved seldom and not far: always next a pattern that starts where the stop
// stands, if there is one. It is a greedy rule, not an optimum.
func (in *instance) sawOrder(uses []use) []sawing {
	var out []sawing
	if len(uses) > maxSawOrder {
		for _, u := range uses {
			out = append(out, sawing{u, u.pat.item})
		}
		return out
	}
	left := slices.Clone(uses)
	stop := int32(-1)
	for len(left) > 0 {
		k := in.nextUse(left, stop)
		w := in.sequence(left[k], stop, slices.Delete(slices.Clone(left), k, k+1))
		left = slices.Delete(left, k, k+1)
		out = append(out, w)
		stop = w.last()
	}
	return out
}

// nextUse picks the pattern to cut next: one that has the stop's size, then
// the one with fewer sizes, then the nearest, then the longest.
func (in *instance) nextUse(left []use, stop int32) int {
	best := 0
	var rank [4]int
	for k, u := range left {
		near := 1 << 60
		for _, it := range u.pat.item {
			if stop >= 0 {
				near = min(near, abs(in.size[it]-in.size[stop]))
			}
		}
		move := 1
		if near == 0 {
			move = 0
		}
		r := [4]int{move, len(u.pat.item), near, int(u.pat.item[0])}
		if stop < 0 {
			r[1], r[2] = 0, 0 // begin with the longest piece
		}
		if k == 0 || slices.Compare(r[:], rank[:]) < 0 {
			best, rank = k, r
		}
	}
	return best
}

// sequence orders the sizes of one pattern: first the stop's, if it has it,
// then falling or rising, whichever ends at a size that others need too.
func (in *instance) sequence(u use, stop int32, others []use) sawing {
	var entries []int32
	if slices.Contains(u.pat.item, stop) {
		entries = []int32{stop}
	} else {
		entries = []int32{u.pat.item[0], u.pat.item[len(u.pat.item)-1]}
	}
	var best sawing
	var rank [2]int
	for _, e := range entries {
		for _, rising := range []bool{false, true} {
			w := sawing{u: u, order: []int32{e}}
			for _, it := range u.pat.item {
				if it != e {
					w.order = append(w.order, it)
				}
			}
			if rising {
				slices.Reverse(w.order[1:])
			}
			shared := 1
			if slices.ContainsFunc(others, func(o use) bool { return slices.Contains(o.pat.item, w.last()) }) {
				shared = 0
			}
			r := [2]int{shared, in.travel(stop, w.order)}
			if best.order == nil || cmp.Or(cmp.Compare(r[0], rank[0]), cmp.Compare(r[1], rank[1])) < 0 {
				best, rank = w, r
			}
		}
	}
	return best
}

// travel is how far the stop moves over a sequence of sizes.
func (in *instance) travel(stop int32, order []int32) int {
	d := 0
	for _, it := range order {
		if stop >= 0 {
			d += abs(in.size[it] - in.size[stop])
		}
		stop = it
	}
	return d
}

func abs(v int) int {
	if v < 0 {
		return -v
	}
	return v
}

// StopMoves returns how often the saw's stop is set when the bars are cut in
// the plan's order: once at the start, then at every change of length.
func (p *Plan) StopMoves() int {
	n, at := 0, -1
	for _, b := range p.Bars {
		for _, c := range b.Cuts {
			if l := toUnits(c.Length); l != at {
				n, at = n+1, l
			}
		}
	}
	return n
}
