package drawing

import (
	"cmp"
	"math"
	"slices"

	"barwright/geom"
)

// piece is a straight stretch of an edge on the sheet.
type piece struct {
	a, b   geom.Vec2
	body   int
	kind   LineKind
	hidden bool
}

// Tolerances of the sheet in mm: far under the narrowest line.
const (
	sameLine  = 0.02 // lines nearer than this lie on one another
	sameAngle = 2e-3 // radians: buckets of nearly parallel lines
	samePoint = 0.01
)

// appendPieces adds the visible stretches of an edge, and the hidden ones where they are wanted.
func appendPieces(out []piece, c candidate, visible []span, o LineOptions) []piece {
	at := func(t float64) geom.Vec2 {
		return geom.Vec2{X: (c.a.X + t*(c.b.X-c.a.X)) * o.Scale, Y: (c.a.Y + t*(c.b.Y-c.a.Y)) * o.Scale}
	}
	add := func(from, to float64, hidden bool) {
		a, b := at(from), at(to)
		if a.Dist(b) > 1e-6 {
			out = append(out, piece{a, b, c.body, c.kind, hidden})
		}
	}
	for _, v := range visible {
		add(v.from, v.to, false)
	}
	if o.Hidden {
		for _, v := range gaps(visible, 0) {
			if v.to > v.from {
				add(v.from, v.to, true)
			}
		}
	}
	return out
}

// lineKey is a bucket of lines with nearly one direction and one distance from the origin.
type lineKey struct{ angle, distance int32 }

// lineOf returns the direction of a piece, turned into the right half plane, and its buckets.
func (p piece) lineOf() (dir geom.Vec2, key lineKey) {
	dir = p.b.Sub(p.a).Scale(1 / p.a.Dist(p.b))
	if dir.X < -1e-9 || dir.X < 1e-9 && dir.Y < 0 {
		dir = dir.Scale(-1)
	}
	mid := p.a.Add(p.b).Scale(0.5)
	key.angle = int32(math.Round(math.Atan2(dir.Y, dir.X) / sameAngle))
	key.distance = int32(math.Round(dir.Cross(mid) / sameLine))
	return dir, key
}

// thin drops what lies on another line: the edges that touching bars share, and hidden edges under visible ones. The
// more important kind stays, of equal kinds the longer piece.
func thin(pieces []piece) []piece {
	order := make([]int, len(pieces))
	for i := range order {
		order[i] = i
	}
	rank := func(p piece) int {
		if p.hidden {
			return 100 + int(p.kind)
		}
		return int(p.kind)
	}
	slices.SortStableFunc(order, func(i, j int) int {
		p, q := pieces[i], pieces[j]
		return cmp.Or(cmp.Compare(rank(p), rank(q)), cmp.Compare(math.Round(q.a.Dist(q.b)*1e4), math.Round(p.a.Dist(p.b)*1e4)))
	})
	kept := make([]piece, 0, len(pieces))
	buckets := map[lineKey][]int32{}
	var dark []span
	for _, i := range order {
		p := pieces[i]
		_, key := p.lineOf()
		dark = covered(dark[:0], p, key, kept, buckets)
		for _, g := range gaps(joinSpans(dark, shortest/p.a.Dist(p.b)), shortest/p.a.Dist(p.b)) {
			if g.to <= g.from {
				continue
			}
			q := p
			q.a, q.b = p.a.Add(p.b.Sub(p.a).Scale(g.from)), p.a.Add(p.b.Sub(p.a).Scale(g.to))
			buckets[key] = append(buckets[key], int32(len(kept)))
			kept = append(kept, q)
		}
	}
	return kept
}

