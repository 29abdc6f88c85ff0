package frame

import (
	"fmt"
	"strings"

	"github.com/hashicorp/hcl/v2"
)

// entity is something with a name that formulas and references can use.
type entity struct {
	kind  string // "param", "let", "member", "posts", "ring", "row", "brace", "group"
	name  string
	block *block
	cell  *cell      // of a param or let
	bar   *barNode   // of a member or brace
	set   *setNode   // of posts, ring or row
	bars  []*barNode // of a group, once read
}

// declareName enters the label of a block into the one namespace. A name that is taken or is not one is
// reported; the block is read all the same, so that its own errors show too.
func (l *loader) declareName(b *block) *entity {
	e := &entity{kind: b.spec.name, name: b.name, block: b}
	if reason := badName(b.name); reason != "" {
		l.fail(b.nameRange, fmt.Sprintf("%q can't be a name", shorten(b.name)), reason)
		return e
	}
	if old, ok := l.names[b.name]; ok {
		l.fail(b.nameRange, fmt.Sprintf("%q is used twice", b.name),
			fmt.Sprintf("The %s on line %d has this name already; params, lets, members, sets, braces and groups share one list of names.",
				old.kind, old.block.nameRange.Start.Line))
		return e
	}
	l.names[b.name] = e
	l.order = append(l.order, e)
	return e
}

// badName says why a text can't be a name, or returns "".
func badName(name string) string {
	const rule = "A name has letters, digits and _ and begins with a letter"
	switch {
	case name == "":
		return rule + "."
	case name == "true" || name == "false" || name == "null":
		return "This word has a meaning of its own."
	case len(name) > 60:
		return "A name has at most 60 characters."
	}
	for i, r := range name {
		letter := r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z'
		if letter || i > 0 && (r >= '0' && r <= '9' || r == '_') {
			continue
		}
		if fixed := strings.Map(nameRune, name); fixed != name && badName(fixed) == "" {
			return rule + fmt.Sprintf(": %s.", fixed)
		}
		return rule + "."
	}
	return ""
}

// nameRune replaces what a name can't hold.
func nameRune(r rune) rune {
	if r == '-' || r == ' ' || r == '.' {
		return '_'
	}
	return r
}

// nameList returns all names of the file, in its order.
func (l *loader) nameList() []string {
	out := make([]string, len(l.order))
	for i, e := range l.order {
		out[i] = e.name
	}
	return out
}

// unknownName reports a name that nothing has. The hint for a dash comes first: HCL reads height-30 as one name.
func (l *loader) unknownName(name string, at hcl.Range) {
	if hint := l.dashHint(name, ""); hint != "" {
		l.fail(at, fmt.Sprintf("There is no %q", shorten(name)), hint)
		return
	}
	hint := ""
	if l.unknown++; l.unknown < 200 { // a comparison with all names takes time
		hint = didYouMean(name, l.nameList())
	}
	l.fail(at, fmt.Sprintf("There is no %q", shorten(name)), hint)
}

// dashHint explains that a minus sign needs blanks, where a name with a dash holds a known name.
func (l *loader) dashHint(name, prefix string) string {
	i := strings.IndexByte(name, '-')
	if i <= 0 {
		return ""
	}
	first, rest := name[:i], name[i+1:]
	if prefix == "" && l.names[first] == nil {
		return ""
	}
	return fmt.Sprintf("A minus sign needs blanks around it, as a name may hold a dash: %s%s - %s", prefix, shorten(first), shorten(rest))
}
