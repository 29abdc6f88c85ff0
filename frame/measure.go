package frame

import (
	"cmp"
	"math"
	"slices"

	"barwright/geom"
	"barwright/standard"
)

// Rectangle is four bars round an opening, with what a tape should read when they stand square. All lengths are mm.
type Rectangle struct {
	Name string // the set that made it, or "": then its bars name it
	// Bars are the low and the high one of the two along U, then the low and the high one along V.
	Bars   [4]*Member
	U, V   geom.Axis // the axes of its plane
	Box    geom.Box  // of the outer faces
	Outer  [2]float64
	Inner  [2]float64
	Corner [4]CornerKind // low-low, high-low, low-high, high-high (U first)
	// OuterDiagonal is what the tape reads over the outer corners, the rounding of posts taken off; 0 where a corner
	// can't be reached, as a bar runs past it.
	OuterDiagonal float64
	// InnerDiagonal is what it reads between the inner corners; 0 where posts stand in them.
	InnerDiagonal float64
	// Square and General are how far the two diagonals may differ: for sides that are square within 0.1°, and
	// within the angular tolerance of ISO 2768-1 class m for the shorter side.
	Square, General float64
	GeneralAngle    float64 // that tolerance, radians
}

// CornerKind says what stands in a corner of a rectangle.
type CornerKind int

// The kinds of corners.
const (
	SharpCorner CornerKind = iota // a sawn end, flush with the other bar: the tape hooks over it
	PostCorner                    // a third bar's rounded edge
	PastCorner                    // a bar runs past, or stops short: there is no outer corner
)

// SquarenessLimit is the squareness that the measuring table is made for: 0.1°.
const SquarenessLimit = 0.1 * math.Pi / 180

// GeneralClass is the class of ISO 2768-1 that the sheets name.
const GeneralClass = "m"

// meeting is a bar that meets another at right angles, directly or at a post between.
type meeting struct {
	other *Member
	post  *Member // nil where they touch
}

// Rectangles returns the rectangles that bars form, in the order of the members: of bars between the same two bars those next to
// each other, and the outermost. Two bars meet in a corner where they touch, or where both touch a third that
// stands square to both.
func (f *Frame) Rectangles() []Rectangle {
	r := &rectangles{index: map[*Member]int{}, between: map[[3]int]*ladder{}, seen: map[[4]int]bool{}}
	for i, m := range f.Members {
		r.index[m] = i
	}
	r.meets = f.meetings(r.index)
	for _, a := range f.Members {
		for n := range geom.Axis(3) {
			if a.Brace || n == a.Axis {
				continue
			}
			v := geom.Axis(3 - int(n) - int(a.Axis))
			for _, pair := range spans(a, r.neighbours(a, v, n)) {
				r.add(a, pair, n)
			}
		}
	}
	slices.SortStableFunc(r.out, func(p, q Rectangle) int {
		kp, kq := p.key(r.index), q.key(r.index)
		return slices.Compare(kp[:], kq[:])
	})
	return r.out
}

// rectangles gathers rectangles.
type rectangles struct {
	index   map[*Member]int
	meets   [][]meeting
	between map[[3]int]*ladder
	seen    map[[4]int]bool
	out     []Rectangle
}

// ladder is the bars that meet both of two others, in order along them.
type ladder struct {
	rungs []*Member
	place map[*Member]int
}

// key orders rectangles by their bars.
func (r *Rectangle) key(index map[*Member]int) [4]int {
	var k [4]int
	for i, m := range r.Bars {
		k[i] = index[m]
	}
	slices.Sort(k[:])
	return k
}

// meetings returns for each member the bars that meet it at right angles.
func (f *Frame) meetings(index map[*Member]int) [][]meeting {
	out := make([][]meeting, len(f.Members))
	touch := make([][]*Member, len(f.Members))
	add := func(a, b, post *Member) {
		out[index[a]] = append(out[index[a]], meeting{b, post})
		out[index[b]] = append(out[index[b]], meeting{a, post})
	}
	for _, c := range f.Contacts {
		if c.A.Brace || c.B.Brace || c.Apart || c.A.Axis == c.B.Axis {
			continue
		}
		touch[index[c.A]] = append(touch[index[c.A]], c.B)
		touch[index[c.B]] = append(touch[index[c.B]], c.A)
		add(c.A, c.B, nil)
	}
	for i, post := range f.Members {
		list := touch[i]
		slices.SortStableFunc(list, func(a, b *Member) int {
			return cmp.Compare(a.Box.Low.Along(post.Axis), b.Box.Low.Along(post.Axis))
		})
		for k, a := range list {
			for _, b := range list[k+1:] {
				if b.Box.Low.Along(post.Axis) >= a.Box.High.Along(post.Axis)-geom.Coincident {
					break
				}
				if a.Axis != b.Axis {
					add(a, b, post)
				}
			}
		}
	}
	return out
}

