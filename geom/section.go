package geom

import "math"

// Section is the properties of a plane section that follow from its area alone, exact from lines and arcs.
// Lengths are mm. See [Torsion] for those that need a solution of the section.
type Section struct {
	Area     float64 // mm²
	Centroid Vec2    // in the coordinates of the region
	// Ix = ∫y²dA, Iy = ∫x²dA and Ixy = ∫xy dA about the centroid, mm⁴.
	Ix, Iy, Ixy float64
	// I1 ≥ I2 are the principal second moments, mm⁴. Angle is the turn from the x axis to the
	// axis about which the section has I1, in (-π/2, π/2]; 0 where both are equal.
	I1, I2 float64
	Angle  float64
	// Low and High are the corners of the bounding box, from the centroid.
	Low, High Vec2
	// WxTop, WxBottom are Ix over the distance to the top and bottom fibre, WyRight and WyLeft
	// Iy over that to the right and left one, mm³.
	WxTop, WxBottom, WyRight, WyLeft float64
}

// Wx returns the smaller section modulus for bending about the x axis, mm³.
func (s Section) Wx() float64 { return math.Min(s.WxTop, s.WxBottom) }

// Wy returns the smaller section modulus for bending about the y axis, mm³.
func (s Section) Wy() float64 { return math.Min(s.WyRight, s.WyLeft) }

// Polar returns Ix + Iy, mm⁴.
func (s Section) Polar() float64 { return s.Ix + s.Iy }

// Properties returns the section properties of the region. The zero region has zero ones.
func (r Region) Properties() Section {
	low, high := r.bounds()
	if low.X > high.X {
		return Section{}
	}
	// Moments are taken about the middle of the box, so that a section far from the origin loses no digits.
	mid := low.Add(high).Scale(0.5)
	var m moments
	for _, l := range r {
		for _, e := range l {
			m.addEdge(e, mid)
		}
	}
	if m.a == 0 {
		return Section{}
	}
	s := Section{Area: m.a, Centroid: mid.Add(Vec2{m.sx / m.a, m.sy / m.a})}
	s.Ix = m.yy - float64(m.sy*m.sy/m.a)
	s.Iy = m.xx - float64(m.sx*m.sx/m.a)
	s.Ixy = m.xy - float64(m.sx*m.sy/m.a)
	s.Low, s.High = low.Sub(s.Centroid), high.Sub(s.Centroid)
	s.WxTop, s.WxBottom = s.Ix/s.High.Y, -s.Ix/s.Low.Y
	s.WyRight, s.WyLeft = s.Iy/s.High.X, -s.Iy/s.Low.X
	s.principal()
	return s
}

// Properties returns the section properties of the profile, which must pass [Profile.Validate].
func (p *Profile) Properties() Section { return p.Region().Properties() }

// alikeMoments is the relative difference under which two second moments count as equal, so
// that rounding does not turn the axes of a square.
const alikeMoments = 1e-9

// principal fills I1, I2 and Angle.
func (s *Section) principal() {
	mean, half := (s.Ix+s.Iy)/2, (s.Ix-s.Iy)/2
	if math.Abs(s.Ixy) < alikeMoments*mean {
		s.Ixy = 0
	}
	r := math.Hypot(half, s.Ixy)
	s.I1, s.I2 = mean+r, mean-r
	switch {
	case r < alikeMoments*mean:
		s.Angle = 0
	case s.Ixy == 0 && half > 0:
		s.Angle = 0
	case s.Ixy == 0:
		s.Angle = math.Pi / 2
	default:
		// About an axis turned by a: I = mean + half·cos2a - Ixy·sin2a, largest at tan2a = -Ixy/half.
		s.Angle = math.Atan2(-s.Ixy, half) / 2
	}
}

// moments is area, first and second moments about a point.
type moments struct{ a, sx, sy, xx, yy, xy float64 }

