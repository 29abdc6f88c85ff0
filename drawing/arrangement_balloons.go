package drawing

import (
	"fmt"
	"math"
	"slices"

	"barwright/geom"
)

// Sizes of item references in mm (ISO 6433:2012: references in circles of one diameter, larger than dimensions; leaders
// end in a dot within the outline). Pitch and the angles are common practice, no source.
const (
	balloonRadius = 6.0
	balloonPitch  = 14.0
	leastPitch    = 13.5
	balloonGap    = 6.0 // from the view to the edge of the nearest circle
	leaderDot     = 0.6
	leastSlope    = 7.0 * math.Pi / 180  // of a leader against level
	mostSlope     = 75.0 * math.Pi / 180 // of a leader against level
)

// itemRef is an item that gets a balloon: its mark and the places where its leader may end, the best first.
type itemRef struct {
	mark  string
	spots []geom.Vec2
}

// balloon is a placed item reference.
type balloon struct {
	itemRef
	centre geom.Vec2
	spot   geom.Vec2
	slide  geom.Vec2 // unit, along the column or row that it stands in
}

// placeBalloons puts balloons beside a view, in straight columns left and right of it and, where these are full, in rows above
// and below, so that no leader crosses another or runs level or upright. Leaders of the smallest total length
// do not cross (M. A. Bekos, M. Kaufmann, A. Symvonis, A. Wolff, "Boundary labeling", 2007); the penalties against level and steep ones
// can bring a crossing back, which small moves and exchanges then remove. Items for which
// there is no room round the view are left out, those whose mark stands elsewhere first. Balloons keep off the given marks of the border.
func placeBalloons(items []itemRef, view Area, marks []segment) []balloon {
	items = firstOfMark(items)
	items = items[:min(len(items), mostRefs)]
	var best []balloon
	least := math.Inf(1)
	// Where leaders still clash, the whole rows are tried a little aside.
	for _, aside := range []float64{0, 5, -5, 2.5, -2.5} {
		b := tryBalloons(items, view, marks, aside)
		sum, clash := 0.0, false
		for i := range b {
			c := clashCost(b, i)
			sum, clash = sum+c, clash || c >= slopeCost
		}
		if sum < least {
			best, least = b, sum
		}
		if !clash {
			break
		}
	}
	return pruned(best)
}

// tryBalloons places balloons with all rows shifted along themselves.
func tryBalloons(items []itemRef, view Area, marks []segment, aside float64) []balloon {
	ports := balloonPorts(len(items), view)
	for i := range ports {
		ports[i].centre = ports[i].centre.Add(ports[i].slide.Scale(aside))
	}
	ports = slices.DeleteFunc(ports, func(p balloon) bool { return onMark(p.centre, marks) })
	items = items[:min(len(items), len(ports))]
	if len(items) == 0 {
		return nil
	}
	cost := make([][]float64, len(items))
	for i, it := range items {
		cost[i] = make([]float64, len(ports))
		for j, p := range ports {
			cost[i][j], _ = leaderCost(it, p.centre)
		}
	}
	at := assign(cost)
	out := make([]balloon, len(items))
	for i, it := range items {
		out[i] = ports[at[i]]
		out[i].itemRef = it
		_, out[i].spot = leaderCost(it, out[i].centre)
	}
	settleBalloons(out, ports, marks)
	return out
}

// firstOfMark returns items with the first of each mark before the others.
func firstOfMark(items []itemRef) []itemRef {
	var first, more []itemRef
	known := map[string]bool{}
	for _, it := range items {
		if known[it.mark] {
			more = append(more, it)
		} else {
			known[it.mark] = true
			first = append(first, it)
		}
	}
	return append(first, more...)
}

