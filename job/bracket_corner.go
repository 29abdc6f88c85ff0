package job

import (
	"fmt"
	"math"

	"barwright/frame"
	"barwright/geom"
	"barwright/mesh/bracket"
)

// wantCorners finds every corner at which three of the bars meet, one along each axis, and places a three-way corner there.
func wantCorners(f *frame.Frame, b *frame.Bracket, s bracket.Spec) ([]*wanted, error) {
	var along [3][]*frame.Member
	for _, m := range b.On {
		if !m.Brace {
			along[m.Axis] = append(along[m.Axis], m)
		}
	}
	var out []*wanted
	for _, z := range along[geom.Z] {
		for _, x := range along[geom.X] {
			if !meet(z, x) {
				continue
			}
			for _, y := range along[geom.Y] {
				if !meet(z, x, y) {
					continue
				}
				bars := [3]*frame.Member{x, y, z}
				place := outsideCorner
				if b.Kind == "corner-inside" {
					place = func(bars [3]*frame.Member) (geom.Motion, bool) { return insideCorner(bars, b.Face, f.Box().Centre()) }
				}
				mount, ok := place(bars)
				if !ok {
					continue
				}
				w := &wanted{spec: s, mount: &mount, name: fmt.Sprintf("%s, %s and %s", z.Name, x.Name, y.Name), count: 1, origin: b.Origin}
				w.spec.Profile = z.Bar.Profile
				out = append(out, w)
			}
		}
	}
	if len(out) == 0 {
		return nil, f.Problem(b.Origin, fmt.Sprintf("bracket %q finds no corner", b.Name), "It needs three bars that meet, one along each axis, of one profile, with their faces in one plane.")
	}
	return out, nil
}

// meet reports whether the boxes of bars of one profile have a place in common, be it only an edge or a corner.
func meet(bars ...*frame.Member) bool {
	const play = 0.05
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
		if common.Low.Along(ax) > common.High.Along(ax)+play {
			return false
		}
	}
	return true
}

// outsideCorner returns the mount of a cap over the outer corner of bars along X, Y and Z: its axes run from the corner along the bars.
func outsideCorner(bars [3]*frame.Member) (geom.Motion, bool) {
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
		d, low := ax.Unit(), true
		if bars[ax].Box.Centre().Along(ax) < near.Along(ax) {
			d, low = d.Scale(-1), false
		}
		dirs[ax] = d
		face := func(m *frame.Member) float64 {
			if low {
				return m.Box.Low.Along(ax)
			}
			return m.Box.High.Along(ax)
		}
		if math.Abs(face(bars[a])-face(bars[b])) > 0.05 {
			return geom.Motion{}, false
		}
		// The bar itself must not stand out over the two others' faces.
		if (face(bars[ax])-face(bars[a]))*d.Along(ax) < -0.05 {
			return geom.Motion{}, false
		}
		at = at.With(ax, face(bars[a]))
	}
	x, y, z := dirs[0], dirs[1], dirs[2]
	if x.Cross(y).Dot(z) < 0 {
		x, y = y, x
	}
	return geom.Motion{EX: x, EY: y, EZ: z, T: at}, true
}

// insideCorner returns the mount of a corner in the inside: the post is the bar that both others butt, z the way it runs on past their
// faces: toward a side of the frame, or inward first.
func insideCorner(bars [3]*frame.Member, face string, centre geom.Vec) (geom.Motion, bool) {
	for k, post := range bars {
		a, b := bars[(k+1)%3], bars[(k+2)%3]
		da, ok := butts(a, post)
		db, ok2 := butts(b, post)
		if !ok || !ok2 {
			continue
		}
		up := post.Axis.Unit()
		if centre.Sub(a.Box.Centre()).Dot(up) < 0 {
			up = up.Scale(-1)
		}
		ways := []geom.Vec{up, up.Scale(-1)}
		if face != "" {
			ways = []geom.Vec{toward(face)}
		}
		for _, z := range ways {
			if math.Abs(z.Dot(post.Axis.Unit())) < 0.5 {
				continue
			}
			level := extreme(a, z)
			if math.Abs(level-extreme(b, z)) > 0.05 || extreme(post, z)-level < post.Bar.Profile.Pitch {
				continue
			}
			at := z.Scale(level).Add(da.Scale(extreme(post, da))).Add(db.Scale(extreme(post, db)))
			x, y := da, db
			if x.Cross(y).Dot(z) < 0 {
				x, y = y, x
			}
			return geom.Motion{EX: x, EY: y, EZ: z, T: at}, true
		}
	}
	return geom.Motion{}, false
}

// butts reports whether a rail's end meets a post's side, and the rail's way out of it.
func butts(rail, post *frame.Member) (geom.Vec, bool) {
	d := rail.Axis.Unit()
	if rail.Box.Centre().Sub(post.Box.Centre()).Dot(d) < 0 {
		d = d.Scale(-1)
	}
	return d, math.Abs(extreme(post, d)+extreme(rail, d.Scale(-1))) < 0.05
}

// extreme returns how far a bar's box reaches along a direction of the axes.
func extreme(m *frame.Member, d geom.Vec) float64 {
	if v := m.Box.High.Dot(d); d.X+d.Y+d.Z > 0 {
		return v
	}
	return m.Box.Low.Dot(d)
}
