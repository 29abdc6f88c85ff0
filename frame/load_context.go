package frame

import (
	"fmt"
	"strings"

	"github.com/hashicorp/hcl/v2"
	"github.com/zclconf/go-cty/cty"
)

// target is what a reference points at: a number, or a member or set as a whole.
type target struct {
	cell  *cell
	bar   *barNode
	set   *setNode
	group *entity
}

// follow resolves a reference as far as it can be read off the file. It returns false where an error was reported.
func (l *loader) follow(t hcl.Traversal) (target, bool) {
	root := t.RootName()
	e := l.names[root]
	if e == nil {
		l.unknownName(root, t[0].SourceRange())
		return target{}, false
	}
	rest := t[1:]
	switch {
	case e.cell != nil:
		if len(rest) > 0 {
			l.fail(t.SourceRange(), fmt.Sprintf("%q is a number", root), "Nothing can follow it but a formula.")
			return target{}, false
		}
		return target{cell: e.cell}, true
	case e.bar != nil:
		return l.followBar(e.bar, rest)
	case e.set != nil:
		return l.followSet(e.set, rest)
	}
	if e.kind != "group" {
		l.fail(t.SourceRange(), fmt.Sprintf("%q can't be used here", root), "What kind of ring or row this is can't hang on where members lie; use params and lets.")
		return target{}, false
	}
	if len(rest) > 0 {
		l.fail(t.SourceRange(), fmt.Sprintf("The group %q has no faces", root), "Name one of its members.")
		return target{}, false
	}
	return target{group: e}, true
}

// step returns a step of a reference as a word, or as an index.
func step(t hcl.Traverser) (word string, index int, at hcl.Range) {
	switch s := t.(type) {
	case hcl.TraverseAttr:
		return s.Name, -1, s.SrcRange
	case hcl.TraverseIndex:
		if s.Key.Type() == cty.String {
			return s.Key.AsString(), -1, s.SrcRange
		}
		if f := float(s.Key); f >= 0 && f < maxMembers && f == float64(int(f)) {
			return "", int(f), s.SrcRange
		}
		return "", maxMembers, s.SrcRange
	}
	return "", -1, t.SourceRange()
}

// followBar resolves the steps behind a member.
func (l *loader) followBar(b *barNode, rest hcl.Traversal) (target, bool) {
	if len(rest) == 0 {
		return target{bar: b}, true
	}
	word, index, at := step(rest[0])
	c := b.face(word)
	switch {
	case index >= 0 || word == "":
		l.fail(at, fmt.Sprintf("%s is one member", b.name), "Only a row has members by number.")
	case c == nil:
		l.unknownFace(b.name, word, at, append(faceNames(), "length"))
	case len(rest) > 1:
		_, _, at = step(rest[1])
		l.fail(at, fmt.Sprintf("%s.%s is a number", b.name, word), "Nothing can follow it but a formula.")
	default:
		return target{cell: c}, true
	}
	return target{}, false
}

// followSet resolves the steps behind a set.
func (l *loader) followSet(s *setNode, rest hcl.Traversal) (target, bool) {
	if len(rest) == 0 {
		return target{set: s}, true
	}
	word, index, at := step(rest[0])
	if c := s.face(word); c != nil {
		if len(rest) > 1 {
			l.fail(at, fmt.Sprintf("%s.%s is a number", s.name, word), "Nothing can follow it but a formula.")
			return target{}, false
		}
		return target{cell: c}, true
	}
	bars, ok := s.bars()
	if !ok {
		return target{}, false
	}
	if s.kind == Row && index >= 0 {
		if index < len(bars) {
			return l.followBar(bars[index], rest[1:])
		}
		l.fail(at, fmt.Sprintf("%s has no member of this number", s.name),
			fmt.Sprintf("It has %d, counted from 0 to %d.", len(bars), len(bars)-1))
		return target{}, false
	}
	for i, key := range s.keys {
		if key == word && word != "" {
			return l.followBar(bars[i], rest[1:])
		}
	}
	if index >= 0 {
		l.fail(at, fmt.Sprintf("The members of %s have names, not numbers", s.name), "Known: "+strings.Join(s.keys, ", ")+".")
		return target{}, false
	}
	l.unknownFace(s.name, word, at, append(faceNames(), s.keys...))
	return target{}, false
}

// unknownFace reports a word behind a member or set that is none of its faces or members.
func (l *loader) unknownFace(name, word string, at hcl.Range, known []string) {
	remedy := didYouMean(word, known)
	if head, _, ok := strings.Cut(word, "-"); ok && indexOf(known, head) >= 0 {
		remedy = l.dashHint(word, name+".")
	}
	l.fail(at, fmt.Sprintf("%s has no %q", name, shorten(word)), remedy)
}

