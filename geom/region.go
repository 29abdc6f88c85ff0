package geom

import "math"

// Edge is one piece of a loop: a straight line or a circular arc.
type Edge struct {
	From, To Vec2
	// Centre and Radius describe an arc; they are zero for a line.
	Centre Vec2
	Radius float64
	// Turn is 0 for a line, +1 for an arc run counter-clockwise, -1 for clockwise.
	Turn int
}

// Line returns the straight edge from a to b.
func Line(a, b Vec2) Edge { return Edge{From: a, To: b} }

// Arc returns the arc from a to b about the centre c, counter-clockwise where turn
// is +1 and clockwise where it is -1. The radius is taken from a.
func Arc(a, b, c Vec2, turn int) Edge {
	return Edge{From: a, To: b, Centre: c, Radius: a.Dist(c), Turn: turn}
}

// Sweep returns the signed angle of an arc, in (0, 2π] for a counter-clockwise one; 0 for a line.
func (e Edge) Sweep() float64 {
	if e.Turn == 0 {
		return 0
	}
	a, b := e.From.Sub(e.Centre), e.To.Sub(e.Centre)
	s := math.Atan2(a.Cross(b), a.Dot(b))
	if e.Turn > 0 && s <= 0 {
		s += 2 * math.Pi
	}
	if e.Turn < 0 && s >= 0 {
		s -= 2 * math.Pi
	}
	return s
}

// Length returns the length of the edge in mm.
func (e Edge) Length() float64 {
	if e.Turn == 0 {
		return e.From.Dist(e.To)
	}
	return math.Abs(e.Sweep()) * e.Radius
}

// Loop is a closed run of edges: each begins where the one before ends. A loop that
// bounds material from outside runs counter-clockwise, one round a hole clockwise.
type Loop []Edge

// Area returns the signed area enclosed in mm², exact for lines and arcs: positive when the loop
// runs counter-clockwise.
func (l Loop) Area() float64 {
	var a float64
	for _, e := range l {
		a += e.From.Cross(e.To) / 2
		if e.Turn != 0 {
			s := e.Sweep()
			a += e.Radius * e.Radius * (s - math.Sin(s)) / 2
		}
	}
	return a
}

// Region is a piece of the plane bounded by loops: the material lies on the left of every edge.
// The zero Region is empty.
type Region []Loop

// Area returns the area of the region in mm², exact for lines and arcs.
func (r Region) Area() float64 {
	var a float64
	for _, l := range r {
		a += l.Area()
	}
	return a
}

// MinArcSegments is the least number of chords that a full circle is split into.
const MinArcSegments = 16

// ArcSegments returns how many chords replace an arc of the given radius and
// sweep so that none is farther than tolerance from the arc, and a full circle
// gets at least [MinArcSegments]. The tolerance must be positive.
func ArcSegments(radius, sweep, tolerance float64) int {
	sweep = math.Abs(sweep)
	step := 2 * math.Pi / MinArcSegments
	if tolerance < radius {
		step = math.Min(step, 2*math.Acos(1-tolerance/radius))
	}
	// The small allowance keeps an exact quarter from gaining a chord by rounding.
	return max(1, int(math.Ceil(sweep/step-1e-9)))
}

// Polygons returns each loop as the corners of a polygon, arcs split by the chord tolerance (mm).
// Points of an arc lie on the arc. The last corner is not repeated.
func (r Region) Polygons(tolerance float64) [][]Vec2 {
	out := make([][]Vec2, len(r))
	for i, l := range r {
		for _, e := range l {
			out[i] = append(out[i], e.From)
			if e.Turn != 0 {
				out[i] = append(out[i], e.inner(tolerance)...)
			}
		}
	}
	return out
}

// inner returns the points of an arc between its ends.
func (e Edge) inner(tolerance float64) []Vec2 {
	s := e.Sweep()
	n := ArcSegments(e.Radius, s, tolerance)
	a := e.From.Sub(e.Centre)
	start := math.Atan2(a.Y, a.X)
	pts := make([]Vec2, 0, n)
	for k := 1; k < n; k++ {
		t := start + s*float64(k)/float64(n)
		pts = append(pts, e.Centre.Add(Vec2{e.Radius * math.Cos(t), e.Radius * math.Sin(t)}))
	}
	return pts
}

// PolygonArea returns the signed area of a polygon by the shoelace formula.
func PolygonArea(p []Vec2) float64 {
	var a float64
	for i := range p {
		a += p[i].Cross(p[(i+1)%len(p)])
	}
	return a / 2
}
