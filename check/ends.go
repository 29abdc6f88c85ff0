package check

import (
	"fmt"
	"math"

	"barwright/frame"
	"barwright/geom"
)

// nearMiss is the gap or misfit in mm under which two members that do not touch were
// surely meant to.
const nearMiss = 0.5

func looseEndRule() Rule {
	return Rule{Name: "loose-end", run: looseEnds, Explain: `loose-end (warning)

Both ends of a bar touch nothing, or one end of a bar that no other joint holds. A bar's end that
stands free is usual where the bar is held elsewhere along its length or stands on a foot: that
gives no finding.

Remedy: let the bar run to a face of the bar that it should meet, or add a joint.`}
}

// looseEnds finds bars with a free end that are held at fewer than two places.
func looseEnds(f *frame.Frame) []Finding {
	touched := map[*frame.Member][2]bool{}
	places := map[*frame.Member]int{}
	touch := func(m *frame.Member, end int) {
		places[m]++
		if end >= 0 {
			t := touched[m]
			t[end] = true
			touched[m] = t
		}
	}
	for _, c := range f.Contacts {
		touch(c.A, c.EndA)
		touch(c.B, c.EndB)
	}
	for _, t := range f.Feet {
		end := -1
		if t.On == frame.FootPostEnd {
			end = lowEnd(t.Under)
		}
		touch(t.Under, end)
	}
	var out []Finding
	for _, m := range f.Members {
		for end, ok := range touched[m] {
			// What bears a travelling bar are carriages, which the file does not draw.
			if ok || places[m] >= 2 || moving(m) != nil {
				continue
			}
			out = append(out, Finding{Severity: Warning, Members: []string{m.Name}, At: m.EndPoint(end), Origin: m.Origin,
				Message: fmt.Sprintf("the %s end of %s touches nothing", frame.DirectionName(m.EndNormal(end)), m.Name),
				Remedy:  "let it run to a face of the bar that it should meet, or hold the bar at a second place"})
		}
	}
	return out
}

// lowEnd returns the raw end of a post that looks down.
func lowEnd(m *frame.Member) int {
	if m.Direction().Z > 0 {
		return 0
	}
	return 1
}

func nearMissRule() Rule {
	return Rule{Name: "near-miss", run: nearMisses, Explain: `near-miss (warning)

Two bars lie closer than 0.5 mm and do not touch: they were meant to, and a formula is a hair off.

Remedy: give one of them a face of the other instead of a number of its own.`}
}

func nearMisses(f *frame.Frame) []Finding {
	var out []Finding
	neighbours(f.Members, nearMiss, func(a, b *frame.Member) {
		if a.Brace || b.Brace || moving(a) != moving(b) {
			return
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
			return
		}
		names := map[geom.Axis]string{geom.X: "left to right", geom.Y: "front to back", geom.Z: "up"}
		out = append(out, Finding{Severity: Warning, Members: []string{a.Name, b.Name}, At: a.Box.Intersect(b.Box).Centre(), Origin: b.Origin,
			Message: fmt.Sprintf("%s and %s lie %.3f mm apart (%s) and do not touch", a.Name, b.Name, gap, names[axis]),
			Remedy:  fmt.Sprintf("write a face of %s instead of a number of its own", a.Name)})
	})
	return out
}

func afloatRule() Rule {
	return Rule{Name: "afloat", run: afloat, Explain: `afloat (error)

Members that no joint connects with the rest of the frame. A travelling group is a body of its own and
is never afloat.

Remedy: let the members touch and be joined, or make them a group with travel.`}
}

// afloat finds the sets of members that hang together but not with the largest set.
func afloat(f *frame.Frame) []Finding {
	index := map[*frame.Member]int{}
	parent := make([]int, len(f.Members))
	for i, m := range f.Members {
		index[m], parent[i] = i, i
	}
	var find func(int) int
	find = func(i int) int {
		for parent[i] != i {
			parent[i] = parent[parent[i]]
			i = parent[i]
		}
		return i
	}
	for _, j := range f.Joints {
		a, b := find(index[j.A]), find(index[j.B])
		parent[max(a, b)] = min(a, b)
	}
	count := map[int]int{}
	for i := range f.Members {
		count[find(i)]++
	}
	main := -1
	for i, m := range f.Members {
		r := find(i)
		if moving(m) == nil && (main < 0 || count[r] > count[main]) {
			main = r
		}
	}
	var out []Finding
	for i, m := range f.Members {
		if find(i) != i || i == main || moving(m) != nil {
			continue
		}
		var names []string
		box := geom.EmptyBox()
		for k, o := range f.Members {
			if find(k) == i {
				names = append(names, o.Name)
				box = box.Union(o.Box)
			}
		}
		what := names[0] + " is"
		if len(names) > 1 {
			what = fmt.Sprintf("%s and %d more are", names[0], len(names)-1)
		}
		out = append(out, Finding{Severity: Error, Members: names, At: box.Centre(), Origin: m.Origin,
			Message: what + " joined to nothing else in the frame",
			Remedy:  "let them touch and be joined, or make them a group with travel"})
	}
	return out
}
