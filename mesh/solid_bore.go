package mesh

import "math"

// Most end bores are drilled from a square end round one core, wider than it, and come near nothing else. Then every line along the bar either keeps clear
// of the bore or runs into its floor: again the order of planes is known without lines in space.

// clearOfBore is how many grid units a plain bore keeps from every wall: more than any rounding.
const clearOfBore = 4

// findBores finds which end bores are plain and which ends they leave plain.
func (e *engine) findBores() {
	e.core[0], e.core[1] = fill(e.core[0], len(e.corner), -1), fill(e.core[1], len(e.corner), -1)
	if e.lineOnly {
		return
	}
	for j := range e.tools {
		if t := &e.tools[j]; t.axis == 2 && t.sides > 0 {
			t.plain = e.plainBore(j)
		}
	}
	for j := range e.tools {
		t := &e.tools[j]
		if t.sides > 0 || t.plain {
			continue
		}
		t.plain = true
		for _, k := range t.near {
			o := &e.tools[k]
			t.plain = t.plain && o.plain && o.axis == 2 && o.sides > 0
		}
	}
	for j := range e.tools {
		// A bore's rim on an end that is not plain is found by lines.
		if t := &e.tools[j]; t.plain && t.axis == 2 && t.sides > 0 && !e.tools[t.near[0]].plain {
			t.plain = false
		}
	}
	for _, core := range e.core {
		for i, j := range core {
			if j >= 0 && !e.tools[j].plain {
				core[i] = -1
			}
		}
	}
}

// plainBore tells whether a bore starts at a square end, near no other tool, and runs in metal but for loops of the section
// that lie wholly within it, and notes those.
func (e *engine) plainBore(j int) bool {
	t := &e.tools[j]
	if len(t.near) != 1 || t.near[0] > 1 || t.last-t.first != t.sides+1 {
		return false
	}
	end := &e.tools[t.near[0]]
	floor, face := &e.planes[t.last-1], &e.planes[end.first]
	if face.n[0] != 0 || face.n[1] != 0 || floor.n[2] != face.n[2] || floor.d < face.d+clearOfBore {
		return false
	}
	centre, within, reach := t.ring()
	inner, outer := within-clearOfBore, reach+clearOfBore
	if inner <= 0 || !e.inMetal(t.points[0]) {
		return false
	}
	for i, k := range e.next {
		a, b := toward(centre, e.corner[i]), toward(centre, e.corner[k])
		if math.Hypot(a[0], a[1]) < inner && math.Hypot(b[0], b[1]) < inner {
			continue
		}
		if offSegment(a, b) < outer {
			return false
		}
	}
	for i, c := range e.corner {
		if a := toward(centre, c); math.Hypot(a[0], a[1]) < inner {
			e.core[t.near[0]][i] = int32(j)
		}
	}
	return true
}

// ring returns the middle of a drill's polygon, how near its sides come to it and how far its corners lie from it.
func (t *tool) ring() (centre [2]float64, within, reach float64) {
	for _, p := range t.points {
		centre[0] += float64(p[0]) / float64(len(t.points))
		centre[1] += float64(p[1]) / float64(len(t.points))
	}
	within = math.Inf(1)
	for i, p := range t.points {
		a, b := toward(centre, p), toward(centre, t.points[t.after(int32(i))])
		within, reach = math.Min(within, offSegment(a, b)), math.Max(reach, math.Hypot(a[0], a[1]))
	}
	return centre, within, reach
}

// toward returns the way from a centre to a corner.
func toward(centre [2]float64, p [2]int64) [2]float64 {
	return [2]float64{float64(p[0]) - centre[0], float64(p[1]) - centre[1]}
}

// offSegment returns how far the origin lies off a segment.
func offSegment(a, b [2]float64) float64 {
	dx, dy := b[0]-a[0], b[1]-a[1]
	u := 0.0
	if d := float64(dx*dx) + float64(dy*dy); d > 0 {
		u = math.Max(0, math.Min(1, -(float64(a[0]*dx)+float64(a[1]*dy))/d))
	}
	return math.Hypot(a[0]+float64(u*dx), a[1]+float64(u*dy))
}

// inMetal tells whether a point that lies on no wall lies in the section.
func (e *engine) inMetal(p [2]int64) bool {
	in := false
	for i, k := range e.next {
		a, b := e.corner[i], e.corner[k]
		if (a[1] > p[1]) == (b[1] > p[1]) {
			continue
		}
		if up := b[1] > a[1]; (orient(a, b, p) > 0) == up {
			in = !in
		}
	}
	return in
}

// floorOf returns the plane at which a wall of the section ends at an end: the end's own, or the floor of the bore round it.
func (e *engine) floorOf(i int32, end int) int32 {
	if j := e.core[end][i]; j >= 0 {
		return e.tools[j].last - 1
	}
	return e.tools[end].first
}

// plainBoreEdges finds the edges of a plain bore: its rim, its generators and the outer rim of its floor.
func (e *engine) plainBoreEdges(t *tool) {
	end, floor := e.tools[t.near[0]].first, t.last-1
	up := e.planes[floor].n[2] > 0
	for k := range t.sides {
		p, before, after := t.first+k, t.first+t.before(k), t.first+t.after(k)
		rim, foot := e.meeting(before, p, end), e.meeting(before, p, floor)
		nextRim, nextFoot := e.meeting(p, after, end), e.meeting(p, after, floor)
		a, b := rim, foot
		if up {
			// Seen along the bar, the polygon's sides run against their lines.
			e.edges = append(e.edges, edge{p, nextRim, rim}, edge{end, rim, nextRim}, edge{floor, nextFoot, foot}, edge{p, foot, nextFoot})
		} else {
			a, b = foot, rim
			e.edges = append(e.edges, edge{p, rim, nextRim}, edge{end, nextRim, rim}, edge{floor, foot, nextFoot}, edge{p, nextFoot, foot})
		}
		e.edges = append(e.edges, edge{p, a, b}, edge{before, b, a})
	}
}
