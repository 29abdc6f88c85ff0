package assembly_test

import (
	"fmt"
	"math"
	"slices"
	"sort"

	"barwright/assembly"
	"barwright/frame"
	"barwright/geom"
)

// replayer goes through a plan with code of its own: it knows nothing of how the plan was found. Bars are sampled
// or swept as boxes, screw heads are moved point by point against the true section of the bar in whose slot they run.
type replayer struct {
	f      *frame.Frame
	plan   *assembly.Plan
	faults []string
	added  map[*frame.Member]int
	closed map[*frame.Fastener]bool
	// inSlot are the fasteners whose head or nut lies in a slot.
	inSlot map[*frame.Fastener]bool
	used   map[*frame.Fastener]bool
	metal  map[*geom.Profile][][]geom.Vec2
	allow  bool // steps in which somebody holds are no fault
}

func replay(p *assembly.Plan) *replayer {
	r := &replayer{f: p.Frame, plan: p, added: map[*frame.Member]int{}, closed: map[*frame.Fastener]bool{},
		inSlot: map[*frame.Fastener]bool{}, used: map[*frame.Fastener]bool{}, metal: map[*geom.Profile][][]geom.Vec2{}}
	placed := append([]*frame.Member{}, p.From...)
	for _, m := range p.From {
		r.added[m]++
	}
	for _, j := range r.f.Joints {
		if r.added[j.A] > 0 && r.added[j.B] > 0 {
			for i := range j.Fasteners {
				r.closed[&j.Fasteners[i]] = true
				r.inSlot[&j.Fasteners[i]] = true
			}
		}
	}
	placed = r.steps(p.Steps, placed, "")
	for _, m := range r.f.Members {
		if r.added[m] != 1 {
			r.fault("", "%s goes in %d times", m.Name, r.added[m])
		}
	}
	if len(placed) != len(r.f.Members) {
		r.fault("", "%d of %d bars stand in the end", len(placed), len(r.f.Members))
	}
	for _, j := range r.f.Joints {
		for i := range j.Fasteners {
			if s := &j.Fasteners[i]; !r.closed[s] {
				r.fault("", "the screw between %s and %s was never set", j.A.Name, j.B.Name)
			}
		}
	}
	return r
}

func (r *replayer) fault(at, format string, args ...any) {
	r.faults = append(r.faults, at+": "+fmt.Sprintf(format, args...))
}

// steps replays a list of steps and returns what stands after it.
func (r *replayer) steps(list []*assembly.Step, placed []*frame.Member, in string) []*frame.Member {
	for i, s := range list {
		at := fmt.Sprintf("%s%d", in, s.Number)
		if s.Number != i+1 {
			r.fault(at, "is number %d", i+1)
		}
		if s.Line() == "" {
			r.fault(at, "says nothing")
		}
		if len(s.Build) > 0 {
			built := r.steps(s.Build, nil, at+".")
			if !sameBars(built, s.Add) {
				r.fault(at, "builds other bars than it adds")
			}
			for _, m := range built {
				r.added[m]--
			}
		}
		switch {
		case s.Kind == assembly.TurnIt:
			if s.Turn == nil {
				r.fault(at, "turns nothing")
			}
			r.standing(at, s, placed)
		case s.Kind != assembly.Place:
			r.load(at, s, placed, nil)
		case s.Each:
			for _, m := range s.Add {
				placed = r.place(at, s, placed, []*frame.Member{m})
			}
		default:
			placed = r.place(at, s, placed, s.Add)
		}
	}
	return placed
}

func sameBars(a, b []*frame.Member) bool {
	name := func(l []*frame.Member) string {
		var out []string
		for _, m := range l {
			out = append(out, m.Name)
		}
		sort.Strings(out)
		return fmt.Sprint(out)
	}
	return name(a) == name(b)
}

