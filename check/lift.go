package check

import (
	"fmt"
	"slices"

	"barwright/frame"
	"barwright/standard"
)

func liftRule() Rule {
	return Rule{Name: "lift", run: lifts, Explain: `lift (note; warning for a declared group that two people should not lift)

A group, or the whole frame where the file declares no group, that is heavier than one person should lift. One person of
unknown age and sex lifts 15 kg, the smallest reference mass of ISO 11228-1:2021; two together carry two thirds of the
sum of what each could lift, three a half (HSE guidance L23): 20 and 22.5 kg. Heavier things need a hoist, or are
taken to where they stand in parts. The figures are recalled and no risk assessment: local rules win.

The mass is that of the machined bars; of the panels, printed parts (as if solid), screws and nuts that they hold; of what rides on the
group; and of the masses on its members. Slot nuts, bought brackets and feet, whose mass no standard tells, are not counted.

Remedy: lift with as many people as are said; build the group where it stands; or make it of lighter parts.`}
}

func lifts(m *model) []Finding {
	var out []Finding
	declared := false
	for _, g := range m.f.Groups {
		declared = true
		kg := g.Mass + m.massOf(g.Members)
		if f, ok := lift(fmt.Sprintf("group %q", g.Name), kg, g.Members, true); ok {
			f.Origin = g.Origin
			out = append(out, f)
		}
	}
	if declared || len(m.f.Members) == 0 {
		return out
	}
	if f, ok := lift("the whole frame", m.massOf(m.f.Members), m.f.Members, false); ok {
		f.Members, f.Origin = nil, m.f.Members[0].Origin
		out = append(out, f)
	}
	return out
}

// massOf returns the mass of bars with the panels, printed parts, screws and nuts that they alone hold, and with the masses on them.
func (m *model) massOf(bars []*frame.Member) float64 {
	kg := m.f.MassOf(bars)
	for _, w := range m.f.Masses {
		if slices.Contains(bars, w.On) {
			kg += w.Kg
		}
	}
	return kg
}

// lift says how many people a mass needs.
func lift(what string, kg float64, members []*frame.Member, group bool) (Finding, bool) {
	if kg <= standard.HomeLift {
		return Finding{}, false
	}
	people, carry := 0, 0.0
	for n := 2; n <= 3; n++ {
		if c, ok := standard.TeamLift(standard.HomeLift, n); ok && kg <= c {
			people, carry = n, c
			break
		}
	}
	f := Finding{Severity: Note, Members: names(members...), At: boxOf(&frame.Group{Members: members}).Centre(),
		Message: fmt.Sprintf("%s weighs %.1f kg, %.1f more than the %d kg that one person should lift", what, kg, kg-standard.HomeLift, standard.HomeLift)}
	if people == 0 {
		most, _ := standard.TeamLift(standard.HomeLift, 3)
		f.Message += fmt.Sprintf("; three together should lift %g kg, so that a hoist is needed", most)
		f.Remedy = "build it where it stands, carry it in parts, or use a hoist"
	} else {
		f.Message += fmt.Sprintf("; %d people are needed, who together should lift %g kg", people, carry)
		f.Remedy = fmt.Sprintf("lift it with %d people", people)
	}
	if group && people != 2 {
		f.Severity = Warning
	}
	return f, true
}
