package mesh

import (
	"cmp"
	"slices"
)

// crossing is a point where the boundary of a face crosses a level, and which way.
type crossing struct {
	s     float64 // place along the face
	point int32
	down  bool
}

// paint marks part of a loop's walls as machined: up to a level near the one asked for, at which no vertex lies. Each wall that
// crosses the level is divided there; the new edges' points are shared by the walls beside it.
func (f *faces) paint(b *builder, p paint) {
	lo, hi := b.loops[p.loop][0], b.loops[p.loop][1]
	w := &f.painter
	w.faces, w.below, w.first = f, p.below, int32(len(f.normal))-lo
	w.level = f.freeLevel(lo, hi, b.grid.units(p.at), b.near)
	w.split.reset(int(2 * (hi - lo)))
	from, to := f.start[lo], f.start[hi]
	w.split.points, w.split.count, w.starts = w.split.points[:0], w.split.count[:0], w.starts[:0]
	w.kept, w.painted = slices.Grow(w.kept[:0], int(to-from+2*(hi-lo))), slices.Grow(w.painted[:0], int(6*(hi-lo)))
	for i := lo; i < hi; i++ {
		own := f.edges[f.start[i]:f.start[i+1]]
		f.start[i] = from + int32(len(w.kept))
		w.starts = append(w.starts, int32(len(w.painted)))
		w.wall(own)
		f.normal = append(f.normal, f.normal[i])
		f.kind = append(f.kind, Machined)
	}
	f.replace(from, to, hi, w)
	for _, c := range w.split.count {
		if c != 2 {
			// The other face of some edge is none of these.
			f.divide(&w.split.table, w.split.points)
			return
		}
	}
}

// painter divides walls at a level.
type painter struct {
	*faces
	below         bool
	level         int64
	first         int32 // what the number of a wall's painted part is more than its own
	split         splits
	kept, painted []edge
	starts        []int32 // of each wall, its first painted edge
	row           []crossing
}

// wall divides one wall.
func (w *painter) wall(own []edge) {
	w.row = w.row[:0]
	for _, d := range own {
		p, q := w.points.keys[d.a], w.points.keys[d.b]
		under, ends := int64(p[2]) < w.level, int64(q[2]) < w.level
		if under == ends {
			w.put(d, under)
			continue
		}
		m := w.cross(d, p, q)
		w.put(edge{d.face, d.a, m}, under)
		w.put(edge{d.face, m, d.b}, ends)
		k, n := w.points.keys[m], w.normal[d.face]
		w.row = append(w.row, crossing{float64(n[0])*float64(k[1]) - float64(float64(n[1])*float64(k[0])), m, ends})
	}
	slices.SortStableFunc(w.row, func(a, b crossing) int { return cmp.Compare(a.s, b.s) })
	for k := 0; k+1 < len(w.row); k += 2 {
		if a, c := w.row[k].point, w.row[k+1].point; a != c {
			w.put(edge{own[0].face, c, a}, true)
			w.put(edge{own[0].face, a, c}, false)
		}
	}
}

// put adds an edge to the part of its wall under the level or over it.
func (w *painter) put(d edge, under bool) {
	if under == w.below {
		d.face += w.first
		w.painted = append(w.painted, d)
	} else {
		w.kept = append(w.kept, d)
	}
}

// cross returns the point at which an edge crosses the level, the same for both of its faces.
func (w *painter) cross(d edge, p, q [3]int32) int32 {
	n := w.split.number([3]int32{min(d.a, d.b), max(d.a, d.b), 0})
	if int(n) == len(w.split.points) {
		if d.a > d.b {
			p, q = q, p
		}
		w.split.points = append(w.split.points, w.pointAt(p, q, w.level))
		w.split.count = append(w.split.count, 0)
	}
	w.split.count[n]++
	return w.split.points[n]
}

// replace puts a painter's edges in the place of its walls' and at the end.
func (f *faces) replace(from, to, hi int32, w *painter) {
	out := f.spare[:0]
	out = append(append(append(append(out, f.edges[:from]...), w.kept...), f.edges[to:]...), w.painted...)
	shift := int32(len(w.kept)) - (to - from)
	for i := int(hi); i < len(f.start); i++ {
		f.start[i] += shift
	}
	base := f.start[len(f.start)-1]
	for _, s := range w.starts[1:] {
		f.start = append(f.start, base+s)
	}
	f.start = append(f.start, int32(len(out)))
	f.edges, f.spare = out, f.edges
}

// freeLevel returns a level at or above the given one that keeps clear of the vertices of faces.
func (f *faces) freeLevel(lo, hi int32, level, near int64) int64 {
	for again := true; again; {
		again = false
		for _, d := range f.edges[f.start[lo]:f.start[hi]] {
			if z := int64(f.points.keys[d.a][2]); z >= level-near && z <= level+near {
				level, again = onGrid(float64(z+2*near+2)), true
			}
		}
	}
	return level
}

// splits numbers edges by their two points, the lower first; points holds the place of each split, count how often it was met.
type splits struct {
	table
	points, count []int32
}

// pointAt returns the number of the point at a level on the edge from p to q.
func (f *faces) pointAt(p, q [3]int32, level int64) int32 {
	t := float64(level-int64(p[2])) / float64(int64(q[2])-int64(p[2]))
	x := onGrid(float64(p[0]) + float64(t*float64(q[0]-p[0])))
	y := onGrid(float64(p[1]) + float64(t*float64(q[1]-p[1])))
	n := f.points.number([3]int32{int32(x), int32(y), int32(level)})
	if int(n) == len(f.merged) {
		f.merged = append(f.merged, false)
	}
	return n
}

// divide replaces split edges by their two halves, in every face.
func (f *faces) divide(t *table, points []int32) {
	out := make([]edge, 0, len(f.edges)+2*len(points))
	for _, d := range f.edges {
		n, found := t.find([3]int32{min(d.a, d.b), max(d.a, d.b), 0})
		if !found {
			out = append(out, d)
			continue
		}
		out = append(out, edge{d.face, d.a, points[n]}, edge{d.face, points[n], d.b})
	}
	f.edges = out
	f.byFace()
}
