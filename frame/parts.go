package frame

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"barwright/geom"
	"barwright/standard"

	"github.com/hashicorp/hcl/v2"
)

// turns returns the rotations that map the section of a profile to itself: quarter turns
// about the axis, and each of them after a turn end for end.
func turns(p *geom.Profile) []Turn {
	var out []Turn
	for _, flip := range []bool{false, true} {
		for q := range 4 {
			t := Turn{Flip: flip, Quarters: q}
			if t.mapsSection(p) {
				out = append(out, t)
			}
		}
	}
	return out
}

// mapsSection reports whether the turn maps the section to itself.
func (t Turn) mapsSection(p *geom.Profile) bool {
	if t.Quarters%2 != 0 && p.Cells[0] != p.Cells[1] {
		return false
	}
	for s := range geom.Side(4) {
		if p.Closed[s] != p.Closed[t.side(s)] {
			return false
		}
	}
	return true
}

// key returns the bar's shape as numbers, equal for bars that remove the same material at the same
// places. Lengths count in thousandths of a millimetre. Where entry is set a through hole also
// keeps the side that it is entered from.
func (b *Bar) key(entry bool) []int64 {
	k := []int64{micron(b.Length)}
	for _, c := range b.Cuts {
		// Slopes are compared to a thousandth over a metre of section.
		k = append(k, int64(math.Round(c.SlopeX*1e6)), int64(math.Round(c.SlopeY*1e6)))
	}
	k = append(k, int64(len(b.Taps)))
	for _, t := range b.Taps {
		k = append(k, int64(t.End), micron(t.Core.Y), micron(t.Core.X), threadKey(t.Thread), micron(t.Depth), micron(t.Drill), micron(t.DrillDepth))
	}
	holes := make([]Hole, len(b.Holes))
	for i, h := range b.Holes {
		holes[i] = h.fromLower()
		holes[i].Purpose = 0
	}
	lower := Bar{Holes: holes}
	lower.sort()
	for _, h := range lower.Holes {
		k = append(k, int64(h.Side), micron(h.Z), micron(h.Offset), micron(h.Diameter), micron(h.Depth),
			micron(h.Bore), micron(h.BoreDepth), threadKey(h.Thread), micron(h.ThreadDepth))
	}
	if entry {
		for _, h := range b.Holes {
			k = append(k, int64(h.Side), micron(h.Z), micron(h.Offset), int64(h.Purpose))
		}
	}
	return k
}

// threadKey turns a thread's name into a number: its size in thousandths, 0 for none.
func threadKey(name string) int64 {
	if t, ok := standard.ThreadByName(name); ok {
		return micron(t.Nominal)
	}
	return 0
}

// canonical returns the turn that gives the smallest key, the key, and the turned bar. Among
// turns that give the same shape the one whose holes are entered from the lowest faces wins.
func (b *Bar) canonical() (Turn, []int64, Bar) {
	var best Turn
	var bestKey, bestEntry []int64
	var bestBar Bar
	for _, t := range turns(b.Profile) {
		turned := t.Apply(b)
		key := turned.key(false)
		c := slices.Compare(key, bestKey)
		if bestKey != nil && c > 0 {
			continue
		}
		entry := turned.key(true)
		if bestKey == nil || c < 0 || slices.Compare(entry, bestEntry) < 0 {
			best, bestKey, bestEntry, bestBar = t, key, entry, turned
		}
	}
	return best, bestKey, bestBar
}

// mirrored returns the bar's mirror image: the section's y turned round.
func (b *Bar) mirrored() *Bar {
	out := Bar{Profile: b.Profile, Length: b.Length}
	for end, c := range b.Cuts {
		out.Cuts[end] = Cut{SlopeX: c.SlopeX, SlopeY: -c.SlopeY + 0}
	}
	for _, h := range b.Holes {
		h.Side, h.Offset = (4-h.Side)%4, -h.Offset+0
		out.Holes = append(out.Holes, h)
	}
	for _, t := range b.Taps {
		t.Core.Y = -t.Core.Y + 0
		out.Taps = append(out.Taps, t)
	}
	out.sort()
	return &out
}

