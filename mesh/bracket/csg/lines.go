package csg

import (
	"fmt"
	"math"
	"slices"

	"barwright/geom"
)

// stop is the place where a plane crosses a line: its coordinate on the line's main axis is num/den, den > 0.
type stop struct {
	plane int32
	num   int128
	den   int64
	at    float64
}

// near is the distance in grid steps under which floats no longer tell which of two stops comes first.
const near = 1e-4

// compare orders two stops of one line by their coordinate, exactly.
func (a stop) compare(b stop) int {
	if d := a.at - b.at; d > near || d < -near {
		if d < 0 {
			return -1
		}
		return 1
	}
	return a.num.times(b.den).sub(b.num.times(a.den)).sign()
}

// stretch is what a piece covers of a line: from one stop to another, and round the line the sectors of mask.
type stretch struct {
	piece    int32
	from, to stop
	on       []side // its planes that hold the line
	mask     uint64
}

// halfEdge is an edge of a face: the face lies on its left, seen from outside.
type halfEdge struct {
	face     int32 // 2·plane, + 1 where the outward normal is against the plane's own
	from, to int32 // corners
}

// run is a straight edge of the body through one or more corners, with the faces that meet at it.
type run struct {
	corners []int32
	faces   []int32
	back    []bool // the face has the edge against the run
}

// tracer finds the edges of a body.
type tracer struct {
	*Body
	corners
	done map[uint64]struct{}
	runs []run
	err  error

	// of the line in hand
	p, q      int32
	dir       ivec
	main      int
	stretches []stretch
	o, d      geom.Vec // a point and the direction in floats
	loose     bool     // floats can't place it well enough to cull

	lows, highs []guess // scratch of cover
}

// edges traces every line on which faces meet.
func (b *Body) edges() (*tracer, error) {
	t := &tracer{Body: b, done: make(map[uint64]struct{}, 4*len(b.facets))}
	order := make([]int32, len(b.facets))
	for i := range order {
		order[i] = int32(i)
	}
	slices.SortStableFunc(order, func(i, j int32) int {
		switch x, y := b.facets[i].box.Low.X, b.facets[j].box.Low.X; {
		case x < y:
			return -1
		case x > y:
			return 1
		}
		return 0
	})
	for a, i := range order {
		f := &b.facets[i]
		for _, j := range order[a+1:] {
			g := &b.facets[j]
			if g.box.Low.X > f.box.High.X {
				break
			}
			if f.plane == g.plane || g.box.Low.Y > f.box.High.Y || f.box.Low.Y > g.box.High.Y ||
				g.box.Low.Z > f.box.High.Z || f.box.Low.Z > g.box.High.Z {
				continue
			}
			t.line(min(f.plane, g.plane), max(f.plane, g.plane))
			if t.err != nil {
				return nil, t.err
			}
		}
	}
	return t, nil
}

func pairKey(p, q int32) uint64 { return uint64(p)<<32 | uint64(q) }

// line traces the line in which two planes meet, once.
func (t *tracer) line(p, q int32) {
	if _, ok := t.done[pairKey(p, q)]; ok {
		return
	}
	t.done[pairKey(p, q)] = struct{}{}
	t.p, t.q = p, q
	t.dir = t.planes[p].n.cross(t.planes[q].n)
	if t.dir.zero() {
		return
	}
	t.main = 0
	for k := 1; k < 3; k++ {
		if abs(t.dir[k]) > abs(t.dir[t.main]) {
			t.main = k
		}
	}
	t.gather()
	holding := t.holding()
	if len(holding) < 2 {
		return
	}
	if _, ok := t.done[pairKey(holding[0], holding[1])]; ok && (p != holding[0] || q != holding[1]) {
		return // traced before, as the line of another pair
	}
	for i, a := range holding {
		for _, b := range holding[i+1:] {
			t.done[pairKey(min(a, b), max(a, b))] = struct{}{}
		}
	}
	if len(holding) > 32 {
		t.err = fmt.Errorf("%d planes meet in one line", len(holding))
		return
	}
	t.emit(t.sectors(holding))
}

func abs(v int64) int64 {
	if v < 0 {
		return -v
	}
	return v
}

// gather finds the stretches that the pieces cover of the line.
func (t *tracer) gather() {
	t.stretches = t.stretches[:0]
	t.floatLine()
	for k := range t.pieces {
		if !t.loose && !meetsBox(t.o, t.d, &t.pieces[k].box) {
			continue
		}
		if s, ok := t.cover(int32(k)); ok {
			t.stretches = append(t.stretches, s)
		}
	}
}