// addEdge adds the piece between an edge and the point o.
func (m *moments) addEdge(e Edge, o Vec2) {
	a, b := e.From.Sub(o), e.To.Sub(o)
	if e.Turn == 0 {
		m.addTriangle(a, b)
		return
	}
	c := e.Centre.Sub(o)
	m.addTriangle(a, c)
	m.addSector(a.Sub(c), e.Sweep(), e.Radius, c)
	m.addTriangle(c, b)
}

// addTriangle adds the triangle of the origin, p and q, negative where it runs clockwise.
func (m *moments) addTriangle(p, q Vec2) {
	k := p.Cross(q)
	m.a += k / 2
	m.sx += k / 6 * (p.X + q.X)
	m.sy += k / 6 * (p.Y + q.Y)
	m.xx += k / 12 * (float64(p.X*p.X) + float64(p.X*q.X) + float64(q.X*q.X))
	m.yy += k / 12 * (float64(p.Y*p.Y) + float64(p.Y*q.Y) + float64(q.Y*q.Y))
	m.xy += k / 24 * (float64(2*p.X*p.Y) + float64(p.X*q.Y) + float64(q.X*p.Y) + float64(2*q.X*q.Y))
}

// addSector adds the sector of a circle about c from the direction of a over the signed angle sweep.
func (m *moments) addSector(a Vec2, sweep, r float64, c Vec2) {
	t0 := math.Atan2(a.Y, a.X)
	t1 := t0 + sweep
	s0, c0 := math.Sincos(t0)
	s1, c1 := math.Sincos(t1)
	area := r * r * sweep / 2
	sx, sy := r*r*r/3*(s1-s0), r*r*r/3*(c0-c1)
	r4 := r * r * r * r
	turn := (float64(s1*c1) - float64(s0*c0)) // half the difference of sin 2t
	m.a += area
	m.sx += sx + float64(area*c.X)
	m.sy += sy + float64(area*c.Y)
	m.xx += r4/8*(sweep+turn) + float64(2*c.X*sx) + float64(area*c.X*c.X)
	m.yy += r4/8*(sweep-turn) + float64(2*c.Y*sy) + float64(area*c.Y*c.Y)
	m.xy += r4/8*(float64(s1*s1)-float64(s0*s0)) + float64(c.X*sy) + float64(c.Y*sx) + float64(area*c.X*c.Y)
}

// bounds returns the corners of the box round the region, arcs included; low above high for the empty one.
func (r Region) bounds() (low, high Vec2) {
	low, high = Vec2{math.Inf(1), math.Inf(1)}, Vec2{math.Inf(-1), math.Inf(-1)}
	take := func(p Vec2) {
		low = Vec2{math.Min(low.X, p.X), math.Min(low.Y, p.Y)}
		high = Vec2{math.Max(high.X, p.X), math.Max(high.Y, p.Y)}
	}
	for _, l := range r {
		for _, e := range l {
			take(e.From)
			if e.Turn == 0 {
				continue
			}
			for q := range 4 {
				if d := (Vec2{e.Radius, 0}).Quarter(q); e.covers(d) {
					take(e.Centre.Add(d))
				}
			}
		}
	}
	return low, high
}

// covers reports whether the direction d from an arc's centre meets the arc.
func (e Edge) covers(d Vec2) bool {
	a := e.From.Sub(e.Centre)
	t := math.Atan2(a.Cross(d), a.Dot(d))
	if e.Turn < 0 {
		t = -t
	}
	if t < 0 {
		t += 2 * math.Pi
	}
	return t <= math.Abs(e.Sweep())
}

// Extreme returns the points whose convex hull is that of the region, arcs split by the chord tolerance
// (mm), in the coordinates of the region and counter-clockwise. Bending stress is greatest at one of them.
func (r Region) Extreme(tolerance float64) []Vec2 {
	var pts []Vec2
	for _, p := range r.Polygons(tolerance) {
		pts = append(pts, p...)
	}
	return convexHull(pts)
}
