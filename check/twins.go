package check

import (
	"fmt"
	"math"

	"barwright/frame"
	"barwright/geom"
)

func twinTrapRule() Rule {
	return Rule{Name: "twin-trap", run: twinTraps, Explain: `twin-trap (warning for lengths, else note)

Two parts so alike that they will be mixed up at the bench:

- mirror images of each other;
- lengths within 2 mm of each other with as many holes and taps;
- the same length and the same machining, but for one hole or tap.

Remedy: make the two equal (the message says how), or tie a label to each as it leaves the saw.`}
}

// alikeLength is the difference in mm that nobody sees (common practice, no source).
const alikeLength = 2.0

// mostTwins is how many pairs of parts are compared, so that a frame of parts all alike does not take for ever.
const mostTwins = 200000

func twinTraps(m *model) []Finding {
	var out []Finding
	compared := 0
	for i, p := range m.f.Parts {
		if p.Twin != nil && m.before(p, p.Twin) {
			out = append(out, twinFinding(Note, p, p.Twin, "are mirror images of each other: neither can stand for the other",
				"make the machining symmetric so that one part serves for both, or label them"))
		}
		// Parts come by profile and falling length, unless the file gives marks of its own.
		for _, q := range m.f.Parts[i+1:] {
			if q.Bar.Profile != p.Bar.Profile || p.Bar.Length-q.Bar.Length > alikeLength {
				if len(m.f.Parts) > 400 {
					break
				}
				continue
			}
			if compared++; compared > mostTwins {
				return out
			}
			if g, ok := alike(p, q); ok {
				out = append(out, g)
			}
		}
	}
	return out
}

// before reports whether a part comes before its twin in the list.
func (m *model) before(p, twin *frame.Part) bool {
	for _, q := range m.f.Parts {
		switch q {
		case p:
			return true
		case twin:
			return false
		}
	}
	return false
}

func twinFinding(sev Severity, p, q *frame.Part, text, remedy string) Finding {
	first := q.Members[0]
	return Finding{Severity: sev, Members: names(append(append([]*frame.Member{}, p.Members...), q.Members...)...), At: first.Box.Centre(), Origin: first.Origin,
		Message: fmt.Sprintf("parts %s (%s) and %s (%s) %s", p.Mark, p.Members[0].Name, q.Mark, first.Name, text), Remedy: remedy}
}

// alike compares two parts of one profile.
func alike(p, q *frame.Part) (Finding, bool) {
	d := math.Abs(p.Bar.Length - q.Bar.Length)
	np, nq := len(p.Bar.Holes)+len(p.Bar.Taps), len(q.Bar.Holes)+len(q.Bar.Taps)
	switch {
	case d > alikeLength || p.Twin == q:
		return Finding{}, false
	case d > geom.Coincident && len(p.Bar.Holes) == len(q.Bar.Holes) && len(p.Bar.Taps) == len(q.Bar.Taps):
		return twinFinding(Warning, p, q, fmt.Sprintf("are %s and %s mm long: %s mm apart, %s mm are needed to see it", mm(p.Bar.Length), mm(q.Bar.Length), mm(d), mm(alikeLength)),
			"make both the same length, or label them"), true
	case d > geom.Coincident || np-nq != 1 && nq-np != 1:
		return Finding{}, false
	}
	more, less := p, q
	if nq > np {
		more, less = q, p
	}
	what, ok := oneMore(&more.Bar, &less.Bar)
	if !ok {
		return Finding{}, false
	}
	return twinFinding(Note, p, q, fmt.Sprintf("are both %s mm long and differ by one %s", mm(p.Bar.Length), what),
		fmt.Sprintf("give %s the %s too: then one part serves for both", less.Mark, what)), true
}

// oneMore reports whether a bar has all the machining of another in some turn, and what it has besides.
func oneMore(more, less *frame.Bar) (string, bool) {
	for _, flip := range []bool{false, true} {
		for q := range 4 {
			if q%2 != 0 && less.Profile.Cells[0] != less.Profile.Cells[1] {
				continue
			}
			turned := frame.Turn{Flip: flip, Quarters: q}.Apply(less)
			if what, ok := holds(more, &turned); ok {
				return what, true
			}
		}
	}
	return "", false
}

// holds reports whether every hole and tap of b is also one of a, and what a has besides.
func holds(a, b *frame.Bar) (string, bool) {
	left := ""
	used := make([]bool, len(b.Holes))
	for _, h := range a.Holes {
		found := false
		for i, g := range b.Holes {
			if !used[i] && alikeHoles(h, g) {
				used[i], found = true, true
				break
			}
		}
		if !found {
			if left != "" {
				return "", false
			}
			left = fmt.Sprintf("hole ⌀%s at %s mm from end 1", mm(h.Diameter), mm(h.Z))
		}
	}
	usedTaps := make([]bool, len(b.Taps))
	for _, t := range a.Taps {
		found := false
		for i, g := range b.Taps {
			if !usedTaps[i] && t.End == g.End && t.Thread == g.Thread && t.Core.Dist(g.Core) < geom.Coincident && math.Abs(t.Depth-g.Depth) < geom.Coincident {
				usedTaps[i], found = true, true
				break
			}
		}
		if !found {
			if left != "" {
				return "", false
			}
			left = fmt.Sprintf("tap %s in end %d", t.Thread, t.End+1)
		}
	}
	all := true
	for _, u := range append(used, usedTaps...) {
		all = all && u
	}
	return left, all && left != "" && a.Cuts == b.Cuts
}

// alikeHoles reports whether two holes remove the same metal.
func alikeHoles(g, h frame.Hole) bool {
	if g.Through() && h.Through() && g.Bore == 0 && h.Bore == 0 && g.Side == h.Side.Opposite() {
		h.Side, h.Offset = g.Side, -h.Offset
	}
	return g.Side == h.Side && math.Abs(g.Z-h.Z) < geom.Coincident && math.Abs(g.Offset-h.Offset) < geom.Coincident && g.Diameter == h.Diameter &&
		math.Abs(g.Depth-h.Depth) < geom.Coincident && g.Bore == h.Bore && g.BoreDepth == h.BoreDepth && g.Thread == h.Thread
}