// balloonPorts returns the places for balloons round a view: on each side evenly spread, as many as fit.
func balloonPorts(n int, view Area) []balloon {
	off := balloonGap + balloonRadius
	var out []balloon
	line := func(mid, slide geom.Vec2, count int) {
		for k := range min(count, mostPorts) {
			shift := (float64(k) - float64(count-1)/2) * balloonPitch
			p := balloon{centre: mid.Add(slide.Scale(shift)), slide: slide}
			if !slices.ContainsFunc(out, func(o balloon) bool { return o.centre.Dist(p.centre) < leastPitch }) {
				out = append(out, p)
			}
		}
	}
	mid := view.Low.Add(view.High).Scale(0.5)
	tall := max(2, int((view.Height()+2*balloonRadius)/balloonPitch))
	line(geom.Vec2{X: view.Low.X - off, Y: mid.Y}, geom.Vec2{Y: -1}, tall)
	line(geom.Vec2{X: view.High.X + off, Y: mid.Y}, geom.Vec2{Y: -1}, tall)
	if n > 2*tall-2 {
		wide := max(2, int((view.Width()-balloonRadius)/balloonPitch))
		line(geom.Vec2{X: mid.X, Y: view.High.Y + off}, geom.Vec2{X: 1}, wide)
		line(geom.Vec2{X: mid.X, Y: view.Low.Y - off}, geom.Vec2{X: 1}, wide)
	}
	return out
}

// mostRefs bounds the balloons round one view: more are no help to find a bar.
const mostRefs = 60

// mostPorts bounds the balloons on one side of a view; a sheet A1 has room for 60.
const mostPorts = 80

// slopeCost is what a level or steep leader costs, mm.
const slopeCost = 300.0

// leaderCost returns how much a leader from a port to the item's best spot costs, mm, and that spot.
func leaderCost(it itemRef, port geom.Vec2) (float64, geom.Vec2) {
	best, at := math.Inf(1), it.spots[0]
	for k, s := range it.spots {
		if c := ownCost(port, s, k); c < best {
			best, at = c, s
		}
	}
	return best, at
}

// ownCost returns what a leader costs by itself: its length, a little for a spot that is not the best, and much where it is
// level or steep.
func ownCost(port, spot geom.Vec2, rank int) float64 {
	d := port.Sub(spot)
	c := d.Len() + 1.5*float64(rank)
	if a := math.Atan2(math.Abs(d.Y), math.Abs(d.X)); a < leastSlope || a > mostSlope {
		c += slopeCost
	}
	return c
}

// assign returns for each row the column of the cheapest assignment; there must be as many columns as rows at least. It is the
// Hungarian method with potentials (H. W. Kuhn 1955; J. Munkres 1957), n²·m steps.
func assign(cost [][]float64) []int {
	n, m := len(cost), len(cost[0])
	u, v := make([]float64, n+1), make([]float64, m+1)
	rowOf, way := make([]int, m+1), make([]int, m+1)
	for i := 1; i <= n; i++ {
		rowOf[0] = i
		least := make([]float64, m+1)
		used := make([]bool, m+1)
		for j := range least {
			least[j] = math.Inf(1)
		}
		j0 := 0
		for rowOf[j0] != 0 {
			used[j0] = true
			delta, next := math.Inf(1), 0
			for j := 1; j <= m; j++ {
				if used[j] {
					continue
				}
				if c := cost[rowOf[j0]-1][j-1] - u[rowOf[j0]] - v[j]; c < least[j] {
					least[j], way[j] = c, j0
				}
				if least[j] < delta {
					delta, next = least[j], j
				}
			}
			for j := 0; j <= m; j++ {
				if used[j] {
					u[rowOf[j]] += delta
					v[j] -= delta
				} else {
					least[j] -= delta
				}
			}
			j0 = next
		}
		for j0 != 0 {
			rowOf[j0] = rowOf[way[j0]]
			j0 = way[j0]
		}
	}
	out := make([]int, n)
	for j := 1; j <= m; j++ {
		if rowOf[j] != 0 {
			out[rowOf[j]-1] = j - 1
		}
	}
	return out
}

// writeClear writes a label as near to a place as nothing is in its way.
func (s *Sheet) writeClear(at geom.Vec2, text string) {
	var on scene
	on.add(s.Ops...)
	space := s.Size.Space()
	best := &Text{Role: Label, At: at, String: text, Height: DimText}
	near := math.Inf(1)
	for x := space.Low.X + edgeGap; x+TextWidth(text, DimText) < space.High.X; x += 12 {
		for y := space.Low.Y + edgeGap; y+2*DimText < space.High.Y; y += 2 * DimText {
			t := *best
			t.At = geom.Vec2{X: x, Y: y}
			if d := t.At.Dist(at); d < near && on.fits(&t) {
				*best, near = t, d
			}
		}
	}
	s.Add(best)
}

