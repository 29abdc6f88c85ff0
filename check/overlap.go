package check

import (
	"fmt"
	"math"
	"sort"

	"barwright/frame"
	"barwright/geom"
)

// sectionTolerance is the chord tolerance in mm at which sections are compared.
const sectionTolerance = 0.05

// leastOverlap is the volume in mm³ under which two bars only touch.
const leastOverlap = 0.5

func overlapRule() Rule {
	return Rule{Name: "overlap", run: overlaps, Explain: `overlap (error)

Two bars share space. The volume is that of their true sections, slots left out, so a bar
that stands in another's slot is no overlap.

Remedy: give one of the two a face of the other as its own: right = post.left.`}
}

func overlaps(f *frame.Frame) []Finding {
	var out []Finding
	neighbours(f.Members, 0, func(a, b *frame.Member) {
		if a.Brace || b.Brace || !shrunk(a).Overlaps(shrunk(b)) {
			return
		}
		v := sharedVolume(a, b)
		if v < leastOverlap {
			return
		}
		common := a.Box.Intersect(b.Box)
		s := common.Size()
		out = append(out, Finding{Severity: Error, Members: []string{a.Name, b.Name}, At: common.Centre(), Origin: b.Origin,
			Message: fmt.Sprintf("%s and %s share %.0f mm³ within %.1f × %.1f × %.1f mm", a.Name, b.Name, v, s.X, s.Y, s.Z),
			Remedy:  fmt.Sprintf("let one end at a face of the other: %s", faceHint(a, b, common))})
	})
	return out
}

// faceHint writes an attribute that would part two members along the axis on which they overlap least.
func faceHint(a, b *frame.Member, common geom.Box) string {
	size := common.Size()
	axis := geom.X
	for _, ax := range []geom.Axis{geom.Y, geom.Z} {
		if size.Along(ax) < size.Along(axis) {
			axis = ax
		}
	}
	names := [3][2]string{{"left", "right"}, {"front", "back"}, {"bottom", "top"}}[axis]
	if a.Box.Centre().Along(axis) < b.Box.Centre().Along(axis) {
		return fmt.Sprintf("%s of %s = %s.%s", names[0], b.Name, a.Name, names[1])
	}
	return fmt.Sprintf("%s of %s = %s.%s", names[1], b.Name, a.Name, names[0])
}

// sharedVolume returns the volume in mm³ common to the unmachined bars of two members square to the axes.
func sharedVolume(a, b *frame.Member) float64 {
	if a.Axis == b.Axis {
		return sharedParallel(a, b)
	}
	// The axis square to both bars: at each place along it, each section is a set of
	// intervals along the other bar's axis, and the common piece is their product.
	third := geom.Axis(3 - int(a.Axis) - int(b.Axis))
	common := a.Box.Intersect(b.Box)
	lo, hi := common.Low.Along(third), common.High.Along(third)
	la, lb := sectionLines(a, third, b.Axis), sectionLines(b, third, a.Axis)
	cuts := []float64{lo, hi}
	for _, l := range append(append([]sectionLine{}, la...), lb...) {
		for _, v := range []float64{l.at1, l.at2} {
			if v > lo && v < hi {
				cuts = append(cuts, v)
			}
		}
	}
	sort.Float64s(cuts)
	sum := 0.0
	for i := 0; i+1 < len(cuts); i++ {
		// Between two corners each length is linear, so that Simpson's rule is exact for
		// their product but where an interval is clipped by the other bar's end.
		h := cuts[i+1] - cuts[i]
		if h < 1e-9 {
			continue
		}
		at := func(w float64) float64 {
			v := cuts[i] + w*h
			return covered(la, v, common.Low.Along(b.Axis), common.High.Along(b.Axis)) *
				covered(lb, v, common.Low.Along(a.Axis), common.High.Along(a.Axis))
		}
		sum += h / 6 * (at(1e-6) + 4*at(0.5) + at(1-1e-6))
	}
	return sum
}

// sectionLine is one edge of a bar's section in the frame: from (at1, v1) to (at2, v2), where
// at runs along the slicing axis.
type sectionLine struct{ at1, v1, at2, v2 float64 }

// sectionLines returns the edges of a member's section, as coordinates along a slicing axis and another.
func sectionLines(m *frame.Member, slice, other geom.Axis) []sectionLine {
	var out []sectionLine
	for _, poly := range m.Bar.Profile.Region().Polygons(sectionTolerance) {
		prev := m.Place.Apply(geom.Vec{X: poly[len(poly)-1].X, Y: poly[len(poly)-1].Y})
		for _, q := range poly {
			p := m.Place.Apply(geom.Vec{X: q.X, Y: q.Y})
			out = append(out, sectionLine{prev.Along(slice), prev.Along(other), p.Along(slice), p.Along(other)})
			prev = p
		}
	}
	return out
}

// covered returns how much of [lo, hi] the section covers where it is cut at a place.
func covered(lines []sectionLine, at, lo, hi float64) float64 {
	return commonLength(intervals(lines, at), []float64{lo, hi})
}

// sharedParallel returns the volume common to two parallel bars: the common area of their sections,
// cut in thin slices, times the common length.
func sharedParallel(a, b *frame.Member) float64 {
	u, v := a.Axis.Others()
	common := a.Box.Intersect(b.Box)
	lo, hi := common.Low.Along(u), common.High.Along(u)
	la, lb := sectionLines(a, u, v), sectionLines(b, u, v)
	const slices = 400
	area := 0.0
	for i := range slices {
		at := lo + (hi-lo)*(float64(i)+0.5)/slices
		area += commonLength(intervals(la, at), intervals(lb, at)) * (hi - lo) / slices
	}
	return area * common.Size().Along(a.Axis)
}

// intervals returns the sorted ends of the pieces of a section cut at a place.
func intervals(lines []sectionLine, at float64) []float64 {
	var cross []float64
	for _, l := range lines {
		if (l.at1 < at) != (l.at2 < at) {
			cross = append(cross, l.v1+(l.v2-l.v1)*(at-l.at1)/(l.at2-l.at1))
		}
	}
	sort.Float64s(cross)
	return cross
}

// commonLength returns the length common to two sets of intervals.
func commonLength(a, b []float64) float64 {
	sum := 0.0
	for i := 0; i+1 < len(a); i += 2 {
		for j := 0; j+1 < len(b); j += 2 {
			sum += math.Max(0, math.Min(a[i+1], b[j+1])-math.Max(a[i], b[j]))
		}
	}
	return sum
}
