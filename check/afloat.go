package check

import (
	"fmt"

	"barwright/frame"
	"barwright/geom"
)

func afloatRule() Rule {
	return Rule{Name: "afloat", run: afloat, Explain: `afloat (error)

Members that no joint connects with the rest of the frame. A travelling group is a body of its own and
is never afloat. Bars that only touch are not joined.

Remedy: let the members touch and be joined, or make them a group with travel.`}
}

// islands is members in sets that joints hold together.
type islands []int

func (s islands) find(i int) int {
	for s[i] != i {
		s[i] = s[s[i]]
		i = s[i]
	}
	return i
}

// join makes one set of two; the lower member names it.
func (s islands) join(i, j int) {
	a, b := s.find(i), s.find(j)
	s[max(a, b)] = min(a, b)
}

// afloat finds the sets of members that hang together but not with the largest set.
func afloat(m *model) []Finding {
	sets := make(islands, len(m.f.Members))
	for i := range sets {
		sets[i] = i
	}
	for _, j := range m.f.Joints {
		sets.join(m.index[j.A], m.index[j.B])
	}
	members := make([][]*frame.Member, len(sets))
	main := -1
	for i, b := range m.f.Members {
		r := sets.find(i)
		members[r] = append(members[r], b)
	}
	for i, list := range members {
		if len(list) > 0 && moving(list[0]) == nil && (main < 0 || len(list) > len(members[main])) {
			main = i
		}
	}
	var out []Finding
	for i, list := range members {
		if len(list) == 0 || i == main || moving(list[0]) != nil {
			continue
		}
		out = append(out, m.adrift(list))
	}
	return out
}

func (m *model) adrift(list []*frame.Member) Finding {
	box := geom.EmptyBox()
	touching := ""
	for _, b := range list {
		box = box.Union(b.Box)
		for _, c := range m.contacts[m.index[b]] {
			if touching == "" && c.Misfit != "" {
				touching = "; " + c.Misfit
			}
		}
	}
	what := list[0].Name + " is"
	if n := len(list) - 1; n > 0 {
		what = fmt.Sprintf("%s and %d more are", list[0].Name, n)
	}
	remedy := "let them touch and be joined, or make them a group with travel"
	if touching != "" {
		remedy = "name a joining that serves there, such as joining = \"plate\", or move one of the bars"
	}
	return Finding{Severity: Error, Members: names(list...), At: box.Centre(), Origin: list[0].Origin, Remedy: remedy,
		Message: fmt.Sprintf("%s joined to nothing else in the frame: 0 joints, 1 is needed%s", what, touching)}
}
