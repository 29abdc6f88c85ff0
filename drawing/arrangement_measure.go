package drawing

import (
	"math"
	"slices"
	"strings"

	"barwright/frame"
	"barwright/geom"
)

// rectangle is four corners of a frame that should be square: what one measures over two of them.
type rectangle struct {
	name, over string
	low, high  float64 // heights of its lower and upper face, mm
	a, b       float64 // sides, mm
	short      float64 // how much shorter the diagonal is than that of sharp corners; longer where below zero
}

// diagonal returns what the tape should read.
func (r rectangle) diagonal() float64 { return math.Hypot(r.a, r.b) - r.short }

// rounding returns what two rounded edges of a post take off a diagonal over them: a corner of radius r lies r(√2 − 1) inside
// the sharp one.
func rounding(posts *frame.Set) float64 {
	return 2 * posts.Members[0].Profile.CornerRadius * (math.Sqrt2 - 1)
}

// rectangles returns the rectangles of the frame's sets that can be measured: posts over their outside edges, rings of their
// own over the outside corners, which are the bars' sharp cut ends, and inside, and rings within posts
// between the inside edges of the posts.
func rectangles(f *frame.Frame) []rectangle {
	var out []rectangle
	for _, s := range f.Sets {
		if len(s.Members) != 4 {
			continue
		}
		box := s.Box()
		size := box.Size()
		r := rectangle{name: s.Name, low: box.Low.Z - f.Floor, high: box.High.Z - f.Floor}
		switch {
		case s.Kind == frame.Posts:
			r.over, r.a, r.b, r.short = "posts, outside edges", size.X, size.Y, rounding(s)
			out = append(out, r)
		case s.Kind == frame.Ring && s.Corners == "within" && s.Within != nil && s.Plane != "xz" && s.Plane != "yz":
			r.over, r.a, r.b, r.short = "inside edges of the posts", s.Members[0].Box.Size().X, s.Members[2].Box.Size().Y, -rounding(s.Within)
			out = append(out, r)
		case s.Kind == frame.Ring && s.Corners != "within" && s.Corners != "":
			a, b := planeAxes(s.Plane)
			r.over, r.a, r.b = "rails, outside corners", size.Along(a), size.Along(b)
			in := r
			in.over = "rails, inside corners"
			in.a = s.Members[3].Box.Low.Along(a) - s.Members[2].Box.High.Along(a)
			in.b = s.Members[1].Box.Low.Along(b) - s.Members[0].Box.High.Along(b)
			out = append(out, r, in)
		}
	}
	return out
}

// planeAxes returns the axes of a ring's plane.
func planeAxes(plane string) (a, b geom.Axis) {
	switch plane {
	case "xz":
		return geom.X, geom.Z
	case "yz":
		return geom.Y, geom.Z
	}
	return geom.X, geom.Y
}

// measureList returns the measuring table: both diagonals of each rectangle should read the same. Heights are
// over the floor.
func measureList(f *frame.Frame, u units) list {
	l := list{title: "Measuring table (" + u.name() + "): both diagonals equal", columns: []listColumn{
		{"Set", 18, Left}, {"Over floor", 20, Left}, {"Sides", 25, Left}, {"Diagonals", 21, Right}, {"Measured over", 42, Left}}}
	for _, r := range rectangles(f) {
		l.rows = append(l.rows, []string{r.name, u.place(r.low) + ", " + u.place(r.high), u.place(r.a) + " × " + u.place(r.b), u.place(r.diagonal()), r.over})
	}
	return l
}

// braceList returns where the ends of braces lie on the bars that they meet, from the low end of each.
func braceList(f *frame.Frame, u units) list {
	l := list{title: "Braces (" + u.name() + " from the left, front or lower end)", columns: []listColumn{
		{"Brace", 26, Left}, {"Item", 14, Centre}, {"From", 18, Right}, {"To", 18, Right}, {"On", 50, Left}}}
	for _, c := range f.Contacts {
		brace, on := c.A, c.B
		if on.Brace {
			brace, on = on, brace
		}
		if !brace.Brace || on.Brace {
			continue
		}
		from := on.Box.Low.Along(on.Axis)
		row := []string{brace.Name, "", u.place(c.Patch.Low.Along(on.Axis) - from), u.place(c.Patch.High.Along(on.Axis) - from), on.Name}
		if brace.Part != nil {
			row[1] = brace.Part.Mark
		}
		l.rows = append(l.rows, row)
	}
	slices.SortStableFunc(l.rows, func(a, b []string) int { return strings.Compare(a[0], b[0]) })
	return l
}
