package csg

import (
	"cmp"
	"slices"
)

// bridge joins the holes to the outline by cuts that run there and back, the rightmost hole first, so
// that each sees the outline to its right.
func (f *face) bridge(poly []pt, holes [][]pt) ([]pt, error) {
	right := func(l []pt) int {
		best := 0
		for i, p := range l {
			if p.x > l[best].x || p.x == l[best].x && p.y > l[best].y {
				best = i
			}
		}
		return best
	}
	slices.SortStableFunc(holes, func(a, b []pt) int {
		p, q := a[right(a)], b[right(b)]
		return cmp.Or(cmp.Compare(q.x, p.x), cmp.Compare(q.y, p.y))
	})
	for k, h := range holes {
		i := right(h)
		j := f.visible(poly, holes[k:], h, i)
		if j < 0 {
			return nil, f.fail("a hole sees no corner of its face", h[i])
		}
		out := make([]pt, 0, len(poly)+len(h)+2)
		out = append(out, poly[:j+1]...)
		for n := range h {
			out = append(out, h[(i+n)%len(h)])
		}
		out = append(out, h[i])
		poly = append(out, poly[j:]...)
	}
	return poly, nil
}

// visible returns the nearest corner of the outline that the hole's corner i sees past all that is not yet joined.
func (f *face) visible(poly []pt, holes [][]pt, h []pt, i int) int {
	p := h[i]
	order := make([]int, len(poly))
	for j := range order {
		order[j] = j
	}
	far := func(j int) int64 { dx, dy := poly[j].x-p.x, poly[j].y-p.y; return dx*dx + dy*dy }
	slices.SortFunc(order, func(a, b int) int { return cmp.Or(cmp.Compare(far(a), far(b)), cmp.Compare(a, b)) })
	for _, j := range order {
		q := poly[j]
		if q.x == p.x && q.y == p.y || !opensTo(poly, j, p) || !opensTo(h, i, q) || blocked(poly, p, q) {
			continue
		}
		clear := true
		for _, l := range holes {
			if blocked(l, p, q) {
				clear = false
				break
			}
		}
		if clear {
			return j
		}
	}
	return -1
}

// opensTo reports whether the way from corner i of a loop toward q begins strictly inside.
func opensTo(l []pt, i int, q pt) bool {
	a, b, c := l[(i+len(l)-1)%len(l)], l[i], l[(i+1)%len(l)]
	if turn := orient(a, b, c); turn > 0 {
		return orient(a, b, q) > 0 && orient(b, c, q) > 0
	} else if turn == 0 && (b.x-a.x)*(c.x-b.x)+(b.y-a.y)*(c.y-b.y) > 0 {
		return orient(a, b, q) > 0
	}
	return orient(a, b, q) > 0 || orient(b, c, q) > 0
}

// blocked reports whether the open segment from p to q meets an edge or a corner of a loop, other than at its own ends.
func blocked(l []pt, p, q pt) bool {
	lx, hx, ly, hy := min(p.x, q.x), max(p.x, q.x), min(p.y, q.y), max(p.y, q.y)
	for i, a := range l {
		b := l[(i+1)%len(l)]
		if max(a.x, b.x) < lx || min(a.x, b.x) > hx || max(a.y, b.y) < ly || min(a.y, b.y) > hy {
			continue
		}
		oa, ob := orient(p, q, a), orient(p, q, b)
		if oa == 0 && between(p, q, a) {
			return true
		}
		op, oq := orient(a, b, p), orient(a, b, q)
		if (oa > 0 && ob < 0 || oa < 0 && ob > 0) && (op > 0 && oq < 0 || op < 0 && oq > 0) {
			return true
		}
	}
	return false
}

// between reports whether a point on the line through p and q lies strictly between them.
func between(p, q, a pt) bool {
	if a.x == p.x && a.y == p.y || a.x == q.x && a.y == q.y {
		return false
	}
	return (a.x-p.x)*(a.x-q.x)+(a.y-p.y)*(a.y-q.y) < 0
}

// ears cuts a polygon into triangles of positive area, ear by ear; of the next few ears it takes the one with the best shape.
func (f *face) ears(poly []pt, out [][3]uint32) ([][3]uint32, error) {
	poly = slices.Clone(poly)
	at := 0
	for len(poly) > 3 {
		best, quality, found := -1, -1.0, 0
		n := len(poly)
		for k := 0; k < n && found < 8; k++ {
			i := (at + k) % n
			if q := shape(poly[(i+n-1)%n], poly[i], poly[(i+1)%n]); q > 0 && isEar(poly, i) {
				found++
				if q > quality {
					best, quality = i, q
				}
			}
		}
		if best < 0 {
			return nil, f.fail("a face cannot be cut into triangles", poly[0])
		}
		a, b, c := poly[(best+n-1)%n], poly[best], poly[(best+1)%n]
		out = append(out, [3]uint32{uint32(a.at), uint32(b.at), uint32(c.at)})
		poly = slices.Delete(poly, best, best+1)
		at = best
	}
	if orient(poly[0], poly[1], poly[2]) <= 0 {
		return nil, f.fail("a face cannot be cut into triangles", poly[0])
	}
	return append(out, [3]uint32{uint32(poly[0].at), uint32(poly[1].at), uint32(poly[2].at)}), nil
}

// shape returns the area of a triangle over the sum of its squared sides: the larger the better; not positive for one that
// runs clockwise or has no area.
func shape(a, b, c pt) float64 {
	sq := func(p, q pt) float64 { x, y := float64(p.x-q.x), float64(p.y-q.y); return float64(x*x) + float64(y*y) }
	return float64(orient(a, b, c)) / (sq(a, b) + sq(b, c) + sq(c, a))
}

// isEar reports whether the triangle at corner i, of positive area, holds no other corner, on its sides neither.
func isEar(poly []pt, i int) bool {
	n := len(poly)
	ia, ic := (i+n-1)%n, (i+1)%n
	a, b, c := poly[ia], poly[i], poly[ic]
	if !opensToClosed(poly, ia, c) || !opensToClosed(poly, ic, a) {
		return false
	}
	lx, hx := min(a.x, b.x, c.x), max(a.x, b.x, c.x)
	ly, hy := min(a.y, b.y, c.y), max(a.y, b.y, c.y)
	for _, p := range poly {
		if p.x < lx || p.x > hx || p.y < ly || p.y > hy || p.at == a.at || p.at == b.at || p.at == c.at {
			continue
		}
		if orient(a, b, p) >= 0 && orient(b, c, p) >= 0 && orient(c, a, p) >= 0 {
			return false
		}
	}
	return true
}

// opensToClosed is [opensTo], where the neighbour itself counts as seen.
func opensToClosed(l []pt, i int, q pt) bool {
	n := len(l)
	if l[(i+1)%n].at == q.at || l[(i+n-1)%n].at == q.at {
		return true
	}
	return opensTo(l, i, q)
}
