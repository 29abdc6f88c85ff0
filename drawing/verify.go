package drawing

import (
	"fmt"
	"math"

	"barwright/geom"
)

// Clash is something on a sheet that breaks a rule of drafting.
type Clash struct {
	Rule   string // "text-on-text", "text-on-line", "small-text", "outside", "dimension-lines", "leader-crosses"
	At     geom.Vec2
	Detail string
}

// String returns the rule, the place and the detail.
func (c Clash) String() string {
	return fmt.Sprintf("%s at (%.1f, %.1f): %s", c.Rule, c.At.X, c.At.Y, c.Detail)
}

// Limits that Verify proves, in mm.
const (
	LeastLettering = 2.5 // ISO 3098-1, and common practice for sheets that are copied
	LeastDimGap    = 7.0 // between neighbouring parallel dimension lines (DIN 406-11, common practice)
)

// Verify proves that the sheet can be read: no two texts overlap, no text lies on a line, no lettering is
// smaller than [LeastLettering], nothing leaves the border, parallel dimension
// lines keep [LeastDimGap], and leaders cross neither each other nor a dimension line. It returns
// what breaks a rule, nothing where all is well.
func (s *Sheet) Verify() []Clash {
	var out []Clash
	var texts []*Text
	var quads []quad
	var lines []segment
	for i, op := range s.Ops {
		if t, ok := op.(*Text); ok {
			texts = append(texts, t)
			quads = append(quads, quad(t.Corners()))
			continue
		}
		lines = append(lines, segments(op, i)...)
	}
	out = append(out, s.verifyTexts(texts, quads, lines)...)
	out = append(out, s.verifyInside()...)
	out = append(out, s.verifyDimensionLines()...)
	return append(out, s.verifyLeaders()...)
}

func (s *Sheet) verifyTexts(texts []*Text, quads []quad, lines []segment) []Clash {
	var out []Clash
	type box struct{ low, high geom.Vec2 }
	boxes := make([]box, len(quads))
	for i, q := range quads {
		boxes[i].low, boxes[i].high = boundsOf(q[:])
	}
	for i, t := range texts {
		if t.Height < LeastLettering {
			out = append(out, Clash{"small-text", t.At, fmt.Sprintf("%q is %.2f high", t.String, t.Height)})
		}
		for j := range i {
			a, b := boxes[i], boxes[j]
			if a.low.X > b.high.X || b.low.X > a.high.X || a.low.Y > b.high.Y || b.low.Y > a.high.Y {
				continue
			}
			if quads[i].overlaps(quads[j]) {
				out = append(out, Clash{"text-on-text", t.At, fmt.Sprintf("%q and %q", t.String, texts[j].String)})
			}
		}
		b := boxes[i]
		for _, l := range lines {
			if math.Max(l.a.X, l.b.X) < b.low.X || math.Min(l.a.X, l.b.X) > b.high.X ||
				math.Max(l.a.Y, l.b.Y) < b.low.Y || math.Min(l.a.Y, l.b.Y) > b.high.Y {
				continue
			}
			if quads[i].hit(l.a, l.b) {
				out = append(out, Clash{"text-on-line", t.At, fmt.Sprintf("%q on a line of %s", t.String, l.role)})
				break
			}
		}
	}
	return out
}

// verifyInside finds what leaves the drawing space, and grid texts that leave the sheet.
func (s *Sheet) verifyInside() []Clash {
	low, high := geom.Vec2{X: marginLeft, Y: margin}, geom.Vec2{X: s.Size.Width - margin, Y: s.Size.Height - margin}
	const slack = 1e-6
	var out []Clash
	for _, op := range s.Ops {
		a, b := low, high
		role := roleOf(op)
		if role == Grid || role == Border {
			a, b = geom.Vec2{}, geom.Vec2{X: s.Size.Width, Y: s.Size.Height}
		}
		l, h := op.Bounds()
		if l.X < a.X-slack || l.Y < a.Y-slack || h.X > b.X+slack || h.Y > b.Y+slack {
			what := role.String()
			if t, ok := op.(*Text); ok {
				what = fmt.Sprintf("%q", t.String)
			}
			out = append(out, Clash{"outside", l, what})
		}
	}
	return out
}

