package check

import (
	"fmt"
	"math"

	"barwright/frame"
	"barwright/geom"
	"barwright/standard"
)

func footClashRule() Rule {
	return Rule{Name: "foot-clash", run: feetClash, Explain: `foot-clash (error)

A foot is in a bar's way, or in the way of another foot, a bracket, a plate, a panel or a printed part. A foot is taken as a pad of 4.4 thread
diameters, a stud, a lock nut (ISO 4032) and, under a rail, a slot plate as wide as a pitch; pads differ, so
measure yours (common practice, no source).

Remedy: move the foot along its rail, or the bar out of its way.`}
}

func feetClash(m *model) []Finding {
	var out []Finding
	for i := range m.bodies {
		b := &m.bodies[i]
		if b.kind != "foot" {
			continue
		}
		for _, k := range m.tree.near(b.box) {
			bar := m.f.Members[k]
			if bar == b.owners[0] {
				continue
			}
			v, at := bodiesShare(b, &body{prisms: m.bars[k : k+1]})
			if v < leastOverlap {
				continue
			}
			out = append(out, Finding{Severity: Error, Members: names(b.owners[0], bar), At: at, Origin: b.origin,
				Message: fmt.Sprintf("%s and %s share %.0f mm³; %s", b.name, bar.Name, v, footRoom(b, bar)), Remedy: "move the foot along its rail, or the bar out of its way"})
		}
		for _, k := range m.bodyTree.near(b.box) {
			o := &m.bodies[k]
			if k == i || o.kind == "foot" && k < i || len(out) > mostFindings {
				continue
			}
			if v, at := bodiesShare(b, o); v >= leastOverlap {
				out = append(out, Finding{Severity: Error, Members: names(append([]*frame.Member{b.owners[0]}, others(o.owners, b.owners[0])...)...), At: at, Origin: b.origin,
					Message: fmt.Sprintf("%s and %s share %.0f mm³; a foot needs a clear circle of %s mm", b.name, o.name, v, mm(2*padRadius(b))), Remedy: "move one of them along the bar"})
			}
		}
	}
	return out
}

// padRadius returns the radius of a foot's pad.
func padRadius(b *body) float64 {
	r := 0.0
	for i := range b.prisms {
		if b.prisms[i].half.X > r && b.prisms[i].ends[0] == 0 {
			r = b.prisms[i].half.X
		}
	}
	return r
}

// footRoom says how far a bar reaches into the circle of a foot.
func footRoom(b *body, bar *frame.Member) string {
	r, at := padRadius(b), b.box.Centre()
	dx := math.Max(0, math.Max(bar.Box.Low.X-at.X, at.X-bar.Box.High.X))
	dy := math.Max(0, math.Max(bar.Box.Low.Y-at.Y, at.Y-bar.Box.High.Y))
	d := math.Hypot(dx, dy)
	return fmt.Sprintf("the bar passes %s mm from the foot's axis, the pad needs %s mm, %s more", mm(d), mm(r), mm(math.Max(0, r-d)))
}

func unevenFeetRule() Rule {
	return Rule{Name: "uneven-feet", run: feetUneven, Explain: `uneven-feet (error, warning)

Feet that don't come to stand in one plane. A foot stands on the floor, so its height follows from the place of its bar:
where the file gives another height, the frame rocks (warning up to 10 mm, which the stud's thread takes up but
is then used up; error beyond). A foot that is too low to have 10 mm of adjustment left above its pad and lock
nut (warning). Feet in one line, or two feet only, hold nothing upright (error). Printed pads and casters that meet the
floor more than half a millimetre off the level of the feet, or of the lowest pad (error); a caster whose height is not known
beside pads or feet (warning).

Pad and adjustment are common practice, no source; the nut is ISO 4032.

Remedy: leave height out, or move the bar to the height that the foot has; give a pad a wall that makes the difference up.`}
}

// footAdjust is the adjustment in mm that a stud keeps free (common practice, no source).
const footAdjust = 10.0

func feetUneven(m *model) []Finding {
	var out []Finding
	for _, t := range m.f.Feet {
		if t.Given > 0 {
			if d := math.Abs(t.Given - t.Height); d > geom.Coincident {
				out = append(out, givenHeight(t, d))
				continue
			}
		}
		if g, ok := lowFoot(t); ok {
			out = append(out, g)
		}
	}
	return append(out, m.feetInLine()...)
}

func givenHeight(t *frame.Foot, d float64) Finding {
	g := Finding{Severity: Warning, Members: names(t.Under), At: t.At, Origin: t.Origin,
		Message: fmt.Sprintf("the foot under %s is given as %s mm high; from the floor to the bar are %s mm, %s mm off", t.Under.Name, mm(t.Given), mm(t.Height), mm(d)),
		Remedy:  fmt.Sprintf("write height = %s or leave it out, or move the bar", mm(t.Height))}
	if d > footAdjust {
		g.Severity = Error
		g.Message += fmt.Sprintf("; a stud takes up %s mm", mm(footAdjust))
	}
	return g
}

// lowFoot finds a foot without room for its adjustment.
func lowFoot(t *frame.Foot) (Finding, bool) {
	row, ok := standard.ThreadByName(t.Thread)
	nut, ok2 := standard.HexNut(t.Thread)
	if !ok || !ok2 {
		return Finding{}, false
	}
	need := footPadHigh*row.Nominal + nut.Height + footAdjust
	if t.Height >= need-geom.Coincident {
		return Finding{}, false
	}
	return Finding{Severity: Warning, Members: names(t.Under), At: t.At, Origin: t.Origin,
		Message: fmt.Sprintf("the foot under %s is %s mm high; pad, lock nut and %s mm of adjustment need %s mm, %s more", t.Under.Name, mm(t.Height), mm(footAdjust), mm(need), mm(need-t.Height)),
		Remedy:  fmt.Sprintf("raise the bar by %s mm, or take a smaller thread", mm(math.Ceil(need-t.Height)))}, true
}

// feetInLine finds feet that hold nothing upright.
func (m *model) feetInLine() []Finding {
	if len(m.f.Feet) == 0 || len(m.f.Supports) > 0 {
		return nil
	}
	var at []geom.Vec2
	var under []*frame.Member
	for _, t := range m.f.Feet {
		at = append(at, geom.Vec2{X: t.At.X, Y: t.At.Y})
		if len(under) == 0 || under[len(under)-1] != t.Under {
			under = append(under, t.Under)
		}
	}
	hull := hull2(at)
	wide := 0.0
	if len(hull) > 2 {
		wide = narrowest(hull)
	}
	if wide > 1 {
		return nil
	}
	return []Finding{{Severity: Error, Members: names(under...), At: m.f.Feet[0].At, Origin: m.f.Feet[0].Origin,
		Message: fmt.Sprintf("%d of %d feet stand in one line, within %s mm: 3 feet that are not in line are needed", len(at), len(at), mm(wide)),
		Remedy:  "add a foot beside the line"}}
}