// floatLine finds a point and the unit direction of the line in floats, for culling.
func (t *tracer) floatLine() {
	p, q := &t.planes[t.p], &t.planes[t.q]
	d := t.dir.float()
	n, m := p.n.float(), q.n.float()
	// The point nearest to the origin: (dP·(nQ×dir) + dQ·(dir×nP)) / |dir|².
	u, v := m.Cross(d).Scale(float64(p.d)), d.Cross(n).Scale(float64(q.d))
	t.o = u.Add(v).Scale(1 / d.Dot(d))
	t.d = d.Unit()
	// Planes that are nearly parallel place their line badly.
	t.loose = (u.Len()+v.Len())/d.Dot(d)*1e-14 > lineError
}

// meetsBox reports whether a line meets a box, by the slabs of the axes.
func meetsBox(o, d geom.Vec, b *geom.Box) bool {
	low, high := math.Inf(-1), math.Inf(1)
	return slab(o.X, d.X, b.Low.X, b.High.X, &low, &high) && slab(o.Y, d.Y, b.Low.Y, b.High.Y, &low, &high) &&
		slab(o.Z, d.Z, b.Low.Z, b.High.Z, &low, &high)
}

// slab narrows the stretch of a line to that between two planes square to an axis, and reports whether any is left.
func slab(o, d, from, to float64, low, high *float64) bool {
	if d == 0 {
		return from <= o && o <= to
	}
	a, c := (from-o)/d, (to-o)/d
	if a > c {
		a, c = c, a
	}
	if a > *low {
		*low = a
	}
	if c < *high {
		*high = c
	}
	return *low <= *high
}

// guess is where a side of a piece crosses the line in floats: surely between at − off and at + off, in grid steps
// along the unit direction.
type guess struct {
	plane   int32
	at, off float64
}

// The error of a guess: floats place a line to far better than lineError steps, and a plane crosses it at an error that
// grows as it turns toward it.
const lineError = 0.02

// cover returns what a piece covers of the line, false where that has no length. Floats choose the sides that
// may bound it; the choice among those is exact.
func (t *tracer) cover(k int32) (stretch, bool) {
	s := stretch{piece: k}
	p := &t.pieces[k]
	t.lows, t.highs = t.lows[:0], t.highs[:0]
	low, high := math.Inf(-1), math.Inf(1)
	for i, sd := range p.sides {
		pl := &t.planes[sd.plane]
		along := pl.n.dot(t.dir) * int64(sd.sign)
		f := &p.floats[i]
		if along == 0 {
			if over := f.N.Dot(t.o) - f.D; over > 1 && !t.loose {
				return s, false
			} else if over > -1 || t.loose {
				switch side := t.lineSide(sd.plane) * int(sd.sign); {
				case side > 0:
					return s, false
				case side == 0:
					s.on = append(s.on, sd)
				}
			}
			continue
		}
		c := f.N.Dot(t.d)
		at := (f.D - f.N.Dot(t.o)) / c
		off := 0.5 + lineError/math.Abs(c)
		if t.loose {
			at, off = 0, math.Inf(1)
		}
		if along > 0 {
			t.highs = append(t.highs, guess{sd.plane, at, off})
			high = min(high, at+off)
		} else {
			t.lows = append(t.lows, guess{sd.plane, at, off})
			low = max(low, at-off)
		}
		if low > high {
			return s, false
		}
	}
	// Coordinates on the main axis grow with the direction only where its main component is positive.
	up := t.dir[t.main] > 0
	first, last := false, false
	for _, g := range t.lows {
		if g.at+g.off >= low {
			t.keep(&s.from, &first, g.plane, up)
		}
	}
	for _, g := range t.highs {
		if g.at-g.off <= high {
			t.keep(&s.to, &last, g.plane, !up)
		}
	}
	if !up {
		s.from, s.to = s.to, s.from
	}
	return s, first && last && s.from.compare(s.to) < 0
}

// keep puts the stop at a plane in place of best if it is the first, or larger on the main axis where large is asked
// for, or smaller where not.
func (t *tracer) keep(best *stop, found *bool, plane int32, large bool) {
	c := t.cross(plane)
	if *found {
		if d := c.compare(*best); d == 0 || d > 0 != large {
			return
		}
	}
	*best, *found = c, true
}

// cross returns where a plane crosses the line, by Cramer's rule on the main axis.
func (t *tracer) cross(r int32) stop {
	p, q, w := &t.planes[t.p], &t.planes[t.q], &t.planes[r]
	m := t.main
	qw, wp := q.n.cross(w.n), w.n.cross(p.n)
	num := mul64(p.d, qw[m]).add(mul64(q.d, wp[m])).add(mul64(w.d, t.dir[m]))
	den := w.n.dot(t.dir)
	if den < 0 {
		num, den = num.neg(), -den
	}
	return stop{plane: r, num: num, den: den, at: num.float() / float64(den)}
}