// place replays one move of bars.
func (r *replayer) place(at string, s *assembly.Step, placed, group []*frame.Member) []*frame.Member {
	r.load(at, s, placed, group)
	for _, m := range group {
		r.added[m]++
	}
	if len(placed) > 0 && len(s.Moves) == 0 {
		r.fault(at, "has no move")
	}
	if n := pieces(r.f, group); n != 1 {
		r.fault(at, "moves %d pieces that do not hold together", n)
	}
	r.sweep(at, s, placed, group)
	r.close(at, s, placed, group)
	before := pieces(r.f, placed)
	placed = append(append([]*frame.Member{}, placed...), group...)
	if n := pieces(r.f, placed); before > 0 && n > before && !s.Hold && !travelling(group) && n > pieces(r.f, r.f.Members) {
		r.fault(at, "what stands is in %d pieces, before in %d", n, before)
	}
	r.standing(at, s, placed)
	return placed
}

func travelling(group []*frame.Member) bool {
	return group[0].Group != nil && group[0].Group.Travel != nil
}

// pieces counts the parts of a set of bars that do not touch.
func pieces(f *frame.Frame, bars []*frame.Member) int {
	parent := map[*frame.Member]*frame.Member{}
	for _, m := range bars {
		parent[m] = m
	}
	var find func(m *frame.Member) *frame.Member
	find = func(m *frame.Member) *frame.Member {
		if parent[m] == m {
			return m
		}
		parent[m] = find(parent[m])
		return parent[m]
	}
	for _, c := range f.Contacts {
		if parent[c.A] != nil && parent[c.B] != nil && !c.Apart {
			parent[find(c.A)] = find(c.B)
		}
	}
	n := 0
	for _, m := range bars {
		if find(m) == m {
			n++
		}
	}
	return n
}

// way returns the stretches of a step's motion, from the place outward: directions and lengths.
func (r *replayer) way(s *assembly.Step) (dirs []geom.Vec, lengths []float64) {
	size := r.f.Box().Size()
	long := 2 * (size.X + size.Y + size.Z + 500)
	for i := len(s.Moves) - 1; i >= 0; i-- {
		m := s.Moves[i]
		l := m.Way
		if l == 0 {
			l = long
		}
		dirs, lengths = append(dirs, m.Dir.Scale(-1)), append(lengths, l)
	}
	return dirs, lengths
}

// sweep moves bars out again and looks whether they run into others.
func (r *replayer) sweep(at string, s *assembly.Step, placed, group []*frame.Member) {
	dirs, lengths := r.way(s)
	shift := geom.Vec{}
	for k, d := range dirs {
		for _, m := range group {
			for _, o := range placed {
				if r.collides(m, o, shift, d, lengths[k]) {
					r.fault(at, "%s runs into %s", m.Name, o.Name)
				}
			}
		}
		shift = shift.Add(d.Scale(lengths[k]))
	}
}

const touch = 0.1 // mm, what counts as touching

// collides reports whether bar m, moved by shift and then along d, runs into bar o.
func (r *replayer) collides(m, o *frame.Member, shift, d geom.Vec, length float64) bool {
	if !m.Brace && !o.Brace {
		a := m.Box.Move(shift)
		swept := a.Union(a.Move(d.Scale(length)))
		one := 0
		for _, v := range []float64{d.X, d.Y, d.Z} {
			if math.Abs(v) > 1e-9 {
				one++
			}
		}
		c := swept.Intersect(o.Box).Size()
		if c.X <= touch || c.Y <= touch || c.Z <= touch {
			return false
		}
		if one == 1 {
			return true
		}
	}
	p, q := corners(m), corners(o)
	step := 4.0
	for t := 0.0; t <= length; t += step {
		by := shift.Add(d.Scale(t))
		if convexOverlap(p, q, by) {
			return true
		}
		if t > 400 {
			step = 20
		}
	}
	return false
}

// solid is a convex solid by its corners and the normals to try.
type solid struct {
	points []geom.Vec
	axes   []geom.Vec
}

