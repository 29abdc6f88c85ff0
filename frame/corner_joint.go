package frame

import "barwright/geom"

// seat places the joints that a three-way corner serves: the inner edge on which the part sits at each, and screws about where the part
// has them. The part's own screws take their place once it is built.
func (s *Shared) seat() {
	if s.Kind == crossPlate {
		return
	}
	var last []*Joint
	for _, j := range s.Joints {
		if s.Kind == insideCorner && j.A != s.Bars[2] && j.B != s.Bars[2] {
			last = append(last, j)
			continue
		}
		s.seatJoint(j)
	}
	// A joint of the two rails takes the edge that no joint with the post sits on.
	for _, j := range last {
		s.seatJoint(j)
	}
}

// cornerWing is about how long a printed corner's wings are, in pitches, until the part is built.
const cornerWing = 0.8

func (s *Shared) seatJoint(j *Joint) {
	if s.Kind == outsideCorner {
		s.seatOutside(j)
		return
	}
	m, pitch, post := s.Mount, j.B.Bar.Profile.Pitch, s.Bars[2]
	dirs := [2]geom.Vec{m.EX, m.EY}
	for k, rail := range s.Bars[:2] {
		at := m.T.Sub(dirs[1-k].Scale(pitch / 2))
		withPost := j.A == post || j.B == post
		if s.edgeTaken(at) || withPost && j.A != rail && j.B != rail {
			continue
		}
		c := &Corner{At: at, LegA: dirs[k], LegB: m.EZ, Leg: cornerWing * pitch, SideA: rail.SideFacing(m.EZ), SideB: post.SideFacing(dirs[k])}
		j.bracketScrew(rail, c.SideA, c.LegA, c)
		j.bracketScrew(post, c.SideB, c.LegB, c)
		if j.A != rail {
			c.LegA, c.LegB, c.SideA, c.SideB = c.LegB, c.LegA, c.SideB, c.SideA
		}
		j.Corner = c
		return
	}
}

// seatOutside adds the screws of a cap over an outer corner: two into each bar, beside the corner.
func (s *Shared) seatOutside(j *Joint) {
	m, pitch := s.Mount, j.B.Bar.Profile.Pitch
	dirs := [3]geom.Vec{m.EX, m.EY, m.EZ}
	for k, bar := range s.Bars {
		if bar != j.A && bar != j.B || s.screwed(bar) {
			continue
		}
		for _, o := range []int{(k + 1) % 3, (k + 2) % 3} {
			at := m.T.Add(dirs[k].Scale(1.5 * pitch)).Add(dirs[3-k-o].Scale(pitch / 2)).Sub(dirs[o].Scale(pitch * bracketThickness))
			j.addSlotScrew(bar, bar.SideFacing(dirs[o].Scale(-1)), j.With.sizeFor(bar.Bar.Profile.Thread), at)
		}
	}
}

// screwed reports whether a joint that the part serves already has the screws into a bar.
func (s *Shared) screwed(m *Member) bool {
	for _, j := range s.Joints {
		for i := range j.Fasteners {
			if j.Fasteners[i].TipIn == m {
				return true
			}
		}
	}
	return false
}

// edgeTaken reports whether a joint that the part serves already sits on an inner edge.
func (s *Shared) edgeTaken(at geom.Vec) bool {
	for _, j := range s.Joints {
		if j.Corner != nil && j.Corner.At.Dist(at) < onLine {
			return true
		}
	}
	return false
}
