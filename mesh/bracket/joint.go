package bracket

import (
	"math"
	"slices"

	"barwright/frame"
	"barwright/geom"
)

// straight is how far from a right angle, as a cosine, two directions may be and still count as square.
const straight = 1e-6

// ForJoint returns what to build for a joint of a frame, and the motion from the part's mounted coordinates to the frame: an
// angle for a joint with a corner, a brace-foot for the mitred end of a brace, a flat plate for a joint by plate.
// Kind, profiles, the free lengths of the bars, angle and hand come from the joint; the rest of base is kept, and its
// parameters win where it names the same kind. It returns an *[Error] where no printed part serves the joint.
func ForJoint(j *frame.Joint, base Spec) (Spec, geom.Motion, error) {
	switch {
	case j.A.Brace:
		return forBrace(j, base)
	case j.Corner != nil:
		return forCorner(j, base)
	case j.With != nil && j.With.Method == frame.Plate && len(j.Fasteners) > 0:
		return forPlate(j, base)
	}
	return base, geom.Motion{}, fight(RuleKind, "joint", "no printed part serves the joint of %s and %s: neither a corner nor a plate belongs to it", j.A.Name, j.B.Name)
}

// derive returns base as a spec of a kind; values of base for the same kind win over those of the joint.
func derive(base Spec, kind string, values map[string]float64) Spec {
	s := base
	s.Params = map[string]float64{}
	k, _ := KindByName(kind)
	for _, p := range k.Params {
		if v, ok := values[p.Name]; ok {
			s.Params[p.Name] = v
		}
		if v, ok := base.Params[p.Name]; ok {
			s.Params[p.Name] = v
		}
	}
	s.Kind = kind
	return s
}

// freeLength returns how far a bar reaches from a point along one of its two directions.
func freeLength(m *frame.Member, from, along geom.Vec) float64 {
	z := m.Place.Unapply(from).Z
	if m.Direction().Dot(along) > 0 {
		return m.Bar.Length - z
	}
	return z
}

// profileOfA sets the profiles of the two bars.
func (s *Spec) bars(a, b *frame.Member) {
	s.Profile, s.ProfileB = a.Bar.Profile, nil
	if !b.Bar.Profile.Same(a.Bar.Profile) {
		s.ProfileB = b.Bar.Profile
	}
}

// forCorner fits the corner angle: bar A of the part is the bar whose leg lies along x.
func forCorner(j *frame.Joint, base Spec) (Spec, geom.Motion, error) {
	c := *j.Corner
	s := derive(base, "angle", map[string]float64{
		"room_a": freeLength(j.A, c.At, c.LegA), "room_b": freeLength(j.B, c.At, c.LegB),
	})
	s.bars(j.A, j.B)
	// Where the bars share several slots side by side, the angle covers them all.
	across := c.LegA.Cross(c.LegB)
	lines := sharedLines(j, across)
	switch n, asked := base.Params["cells"]; {
	case asked && n != 1 && n != float64(len(lines)):
		return base, geom.Motion{}, cellsError(n, len(lines), j.A, j.B)
	case len(lines) > 1 && (!asked || n > 1):
		s.Params["cells"] = float64(len(lines))
		middle := (lines[0] + lines[len(lines)-1]) / 2
		c.At = c.At.Add(across.Scale(middle - c.At.Dot(across)))
	}
	// The narrower bar sets the width, whichever it is.
	if s.ProfileB != nil && s.ProfileB.Pitch < s.Profile.Pitch {
		s.Profile, s.ProfileB = s.ProfileB, s.Profile
		place := geom.Motion{EX: c.LegB, EY: c.LegA, EZ: c.LegB.Cross(c.LegA), T: c.At}
		s.Params["room_a"], s.Params["room_b"] = s.Params["room_b"], s.Params["room_a"]
		return s, place, nil
	}
	return s, geom.Motion{EX: c.LegA, EY: c.LegB, EZ: c.LegA.Cross(c.LegB), T: c.At}, nil
}

// mostCells is the most slots side by side that an angle covers.
const mostCells = 4

// sharedLines returns the coordinates along a direction of the slots that both bars have in a corner, rising, if they
// follow each other by one pitch; else only the first.
func sharedLines(j *frame.Joint, across geom.Vec) []float64 {
	lines := func(m *frame.Member, s geom.Side) []float64 {
		var out []float64
		for _, o := range m.Bar.Profile.SlotLines(s) {
			out = append(out, m.SidePoint(s, 0, o, 0).Dot(across))
		}
		return out
	}
	var shared []float64
	others := lines(j.B, j.Corner.SideB)
	for _, x := range lines(j.A, j.Corner.SideA) {
		if slices.ContainsFunc(others, func(y float64) bool { return math.Abs(x-y) < 1e-3 }) {
			shared = append(shared, x)
		}
	}
	slices.Sort(shared)
	for i := 1; i < len(shared); i++ {
		if math.Abs(shared[i]-shared[i-1]-j.A.Bar.Profile.Pitch) > 1e-3 || i >= mostCells {
			return shared[:1]
		}
	}
	return shared
}

