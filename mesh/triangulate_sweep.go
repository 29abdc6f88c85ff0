package mesh

import "slices"

// A sweep from low to high cuts a face with any number of loops into triangles at one go, by Hertel and Mehlhorn ("Fast triangulation of
// simple polygons", FCT 1983). Where the sweep stands, the face is a stack of gaps. To each belongs a front: the corners, from the one at which the edge under the
// gap begins to the one at which the edge over it does, between which and the sweep nothing is cut yet. Every corner cuts off what it sees of
// the front's end.
//
// Each cut takes two sides away from a front and puts one in their place, so whatever comes out has
// the face's edges as its boundary. If moreover each triangle runs counter-clockwise, they cover every place as often as the
// boundary winds round it, which is once. So a face for which that fails, since it touches or crosses itself, is found out and left to ears.

// gap is a piece of the sweep line inside the face: between the edges that begin at the two ends of its front.
type gap struct {
	low, high int32 // links at the ends of the front
	last      int32 // link of the front's corner that the sweep met last
}

// link is a corner in a front.
type link struct{ corner, down, up int32 }

// sweeper holds the room of a sweep.
type sweeper struct {
	order      []uint64
	prev, next []int32 // corners of the face, numbered in t.round
	rank       []int32 // their places in the sweep
	at         [][2]int64
	links      []link
	gaps       []gap
	open       []int32 // gaps that the sweep cuts now
	under      []int32 // of each corner: the gap whose lower edge begins there
	over       []int32 // the gap whose upper edge begins there
	out        [][3]int32
	bad        bool
}

// sweep triangulates the loops of t.round from one to before another together; it returns false, and emits nothing, where they do not bound a simple face.
func (t *triangulator) sweep(from, to int, emit func(a, b, c int32, flat bool)) bool {
	s := &t.sweeper
	s.out, s.links, s.gaps, s.open, s.bad = s.out[:0], s.links[:0], s.gaps[:0], s.open[:0], false
	n := t.lay(from, to)
	s.sort()
	for _, key := range s.order {
		s.meet(int32(uint32(key)))
		if s.bad {
			return false
		}
	}
	if len(s.open) > 0 || len(s.out) < n-2 {
		return false
	}
	base := 0
	if from > 0 {
		base = t.ends[from-1]
	}
	round := t.round[base:]
	for _, d := range s.out {
		emit(t.name[round[d[0]]], t.name[round[d[1]]], t.name[round[d[2]]], false)
	}
	return true
}

// lay lists the corners of the loops and returns how many they are.
func (t *triangulator) lay(from, to int) int {
	s := &t.sweeper
	s.at, s.prev, s.next = s.at[:0], s.prev[:0], s.next[:0]
	for i := from; i < to; i++ {
		first := int32(len(s.at))
		l := t.loop(i)
		last := first + int32(len(l)) - 1
		for k, p := range l {
			c := first + int32(k)
			s.at, s.prev, s.next = append(s.at, t.points[p]), append(s.prev, c-1), append(s.next, c+1)
		}
		s.prev[first], s.next[last] = last, first
	}
	n := len(s.at)
	s.under, s.over = slices.Grow(s.under[:0], n)[:n], slices.Grow(s.over[:0], n)[:n]
	s.rank = slices.Grow(s.rank[:0], n)[:n]
	return n
}

// sort puts the corners in the order in which the sweep meets them: along the face's longer way, then across it.
func (s *sweeper) sort() {
	low, high := s.at[0], s.at[0]
	for _, p := range s.at {
		low[0], high[0] = min(low[0], p[0]), max(high[0], p[0])
		low[1], high[1] = min(low[1], p[1]), max(high[1], p[1])
	}
	if high[1]-low[1] > high[0]-low[0] {
		// A quarter turn keeps what runs counter-clockwise so.
		for i, p := range s.at {
			s.at[i] = [2]int64{p[1], -p[0]}
		}
		low[0] = low[1]
	}
	s.order = s.order[:0]
	for i, p := range s.at {
		s.order = append(s.order, uint64(p[0]-low[0])<<32|uint64(uint32(i)))
	}
	slices.Sort(s.order)
	for i := 1; i < len(s.order); i++ {
		for k := i; k > 0 && s.order[k]>>32 == s.order[k-1]>>32 && s.at[uint32(s.order[k])][1] < s.at[uint32(s.order[k-1])][1]; k-- {
			s.order[k], s.order[k-1] = s.order[k-1], s.order[k]
		}
	}
	for i, key := range s.order {
		s.rank[uint32(key)] = int32(i)
	}
}