// needs is the tree of values that one expression asks for.
type needs struct {
	value cty.Value
	below map[string]*needs
}

// context works out everything that an expression refers to, and no more, so that a reference to one face
// waits for that face only.
func (l *loader) context(e hcl.Expression) (*hcl.EvalContext, bool) {
	refs := e.Variables()
	ctx := &hcl.EvalContext{Functions: l.functions}
	if len(refs) == 0 {
		return ctx, true
	}
	roots := needs{below: map[string]*needs{}}
	ok := true
	for _, ref := range refs {
		ok = l.gather(&roots, ref) && ok
	}
	if !ok {
		return nil, false
	}
	ctx.Variables = map[string]cty.Value{}
	for name, n := range roots.below {
		ctx.Variables[name] = n.build()
	}
	return ctx, true
}

// gather works out one reference and hangs its value into the tree.
func (l *loader) gather(root *needs, ref hcl.Traversal) bool {
	t, ok := l.follow(ref)
	if !ok {
		return false
	}
	n := root.descend(ref)
	switch {
	case t.cell != nil:
		v, ok := l.get(t.cell, ref.SourceRange())
		if ok {
			n.value = cty.NumberFloatVal(v)
		}
		return ok
	case t.bar != nil:
		n.value, ok = l.whole(t.bar, ref.SourceRange())
		return ok
	case t.set != nil:
		var size int
		n.value, size, ok = l.wholeSet(t.set, ref.SourceRange())
		if ok && !l.pay(size/16) {
			l.fail(ref.SourceRange(), tooMuchWork, "Formulas of the file take whole sets too often. Name single faces instead.")
			return false
		}
		return ok
	}
	l.fail(ref.SourceRange(), "A group can't stand in a formula", "Name one of its members.")
	return false
}

// descend returns the place of a reference in the tree.
func (n *needs) descend(ref hcl.Traversal) *needs {
	for i, tr := range ref {
		key := ref.RootName()
		if i > 0 {
			word, index, _ := step(tr)
			if key = word; index >= 0 {
				key = fmt.Sprint(index)
			}
		}
		if n.below == nil {
			n.below = map[string]*needs{}
		}
		if n.below[key] == nil {
			n.below[key] = &needs{}
		}
		n = n.below[key]
	}
	return n
}

// build returns the tree as a value. A row of which only single members are asked for becomes an object with the
// numbers as keys, which an index finds as well.
func (n *needs) build() cty.Value {
	if n.value != cty.NilVal {
		return n.value
	}
	m := make(map[string]cty.Value, len(n.below))
	for key, b := range n.below {
		m[key] = b.build()
	}
	return cty.ObjectVal(m)
}

// whole returns a member with all its faces, its length and its name.
func (l *loader) whole(b *barNode, from hcl.Range) (cty.Value, bool) {
	if b.value != cty.NilVal {
		return b.value, true
	}
	m := map[string]cty.Value{"name": cty.StringVal(b.name)}
	for _, f := range append(faceNames(), "length") {
		v, ok := l.get(b.face(f), from)
		if !ok {
			return cty.NilVal, false
		}
		m[f] = cty.NumberFloatVal(v)
	}
	b.value = cty.ObjectVal(m)
	return b.value, true
}

// wholeSet returns a set: a row as a list of its members, others as an object with members and outer faces.
func (l *loader) wholeSet(s *setNode, from hcl.Range) (cty.Value, int, bool) {
	bars, ok := s.bars()
	if !ok {
		return cty.NilVal, 0, false
	}
	size := 12 * len(bars)
	if s.value != cty.NilVal {
		return s.value, size, true
	}
	items := make([]cty.Value, len(bars))
	for i, b := range bars {
		if items[i], ok = l.whole(b, from); !ok {
			return cty.NilVal, 0, false
		}
	}
	if s.kind == Row {
		s.value = cty.TupleVal(items)
		return s.value, size, true
	}
	m := map[string]cty.Value{"name": cty.StringVal(s.name)}
	for i, key := range s.keys {
		m[key] = items[i]
	}
	for _, f := range faceNames() {
		v, ok := l.get(s.face(f), from)
		if !ok {
			return cty.NilVal, 0, false
		}
		m[f] = cty.NumberFloatVal(v)
	}
	s.value = cty.ObjectVal(m)
	return s.value, size, true
}
