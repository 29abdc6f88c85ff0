package frame

import (
	"fmt"

	"github.com/hashicorp/hcl/v2"

	"barwright/geom"
)

// declare prepares every block that can be referred to: names first, then faces, so that
// blocks may stand in any order.
func (l *loader) declare() {
	byBlock := map[*block]*entity{}
	for _, e := range l.order {
		byBlock[e.block] = e
	}
	// Blocks whose name is taken are read too, for their own errors.
	all := make([]*entity, 0, len(l.blocks))
	for _, b := range l.blocks {
		e := byBlock[b]
		if e == nil {
			e = &entity{kind: b.spec.name, name: b.name, block: b}
		}
		all = append(all, e)
	}
	// Rings look at posts, so posts come first.
	for _, e := range all {
		switch e.kind {
		case "let":
			l.declareLet(e)
		case string(Posts):
			e.set = l.declarePosts(e.block)
		}
	}
	for _, e := range all {
		switch e.kind {
		case "member":
			e.bar = l.declareMember(e.block)
		case string(Ring):
			e.set = l.declareRing(e.block)
		case string(Row):
			e.set = l.declareRow(e.block)
		case "brace":
			e.bar = l.declareBrace(e.block)
		}
	}
	l.declared = all
}

// placeAll works out every member in the order of the file.
func (l *loader) placeAll() {
	for _, e := range l.declared {
		if e.cell != nil {
			l.get(e.cell, e.block.header) // a let that nobody uses must be right too
		}
		switch {
		case e.bar != nil:
			if e.bar.broken {
				l.readAnyway(e.block)
			}
			l.placeBar(e.bar, e.block, nil)
		case e.set != nil:
			l.placeSet(e)
		}
	}
	for _, e := range l.declared {
		if e.set != nil && e.set.within != nil {
			e.set.result.Within = e.set.within.result
		}
	}
}

// readAnyway works out the numbers of a block whose bars can't be placed, so that its other errors show too.
func (l *loader) readAnyway(b *block) {
	for _, w := range append(faceNames(), "length", "turn", "step", "count", "angle") {
		b.num(w, 0)
	}
	if b.has("profile") {
		l.sectionOf(b)
	}
}

// placeSet places the members of a set.
func (l *loader) placeSet(e *entity) {
	s := e.set
	out := &Set{Name: s.name, Kind: s.kind, Plane: s.plane, Corners: s.corners, Origin: e.block.header}
	s.result = out
	bars, ok := s.bars()
	if !ok || bars[0].broken {
		l.readAnyway(e.block)
	}
	if !ok {
		return
	}
	for _, b := range bars {
		if m := l.placeBar(b, e.block, out); m != nil {
			out.Members = append(out.Members, m)
		}
	}
	l.f.Sets = append(l.f.Sets, out)
}

// placeBar makes the member of a bar, or returns nil where an error was reported.
func (l *loader) placeBar(b *barNode, from *block, s *Set) *Member {
	if len(l.f.Members) >= maxMembers {
		l.tooMany(b.at)
		return nil
	}
	good := true
	for ax := range b.faces {
		for _, c := range b.faces[ax] {
			_, ok := l.get(c, b.at)
			good = good && ok
		}
	}
	_, ok := l.get(b.length, b.at)
	_, ok2 := l.get(b.look.quarters, b.at)
	if !good || !ok || !ok2 || !l.checkBar(b, from) {
		return nil
	}
	m := &Member{Name: b.name, Set: s, Profile: b.look.profile, Axis: b.axis, Origin: from.header}
	if b.brace != nil {
		w := b.brace
		m.Brace, m.Place, m.Box = true, w.place, w.box
		m.Bar = Bar{Profile: m.Profile, Length: w.length, Cuts: w.cuts}
	} else {
		m.Box = l.finishedBox(b)
		m.Place = barMotion(b.axis, int(b.look.quarters.value)+b.look.extra, m.Box)
		m.Bar = Bar{Profile: m.Profile, Length: b.length.value}
	}
	b.member = m
	l.f.Members = append(l.f.Members, m)
	l.useProfile(m.Profile)
	l.readMark(m, from)
	return m
}

// tooMany reports once that there are too many members.
func (l *loader) tooMany(at hcl.Range) {
	if !l.full {
		l.full = true
		l.fail(at, "There are too many members", fmt.Sprintf("A frame has at most %d.", maxMembers))
	}
}

// finishedBox returns the box of faces that are all worked out.
func (l *loader) finishedBox(b *barNode) geom.Box {
	var box geom.Box
	for ax := range geom.Axis(3) {
		box.Low = box.Low.With(ax, b.faces[ax][lowFace].value)
		box.High = box.High.With(ax, b.faces[ax][highFace].value)
	}
	return box
}

// checkBar sees that a bar has a length and lies within bounds.
func (l *loader) checkBar(b *barNode, from *block) bool {
	if b.length.value < minLength {
		at := from.header
		words := faceWords[b.axis]
		for _, w := range []string{"length", words[highFace], words[lowFace]} {
			if from.has(w) {
				at = from.at(w)
				break
			}
		}
		low, high := b.faces[b.axis][lowFace].value, b.faces[b.axis][highFace].value
		l.fail(at, fmt.Sprintf("%s would be %s mm long", b.name, show(b.length.value)),
			fmt.Sprintf("Its %s face lies at %s and its %s face at %s; the second must be the larger by %g mm at least.",
				words[lowFace], show(low), words[highFace], show(high), minLength))
		return false
	}
	for ax := range b.faces {
		for i, c := range b.faces[ax] {
			if c.value > maxSize || c.value < -maxSize {
				l.fail(from.header, fmt.Sprintf("%s.%s lies out of all bounds", b.name, faceWords[ax][i]), "Sizes go up to 1000000 mm (one kilometre).")
				return false
			}
		}
	}
	return true
}

// minLength is the shortest bar in mm.
const minLength = 1.0

// readMark notes the mark that a block asks for.
func (l *loader) readMark(m *Member, from *block) {
	if !from.has("mark") {
		return
	}
	if from.mark == nil {
		mark, ok := from.str("mark", "")
		if ok && !goodMark(mark) {
			l.fail(from.at("mark"), fmt.Sprintf("%q can't be a mark", shorten(mark)), "A mark has up to 12 letters, digits, dots and dashes.")
			ok = false
		}
		if !ok {
			mark = ""
		}
		from.mark = &mark
	}
	if *from.mark != "" {
		m.Mark = *from.mark
	}
}

func goodMark(s string) bool {
	for _, r := range s {
		if !(r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '.' || r == '-' || r == '_') {
			return false
		}
	}
	return s != "" && len(s) <= 12
}
