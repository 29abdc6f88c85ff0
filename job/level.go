package job

import (
	"fmt"
	"math"

	"barwright/check"
	"barwright/frame"
	"barwright/geom"
)

// levelPlay is how far in mm what a frame stands on may lie off one level: a print's own error (common practice, no source).
const levelPlay = 0.5

// sole is what stands on the floor under a bar.
type sole struct {
	level float64
	name  string
	bar   *frame.Member
	at    geom.Vec
	block *frame.Bracket // of a pad or caster plate, nil of a foot
}

// soles lists where pads, casters and feet meet the floor, and the caster plates whose casters' height is not known.
func (j *Job) soles() (known, open []sole) {
	for _, f := range j.Frame.Feet {
		known = append(known, sole{level: j.Frame.Floor, name: "the foot under " + f.Under.Name, bar: f.Under, at: f.At})
	}
	for _, p := range j.Printed {
		if p.Result.Kind != "foot-pad" && p.Result.Kind != "caster-plate" {
			continue
		}
		for _, w := range p.wanted {
			if w.end != "bottom" {
				continue
			}
			bar := w.on[0]
			s := sole{level: w.mount.T.Z - p.Result.Wall - w.spec.Params["caster"], bar: bar, at: w.mount.T, block: blockOf(j.Frame, w.origin),
				name: fmt.Sprintf("%s %s under %s", frame.PrintedName(p.Result.Kind), p.Mark, bar.Name)}
			if p.Result.Kind == "caster-plate" && w.spec.Params["caster"] == 0 {
				open = append(open, s)
			} else {
				known = append(known, s)
			}
		}
	}
	return known, open
}

// settleFloor puts the floor where pads and casters stand, unless the file says where it is or there are feet.
func (j *Job) settleFloor() {
	known, open := j.soles()
	if j.Frame.FloorGiven || len(j.Frame.Feet) > 0 || len(known) == 0 || len(open) > 0 {
		return
	}
	for i, s := range known {
		if i == 0 || s.level < j.Frame.Floor {
			j.Frame.Floor = s.level
		}
	}
}

// levelPads finds pads and casters that do not stand in one plane with the frame's feet, or with the lowest of them.
func (j *Job) levelPads() []check.Finding {
	known, open := j.soles()
	var out []check.Finding
	floor, on := math.Inf(1), ""
	for _, s := range known {
		if s.block == nil || s.level < floor {
			floor, on = s.level, s.name
		}
		if s.block == nil {
			break // feet come first, and stand on the floor
		}
	}
	for _, s := range known {
		if d := s.level - floor; s.block != nil && math.Abs(d) > levelPlay {
			out = append(out, j.offLevel(s, d, on))
		}
	}
	if len(open) > 0 && len(known) > 0 {
		s := open[0]
		out = append(out, j.unevenFinding(s, check.Warning, fmt.Sprintf("%s carries a caster of unknown height, beside %s: whether the frame stands level can't be told", s.name, on),
			fmt.Sprintf("measure the caster and say set = { caster = … } in bracket %q", s.block.Name)))
	}
	return out
}

// offLevel writes the finding of a pad or caster over or under the floor.
func (j *Job) offLevel(s sole, d float64, on string) check.Finding {
	way := "over"
	if d < 0 {
		way = "under"
	}
	remedy := fmt.Sprintf("end %s %s mm lower", s.bar.Name, Length(d))
	switch {
	case d < 0:
		remedy = fmt.Sprintf("end %s %s mm higher", s.bar.Name, Length(-d))
	case s.block.Kind == "foot-pad":
		remedy += ", or give it a pad of its own with a wall that makes it up"
	}
	return j.unevenFinding(s, check.Error, fmt.Sprintf("%s meets the floor %s mm %s the level of %s: the frame rocks", s.name, Length(math.Abs(d)), way, on), remedy)
}

func (j *Job) unevenFinding(s sole, sev check.Severity, message, remedy string) check.Finding {
	g := check.Finding{Rule: "uneven-feet", Severity: sev, Members: []string{s.bar.Name}, At: s.at, Message: message, Remedy: remedy, Origin: s.block.Origin}
	g.Allowed = j.Frame.Allowed(g.Rule, g.Members)
	return g
}
