package job

import (
	"fmt"
	"strings"

	"barwright/frame"
)

// Words returns the machining of a bar in words, one phrase each, for lists:
// "M8 × 22 in end 1", "⌀7 through at 825 from end 1, face 2".
func Words(b *frame.Bar) []string {
	var out []string
	for end := range b.Cuts {
		if !b.Cuts[end].Square() {
			angle, face := MitreAngle(b.Cuts[end], end)
			out = append(out, fmt.Sprintf("end %d mitred %s°, long point on face %d", end+1, Length(angle), face))
		}
	}
	for _, t := range b.Taps {
		s := fmt.Sprintf("%s × %s in end %d", t.Thread, Length(t.Depth), t.End+1)
		if len(b.Profile.Cores()) > 1 {
			s += fmt.Sprintf(", core at %s toward face 1 and %s toward face 2", Length(t.Core.X), Length(t.Core.Y))
		}
		out = append(out, s)
	}
	for _, h := range b.Holes {
		out = append(out, holeWords(h))
	}
	return out
}

func holeWords(h frame.Hole) string {
	s := "⌀" + Length(h.Diameter)
	if h.Thread != "" {
		s = h.Thread
		if h.ThreadDepth > 0 {
			s += " × " + Length(h.ThreadDepth)
		}
		s += ", drill ⌀" + Length(h.Diameter)
	}
	if h.Through() {
		s += " through"
	} else {
		s += " × " + Length(h.Depth) + " deep"
	}
	if h.Bore > 0 {
		s += fmt.Sprintf(", counterbore ⌀%s × %s", Length(h.Bore), Length(h.BoreDepth))
	}
	s += fmt.Sprintf(" at %s from end 1, face %d", Length(h.Z), h.Side+1)
	if v := Length(h.Offset); v != "0" {
		next := int(h.Side+1)%4 + 1
		if h.Offset < 0 {
			v, next = strings.TrimPrefix(v, "-"), int(h.Side+3)%4+1
		}
		s += fmt.Sprintf(", %s off its middle toward face %d", v, next)
	}
	return s
}
