package drawing

import (
	"math"
	"slices"
	"sort"

	"barwright/geom"
)

// anchor is a circle that a callout's leader may end on.
type anchor struct {
	centre geom.Vec2
	radius float64 // 0: the leader ends with its arrow on the point itself
}

// callout is a text on a leader. Each variant is a way to break it into lines, the best first.
type callout struct {
	anchors  []anchor
	variants [][]string
	of       []string
	// above and below are the y that the text must clear.
	above, below float64
	down         bool // below is allowed
}

// calloutPlace is one legal place of a callout, with what it costs.
type calloutPlace struct {
	cost          float64
	variant       int
	anchor        int
	right, up     bool
	angle, height float64
}

// overShelf is the height of a base line over its shelf, clear of descenders, mm.
const overShelf = 1.7

// leaderGap is how far leaders keep from the ends of one another, mm.
const leaderGap = 1.2

const calloutTier = 2.5 // step in mm by which a shelf moves outward

// places returns the places worth trying, cheapest first.
func (c *callout) places() []calloutPlace {
	var out []calloutPlace
	for v := range c.variants {
		for a := range c.anchors {
			for tier := range 14 {
				for i, angle := range []float64{60, 75, 45, 30, 85} {
					for _, right := range []bool{true, false} {
						for _, up := range []bool{true, false} {
							if !up && !c.down {
								continue
							}
							cost := 2.2*float64(tier) + 1.2*float64(i) + 6*float64(v) + 0.5*float64(a)
							if !right {
								cost += 0.7
							}
							if up {
								cost += 0.05 * (c.above - c.anchors[a].centre.Y)
							} else {
								cost += 2 + 0.05*(c.anchors[a].centre.Y-c.below)
							}
							out = append(out, calloutPlace{cost, v, a, right, up, angle * math.Pi / 180, calloutTier * float64(tier)})
						}
					}
				}
			}
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].cost < out[j].cost })
	return out
}

// ops draws a callout in a place.
func (c *callout) ops(p calloutPlace) (leader []geom.Vec2, texts []*Text, all []Op) {
	lines := c.variants[p.variant]
	width := 0.0
	for _, l := range lines {
		width = math.Max(width, TextWidth(l, DimText))
	}
	a := c.anchors[p.anchor]
	sx, sy := 1.0, 1.0
	if !p.right {
		sx = -1
	}
	shelf := c.above + 4 + p.height
	if !p.up {
		sy = -1
		shelf = c.below - 4 - p.height - float64(len(lines))*DimText*LineSpace
	}
	dir := geom.Vec2{X: sx * math.Cos(p.angle), Y: sy * math.Sin(p.angle)}
	knee := geom.Vec2{X: a.centre.X + dir.X/dir.Y*(shelf-a.centre.Y), Y: shelf}
	tip := a.centre.Add(dir.Scale(a.radius))
	end := knee.Add(geom.Vec2{X: sx * (width + 1)})
	leader = []geom.Vec2{tip, knee, end}
	all = append(all, &Stroke{Role: Leader, Points: leader})
	var arrow Sheet
	arrow.Arrow(Leader, tip, dir.Scale(-1))
	all = append(all, arrow.Ops...)
	left := math.Min(knee.X, end.X) + 0.5
	for i, l := range lines {
		t := &Text{Role: Callout, At: geom.Vec2{X: left, Y: shelf + overShelf + float64(len(lines)-1-i)*DimText*LineSpace}, String: l, Height: DimText}
		if i == 0 && len(c.of) > 0 {
			t.Shows, t.Of = Spec, c.of
		}
		texts = append(texts, t)
		all = append(all, t)
	}
	return leader, texts, all
}

// placeCallouts puts callouts one after the other where they stand clear. One that finds no place goes first in the next
// round. It reports false, and draws none, where that does not help.
func placeCallouts(s *Sheet, callouts []callout, low, high float64) bool {
	order := slices.Clone(callouts)
	for range 2*len(callouts) + 1 {
		var sc scene
		sc.add(s.Ops...)
		var drawn []Op
		failed := -1
		for i := range order {
			ops := placeCallout(&sc, &order[i], low, high)
			if ops == nil {
				failed = i
				break
			}
			drawn = append(drawn, ops...)
		}
		if failed < 0 {
			s.Add(drawn...)
			return true
		}
		first := order[failed]
		copy(order[1:failed+1], order[:failed])
		order[0] = first
		if failed == 0 {
			return false
		}
	}
	return false
}

// placeCallout returns the operations of a callout in its cheapest free place, and takes them into the scene.
func placeCallout(sc *scene, c *callout, low, high float64) []Op {
	for _, p := range c.places() {
		leader, texts, all := c.ops(p)
		if calloutFits(sc, c.anchors[p.anchor], leader, texts, low, high) {
			sc.add(all...)
			return all
		}
	}
	return nil
}

func calloutFits(sc *scene, a anchor, leader []geom.Vec2, texts []*Text, low, high float64) bool {
	for _, t := range texts {
		l, h := t.Bounds()
		if l.X < low || h.X > high || !sc.fits(t) {
			return false
		}
	}
	if !sc.clear(leader[0], leader[1], Leader, Dimension, Label) || !sc.clear(leader[1], leader[2], Leader, Dimension, Outline, Extension) {
		return false
	}
	for _, l := range sc.lines {
		if l.role == Leader && (nearSegment(leader[0], l.a, l.b, leaderGap) || nearSegment(l.a, leader[0], leader[1], leaderGap) || nearSegment(l.b, leader[0], leader[1], leaderGap)) {
			return false
		}
	}
	// The leader may leave its own circle and the bar, but not run through another hole.
	start := leader[0].Add(leader[1].Sub(leader[0]).Scale(0.02))
	for _, l := range sc.lines {
		if l.arc && (l.role == Outline || l.role == Thread) && cross(start, leader[1], l.a, l.b) {
			if l.a.Dist(a.centre) > 1.6*a.radius+3 {
				return false
			}
		}
	}
	return true
}