func roleOf(op Op) Role {
	switch op := op.(type) {
	case *Stroke:
		return op.Role
	case *Arc:
		return op.Role
	case *Text:
		return op.Role
	}
	return Note
}

// verifyDimensionLines finds parallel dimension lines that run side by side too closely.
func (s *Sheet) verifyDimensionLines() []Clash {
	var lines [][2]geom.Vec2
	for _, op := range s.Ops {
		if st, ok := op.(*Stroke); ok && st.Role == Dimension && len(st.Points) == 2 && !st.Filled {
			lines = append(lines, [2]geom.Vec2{st.Points[0], st.Points[1]})
		}
	}
	var out []Clash
	for i, a := range lines {
		d := a[1].Sub(a[0])
		d = d.Scale(1 / d.Len())
		for _, b := range lines[:i] {
			if math.Abs(d.Cross(b[1].Sub(b[0]))) > 1e-6*b[1].Dist(b[0]) {
				continue
			}
			gap := math.Abs(d.Cross(b[0].Sub(a[0])))
			if gap < 1e-6 || gap >= LeastDimGap-1e-6 || apart(d, a[:], b[:]) {
				continue
			}
			out = append(out, Clash{"dimension-lines", a[0], fmt.Sprintf("%.2f apart", gap)})
		}
	}
	return out
}

// verifyLeaders finds leaders that cross another leader, its arrow or a dimension line, and leaders that end on another.
func (s *Sheet) verifyLeaders() []Clash {
	var watched []segment
	var heads [][]geom.Vec2
	for i, op := range s.Ops {
		st, ok := op.(*Stroke)
		switch {
		case ok && st.Filled && (st.Role == Leader || st.Role == Dimension):
			heads = append(heads, st.Points)
		case roleOf(op) == Leader && ok, roleOf(op) == Dimension:
			watched = append(watched, segments(op, i)...)
		}
	}
	var out []Clash
	for i, a := range watched {
		for _, b := range watched[:i] {
			if a.op != b.op && (a.role == Leader || b.role == Leader) && (cross(a.a, a.b, b.a, b.b) || a.role == b.role && overlie(a, b)) {
				out = append(out, Clash{"leader-crosses", a.a, b.role.String()})
			}
		}
		if a.role != Leader {
			continue
		}
		for _, h := range heads {
			// The leader's own arrow has its tip where the leader begins.
			if h[0].Dist(a.a) > 1e-6 && h[0].Dist(a.b) > 1e-6 && (nearSegment(h[0], a.a, a.b, tipGap) || quad(corners(h)).hit(a.a, a.b)) {
				out = append(out, Clash{"leader-crosses", h[0], "an arrow"})
			}
		}
	}
	return out
}

// tipGap is how far a leader keeps from the tip of another's arrow, mm.
const tipGap = 0.6

// corners returns a triangle as a quadrilateral with two corners in one.
func corners(p []geom.Vec2) [4]geom.Vec2 {
	return [4]geom.Vec2{p[0], p[1], p[2], p[len(p)-1]}
}

// overlie reports whether two segments run on one another for more than a point.
func overlie(a, b segment) bool {
	d := a.b.Sub(a.a)
	if math.Abs(d.Cross(b.a.Sub(a.a))) > 1e-6*d.Len() || math.Abs(d.Cross(b.b.Sub(a.a))) > 1e-6*d.Len() {
		return false
	}
	return !apart(d.Scale(1/d.Len()), []geom.Vec2{a.a, a.b}, []geom.Vec2{b.a, b.b})
}
