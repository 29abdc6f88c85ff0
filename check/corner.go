package check

import (
	"cmp"
	"math"
	"slices"

	"barwright/geom"
)

// A convex outline goes round the corner of a corridor: out of one of width a, into one of width b square to it. At each
// turn of the outline the best place is against both outer walls; it goes if the inner corner then lies outside of the
// outline's shadow: if some line through the inner corner, leaning between the two corridors, has the outline wholly
// on its outer side. The way round is a run of turns that begins where the outline fits across the first corridor and
// ends where it fits across the second.

// cornerTurns is how many turns of the outline are looked at: every twentieth of a degree.
const cornerTurns = 7200

// bend is the inner corner of a corridor.
type bend struct {
	outline []geom.Vec2 // convex, counter-clockwise
	a, b    float64
}

// room returns how much room there is at a turn of the outline: at the inner corner, across the first
// corridor and across the second.
func (n *bend) room(turn float64) (corner, first, second float64) {
	c, s := math.Cos(turn), math.Sin(turn)
	var buffer [64]geom.Vec2
	p := buffer[:0]
	low, high := geom.Vec2{X: math.Inf(1), Y: math.Inf(1)}, geom.Vec2{X: math.Inf(-1), Y: math.Inf(-1)}
	for _, q := range n.outline {
		v := geom.Vec2{X: float64(c*q.X) - float64(s*q.Y), Y: float64(s*q.X) + float64(c*q.Y)}
		p = append(p, v)
		low = geom.Vec2{X: math.Min(low.X, v.X), Y: math.Min(low.Y, v.Y)}
		high = geom.Vec2{X: math.Max(high.X, v.X), Y: math.Max(high.Y, v.Y)}
	}
	first, second = n.a-(high.X-low.X), n.b-(high.Y-low.Y)
	at := geom.Vec2{X: n.a + low.X, Y: n.b + low.Y}
	return math.Max(math.Max(first, second), beyond(p, at)), first, second
}

// beyond returns how far a point lies beyond the best edge of a polygon whose outward normal leans between +x and +y;
// where the point is nearest to a corner between such edges, its distance from the corner.
func beyond(p []geom.Vec2, at geom.Vec2) float64 {
	best := math.Inf(-1)
	near, dist := geom.Vec2{}, math.Inf(1)
	for i, a := range p {
		b := p[(i+1)%len(p)]
		e := b.Sub(a)
		if n := (geom.Vec2{X: e.Y, Y: -e.X}); n.X >= 0 && n.Y >= 0 {
			best = math.Max(best, n.Dot(at.Sub(a))/n.Len())
		}
		if d := a.Dist(at); d < dist {
			near, dist = a, d
		}
	}
	if n := at.Sub(near); n.X >= 0 && n.Y >= 0 && dist > 0 && dist > best {
		n = n.Scale(1 / dist)
		for _, q := range p {
			if n.Dot(q.Sub(near)) > 1e-9 {
				return best
			}
		}
		return dist
	}
	return best
}

// spare returns how much room is left at the narrowest place of the best way round; less than nothing where the
// outline does not go round. It also returns the turn at that place.
func (n *bend) spare() (float64, float64) {
	if len(n.outline) == 0 {
		return math.Inf(1), 0
	}
	corner, first, second := make([]float64, cornerTurns), make([]float64, cornerTurns), make([]float64, cornerTurns)
	order := make([]int, cornerTurns)
	for i := range order {
		order[i] = i
		corner[i], first[i], second[i] = n.room(turnOf(float64(i)))
	}
	slices.SortFunc(order, func(i, j int) int { return cmp.Or(cmp.Compare(corner[j], corner[i]), cmp.Compare(i, j)) })
	// Turns are let in, the roomiest first, until a run of them holds a way in and a way out.
	run := make(islands, cornerTurns)
	in := make([]bool, cornerTurns)
	for i := range run {
		run[i] = i
	}
	best, at := math.Inf(-1), 0
	for _, i := range order {
		if corner[i] <= best {
			break
		}
		in[i] = true
		for _, k := range []int{(i + 1) % cornerTurns, (i + cornerTurns - 1) % cornerTurns} {
			if !in[k] {
				continue
			}
			r, o := run.find(i), run.find(k)
			run.join(r, o)
			f, s := math.Max(first[r], first[o]), math.Max(second[r], second[o])
			first[run.find(i)], second[run.find(i)] = f, s
		}
		r := run.find(i)
		if v := math.Min(corner[i], math.Min(first[r], second[r])); v > best {
			best, at = v, i
		}
	}
	// Between two turns the room may be a little less.
	for k := -100; k <= 100; k++ {
		c, _, _ := n.room(turnOf(float64(at) + float64(k)/100))
		if math.Abs(corner[at]-best) < 1e-9 {
			best = math.Min(best, c)
		}
	}
	return best, turnOf(float64(at))
}

func turnOf(i float64) float64 { return 2 * math.Pi * i / cornerTurns }

// roundCorner returns by how much both corridors are too narrow for an outline, 0 or less where it goes round, and the
// turn at the narrowest place.
func roundCorner(outline []geom.Vec2, a, b float64) (float64, float64) {
	n := &bend{outline, a, b}
	spare, turn := n.spare()
	if spare >= 0 {
		return -spare, turn
	}
	size := 0.0
	for _, p := range outline {
		for _, q := range outline {
			size = math.Max(size, p.Dist(q))
		}
	}
	low, high := 0.0, size
	for high-low > 0.5 {
		mid := (low + high) / 2
		n.a, n.b = a+mid, b+mid
		if v, at := n.spare(); v >= 0 {
			high, turn = mid, at
		} else {
			low = mid
		}
	}
	return high, turn
}