// lineSide returns on which side of a plane parallel to it the line lies: 0 in it, 1 on the normal's.
func (t *tracer) lineSide(r int32) int {
	if r == t.p || r == t.q {
		return 0
	}
	p, q, w := &t.planes[t.p], &t.planes[t.q], &t.planes[r]
	// The point of the line with 0 on the main axis, over the main component of the direction.
	m := t.main
	i, j := (m+1)%3, (m+2)%3
	den := t.dir[m]
	x := mul64(p.d, q.n[j]).sub(mul64(q.d, p.n[j]))
	y := mul64(q.d, p.n[i]).sub(mul64(p.d, q.n[i]))
	v := x.times(w.n[i]).add(y.times(w.n[j])).sub(mul64(w.d, den))
	if den < 0 {
		return -v.sign()
	}
	return v.sign()
}

// emit walks the line from stop to stop and records the stretches that are edges.
func (t *tracer) emit(rays []ray) {
	stops := make([]stop, 0, 2*len(t.stretches))
	for _, s := range t.stretches {
		stops = append(stops, s.from, s.to)
	}
	slices.SortStableFunc(stops, stop.compare)
	stops = slices.CompactFunc(stops, func(a, b stop) bool { return a.compare(b) == 0 })
	var last uint64
	for i := 0; i+1 < len(stops); i++ {
		pattern := t.pattern(stops[i], stops[i+1])
		if flat(pattern, len(rays)) {
			pattern = 0
		}
		switch {
		case pattern == 0:
		case pattern == last:
			r := &t.runs[len(t.runs)-1]
			r.corners = append(r.corners, t.corner(stops[i+1]))
		default:
			t.open(rays, pattern, stops[i], stops[i+1])
		}
		last = pattern
		if t.err != nil {
			return
		}
	}
}

// pattern returns the sectors that hold material between two stops.
func (t *tracer) pattern(a, b stop) uint64 {
	var m uint64
	for _, s := range t.stretches {
		if s.from.compare(a) > 0 || s.to.compare(b) < 0 {
			continue
		}
		if t.pieces[s.piece].add {
			m |= s.mask
		} else {
			m &^= s.mask
		}
	}
	return m
}

// flat reports whether a pattern is all, nothing or one side of a plane.
func flat(pattern uint64, m int) bool {
	changes := pattern ^ rotate(pattern, 2*m)
	if changes == 0 {
		return true
	}
	low := changes & -changes
	return changes == low|low<<m
}

// rotate moves bit j of n to j + 1.
func rotate(v uint64, n int) uint64 {
	top := v >> (n - 1) & 1
	v = v<<1 | top
	if n < 64 {
		v &= uint64(1)<<n - 1
	}
	return v
}

// EdgeError says that the body touches itself along an edge, so that its surface is no 2-manifold.
type EdgeError struct{ At geom.Vec }

// Error returns the place in mm.
func (e *EdgeError) Error() string {
	return fmt.Sprintf("the solid touches itself along an edge at %.3f, %.3f, %.3f", e.At.X, e.At.Y, e.At.Z)
}

// open begins a run with the faces that meet between two stops.
func (t *tracer) open(rays []ray, pattern uint64, a, b stop) {
	m := len(rays)
	before := rotate(pattern, 2*m) // bit j: the sector before ray j
	from, to := t.corner(a), t.corner(b)
	up := t.dir[t.main] > 0
	r := run{corners: []int32{from, to}}
	for j := range 2 * m {
		after, prior := pattern>>j&1, before>>j&1
		if after == prior {
			continue
		}
		// Material after the ray: the outward normal is the ray's normal (or its opposite for the far half),
		// and the face has the edge against the direction.
		out := (j < m) == (after == 1)
		k := rays[j%m]
		face := 2 * k.plane
		if out == k.turned {
			face++
		}
		r.faces = append(r.faces, face)
		r.back = append(r.back, (after == 1) == up)
	}
	if len(r.faces) != 2 {
		t.err = &EdgeError{t.place(from).Add(t.place(to)).Scale(0.5)}
	}
	t.runs = append(t.runs, r)
}

// corner returns the number of the corner at a stop of the line in hand.
func (t *tracer) corner(s stop) int32 {
	return t.intern(&t.planes[t.p], &t.planes[t.q], &t.planes[s.plane])
}