// covered adds the stretches of a piece that lie on pieces already kept.
func covered(dark []span, p piece, key lineKey, kept []piece, buckets map[lineKey][]int32) []span {
	d := p.b.Sub(p.a)
	long := d.Len()
	dir := d.Scale(1 / long)
	half := int32(math.Round(math.Pi / sameAngle))
	for da := int32(-1); da <= 1; da++ {
		for dd := int32(-1); dd <= 1; dd++ {
			k := lineKey{key.angle + da, key.distance + dd}
			if a := 2 * k.angle; a > half || a < -half { // past upright the direction turns over
				k = lineKey{k.angle - half*int32(sign(float64(a))), -k.distance}
			}
			for _, i := range buckets[k] {
				q := kept[i]
				if math.Abs(dir.Cross(q.a.Sub(p.a))) > sameLine || math.Abs(dir.Cross(q.b.Sub(p.a))) > sameLine {
					continue
				}
				from, to := dir.Dot(q.a.Sub(p.a))/long, dir.Dot(q.b.Sub(p.a))/long
				if from > to {
					from, to = to, from
				}
				if from, to = max(from, 0), min(to, 1); from < to {
					dark = append(dark, span{from, to})
				}
			}
		}
	}
	return dark
}

func sign(v float64) float64 {
	if v < 0 {
		return -1
	}
	return 1
}

// chain joins pieces of one body and kind that meet end to end into polylines, drops points in the middle of straight
// runs, and sorts the lines by body, kind and place.
func chain(pieces []piece) []ViewLine {
	slices.SortStableFunc(pieces, func(p, q piece) int {
		return cmp.Or(cmp.Compare(p.body, q.body), cmp.Compare(p.kind, q.kind), boolOrder(p.hidden, q.hidden))
	})
	var out []ViewLine
	for i := 0; i < len(pieces); {
		j := i
		for j < len(pieces) && pieces[j].body == pieces[i].body && pieces[j].kind == pieces[i].kind &&
			pieces[j].hidden == pieces[i].hidden {
			j++
		}
		out = appendChains(out, pieces[i:j])
		i = j
	}
	return out
}

func boolOrder(a, b bool) int {
	switch {
	case a == b:
		return 0
	case b:
		return -1
	}
	return 1
}

// pointKey is a point rounded for joining ends.
type pointKey struct{ x, y int32 }

func keyOf(p geom.Vec2) pointKey {
	return pointKey{int32(math.Round(p.X / samePoint)), int32(math.Round(p.Y / samePoint))}
}

// appendChains adds the polylines of pieces of one kind. A chain runs on through points where exactly
// two pieces meet.
func appendChains(out []ViewLine, pieces []piece) []ViewLine {
	ends := map[pointKey][]int{}
	for i, p := range pieces {
		ends[keyOf(p.a)] = append(ends[keyOf(p.a)], i)
		ends[keyOf(p.b)] = append(ends[keyOf(p.b)], i)
	}
	used := make([]bool, len(pieces))
	walk := func(i int, from geom.Vec2) []geom.Vec2 {
		var pts []geom.Vec2
		for {
			used[i] = true
			far := pieces[i].b
			if keyOf(far) == keyOf(from) && keyOf(pieces[i].a) != keyOf(from) {
				far = pieces[i].a
			}
			pts = append(pts, far)
			next := -1
			if near := ends[keyOf(far)]; len(near) == 2 {
				for _, k := range near {
					if !used[k] {
						next = k
					}
				}
			}
			if next < 0 {
				return pts
			}
			i, from = next, far
		}
	}
	for i, p := range pieces {
		if used[i] {
			continue
		}
		ahead := walk(i, p.a)
		pts := append([]geom.Vec2{p.a}, ahead...)
		if near := ends[keyOf(p.a)]; len(near) == 2 {
			for _, k := range near {
				if !used[k] {
					back := walk(k, p.a)
					slices.Reverse(back)
					pts = append(back, pts...)
				}
			}
		}
		out = append(out, ViewLine{Points: straighten(pts), Body: p.body, Kind: p.kind, Hidden: p.hidden})
	}
	return out
}

// straighten drops points that lie on the line between their neighbours.
func straighten(pts []geom.Vec2) []geom.Vec2 {
	out := pts[:1]
	for i := 1; i < len(pts); i++ {
		if i+1 < len(pts) {
			a, b, c := out[len(out)-1], pts[i], pts[i+1]
			d := c.Sub(a)
			if l := d.Len(); l > 0 && math.Abs(d.Cross(b.Sub(a)))/l < samePoint/2 && d.Dot(b.Sub(a)) > 0 && d.Dot(c.Sub(b)) > 0 {
				continue
			}
		}
		out = append(out, pts[i])
	}
	return out
}