// markWidth is the widest mark that a balloon holds, mm.
const markWidth = 2*balloonRadius - 2.2

// markHeight returns the largest height at which all marks fit into balloons, or the smallest there is.
func markHeight(items []itemRef) float64 {
	for _, height := range []float64{ViewText, DimText} {
		if !slices.ContainsFunc(items, func(it itemRef) bool { return TextWidth(Clean(it.mark), height) > markWidth }) {
			return height
		}
	}
	return SmallText
}

// drawItemRefs draws the references of items round a view and returns the area that view and references take. All marks have
// one height.
func (s *Sheet) drawItemRefs(items []itemRef, view Area) Area {
	var marks []segment
	for i, op := range s.Ops {
		if roleOf(op) == Border {
			marks = append(marks, segments(op, i)...)
		}
	}
	b := placeBalloons(items, view, marks)
	height := markHeight(items)
	for _, x := range b {
		d := x.spot.Sub(x.centre)
		s.Line(Leader, x.centre.Add(d.Scale(balloonRadius/d.Len())), x.spot)
		s.Dot(Leader, x.spot, leaderDot)
		s.Circle(Balloon, x.centre, balloonRadius)
		t := s.Write(Balloon, x.centre.Sub(geom.Vec2{Y: height / 2}), height, Centre, Fit(x.mark, height, markWidth))
		t.Of = []string{x.mark}
		r := geom.Vec2{X: balloonRadius, Y: balloonRadius}
		view.Low, _ = boundsOf([]geom.Vec2{view.Low, x.centre.Sub(r)})
		_, view.High = boundsOf([]geom.Vec2{view.High, x.centre.Add(r)})
	}
	shown := map[string]bool{}
	for _, x := range b {
		shown[x.mark] = true
	}
	missing := slices.DeleteFunc(slices.Clone(items), func(it itemRef) bool { return shown[it.mark] })
	if len(missing) > 0 {
		view.Low.Y -= 2 * DimText
		s.writeClear(view.Low, fmt.Sprintf("%d more bars: see the parts list", len(missing)))
	}
	return view
}

// mostSpots is how many places for its leader an item offers.
const mostSpots = 20

// spots returns where on a body a leader may end: on faces that look to the viewer, in the middle of the longest stretches that
// nothing hides. Rails are lines on those faces in the body's own coordinates.
func (s *shader) spots(body int, rails []FaceLine, scale float64) []geom.Vec2 {
	type free struct {
		length float64
		mid    geom.Vec2
	}
	var found []free
	b := &s.seen[body]
	for _, l := range rails {
		if l.Normal.Dot(b.viewer) <= 0.2 {
			continue
		}
		c := candidate{body: body, a: s.flat(b.place.Apply(l.Points[0])), b: s.flat(b.place.Apply(l.Points[1]))}
		for _, v := range s.visible(c, shortest/scale) {
			for _, f := range []float64{0.5, 0.4, 0.6, 0.28, 0.72, 0.16, 0.84} {
				t := v.from + (v.to-v.from)*f
				d := c.b.Sub(c.a)
				at := c.a.Add(d.Scale(t))
				length := (v.to - v.from) * math.Hypot(d.X, d.Y) * scale
				length *= 1 - 1.6*math.Abs(f-0.5)
				found = append(found, free{length, geom.Vec2{X: at.X * scale, Y: at.Y * scale}})
			}
		}
	}
	// The longest first; equal ones stay in the order of the faces.
	var out []geom.Vec2
	for len(out) < mostSpots && len(found) > 0 {
		k := 0
		for i, f := range found {
			if f.length > found[k].length+1e-6 {
				k = i
			}
		}
		if found[k].length < 2 && len(out) > 0 {
			break
		}
		out = append(out, found[k].mid)
		found = append(found[:k], found[k+1:]...)
	}
	return out
}