// meet takes the sweep over a corner.
func (s *sweeper) meet(v int32) {
	p, n := s.prev[v], s.next[v]
	before, after := s.rank[p] < s.rank[v], s.rank[n] > s.rank[v]
	switch {
	case before && after:
		g := s.under[p]
		s.putLow(g, v)
	case !before && !after:
		g := s.over[n]
		s.putHigh(g, v)
	case !before:
		switch turn := orient(s.at[p], s.at[v], s.at[n]); {
		case turn > 0:
			s.begin(v)
		case turn < 0:
			s.split(v)
		default:
			s.bad = true
		}
	default:
		switch turn := orient(s.at[p], s.at[v], s.at[n]); {
		case turn > 0:
			s.end(v, s.under[p], s.over[n])
		case turn < 0:
			s.merge(v, s.over[n], s.under[p])
		default:
			s.bad = true
		}
	}
}

// link adds a corner to no front yet.
func (s *sweeper) link(v int32) int32 {
	s.links = append(s.links, link{v, -1, -1})
	return int32(len(s.links) - 1)
}

// gap opens a gap.
func (s *sweeper) gap(low, high, last int32) int32 {
	g := int32(len(s.gaps))
	s.gaps = append(s.gaps, gap{low, high, last})
	s.open = append(s.open, g)
	return g
}

// close takes a gap from those that are open.
func (s *sweeper) close(g int32) {
	for i, o := range s.open {
		if o == g {
			last := len(s.open) - 1
			s.open[i] = s.open[last]
			s.open = s.open[:last]
			return
		}
	}
	s.bad = true
}

func (s *sweeper) begin(v int32) {
	k := s.link(v)
	g := s.gap(k, k, k)
	s.under[v], s.over[v] = g, g
}

// cut emits a triangle if it runs counter-clockwise and tells whether it does.
func (s *sweeper) cut(a, b, c int32) bool {
	if orient(s.at[a], s.at[b], s.at[c]) <= 0 {
		return false
	}
	s.out = append(s.out, [3]int32{a, b, c})
	return true
}

// putLow puts a corner at the low end of a gap's front, which goes on behind it.
func (s *sweeper) putLow(g, v int32) {
	h := &s.gaps[g]
	k := h.low
	for up := s.links[k].up; up >= 0 && s.cut(s.links[k].corner, v, s.links[up].corner); up = s.links[k].up {
		k = up
	}
	m := s.link(v)
	s.links[m].up, s.links[k].down = k, m
	h.low, h.last = m, m
	s.under[v] = g
}

// putHigh puts a corner at the high end of a gap's front.
func (s *sweeper) putHigh(g, v int32) {
	h := &s.gaps[g]
	k := h.high
	for down := s.links[k].down; down >= 0 && s.cut(s.links[k].corner, s.links[down].corner, v); down = s.links[k].down {
		k = down
	}
	m := s.link(v)
	s.links[m].down, s.links[k].up = k, m
	h.high, h.last = m, m
	s.over[v] = g
}

// end closes a gap at the corner at which both of its edges end.
func (s *sweeper) end(v, g, other int32) {
	if g != other {
		s.bad = true
		return
	}
	for k := s.gaps[g].low; s.links[k].up >= 0; k = s.links[k].up {
		if !s.cut(s.links[k].corner, v, s.links[s.links[k].up].corner) {
			s.bad = true
			return
		}
	}
	s.close(g)
}

// split divides the gap in which a corner stands: it sees the corner that the sweep met last there.
func (s *sweeper) split(v int32) {
	g := int32(-1)
	for _, o := range s.open {
		low, high := s.links[s.gaps[o].low].corner, s.links[s.gaps[o].high].corner
		if orient(s.at[low], s.at[s.next[low]], s.at[v]) > 0 && orient(s.at[s.prev[high]], s.at[high], s.at[v]) > 0 {
			g = o
			break
		}
	}
	if g < 0 {
		s.bad = true
		return
	}
	// The corner met last ends the front below and begins the one above.
	h := s.gaps[g]
	k := s.link(s.links[h.last].corner)
	up := s.links[h.last].up
	s.links[k].up, s.links[h.last].up = up, -1
	if up >= 0 {
		s.links[up].down = k
	}
	if h.high == h.last {
		h.high = k
	}
	s.gaps[g].high = h.last
	s.putHigh(g, v)
	above := s.gap(k, h.high, k)
	s.over[s.links[h.high].corner] = above
	s.putLow(above, v)
}

// merge joins the gaps below and above a corner at which the edges between them end.
func (s *sweeper) merge(v, below, above int32) {
	if below == above {
		s.bad = true
		return
	}
	s.putHigh(below, v)
	s.putLow(above, v)
	// Both fronts end in v: the one above goes on from that of the one below.
	b, a := &s.gaps[below], &s.gaps[above]
	k, up := b.high, s.links[a.low].up
	s.links[k].up = up
	if up >= 0 {
		s.links[up].down = k
	}
	b.high, b.last = a.high, k
	s.over[s.links[b.high].corner] = below
	s.close(above)
}
