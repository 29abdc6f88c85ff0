package drawing

import (
	"math"

	"barwright/geom"
)

// Sizes of item references in mm (ISO 6433:2012: references in circles of one diameter, larger than dimensions; leaders
// end in a dot within the outline). Pitch and the angles are common practice, no source.
const (
	balloonRadius = 6.0
	balloonPitch  = 14.0
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
	mark   string
	centre geom.Vec2
	spot   geom.Vec2
}

// placeBalloons puts balloons beside a view, in straight columns left and right of it and, where these are full, in rows above
// and below, so that no leader crosses another or runs level or upright. Leaders of the smallest total length
// do not cross (M. A. Bekos, M. Kaufmann, A. Symvonis, A. Wolff, "Boundary labeling", 2007); the penalties against level and steep ones
// can bring a crossing back, which exchanging then removes.
func placeBalloons(items []itemRef, view Area) []balloon {
	if len(items) == 0 {
		return nil
	}
	ports := balloonPorts(len(items), view)
	cost := make([][]float64, len(items))
	for i, it := range items {
		cost[i] = make([]float64, len(ports))
		for j, p := range ports {
			cost[i][j], _ = leaderCost(it, p)
		}
	}
	at := assign(cost)
	out := make([]balloon, len(items))
	for i, it := range items {
		_, spot := leaderCost(it, ports[at[i]])
		out[i] = balloon{it.mark, ports[at[i]], spot}
	}
	uncross(out, items)
	return out
}

// balloonPorts returns the places for balloons round a view: on each side evenly spread, as many as fit.
func balloonPorts(n int, view Area) []geom.Vec2 {
	off := balloonGap + balloonRadius
	var out []geom.Vec2
	column := func(x float64, count int) {
		mid := (view.Low.Y + view.High.Y) / 2
		for k := range count {
			out = append(out, geom.Vec2{X: x, Y: mid + (float64(count-1)/2-float64(k))*balloonPitch})
		}
	}
	row := func(y float64, count int) {
		mid := (view.Low.X + view.High.X) / 2
		for k := range count {
			out = append(out, geom.Vec2{X: mid + (float64(k)-float64(count-1)/2)*balloonPitch, Y: y})
		}
	}
	tall := max(2, int((view.Height()+2*balloonRadius)/balloonPitch))
	column(view.Low.X-off, tall)
	column(view.High.X+off, tall)
	if n > 2*tall-2 {
		wide := max(2, int((view.Width()-balloonRadius)/balloonPitch))
		row(view.High.Y+off, wide)
		row(view.Low.Y-off, wide)
	}
	for k := 1; len(out) < n; k++ { // more than stand round the view: further columns outside
		column(view.Low.X-off-float64(k)*balloonPitch, tall)
		column(view.High.X+off+float64(k)*balloonPitch, tall)
	}
	return out
}

// leaderCost returns how much a leader from a port to the item's best spot costs, mm, and that spot.
func leaderCost(it itemRef, port geom.Vec2) (float64, geom.Vec2) {
	best, at := math.Inf(1), it.spots[0]
	for k, s := range it.spots {
		d := port.Sub(s)
		c := d.Len() + 3*float64(k)
		if a := math.Atan2(math.Abs(d.Y), math.Abs(d.X)); a < leastSlope || a > mostSlope {
			c += 300
		}
		if c < best {
			best, at = c, s
		}
	}
	return best, at
}

// uncross exchanges the balloons of crossing leaders until none cross, which shortens the sum of their lengths each time and so ends.
func uncross(b []balloon, items []itemRef) {
	for range 4 * len(b) * len(b) {
		again := false
		for i := range b {
			for j := range i {
				if !cross(b[i].centre, b[i].spot, b[j].centre, b[j].spot) {
					continue
				}
				b[i].centre, b[j].centre = b[j].centre, b[i].centre
				again = true
			}
		}
		if !again {
			return
		}
	}
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

// drawBalloons draws balloons with their leaders. All marks have one height.
func (s *Sheet) drawBalloons(b []balloon) {
	height := ViewText
	for _, x := range b {
		if TextWidth(x.mark, height) > 2*balloonRadius-2.5 {
			height = DimText
		}
	}
	for _, x := range b {
		d := x.spot.Sub(x.centre)
		s.Line(Leader, x.centre.Add(d.Scale(balloonRadius/d.Len())), x.spot)
		s.Dot(Leader, x.spot, leaderDot)
		s.Circle(Balloon, x.centre, balloonRadius)
		t := s.Write(Balloon, x.centre.Sub(geom.Vec2{Y: height / 2}), height, Centre, x.mark)
		t.Of = []string{x.mark}
	}
}

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
		p, q := b.place.Apply(l.Points[0]), b.place.Apply(l.Points[1])
		c := candidate{body: body,
			a: geom.Vec{X: s.right.Dot(p), Y: s.up.Dot(p), Z: s.into.Dot(p)},
			b: geom.Vec{X: s.right.Dot(q), Y: s.up.Dot(q), Z: s.into.Dot(q)}}
		for _, v := range s.visible(c, shortest/scale) {
			for _, f := range []float64{0.5, 0.25, 0.75} {
				t := v.from + (v.to-v.from)*f
				d := c.b.Sub(c.a)
				at := c.a.Add(d.Scale(t))
				length := (v.to - v.from) * math.Hypot(d.X, d.Y) * scale
				if f != 0.5 {
					length *= 0.45
				}
				found = append(found, free{length, geom.Vec2{X: at.X * scale, Y: at.Y * scale}})
			}
		}
	}
	// The longest first; equal ones stay in the order of the faces.
	var out []geom.Vec2
	for len(out) < 4 && len(found) > 0 {
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