// makeParts finds the members that are the same part and gives each part its mark.
func (f *Frame) makeParts() hcl.Diagnostics {
	type found struct {
		part    *Part
		profile int
		key     []int64
		text    string
	}
	var all []*found
	byText := map[string]*found{}
	for _, m := range f.Members {
		profile := f.profileIndex(m.Bar.Profile)
		turn, key, bar := m.Bar.canonical()
		text := fmt.Sprint(profile, key)
		p := byText[text]
		if p == nil {
			p = &found{part: &Part{Bar: bar}, profile: profile, key: key, text: text}
			byText[text] = p
			all = append(all, p)
		}
		m.Part, m.ToPart = p.part, turn
		p.part.Members = append(p.part.Members, m)
	}
	slices.SortStableFunc(all, func(a, b *found) int {
		return cmp.Or(cmp.Compare(a.profile, b.profile), cmp.Compare(b.key[0], a.key[0]), slices.Compare(a.key, b.key))
	})
	for _, p := range all {
		p.part.Mass = p.part.Bar.Mass()
		f.Parts = append(f.Parts, p.part)
		m := p.part.Bar.mirrored()
		if m.sectionMirrors() {
			_, key, _ := m.canonical()
			if q := byText[fmt.Sprint(p.profile, key)]; q != nil && q != p {
				p.part.Twin = q.part
			}
		}
	}
	return f.giveMarks()
}

// sectionMirrors reports whether the mirror image of the section is the section itself.
func (b *Bar) sectionMirrors() bool {
	return b.Profile.Closed[geom.Top] == b.Profile.Closed[geom.Bottom]
}

// profileIndex returns the index among Profiles of a section, adding it where it is new.
func (f *Frame) profileIndex(p *geom.Profile) int {
	for i, q := range f.Profiles {
		if q == p || q.Same(p) {
			return i
		}
	}
	f.Profiles = append(f.Profiles, p)
	return len(f.Profiles) - 1
}

// markLetters are the letters of marks: without I and O, which read as figures (common practice, no source).
const markLetters = "ABCDEFGHJKLMNPQRSTUVWXYZ"

// profileLetters returns the letters of the n-th profile: A to Z, then AA, AB, …
func profileLetters(n int) string {
	s := ""
	for {
		s = string(markLetters[n%len(markLetters)]) + s
		n = n/len(markLetters) - 1
		if n < 0 {
			return s
		}
	}
}

// giveMarks finds the marks that members ask for, gives each part its mark and sorts the parts by them.
func (f *Frame) giveMarks() hcl.Diagnostics {
	var diags hcl.Diagnostics
	asked := map[*Part]string{}
	taken := map[string]*Member{}
	for _, p := range f.Parts {
		var first *Member
		for _, m := range p.Members {
			if m.Mark == "" {
				continue
			}
			if first != nil && first.Mark != m.Mark {
				diags = append(diags, problem(m.Origin, "Two marks for one part", fmt.Sprintf(
					"%s and %s are the same part, but the file marks them %q and %q. Give both the same mark, or only one.",
					first.Name, m.Name, first.Mark, m.Mark)))
				continue
			}
			if first == nil {
				first = m
			}
		}
		if first == nil {
			continue
		}
		if other := taken[first.Mark]; other != nil {
			diags = append(diags, problem(first.Origin, "One mark for two parts", fmt.Sprintf(
				"The mark %q is given to %s and to %s, which are different parts. Give one of them another mark.",
				first.Mark, other.Name, first.Name)))
			continue
		}
		asked[p] = first.Mark
		taken[first.Mark] = first
	}
	f.lockMarks(asked)
	slices.SortStableFunc(f.Parts, func(a, b *Part) int {
		return cmp.Or(cmp.Compare(f.profileIndex(a.Bar.Profile), f.profileIndex(b.Bar.Profile)), compareMarks(a.Mark, b.Mark))
	})
	return diags
}

// compareMarks orders marks as a person does: letters first, then the number.
func compareMarks(a, b string) int {
	la, na := splitMark(a)
	lb, nb := splitMark(b)
	return cmp.Or(cmp.Compare(len(la), len(lb)), strings.Compare(la, lb), cmp.Compare(na, nb), strings.Compare(a, b))
}

// splitMark splits a mark into its letters and its number.
func splitMark(s string) (string, int) {
	i := strings.IndexFunc(s, func(r rune) bool { return r >= '0' && r <= '9' })
	if i < 0 {
		return s, 0
	}
	n := 0
	for _, r := range s[i:] {
		if r < '0' || r > '9' || n > 1e6 {
			break
		}
		n = 10*n + int(r-'0')
	}
	return s[:i], n
}
