package bracket

import (
	"math"

	"barwright/frame"
	"barwright/geom"
)

// ForShared returns what to build for a part that holds three bars of a frame, and the motion from the part's mounted coordinates to
// the frame. Where the bar under a plate ends at the crossing, a tee lies there, its arms over the two bars that butt. The rest of
// base is kept, and its parameters win where it names the same kind. It returns an *[Error] where a bar is too short.
func ForShared(sh *frame.Shared, base Spec) (Spec, geom.Motion, error) {
	s := derive(base, sh.Kind, nil)
	s.Profile, s.ProfileB = sh.Bars[0].Bar.Profile, nil
	if sh.Kind != "plate-cross" {
		return s, sh.Mount, nil
	}
	through, first, second := sh.Bars[0], sh.Bars[1], sh.Bars[2]
	s = derive(base, sh.Kind, map[string]float64{"room": math.Min(first.Length(), second.Length())})
	s.Profile, s.ProfileB = through.Bar.Profile, nil
	lines, e := s.plateLines(first, through, sh.Mount.EZ, sh.Mount.EX)
	if e != nil {
		return base, geom.Motion{}, e
	}
	if n := len(through.Bar.Profile.SlotLines(through.SideFacing(sh.Mount.EZ))); n != len(lines) {
		return base, geom.Motion{}, fight(RuleProfile, "joint", "%s shows %d slots side by side, %s %d: a cross needs as many on all bars", through.Name, n, first.Name, len(lines))
	}
	m, e := s.resolve()
	if e != nil {
		return base, geom.Motion{}, e
	}
	at, x, arm := sh.Mount.T, sh.Mount.EX, m.plateReach()
	ahead, behind := freeLength(through, at, x), freeLength(through, at, x.Scale(-1))
	switch {
	case ahead >= arm && behind >= arm:
		return s, sh.Mount, nil
	case math.Max(ahead, behind) < arm:
		return base, geom.Motion{}, fight(RuleRoom, "screws,joint", "the plate's arms are %.1f mm long; %s reaches %.1f mm one way and %.1f the other", arm, through.Name, ahead, behind)
	case math.Min(ahead, behind) < float64(len(lines))*through.Bar.Profile.Pitch/2-sideGap-geom.Coincident:
		return base, geom.Motion{}, fight(RuleRoom, "joint", "%s ends under the corner of the plate", through.Name)
	}
	s.Kind = "plate-tee"
	y := x
	if ahead < behind {
		y = x.Scale(-1)
	}
	s.Params["room"] = math.Min(s.Params["room"], math.Max(ahead, behind))
	return s, geom.Motion{EX: y.Cross(sh.Mount.EZ), EY: y, EZ: sh.Mount.EZ, T: at}, nil
}
