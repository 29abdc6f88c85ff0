package drawing

import (
	"cmp"
	"math"
	"slices"

	"barwright/geom"
)

// settleBalloons improves placed balloons step by step: another spot, a shift along the column, a free port, an exchange of
// two places, and at last a shift that pushes the neighbours along. Each step makes the sum of costs smaller, so it ends.
func settleBalloons(b, ports []balloon, marks []segment) {
	for range max(2, min(12, 1200/len(b))) {
		again := false
		for i := range b {
			again = moveBalloon(b, i, marks) || again
			if len(b) > fewBalloons && clashCost(b, i) < slopeCost {
				continue
			}
			for j := range b {
				again = j != i && exchange(b, i, j) || again
			}
		}
		for i := range b {
			if !again && clashCost(b, i) >= slopeCost {
				again = pushBalloon(b, i, marks) || bestPlace(b, i, ports, marks)
			}
		}
		if !again && !uncross(b) {
			return
		}
	}
	uncross(b)
}

// uncross exchanges the places of balloons whose leaders cross until none do. Each exchange makes the sum of lengths shorter, so it
// ends. It reports whether there was a crossing.
func uncross(b []balloon) bool {
	any := false
	for again := true; again; {
		again = false
		for i := range b {
			for j := range i {
				if cross(b[i].centre, b[i].spot, b[j].centre, b[j].spot) {
					b[i].centre, b[i].slide, b[j].centre, b[j].slide = b[j].centre, b[j].slide, b[i].centre, b[i].slide
					again, any = true, true
				}
			}
		}
	}
	return any
}

// fewBalloons is how many balloons are tried in all exchanges; of more, only those that clash.
const fewBalloons = 40

// moveBalloon tries other spots and small shifts for one balloon and keeps the best.
func moveBalloon(b []balloon, i int, marks []segment) bool {
	var to []balloon
	for shift := -12.0; shift <= 12; shift += 2 {
		to = append(to, balloon{centre: b[i].centre.Add(b[i].slide.Scale(shift)), slide: b[i].slide})
	}
	return bestPlace(b, i, to, marks)
}

// bestPlace moves a balloon to the cheapest of some places with the cheapest of its spots, if that is cheaper than where it is. A move costs a
// little by itself.
func bestPlace(b []balloon, i int, places []balloon, marks []segment) bool {
	start := b[i]
	best, least := start, clashCost(b, i)
	found := false
	for _, p := range places {
		b[i].centre, b[i].slide = p.centre, p.slide
		if crowded(b, i) || onMark(p.centre, marks) {
			continue
		}
		for _, spot := range start.spots {
			b[i].spot = spot
			if c := clashCost(b, i) + 0.3*p.centre.Dist(start.centre); c < least-1e-6 {
				best, least, found = b[i], c, true
			}
		}
	}
	b[i] = best
	return found
}

// pushBalloon tries to shift a balloon along its column or row together with the neighbours that stand in its way, within the
// length that the column has.
func pushBalloon(b []balloon, i int, marks []segment) bool {
	sum := func() (c float64) {
		for k := range b {
			c += clashCost(b, k)
		}
		return c
	}
	before := sum()
	start := slices.Clone(b)
	for _, shift := range []float64{3, -3, 6, -6, 9, -9, 13, -13} {
		for _, spot := range start[i].spots {
			if push(b, i, shift, marks) {
				b[i].spot = spot
				if sum() < before-1e-6 {
					return true
				}
			}
			copy(b, start)
		}
	}
	return false
}

// rowPast is how far a row of balloons may grow at each end, mm.
const rowPast = 5.0

