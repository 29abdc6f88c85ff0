package mesh

import "sort"

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
	level := f.freeLevel(lo, hi, b.grid.units(p.at), b.near)
	f.splitAt(lo, hi, level)
	first := int32(len(f.normal))
	for i := lo; i < hi; i++ {
		f.normal = append(f.normal, f.normal[i])
		f.kind = append(f.kind, Machined)
	}
	from, to := f.start[lo], f.start[hi]
	own := f.edges[from:to]
	kept, painted := make([]edge, 0, len(own)), make([]edge, 0, len(own))
	rows := make([][]crossing, hi-lo)
	for _, d := range own {
		za, zb := int64(f.points.keys[d.a][2]), int64(f.points.keys[d.b][2])
		if zb == level {
			k, t := f.points.keys[d.b], f.normal[d.face]
			s := -float64(t[1])*float64(k[0]) + float64(t[0])*float64(k[1])
			rows[d.face-lo] = append(rows[d.face-lo], crossing{s, d.b, za > level})
		}
		if (za < level || zb < level) == p.below {
			painted = append(painted, edge{d.face - lo + first, d.a, d.b})
		} else {
			kept = append(kept, d)
		}
	}
	for i, r := range rows {
		sort.SliceStable(r, func(a, b int) bool { return r[a].s < r[b].s })
		here, there := lo+int32(i), first+int32(i)
		for k := 0; k+1 < len(r); k += 2 {
			a, c := r[k].point, r[k+1].point
			if p.below {
				a, c = c, a
			}
			if a != c {
				// The part above the level runs a to c along its lower edge, the part below the other way.
				kept = append(kept, edge{here, c, a}, edge{there, a, c})
			}
		}
	}
	f.replace(from, to, kept, painted)
}

// replace puts other edges in the place of a range and some at the end.
func (f *faces) replace(from, to int32, middle, end []edge) {
	out := make([]edge, 0, len(f.edges)+len(middle)+len(end))
	out = append(append(append(append(out, f.edges[:from]...), middle...), f.edges[to:]...), end...)
	f.edges = out
	f.byFace()
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

// splitAt divides edges of faces where they cross a level.
func (f *faces) splitAt(lo, hi int32, level int64) {
	var s splits
	s.reset(int(2 * (hi - lo)))
	from, to := f.start[lo], f.start[hi]
	var out []edge
	for _, d := range f.edges[from:to] {
		p, q := f.points.keys[d.a], f.points.keys[d.b]
		if (int64(p[2]) < level) == (int64(q[2]) < level) {
			out = append(out, d)
			continue
		}
		n := s.number([3]int32{min(d.a, d.b), max(d.a, d.b), 0})
		if int(n) == len(s.points) {
			if d.a > d.b {
				p, q = q, p
			}
			s.points = append(s.points, f.pointAt(p, q, level))
			s.count = append(s.count, 0)
		}
		s.count[n]++
		m := s.points[n]
		out = append(out, edge{d.face, d.a, m}, edge{d.face, m, d.b})
	}
	f.replace(from, to, out, nil)
	for _, c := range s.count {
		if c != 2 {
			// The other face of some edge is none of these.
			f.divide(&s.table, s.points)
			return
		}
	}
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