func corners(m *frame.Member) solid {
	half := m.Bar.Profile.Size().Scale(0.5)
	s := solid{axes: []geom.Vec{m.Place.EX, m.Place.EY, m.Place.EZ, m.EndNormal(0), m.EndNormal(1)}}
	for end := range 2 {
		for i := range 4 {
			x, y := half.X, half.Y
			if i&1 == 0 {
				x = -x
			}
			if i&2 == 0 {
				y = -y
			}
			c := m.Bar.Cuts[end]
			s.points = append(s.points, m.Place.Apply(geom.Vec{X: x, Y: y, Z: m.Bar.Plane(end) + c.SlopeX*x + c.SlopeY*y}))
		}
	}
	return s
}

// convexOverlap tells by separating axes whether p moved by a shift lies in q deeper than touching.
func convexOverlap(p, q solid, by geom.Vec) bool {
	axes := append(append([]geom.Vec{}, p.axes...), q.axes...)
	for _, a := range p.axes[:3] {
		for _, b := range q.axes[:3] {
			if n := a.Cross(b); n.Len() > 1e-6 {
				axes = append(axes, n.Unit())
			}
		}
	}
	for _, n := range axes {
		pl, ph, ql, qh := math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
		for _, v := range p.points {
			x := n.Dot(v.Add(by))
			pl, ph = math.Min(pl, x), math.Max(ph, x)
		}
		for _, v := range q.points {
			x := n.Dot(v)
			ql, qh = math.Min(ql, x), math.Max(qh, x)
		}
		if ph <= ql+touch || qh <= pl+touch {
			return false
		}
	}
	return true
}

// allIn reports whether all bars that a shared part holds are there, counting those that a move brings.
func (r *replayer) allIn(s *frame.Shared, placed, group []*frame.Member) bool {
	for _, j := range s.Joints {
		for _, m := range []*frame.Member{j.A, j.B} {
			if !slices.Contains(placed, m) && !slices.Contains(group, m) {
				return false
			}
		}
	}
	return true
}

// lateNuts sees that the nuts of shared parts were in their slots in time: when the move that brought the last bar began.
func (r *replayer) lateNuts(at string, placed, group []*frame.Member) {
	for _, s := range r.f.Shared {
		if !r.allIn(s, placed, group) || r.allIn(s, placed, nil) {
			continue
		}
		for _, j := range s.Joints {
			for i := range j.Fasteners {
				if f := &j.Fasteners[i]; f.SlotNut && !r.inSlot[f] {
					r.fault(at, "no nut was loaded for %s of %s", s.Kind, s.Name())
				}
			}
		}
	}
}

// close sets the screws of the joints that a move closes.
func (r *replayer) close(at string, s *assembly.Step, placed, group []*frame.Member) {
	has := func(l []*frame.Member, m *frame.Member) bool {
		for _, o := range l {
			if o == m {
				return true
			}
		}
		return false
	}
	r.lateNuts(at, placed, group)
	var now []*frame.Fastener // heads that come in with this move do not stand in each other's way
	defer func() {
		for _, f := range now {
			r.inSlot[f] = true
		}
	}()
	for _, j := range r.f.Joints {
		moving := 0.0 // +1: the butting bar moves in, -1: the other
		switch {
		case has(group, j.A) && has(placed, j.B):
			moving = 1
		case has(group, j.B) && has(placed, j.A):
			moving = -1
		default:
			continue
		}
		for i := range j.Fasteners {
			f := &j.Fasteners[i]
			if r.closed[f] {
				r.fault(at, "sets the screw between %s and %s twice", j.A.Name, j.B.Name)
			}
			r.closed[f] = true
			switch {
			case f.InSlot:
				r.closeHead(at, s, j, f, moving, append(append([]*frame.Member{}, placed...), group...))
				now = append(now, f)
			case f.SlotNut:
				// The nuts of a part that holds three bars are due when the last of them is in.
				if !r.inSlot[f] && (j.Shared == nil || r.allIn(j.Shared, placed, group)) {
					r.fault(at, "no nut was loaded for %s and %s", j.A.Name, j.B.Name)
				}
			}
		}
	}
}

