package bracket

import (
	"slices"

	"barwright/frame"
	"barwright/geom"
)

// faceLines returns the coordinates along a direction of the slots in the face of a bar that looks along z, rising.
func faceLines(m *frame.Member, z, along geom.Vec) []float64 {
	side := m.SideFacing(z)
	var out []float64
	for _, o := range m.Bar.Profile.SlotLines(side) {
		out = append(out, m.SidePoint(side, 0, o, 0).Dot(along))
	}
	slices.Sort(out)
	return out
}

// onLines shifts a point along a direction to the middle of slots side by side.
func onLines(at, along geom.Vec, lines []float64) geom.Vec {
	return at.Add(along.Scale((lines[0]+lines[len(lines)-1])/2 - at.Dot(along)))
}

// plateLines returns the slots of bar a over which a flat plate on the faces that look along z lies, by their coordinates across the
// bar, and makes the plate cover them all: an arm as wide as its bar. The other bar must show as many at least.
func (s *Spec) plateLines(a, b *frame.Member, z, across geom.Vec) ([]float64, *Error) {
	lines := faceLines(a, z, across)
	under := len(b.Bar.Profile.SlotLines(b.SideFacing(z)))
	n, asked := s.Params["cells"]
	switch {
	case len(lines) == 0 || under == 0:
		return nil, fight(RuleProfile, "closed", "the face of %s or %s under the plate has no slot", a.Name, b.Name)
	case asked && n != float64(len(lines)):
		return nil, cellsError(n, len(lines), a, b)
	case len(lines) > mostCells:
		return nil, fight(RuleProfile, "cells", "%s shows %d slots side by side; a plate covers %d at most", a.Name, len(lines), mostCells)
	case under < len(lines):
		return nil, fight(RuleProfile, "joint", "%s shows %d slots side by side, %s only %d: no plate serves both; an angle does", a.Name, len(lines), b.Name, under)
	}
	s.Params["cells"] = float64(len(lines))
	if _, asked := s.Params["screws"]; !asked && len(lines) > 1 {
		s.Params["screws"] = 1 // in each slot: an arm has two or more
	}
	return lines, nil
}

// cellsError says that a part is asked to cover other slots than the bars show.
func cellsError(n float64, have int, a, b *frame.Member) *Error {
	slots := "one slot"
	if have != 1 {
		slots = countOf(have) + " slots side by side"
	}
	return fight(RuleParameter, "cells", "cells is %g, but %s and %s share %s", n, a.Name, b.Name, slots)
}

// countOf writes a small number in words.
func countOf(n int) string {
	if words := []string{"no", "one", "two", "three", "four"}; n < len(words) {
		return words[n]
	}
	return "more"
}
