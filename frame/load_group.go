package frame

import (
	"fmt"

	"barwright/geom"
)

// readGroups makes the groups of the group blocks.
func (l *loader) readGroups() {
	for _, e := range l.declared {
		if e.kind == "group" {
			l.readGroup(e)
		}
	}
}

func (l *loader) readGroup(e *entity) {
	b := e.block
	f, ok := b.refs("members", false)
	e.bars = f.bars
	kg, ok1 := b.notNegative("kg", 0)
	travel, ok2 := l.readTravel(b)
	carried, ok3 := []*Member(nil), true
	if b.has("carried_by") {
		var by found
		if by, ok3 = b.refs("carried_by", false); ok3 {
			carried, ok3 = by.members()
		}
		if travel == nil && ok2 {
			l.fail(b.at("carried_by"), "carried_by is for a group that travels", "Add travel = { along = \"z\", from = 0, to = 100 }, or take it away.")
		}
	}
	if !(ok && ok1 && ok2 && ok3) {
		return
	}
	members, ok := f.members()
	if !ok {
		return
	}
	g := &Group{Name: b.name, Members: members, Travel: travel, Mass: kg, CarriedBy: carried, Origin: b.header}
	for _, m := range members {
		if m.Group != nil {
			l.fail(b.at("members"), fmt.Sprintf("%s is in two groups", m.Name), fmt.Sprintf("The group %q on line %d has it too.", m.Group.Name, m.Group.Origin.Start.Line))
			return
		}
		m.Group = g
	}
	for _, m := range carried {
		if m.Group == g {
			l.fail(b.at("carried_by"), fmt.Sprintf("%s would carry itself", m.Name), "Name members outside of the group.")
			return
		}
	}
	l.f.Groups = append(l.f.Groups, g)
}

// readTravel reads travel = { along, from, to }, or returns nil where it is not given.
func (l *loader) readTravel(b *block) (*Travel, bool) {
	if !b.has("travel") {
		return nil, !b.tried["travel"]
	}
	o := b.object("travel", "along", "from", "to")
	if o == nil || !o.need("along", "from", "to") {
		return nil, false
	}
	along, ok := o.text("along", "")
	from, ok1 := o.num("from", 0)
	to, ok2 := o.num("to", 0)
	if !ok || !ok1 || !ok2 {
		return nil, false
	}
	ax := indexOf([]string{"x", "y", "z"}, along)
	switch {
	case ax < 0:
		l.fail(o.value["along"].Range(), fmt.Sprintf("%q is no axis", shorten(along)), "Write \"x\", \"y\" or \"z\".")
		return nil, false
	case from > to:
		l.fail(o.value["to"].Range(), fmt.Sprintf("The travel goes from %s to %s", show(from), show(to)), "from is the smaller of the two; both count from where the group is drawn.")
		return nil, false
	}
	return &Travel{Axis: geom.Axis(ax), From: snap(from), To: snap(to)}, true
}
