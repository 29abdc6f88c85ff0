package frame

import (
	"fmt"
	"math"

	"barwright/geom"

	"github.com/hashicorp/hcl/v2"
)

// cornersOf finds every corner at which three of a block's bars meet, one along each axis.
func (f *Frame) cornersOf(b *Bracket) ([]*Shared, *hcl.Diagnostic) {
	var along [3][]*Member
	for _, m := range b.On {
		if !m.Brace {
			along[m.Axis] = append(along[m.Axis], m)
		}
	}
	var way geom.Vec
	if b.Face != "" {
		way = sideDirection(b.Face)
	}
	var out []*Shared
	for _, z := range along[geom.Z] {
		for _, x := range along[geom.X] {
			if !meet(z, x) {
				continue
			}
			for _, y := range along[geom.Y] {
				if !meet(z, x, y) {
					continue
				}
				bars := [3]*Member{x, y, z}
				var s *Shared
				if b.Kind == insideCorner {
					// What stands in the way of a part that is asked for by name is found by the design rules.
					if s = f.cornerIn(bars, way, false); s == nil {
						s = f.cornerIn(bars, way, true)
					}
				} else {
					s = cornerOver(bars)
				}
				if s != nil {
					s.Block, s.Origin = b, b.Origin
					out = append(out, s)
				}
			}
		}
	}
	if len(out) == 0 {
		return nil, problem(b.Origin, fmt.Sprintf("bracket %q finds no corner", b.Name),
			"It needs three bars that meet, one along each axis, of one profile, with their faces in one plane. Where two meet, take kind = \"angle\" or \"plate-ell\".")
	}
	return out, nil
}

// meet reports whether the boxes of bars of one profile have a place in common, be it only an edge or a corner.
func meet(bars ...*Member) bool {
	common := bars[0].Box
	for _, m := range bars[1:] {
		if !m.Bar.Profile.Same(bars[0].Bar.Profile) {
			return false
		}
		for ax := geom.X; ax <= geom.Z; ax++ {
			common.Low = common.Low.With(ax, math.Max(common.Low.Along(ax), m.Box.Low.Along(ax)))
			common.High = common.High.With(ax, math.Min(common.High.Along(ax), m.Box.High.Along(ax)))
		}
	}
	for ax := geom.X; ax <= geom.Z; ax++ {
		if common.Low.Along(ax) > common.High.Along(ax)+onLine {
			return false
		}
	}
	return true
}

// cornerOver returns the cap over the outer corner of bars along X, Y and Z: its axes run from the corner along the bars. It is nil
// where their outer faces do not lie in one plane.
func cornerOver(bars [3]*Member) *Shared {
	near := geom.Vec{}
	for ax := geom.X; ax <= geom.Z; ax++ {
		// Where the two others stand says which end of the bar is the corner.
		a, b := ax.Others()
		near = near.With(ax, (bars[a].Box.Centre().Along(ax)+bars[b].Box.Centre().Along(ax))/2)
	}
	var dirs [3]geom.Vec
	at := geom.Vec{}
	for ax := geom.X; ax <= geom.Z; ax++ {
		a, b := ax.Others()
		d := ax.Unit()
		if bars[ax].Box.Centre().Along(ax) < near.Along(ax) {
			d = d.Scale(-1)
		}
		dirs[ax] = d
		out := d.Scale(-1)
		face := extreme(bars[a], out)
		// The bar itself must not stand out over the two others' faces, and begin within a pitch, where the screws' reach begins.
		own := extreme(bars[ax], out)
		if math.Abs(face-extreme(bars[b], out)) > onLine || own > face+onLine || own < face-bars[ax].Bar.Profile.Pitch-onLine {
			return nil
		}
		at = at.Add(out.Scale(face))
	}
	if dirs[0].Cross(dirs[1]).Dot(dirs[2]) < 0 {
		dirs[0], dirs[1] = dirs[1], dirs[0]
		bars[0], bars[1] = bars[1], bars[0]
	}
	return &Shared{Kind: outsideCorner, Bars: bars, Mount: geom.Motion{EX: dirs[0], EY: dirs[1], EZ: dirs[2], T: at}}
}

// cornerIn returns the part in the inner corner of bars along X, Y and Z, or nil where it has no place. Its post is the bar that both
// others butt, if there is one; z is the way in which the post runs on past their faces: the given one, else inward first.
// Corners in which a fourth bar stands are taken only if crowded.
func (f *Frame) cornerIn(bars [3]*Member, way geom.Vec, crowded bool) *Shared {
	for _, butted := range []bool{true, false} {
		for _, k := range []int{2, 0, 1} {
			post, a, b := bars[k], bars[(k+1)%3], bars[(k+2)%3]
			if both := butts(a, post) && butts(b, post); both != butted {
				continue
			}
			ways := f.inwardFirst(a.Box.Centre(), post.Axis.Unit())
			if way != (geom.Vec{}) {
				ways = []geom.Vec{way}
			}
			for _, z := range ways {
				if math.Abs(z.Dot(post.Axis.Unit())) < 0.5 {
					continue
				}
				if s := cornerAt(post, a, b, z); s != nil && (crowded || !f.blockedCorner(s, post.Bar.Profile.Pitch)) {
					return s
				}
			}
		}
	}
	return nil
}

// butts reports whether an end of a rail meets a post's side.
func butts(rail, post *Member) bool {
	d := outOf(rail, post)
	return math.Abs(extreme(post, d)+extreme(rail, d.Scale(-1))) < onLine
}