// neighbours returns the bars along v that meet a bar in the plane with normal n.
func (r *rectangles) neighbours(a *Member, v, n geom.Axis) []*Member {
	var out []*Member
	seen := map[*Member]bool{}
	for _, m := range r.meets[r.index[a]] {
		if m.other.Axis == v && (m.post == nil || m.post.Axis == n) && !seen[m.other] {
			seen[m.other] = true
			out = append(out, m.other)
		}
	}
	return out
}

// spans returns pairs of the bars that meet a: neighbours along it, and the outermost two.
func spans(a *Member, list []*Member) [][2]*Member {
	slices.SortStableFunc(list, func(p, q *Member) int {
		return cmp.Compare(p.Box.Low.Along(a.Axis), q.Box.Low.Along(a.Axis))
	})
	var out [][2]*Member
	for i := 0; i+1 < len(list); i++ {
		out = append(out, [2]*Member{list[i], list[i+1]})
	}
	if len(list) > 2 {
		out = append(out, [2]*Member{list[0], list[len(list)-1]})
	}
	return out
}

// add adds the rectangles of a bar and two that meet it: with the next bar between the two, and of the outermost
// with each other.
func (r *rectangles) add(a *Member, pair [2]*Member, n geom.Axis) {
	l := r.ladder(pair, a.Axis, n)
	at, ok := l.place[a]
	if !ok {
		return
	}
	var ends []*Member
	if at+1 < len(l.rungs) {
		ends = append(ends, l.rungs[at+1])
	}
	if at == 0 && len(l.rungs) > 2 {
		ends = append(ends, l.rungs[len(l.rungs)-1])
	}
	for _, b := range ends {
		rect, ok := r.measure(a, b, pair)
		if key := rect.key(r.index); ok && !r.seen[key] {
			r.seen[key] = true
			r.out = append(r.out, rect)
		}
	}
}

// ladder returns the bars along an axis that meet both of a pair.
func (r *rectangles) ladder(pair [2]*Member, along, n geom.Axis) *ladder {
	key := [3]int{r.index[pair[0]], r.index[pair[1]], int(n)}
	if l := r.between[key]; l != nil {
		return l
	}
	l := &ladder{place: map[*Member]int{}}
	other := map[*Member]bool{}
	for _, m := range r.neighbours(pair[1], along, n) {
		other[m] = true
	}
	for _, m := range r.neighbours(pair[0], along, n) {
		if other[m] {
			l.rungs = append(l.rungs, m)
		}
	}
	v := pair[0].Axis
	slices.SortStableFunc(l.rungs, func(p, q *Member) int { return cmp.Compare(p.Box.Low.Along(v), q.Box.Low.Along(v)) })
	for i, m := range l.rungs {
		l.place[m] = i
	}
	r.between[key] = l
	return l
}

// measure measures four bars: a and b along one axis, the pair along the other.
func (r *rectangles) measure(a, b *Member, pair [2]*Member) (Rectangle, bool) {
	t := Rectangle{Bars: [4]*Member{a, b, pair[0], pair[1]}, U: a.Axis, V: pair[0].Axis}
	n := geom.Axis(3 - int(t.U) - int(t.V))
	low, high := math.Inf(-1), math.Inf(1)
	for _, m := range t.Bars {
		low, high = math.Max(low, m.Box.Low.Along(n)), math.Min(high, m.Box.High.Along(n))
	}
	if high-low <= geom.Coincident {
		return t, false
	}
	t.Box = geom.EmptyBox()
	for _, m := range t.Bars {
		t.Box = t.Box.Union(m.Box)
	}
	faces := func(ax geom.Axis, p, q *Member) (outer, inner float64) {
		t.Box.Low, t.Box.High = t.Box.Low.With(ax, p.Box.Low.Along(ax)), t.Box.High.With(ax, q.Box.High.Along(ax))
		return q.Box.High.Along(ax) - p.Box.Low.Along(ax), q.Box.Low.Along(ax) - p.Box.High.Along(ax)
	}
	t.Outer[0], t.Inner[0] = faces(t.U, pair[0], pair[1])
	t.Outer[1], t.Inner[1] = faces(t.V, a, b)
	if t.Inner[0] <= geom.Coincident || t.Inner[1] <= geom.Coincident {
		return t, false
	}
	if t.U > t.V {
		t.U, t.V = t.V, t.U
		t.Outer[0], t.Outer[1] = t.Outer[1], t.Outer[0]
		t.Inner[0], t.Inner[1] = t.Inner[1], t.Inner[0]
		t.Bars = [4]*Member{pair[0], pair[1], a, b}
	}
	t.corners(r)
	t.diagonals()
	if s := a.Set; s != nil && s == b.Set && s == pair[0].Set && s == pair[1].Set {
		t.Name = s.Name
	}
	return t, true
}

