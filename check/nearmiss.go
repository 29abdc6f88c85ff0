package check

import (
	"fmt"
	"math"

	"barwright/frame"
	"barwright/geom"
)

// nearMiss is the gap or misfit in mm under which two bars were surely meant to meet or to lie flush.
const nearMiss = 0.5

func nearMissRule() Rule {
	return Rule{Name: "near-miss", run: nearMisses, Explain: `near-miss (warning)

Two bars lie closer than 0.5 mm and do not touch; or two bars that meet are out of line with each other by less
than 0.5 mm on one of their outer faces. They were meant to, and a formula is a hair off.

Remedy: give one of them a face of the other instead of a number of its own.`}
}

func nearMisses(m *model) []Finding {
	out := m.gaps()
	for _, c := range m.f.Contacts {
		if c.A.Brace || c.B.Brace || c.Apart {
			continue
		}
		if g, ok := misfit(c); ok {
			out = append(out, g)
		}
	}
	return out
}

var ways = [3]string{"left to right", "front to back", "up"}

// gaps finds bars that nearly touch.
func (m *model) gaps() []Finding {
	var out []Finding
	m.tree.pairs(nearMiss, func(i, j int) bool {
		a, b := m.f.Members[i], m.f.Members[j]
		if a.Brace || b.Brace || moving(a) != moving(b) {
			return true
		}
		size := a.Box.Intersect(b.Box).Size()
		gap, axis, deep := 0.0, geom.X, 0
		for _, ax := range []geom.Axis{geom.X, geom.Y, geom.Z} {
			switch s := size.Along(ax); {
			case s < -geom.Coincident:
				gap, axis = math.Max(gap, -s), ax
			case s > geom.Coincident:
				deep++
			}
		}
		if gap == 0 || deep != 2 || gap > nearMiss {
			return true
		}
		out = append(out, Finding{Severity: Warning, Members: names(a, b), At: a.Box.Intersect(b.Box).Centre(), Origin: b.Origin,
			Message: fmt.Sprintf("%s and %s lie %.3f mm apart (%s) and do not touch", a.Name, b.Name, gap, ways[axis]),
			Remedy:  fmt.Sprintf("write a face of %s instead of a number of its own", a.Name)})
		return len(out) <= mostFindings
	})
	return out
}

// misfit finds outer faces of two bars in contact that are nearly flush.
func misfit(c *frame.Contact) (Finding, bool) {
	for _, ax := range []geom.Axis{geom.X, geom.Y, geom.Z} {
		if math.Abs(c.Normal.Along(ax)) > 0.5 {
			continue
		}
		for high, faces := range [2][2]float64{{c.A.Box.Low.Along(ax), c.B.Box.Low.Along(ax)}, {c.A.Box.High.Along(ax), c.B.Box.High.Along(ax)}} {
			d := math.Abs(faces[0] - faces[1])
			if d <= geom.Coincident || d >= nearMiss {
				continue
			}
			face := [3][2]string{{"left", "right"}, {"front", "back"}, {"bottom", "top"}}[ax][high]
			return Finding{Severity: Warning, Members: names(c.A, c.B), At: c.Patch.Centre(), Origin: c.A.Origin,
				Message: fmt.Sprintf("%s and %s meet, but their %s faces are %.3f mm out of line", c.A.Name, c.B.Name, face, d),
				Remedy:  fmt.Sprintf("write %s = %s.%s", face, c.B.Name, face)}, true
		}
	}
	return Finding{}, false
}