// forBrace fits the foot in the wide corner between a brace and the bar it meets.
func forBrace(j *frame.Joint, base Spec) (Spec, geom.Motion, error) {
	brace, bar := j.A, j.B
	away := brace.Direction()
	if j.EndA == 1 {
		away = away.Scale(-1)
	}
	x := bar.Direction()
	if x.Dot(away) > 0 {
		x = x.Scale(-1)
	}
	angle := math.Acos(-x.Dot(away))
	if angle < 15*math.Pi/180-1e-9 || angle > 75*math.Pi/180+1e-9 {
		return base, geom.Motion{}, fight(RuleSize, "angle", "%s meets %s at %.1f°; a brace foot serves 15° to 75°", brace.Name, bar.Name, angle*180/math.Pi)
	}
	up := bar.SideNormal(j.SideB)
	side := brace.SideFacing(x)
	n := brace.SideNormal(side)
	if math.Abs(n.Dot(x.Cross(up))) > straight {
		return base, geom.Motion{}, fight(RuleProfile, "joint", "no side of %s is square to the plane in which it meets %s", brace.Name, bar.Name)
	}
	if brace.Bar.Profile.Closed[side] || bar.Bar.Profile.Closed[j.SideB] {
		return base, geom.Motion{}, fight(RuleProfile, "closed", "a closed face of %s or %s has no slot for a screw", brace.Name, bar.Name)
	}
	// The brace's lower face meets the bar's side where the axis meets it, shifted along the bar.
	at := brace.EndPoint(j.EndA)
	at = at.Add(x.Scale(brace.Bar.Profile.Across(side) / 2 / n.Dot(x)))
	s := derive(base, "brace-foot", map[string]float64{
		"angle": angle * 180 / math.Pi, "room_a": freeLength(bar, at, x), "room_b": freeLength(brace, at, away),
	})
	s.bars(bar, brace)
	return s, geom.Motion{EX: x, EY: up, EZ: x.Cross(up), T: at}, nil
}

// forPlate fits a straight plate over two bars end to end, a tee where the side's bar runs on both ways under the plate's
// arms, else an ell.
func forPlate(j *frame.Joint, base Spec) (Spec, geom.Motion, error) {
	z := j.Fasteners[0].Dir.Scale(-1)
	a, b := j.A, j.B
	face := func(m *frame.Member) float64 { return m.SidePoint(m.SideFacing(z), 0, 0, 0).Dot(z) }
	away := j.Normal.Scale(-1)
	if j.Kind == frame.EndToEnd {
		s := derive(base, "plate-straight", map[string]float64{"room": math.Min(a.Length(), b.Length())})
		s.bars(a, b)
		at := j.At.Add(z.Scale(face(a) - j.At.Dot(z)))
		lines, e := s.plateLines(a, b, z, z.Cross(away))
		if e != nil {
			return base, geom.Motion{}, e
		}
		at = onLines(at, z.Cross(away), lines)
		return s, geom.Motion{EX: away, EY: z.Cross(away), EZ: z, T: at}, nil
	}
	x := b.Direction()
	if j.Kind != frame.EndToSide || math.Abs(x.Dot(away)) > straight {
		return base, geom.Motion{}, fight(RuleKind, "joint", "no flat plate serves %s and %s, which lie side by side", a.Name, b.Name)
	}
	// The crossing of the two axes, on the outer face; where the bar that is butted shows more slots, that of those next to the other.
	at := b.Place.T
	at = at.Add(x.Scale(a.Place.T.Sub(at).Dot(x)))
	at = at.Add(z.Scale(face(a) - at.Dot(z)))
	if x.Cross(away).Dot(z) < 0 {
		x = x.Scale(-1)
	}
	p := a.Bar.Profile
	s := derive(base, "plate-tee", map[string]float64{"room": a.Length()})
	s.bars(b, a)
	lines, e := s.plateLines(a, b, z, x)
	if e != nil {
		return base, geom.Motion{}, e
	}
	at = onLines(at, x, lines)
	under := faceLines(b, z, away)
	at = onLines(at, away, under[len(under)-len(lines):])
	ahead, behind := freeLength(b, at, x), freeLength(b, at, x.Scale(-1))
	m, e := s.resolve()
	if e != nil {
		return base, geom.Motion{}, e
	}
	arm := m.plateReach()
	switch {
	case ahead >= arm && behind >= arm:
		return s, geom.Motion{EX: x, EY: away, EZ: z, T: at}, nil
	case math.Max(ahead, behind) < arm:
		return base, geom.Motion{}, fight(RuleRoom, "screws,joint", "the plate's arms are %.1f mm long; %s reaches %.1f mm one way and %.1f the other", arm, b.Name, ahead, behind)
	case math.Min(ahead, behind) < float64(len(lines))*p.Pitch/2-sideGap-geom.Coincident:
		return base, geom.Motion{}, fight(RuleRoom, "joint", "%s ends under the corner of the plate", b.Name)
	}
	s.Kind = "plate-ell"
	if ahead >= arm {
		return s, geom.Motion{EX: x, EY: away, EZ: z, T: at}, nil
	}
	// The other hand: the ell is its own mirror image, so its arms change places.
	return s, geom.Motion{EX: away, EY: x.Scale(-1), EZ: z, T: at}, nil
}