// corners finds what stands in each corner.
func (r *Rectangle) corners(all *rectangles) {
	for i := range r.Corner {
		alongU, alongV := r.Bars[i/2], r.Bars[2+i%2]
		var post *Member
		direct := false
		for _, m := range all.meets[all.index[alongU]] {
			if m.other == alongV {
				direct = direct || m.post == nil
				if m.post != nil {
					post = m.post
				}
			}
		}
		u, v := r.Box.Low.Along(r.U), r.Box.Low.Along(r.V)
		if i%2 == 1 {
			u = r.Box.High.Along(r.U)
		}
		if i/2 == 1 {
			v = r.Box.High.Along(r.V)
		}
		at := func(m *Member) bool {
			return nearFace(m, r.U, u) && nearFace(m, r.V, v)
		}
		switch {
		case direct && (at(alongU) || at(alongV)) && !runsPast(alongU, r.U, u) && !runsPast(alongV, r.V, v):
			r.Corner[i] = SharpCorner
		case !direct && post != nil && at(post):
			r.Corner[i] = PostCorner
		default:
			r.Corner[i] = PastCorner
		}
	}
}

// nearFace reports whether one of a bar's outer faces along an axis lies at a place.
func nearFace(m *Member, ax geom.Axis, at float64) bool {
	return math.Abs(m.Box.Low.Along(ax)-at) <= geom.Coincident || math.Abs(m.Box.High.Along(ax)-at) <= geom.Coincident
}

// runsPast reports whether a bar reaches beyond a place on its axis where the corner lies, on the outer side.
func runsPast(m *Member, ax geom.Axis, at float64) bool {
	if math.Abs(m.Box.Low.Along(ax)-at) < math.Abs(m.Box.High.Along(ax)-at) {
		return m.Box.Low.Along(ax) < at-geom.Coincident
	}
	return m.Box.High.Along(ax) > at+geom.Coincident
}

// diagonals works out what the tape reads, and how far two diagonals may differ.
func (r *Rectangle) diagonals() {
	p, q := r.Outer[0], r.Outer[1]
	d := math.Hypot(p, q)
	r.OuterDiagonal = d
	posts := false
	for i, c := range r.Corner {
		switch c {
		case PastCorner:
			r.OuterDiagonal = 0
		case PostCorner:
			posts = true
			if i == 0 || i == 3 { // the two ends of one diagonal; the other is alike
				r.OuterDiagonal -= roundingLoss(r.Bars[0].Bar.Profile.CornerRadius, p, q)
			}
		}
		if r.OuterDiagonal <= 0 {
			r.OuterDiagonal = 0
			break
		}
	}
	if !posts {
		r.InnerDiagonal = math.Hypot(r.Inner[0], r.Inner[1])
	}
	// Sides p and q that lean by an angle e have diagonals of which the squares differ by 4·p·q·sin e.
	general := standardAngle(math.Min(p, q))
	r.GeneralAngle = general
	r.Square, r.General = leanDifference(p, q, SquarenessLimit), leanDifference(p, q, general)
}

// roundingLoss is what the rounding of a corner takes off a diagonal of sides p and q.
func roundingLoss(radius, p, q float64) float64 { return radius * ((p+q)/math.Hypot(p, q) - 1) }

// leanDifference returns the difference of the diagonals of a parallelogram that leans by an angle.
func leanDifference(p, q, angle float64) float64 {
	s := float64(p*p) + float64(q*q)
	c := 2 * p * q * math.Sin(angle)
	return math.Sqrt(s+c) - math.Sqrt(s-c)
}

// standardAngle returns the angular tolerance of the general class for a shorter side.
func standardAngle(side float64) float64 {
	a, ok := standard.AngleTolerance(GeneralClass, side)
	if !ok {
		return SquarenessLimit
	}
	return a
}
