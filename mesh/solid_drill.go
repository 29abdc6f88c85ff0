package mesh

import (
	"math"
	"slices"

	"barwright/geom"
)

// addDrill adds a round prism as a tool, unless it has no size or lies clear of the bar. Its polygon has its corners on
// the circle, four of them on the axes, so that the drill reaches exactly as far as the
// round one there. A corner within a thousandth of a mm of the section's corners, of an end or of another drill's
// corner, seen along an axis, is put level with it.
func (b *builder) addDrill(d drill) {
	u, v := acrossAxes(d.axis)
	pts := b.circle(d, u, v)
	if len(pts) < 3 {
		return
	}
	t := tool{axis: d.axis, points: pts, sides: int32(len(pts)), surface: Machined, box: noBounds()}
	low, high := b.low[d.axis], b.high[d.axis]
	lo, hi := low, high
	if !math.IsInf(d.low, -1) {
		lo = b.levelAt(d.axis, d.low)
	}
	if !math.IsInf(d.high, 1) {
		hi = b.levelAt(d.axis, d.high)
	}
	if lo >= hi || lo >= high || hi <= low {
		return
	}
	t.first = int32(len(b.planes))
	from := len(b.boxes)
	b.boxes = slices.Grow(b.boxes, len(pts)+2)
	j := int32(len(b.tools))
	for i, p := range pts {
		q := pts[0]
		if i+1 < len(pts) {
			q = pts[i+1]
		}
		var n [3]int64
		n[u], n[v] = q[1]-p[1], p[0]-q[0]
		b.addPlane(newPlane(n, n[u]*p[0]+n[v]*p[1], int32(len(b.planes))), j)
		face := facetBox(u, v, d.axis, lo, hi, p, q)
		b.boxes = append(b.boxes, face)
		t.box.add(face.low)
		t.box.add(face.high)
	}
	for _, f := range [2]struct {
		at   int64
		sign int64
		real bool
	}{{lo, -1, lo > low}, {hi, 1, hi < high}} {
		if f.real {
			var n [3]int64
			n[d.axis] = f.sign
			b.addPlane(newPlane(n, f.sign*f.at, int32(len(b.planes))), j)
			face := t.box
			face.low[d.axis], face.high[d.axis] = float64(f.at), float64(f.at)
			b.boxes = append(b.boxes, face)
		}
	}
	t.last, t.boxes = int32(len(b.planes)), b.boxes[from:]
	b.tools = append(b.tools, t)
}

// levelAt returns a place on an axis in grid units, put level with a known one that is nearly the same.
func (b *builder) levelAt(axis int, mm float64) int64 {
	v := nearest(b.steps[axis], b.grid.units(mm), b.near)
	if axis == 2 {
		b.remember(v)
	}
	return v
}

// remember adds a place to those known on z.
func (b *builder) remember(v int64) {
	s := b.steps[2]
	if i, found := slices.BinarySearch(s, v); !found {
		b.steps[2] = slices.Insert(s, i, v)
	}
}

func facetBox(u, v, axis int, lo, hi int64, p, q [2]int64) bounds {
	var box bounds
	box.low[u], box.high[u] = float64(min(p[0], q[0])), float64(max(p[0], q[0]))
	box.low[v], box.high[v] = float64(min(p[1], q[1])), float64(max(p[1], q[1]))
	box.low[axis], box.high[axis] = float64(lo), float64(hi)
	return box
}

// circle returns the corners of a drill's polygon, counter-clockwise over the axes u and v.
func (b *builder) circle(d drill, u, v int) [][2]int64 {
	n := (geom.ArcSegments(d.radius, 2*math.Pi, b.tolerance) + 3) / 4
	from := len(b.polygons)
	b.polygons = slices.Grow(b.polygons, 4*n)
	pts := b.polygons[from:]
	quarter := b.quarter(n)
	for k := range 4 * n {
		// Taken from the first quarter, so that the polygon has the circle's symmetry to the bit.
		c := quarter[k%n].Quarter(k / n).Scale(d.radius)
		p := [2]int64{b.grid.units(d.centre[0] + c.X), b.grid.units(d.centre[1] + c.Y)}
		pts = append(pts, [2]int64{nearest(b.steps[u], p[0], b.near), nearest(b.steps[v], p[1], b.near)})
	}
	if v == 2 {
		for _, p := range pts {
			b.remember(p[1])
		}
	}
	pts = convex(pts)
	b.polygons = b.polygons[:from+len(pts)]
	return pts
}

// quarter returns the points of the unit circle's first quarter, split in n.
func (b *builder) quarter(n int) []geom.Vec2 {
	if q, ok := b.quarters[n]; ok {
		return q
	}
	q := make([]geom.Vec2, n)
	for k := range q {
		q[k] = geom.Vec2{X: math.Cos(math.Pi / 2 * float64(k) / float64(n)), Y: math.Cos(math.Pi / 2 * float64(n-k) / float64(n))}
	}
	q[0].Y = 0
	if b.quarters == nil {
		b.quarters = make(map[int][]geom.Vec2)
	}
	b.quarters[n] = q
	return q
}

// convex drops corners at which a polygon doesn't turn left.
func convex(pts [][2]int64) [][2]int64 {
	for again := true; again && len(pts) > 2; {
		again = false
		for i := 0; i < len(pts) && len(pts) > 2; i++ {
			n := len(pts)
			if orient(pts[(i+n-1)%n], pts[i], pts[(i+1)%n]) <= 0 {
				pts = append(pts[:i], pts[i+1:]...)
				again, i = true, i-1
			}
		}
	}
	return pts
}
