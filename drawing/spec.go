package drawing

import (
	"fmt"

	"barwright/frame"
	"barwright/geom"
)

// holeID and tapID name a feature in the record of a sheet; the index is that in the part's bar.
func holeID(i int) string  { return fmt.Sprintf("hole/%d", i) }
func tapID(i int) string   { return fmt.Sprintf("tap/%d", i) }
func cutID(end int) string { return fmt.Sprintf("cut/%d", end) }

// lengthID names the length of the bar in the record of a sheet.
const lengthID = "length"

// holeKind is all that a callout says of a hole.
type holeKind struct {
	diameter, depth, bore, boreDepth float64
	thread                           string
	threadDepth                      float64
}

func kindOf(h frame.Hole) holeKind {
	return holeKind{h.Diameter, h.Depth, h.Bore, h.BoreDepth, h.Thread, h.ThreadDepth}
}

// lines returns the callout of a hole, the largest feature first (ISO 15786): counterbore, then thread, then bore.
func (k holeKind) lines(u units) []string {
	var out []string
	if k.bore > 0 {
		out = append(out, fmt.Sprintf("⌴ ⌀%s ↧ %s", u.size(k.bore), u.size(k.boreDepth)))
	}
	if k.thread != "" {
		if k.threadDepth > 0 {
			out = append(out, fmt.Sprintf("%s-6H × %s", k.thread, u.size(k.threadDepth)))
		} else {
			out = append(out, k.thread+"-6H through")
		}
	}
	switch {
	case k.depth > 0:
		out = append(out, fmt.Sprintf("⌀%s ↧ %s", u.size(k.diameter), u.size(k.depth)))
	case k.thread != "" && k.threadDepth == 0:
		out[len(out)-1] = fmt.Sprintf("%s-6H through, ⌀%s", k.thread, u.size(k.diameter))
	default:
		out = append(out, fmt.Sprintf("⌀%s through", u.size(k.diameter)))
	}
	return out
}

// holeGroup is the holes of one kind on one face.
type holeGroup struct {
	kind  holeKind
	holes []int
}

// holeGroups returns the groups of a face in the order of their first hole.
func holeGroups(b *frame.Bar, side geom.Side) []holeGroup {
	var out []holeGroup
next:
	for i, h := range b.Holes {
		if h.Side != side {
			continue
		}
		for g := range out {
			if out[g].kind == kindOf(h) {
				out[g].holes = append(out[g].holes, i)
				continue next
			}
		}
		out = append(out, holeGroup{kindOf(h), []int{i}})
	}
	return out
}

// tapGroup is the taps of one kind in one end.
type tapGroup struct {
	tap  frame.Tap
	taps []int
}

func tapGroups(b *frame.Bar, end int) []tapGroup {
	var out []tapGroup
next:
	for i, t := range b.Taps {
		if t.End != end {
			continue
		}
		same := t
		for g := range out {
			same.Core = out[g].tap.Core
			if out[g].tap == same {
				out[g].taps = append(out[g].taps, i)
				continue next
			}
		}
		out = append(out, tapGroup{t, []int{i}})
	}
	return out
}

// parts returns the callout of a tap in two parts: thread and depth, and the bore under it (ISO 6410-1).
func (g tapGroup) parts(core float64, u units) [2]string {
	t := g.tap
	first := fmt.Sprintf("%s%s-6H × %s", times(len(g.taps)), t.Thread, u.size(t.Depth))
	if t.Drill == core {
		return [2]string{first, "core bore as extruded"}
	}
	return [2]string{first, fmt.Sprintf("⌀%s ↧ %s", u.size(t.Drill), u.size(t.DrillDepth))}
}

// times returns "4× " for a group of four and nothing for one.
func times(n int) string {
	if n < 2 {
		return ""
	}
	return fmt.Sprintf("%d× ", n)
}

// onSlot reports whether an offset lies on the centre line of a slot or, where the side is closed, of a cell.
func onSlot(p *geom.Profile, side geom.Side, offset float64) bool {
	for _, o := range p.CellLines(side) {
		if d := o - offset; d < geom.Coincident && d > -geom.Coincident {
			return true
		}
	}
	return false
}

// needsTable reports whether callouts on the views could be misread or crowd them: more than eight holes,
// three kinds, two kinds on one face of which one comes more than once, or a hole off
// the slot's centre line.
func needsTable(b *frame.Bar) bool {
	kinds := map[holeKind]bool{}
	for _, h := range b.Holes {
		kinds[kindOf(h)] = true
		if !onSlot(b.Profile, h.Side, h.Offset) {
			return true
		}
	}
	if len(b.Holes) > 8 || len(kinds) >= 3 {
		return true
	}
	for side := range geom.Side(4) {
		groups := holeGroups(b, side)
		for _, g := range groups {
			if len(groups) > 1 && len(g.holes) > 1 {
				return true
			}
		}
	}
	return false
}

// holeLabels names the holes face by face: "1a", "1b", "3a", letters along the bar, after z "aa".
func holeLabels(b *frame.Bar) []string {
	out := make([]string, len(b.Holes))
	var count [4]int
	for i, h := range b.Holes { // sorted by side and place
		out[i] = fmt.Sprintf("%d%s", int(h.Side)+1, letter(count[h.Side]))
		count[h.Side]++
	}
	return out
}

func letter(n int) string {
	s := string(rune('a' + n%26))
	if n >= 26 {
		return letter(n/26-1) + s
	}
	return s
}