// outOf returns the way of a rail out of a corner with a post.
func outOf(rail, post *Member) geom.Vec {
	d := rail.Axis.Unit()
	if rail.Box.Centre().Sub(post.Box.Centre()).Dot(d) < 0 {
		d = d.Scale(-1)
	}
	return d
}

// extreme returns how far a bar's box reaches along a direction of the axes.
func extreme(m *Member, d geom.Vec) float64 {
	if v := m.Box.High.Dot(d); d.X+d.Y+d.Z > 0 {
		return v
	}
	return m.Box.Low.Dot(d)
}

// cornerAt returns the part on the faces of two rails that look along z, and on the two faces of a post over them. Each of the
// three needs its slots where the wings lie, and a pitch of its length.
func cornerAt(post, a, b *Member, z geom.Vec) *Shared {
	x, y := outOf(a, post), outOf(b, post)
	if x.Cross(y).Dot(z) < 0 {
		a, b, x, y = b, a, y, x
	}
	level := extreme(a, z)
	if math.Abs(level-extreme(b, z)) > onLine {
		return nil
	}
	at := x.Scale(extreme(post, x)).Add(y.Scale(extreme(post, y))).Add(z.Scale(level))
	pitch := post.Bar.Profile.Pitch
	wing := func(m *Member, along, face, across geom.Vec) bool {
		from := at.Dot(along)
		if -extreme(m, along.Scale(-1)) > from+onLine || extreme(m, along) < from+pitch-geom.Coincident {
			return false
		}
		if math.Abs(extreme(m, face)-at.Dot(face)) > onLine {
			return false
		}
		for _, line := range m.lineCoordinates(m.SideFacing(face), across) {
			if math.Abs(line-(at.Dot(across)-pitch/2)) <= onLine {
				return true
			}
		}
		return false
	}
	if !wing(a, x, z, y) || !wing(b, y, z, x) || !wing(post, z, x, y) || !wing(post, z, y, x) {
		return nil
	}
	return &Shared{Kind: insideCorner, Bars: [3]*Member{a, b, post}, Mount: geom.Motion{EX: x, EY: y, EZ: z, T: at}}
}

// blockedCorner reports whether a fourth bar stands where the wings or webs of an inside corner go.
func (f *Frame) blockedCorner(s *Shared, pitch float64) bool {
	p, t := 0.8*pitch, 0.15*pitch
	for _, room := range [][2]geom.Vec{
		{{}, {X: p, Y: p, Z: p}},
		{{Y: -p}, {X: p, Z: t}}, {{Y: -p}, {X: t, Z: p}}, // the wings beside the web along x
		{{X: -p}, {Y: p, Z: t}}, {{X: -p}, {Y: t, Z: p}},
	} {
		box := geom.EmptyBox().Extend(s.Mount.Apply(room[0])).Extend(s.Mount.Apply(room[1])).Grow(-geom.Coincident)
		for _, m := range f.Members {
			if !m.Brace && !s.holds(m) && m.Box.Overlaps(box) {
				return true
			}
		}
	}
	return false
}

// jointCorners finds the corner of each contact that a joining by printed corners is to serve, and which no block has placed: two such
// contacts of three bars that meet share one part. It returns the parts by contact, and why the others have none.
func (f *Frame) jointCorners(wanted []*Contact) (map[*Contact]*Shared, map[*Contact]string) {
	at := map[*Member][]*Contact{}
	for _, c := range wanted {
		at[c.A], at[c.B] = append(at[c.A], c), append(at[c.B], c)
	}
	found, why := map[*Contact]*Shared{}, map[*Contact]string{}
	for _, c := range wanted {
		if found[c] != nil {
			continue
		}
		why[c] = fmt.Sprintf("no third bar that is joined so meets %s and %s in a corner where a printed corner fits; with = \"printed-angle\" holds two", c.A.Name, c.B.Name)
		for _, o := range append(append([]*Contact{}, at[c.A]...), at[c.B]...) {
			s, taken := f.cornerOfTwo(c, o), found[o] != nil
			switch {
			case s == nil:
			case taken:
				why[c] = fmt.Sprintf("the corner of %s, %s and %s is taken by another printed corner there; with = \"printed-angle\" holds the third rail", c.A.Name, c.B.Name, thirdOf(c, o).Name)
			default:
				f.Shared = append(f.Shared, s)
				for _, k := range append(append([]*Contact{}, at[c.A]...), at[c.B]...) {
					if found[k] == nil && s.holds(k.A) && s.holds(k.B) {
						found[k] = s
					}
				}
			}
			if found[c] != nil {
				delete(why, c)
				break
			}
		}
	}
	return found, why
}

// thirdOf returns the bar that one contact has and another, which shares one bar with it, has not.
func thirdOf(c, o *Contact) *Member {
	if o.A == c.A || o.A == c.B {
		return o.B
	}
	return o.A
}

// cornerOfTwo returns the inside corner of the three bars of two contacts, or nil.
func (f *Frame) cornerOfTwo(c, o *Contact) *Shared {
	if c == o || c.Kind != EndToSide || o.Kind != EndToSide {
		return nil
	}
	var bars [3]*Member
	for _, m := range []*Member{c.A, c.B, thirdOf(c, o)} {
		if m.Brace || bars[m.Axis] != nil {
			return nil
		}
		bars[m.Axis] = m
	}
	if !meet(bars[0], bars[1], bars[2]) {
		return nil
	}
	return f.cornerIn(bars, geom.Vec{}, false)
}
