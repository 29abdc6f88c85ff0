package assembly

import (
	"fmt"
	"math"

	"barwright/frame"
	"barwright/geom"
)

// Diagonal is two diagonals of a rectangle that should read the same.
type Diagonal struct {
	Name string
	Over string      // between which points the tape lies
	A, B float64     // the sides, mm
	Read float64     // what the tape should read, mm
	Ends [4]geom.Vec // the four points, round the rectangle
	set  set
}

// rectanglesOf returns what can be measured of a frame: rings over their outside corners, rings within posts over their inside
// corners, and posts over the outside corners of their section, where the tape cuts the rounding short.
func (m *model) rectanglesOf() []Diagonal {
	var out []Diagonal
	for _, s := range m.f.Sets {
		if len(s.Members) != 4 || s.Kind == frame.Row {
			continue
		}
		plane := "xy"
		if s.Plane != "" {
			plane = s.Plane
		}
		u, v := geom.Axis(plane[0]-'x'), geom.Axis(plane[1]-'x')
		n := geom.Axis(3 - u - v)
		box := s.Box()
		d := Diagonal{Name: s.Name, set: newSet(m.n)}
		for _, b := range s.Members {
			d.set.add(m.index[b])
		}
		round := 0.0
		switch {
		case s.Kind == frame.Posts:
			d.Over, round = "outside corners of the posts, at one height", s.Members[0].Profile.CornerRadius
			box.High.Z = box.Low.Z + 50
			top := box.Low
			for _, b := range s.Members {
				top.Z = max(top.Z, b.Box.Low.Z)
			}
			box.Low.Z, box.High.Z = top.Z+50, top.Z+50
		case s.Within != nil && s.Corners == "within":
			in, ok := insideOf(s, u, v, box)
			if !ok {
				continue
			}
			box = in
			d.Over = "inside corners, where the rails meet the posts"
			for _, b := range s.Within.Members {
				d.set.add(m.index[b])
			}
		default:
			d.Over = "outside corners of the rails"
		}
		size := box.Size()
		d.A, d.B = size.Along(u), size.Along(v)
		if d.A <= 2*round || d.B <= 2*round {
			continue
		}
		d.Read = roundedDiagonal(d.A, d.B, round)
		mid := box.High.Along(n)
		for k, c := range [4][2]float64{{0, 0}, {1, 0}, {1, 1}, {0, 1}} {
			p := geom.Vec{}.With(n, mid).With(u, box.Low.Along(u)+c[0]*d.A)
			d.Ends[k] = p.With(v, box.Low.Along(v)+c[1]*d.B)
		}
		out = append(out, d)
	}
	return out
}

// roundedDiagonal returns the longest distance over two opposite corners of a rectangle whose corners are rounded: that of the
// roundings' centres and both radii.
func roundedDiagonal(a, b, r float64) float64 {
	return math.Hypot(a-2*r, b-2*r) + 2*r
}

// insideOf returns the box inside the four rails of a ring, where the rails' inner faces lie flush with the posts' or nearer to the middle.
func insideOf(s *frame.Set, u, v geom.Axis, box geom.Box) (geom.Box, bool) {
	mid := box.Centre()
	in := box
	for _, b := range s.Members {
		across := u
		if b.Axis == u {
			across = v
		}
		if b.Box.Centre().Along(across) < mid.Along(across) {
			in.Low = in.Low.With(across, b.Box.High.Along(across))
		} else {
			in.High = in.High.With(across, b.Box.Low.Along(across))
		}
	}
	for _, p := range s.Within.Members {
		for _, ax := range []geom.Axis{u, v} {
			if p.Box.High.Along(ax) > in.Low.Along(ax)+0.05 && p.Box.Low.Along(ax) < in.High.Along(ax)-0.05 {
				return in, false // a post stands into the inside: its corner is no corner of the rectangle
			}
		}
	}
	size := in.Size()
	return in, size.Along(u) > 0 && size.Along(v) > 0
}

// String returns what to measure in one sentence.
func (d Diagonal) String() string {
	return fmt.Sprintf("%s, %s × %s, over the %s: both diagonals read %s", d.Name, show(d.A), show(d.B), d.Over, show(d.Read))
}

// squareWithin is how far in mm two diagonals may differ: a thousandth of their length, at least half a millimetre (common
// practice, no source).
func squareWithin(read float64) float64 { return math.Max(0.5, math.Round(read/500)/2) }