// closeHead checks that the head of an end screw slides along its slot with the move, or hangs in it already where the bar
// comes straight on.
func (r *replayer) closeHead(at string, s *assembly.Step, j *frame.Joint, f *frame.Fastener, moving float64, all []*frame.Member) {
	last := s.Moves[len(s.Moves)-1].Dir.Scale(moving) // of the butting bar against the other
	along := j.B.Direction()
	switch {
	case last.Dot(j.Normal) > 1-1e-6:
		if !r.inSlot[f] {
			r.fault(at, "%s goes straight onto %s, whose screw was not loaded", j.A.Name, j.B.Name)
		}
	case math.Abs(last.Dot(along)) > 1-1e-6 && len(s.Moves) == 1:
		if r.inSlot[f] {
			r.fault(at, "%s slides along %s, but its screw was loaded in the slot", j.A.Name, j.B.Name)
		}
		// Slide the head out again: never into metal of the slotted bar, never past another head or nut.
		out := last.Scale(-1)
		for t := 0.0; t < j.B.Length()+200; t += 3 {
			if r.headInMetal(j.B, f, out.Scale(t)) {
				r.fault(at, "the head between %s and %s runs into metal %v mm before its place", j.A.Name, j.B.Name, t)
				break
			}
		}
		r.passes(at, j, f, out, all)
	default:
		r.fault(at, "%s comes onto %s along %v, which its end screw does not allow", j.A.Name, j.B.Name, last)
	}
	r.used[f] = true
}

// passes looks for heads and nuts in the slot on the way of a head.
func (r *replayer) passes(at string, j *frame.Joint, f *frame.Fastener, out geom.Vec, all []*frame.Member) {
	for _, o := range r.f.Joints {
		for i := range o.Fasteners {
			g := &o.Fasteners[i]
			if g == f || !r.inSlot[g] || slotBar(g) != j.B || !sameSlot(j.B, f.Seat, g.Seat, f, g) {
				continue
			}
			if d := g.Seat.Sub(f.Seat).Dot(out); d > 1 {
				r.fault(at, "the head between %s and %s would pass that of %s and %s", j.A.Name, j.B.Name, o.A.Name, o.B.Name)
			}
		}
	}
	_ = all
}

// slotBar returns the bar in whose slot a head or nut lies.
func slotBar(f *frame.Fastener) *frame.Member {
	if f.InSlot {
		return f.HeadIn
	}
	if f.SlotNut {
		return f.TipIn
	}
	return nil
}

// sameSlot reports whether two screws use one slot of a bar.
func sameSlot(b *frame.Member, p, q geom.Vec, f, g *frame.Fastener) bool {
	if f.HeadSide != g.HeadSide {
		return false
	}
	d := b.Place.Unturn(p.Sub(q))
	toward := f.HeadSide.Toward()
	return math.Abs(geom.Vec2{X: d.X, Y: d.Y}.Dot(toward)) < 1
}