// push shifts a balloon and those of its row that would be crowded. It reports whether all keep within the row and off the marks.
func push(b []balloon, i int, shift float64, marks []segment) bool {
	dir := b[i].slide
	across := geom.Vec2{X: -dir.Y, Y: dir.X}
	row := []int{}
	low, high := math.Inf(1), math.Inf(-1)
	for k := range b {
		if math.Abs(across.Dot(b[k].centre.Sub(b[i].centre))) < 0.1 {
			row = append(row, k)
			low, high = min(low, dir.Dot(b[k].centre)), max(high, dir.Dot(b[k].centre))
		}
	}
	slices.SortFunc(row, func(p, q int) int { return cmp.Compare(dir.Dot(b[p].centre), dir.Dot(b[q].centre)) })
	if shift < 0 {
		slices.Reverse(row)
	}
	at := slices.Index(row, i)
	b[i].centre = b[i].centre.Add(dir.Scale(shift))
	for n := at + 1; n < len(row); n++ {
		p, q := row[n-1], row[n]
		if gap := dir.Dot(b[q].centre.Sub(b[p].centre)) * sign(shift); gap < balloonPitch {
			b[q].centre = b[q].centre.Add(dir.Scale(sign(shift) * (balloonPitch - gap)))
		}
	}
	for _, k := range row {
		if v := dir.Dot(b[k].centre); v < low-rowPast || v > high+rowPast || onMark(b[k].centre, marks) || crowded(b, k) {
			return false
		}
	}
	return true
}

// crowded reports whether a balloon stands too near to another.
func crowded(b []balloon, i int) bool {
	for j := range b {
		if j != i && b[j].centre.Dist(b[i].centre) < leastPitch {
			return true
		}
	}
	return false
}

// onMark reports whether a balloon would touch a centring mark of the sheet.
func onMark(centre geom.Vec2, marks []segment) bool {
	for _, m := range marks {
		if nearSegment(centre, m.a, m.b, balloonRadius+0.5) {
			return true
		}
	}
	return false
}

// exchange swaps the places of two balloons where that is cheaper.
func exchange(b []balloon, i, j int) bool {
	p, q := b[i], b[j]
	before := clashCost(b, i) + clashCost(b, j)
	b[i].centre, b[i].slide, b[j].centre, b[j].slide = q.centre, q.slide, p.centre, p.slide
	_, b[i].spot = leaderCost(b[i].itemRef, b[i].centre)
	_, b[j].spot = leaderCost(b[j].itemRef, b[j].centre)
	if clashCost(b, i)+clashCost(b, j) < before-1e-6 {
		return true
	}
	b[i], b[j] = p, q
	return false
}

// clashCost returns what a balloon costs among the others: its own leader, crossings, and leaders that run close by another
// balloon or dot.
func clashCost(b []balloon, i int) float64 {
	x := b[i]
	rank := 0
	for k, s := range x.spots {
		if s == x.spot {
			rank = k
		}
	}
	c := ownCost(x.centre, x.spot, rank)
	for j := range b {
		if j == i {
			continue
		}
		if cross(x.centre, x.spot, b[j].centre, b[j].spot) {
			c += 4 * slopeCost
		}
		if nearSegment(b[j].centre, x.centre, x.spot, balloonRadius+1.5) || nearSegment(x.centre, b[j].centre, b[j].spot, balloonRadius+1.5) {
			c += 2 * slopeCost
		}
		if nearSegment(b[j].spot, x.centre, x.spot, 1.5) || nearSegment(x.spot, b[j].centre, b[j].spot, 1.5) {
			c += slopeCost / 4
		}
	}
	return c
}

// pruned leaves out balloons whose leader crosses that of an earlier one, or one of whose leaders runs through the other balloon.
func pruned(b []balloon) []balloon {
	var out []balloon
	for _, x := range b {
		clash := slices.ContainsFunc(out, func(o balloon) bool {
			return cross(x.centre, x.spot, o.centre, o.spot) ||
				nearSegment(o.centre, x.centre, x.spot, balloonRadius) || nearSegment(x.centre, o.centre, o.spot, balloonRadius)
		})
		if !clash {
			out = append(out, x)
		}
	}
	return out
}