// headInMetal samples the rim of a head behind the lips and its neck between them against the bar's true section.
func (r *replayer) headInMetal(b *frame.Member, f *frame.Fastener, by geom.Vec) bool {
	polys := r.metal[b.Profile]
	if polys == nil {
		polys = b.Profile.Region().Polygons(0.05)
		r.metal[b.Profile] = polys
	}
	// Figures of ISO 7380-1: head diameters and heights of M5 to M10, typed here.
	head := map[string][2]float64{"M5": {9.5, 2.75}, "M6": {10.5, 3.3}, "M8": {14, 4.4}, "M10": {17.5, 5.5}}[f.Thread]
	n := b.SideNormal(f.HeadSide)
	across := n.Cross(b.Direction())
	for _, p := range []geom.Vec{
		across.Scale(head[0]/2 - 0.1).Sub(n.Scale(0.3)), across.Scale(-head[0]/2 + 0.1).Sub(n.Scale(0.3)), n.Scale(-head[1] + 0.1),
		n.Scale(-0.3), across.Scale(1).Add(n.Scale(1)), n.Scale(1),
	} {
		q := b.Place.Unapply(f.Seat.Add(p).Add(by))
		if q.Z < 0 || q.Z > b.Bar.Length {
			continue
		}
		if inside(polys, geom.Vec2{X: q.X, Y: q.Y}) {
			return true
		}
	}
	return false
}

// inside tells by counting crossings whether a point lies in a region.
func inside(polys [][]geom.Vec2, p geom.Vec2) bool {
	in := false
	for _, poly := range polys {
		for i, a := range poly {
			b := poly[(i+1)%len(poly)]
			if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(p.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X) {
				in = !in
			}
		}
	}
	return in
}

// standing checks that what stands holds itself up on a flat table.
func (r *replayer) standing(at string, s *assembly.Step, placed []*frame.Member) {
	if s.Hold {
		if !r.allow {
			r.fault(at, "needs holding")
		}
		return
	}
	// The largest piece is what stands; others are travellers.
	var bars []*frame.Member
	for _, m := range placed {
		if m.Group == nil || m.Group.Travel == nil {
			bars = append(bars, m)
		}
	}
	if len(bars) == 0 || pieces(r.f, bars) > 1 {
		return
	}
	down := s.Down
	low := math.Inf(-1)
	mass, mid := 0.0, geom.Vec{}
	for _, m := range bars {
		for _, p := range corners(m).points {
			low = math.Max(low, p.Dot(down))
		}
		mass += m.Part.Mass
		mid = mid.Add(m.Box.Centre().Scale(m.Part.Mass))
	}
	mid = mid.Scale(1 / mass)
	var feet []geom.Vec
	for _, m := range bars {
		for _, p := range corners(m).points {
			if p.Dot(down) > low-1.5 {
				feet = append(feet, p)
			}
		}
	}
	// Feet, and the pads and casters of bracket blocks, carry what stands upright once all of them are there.
	under := map[*frame.Member]geom.Vec{}
	for _, f := range r.f.Feet {
		under[f.Under] = f.At
	}
	for _, b := range r.f.Brackets {
		if b.End == "bottom" && (b.Kind == "foot-pad" || b.Kind == "caster-plate") {
			for _, m := range b.On {
				under[m] = m.Box.Centre().With(geom.Z, m.Box.Low.Z)
			}
		}
	}
	if down.Z < -0.9 && len(r.f.Feet) >= 3 || down.Z < -0.9 && len(r.f.Feet) == 0 && len(under) >= 3 {
		var at []geom.Vec
		for _, m := range bars {
			if p, ok := under[m]; ok {
				at = append(at, p)
			}
		}
		if len(at) == len(under) {
			feet = at
			for _, f := range r.f.Feet {
				feet = append(feet, f.At)
			}
		}
	}
	// The middle of mass lies over what carries it when no line through it leaves all of that on one side.
	for k := range 720 {
		a := float64(k) * math.Pi / 360
		u := geom.Vec{X: 1}
		if math.Abs(down.X) > 0.9 {
			u = geom.Vec{Z: 1}
		}
		v := down.Cross(u).Unit()
		u = v.Cross(down)
		d := u.Scale(math.Cos(a)).Add(v.Scale(math.Sin(a)))
		most := math.Inf(-1)
		for _, p := range feet {
			most = math.Max(most, p.Sub(mid).Dot(d))
		}
		if most < 1 {
			r.fault(at, "what stands would tip over (%.1f mm)", most)
			return
		}
	}
}
