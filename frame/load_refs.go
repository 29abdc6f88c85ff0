package frame

import (
	"fmt"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"
	"github.com/zclconf/go-cty/cty"
)

// found is the members that a reference names.
type found struct {
	bars  []*barNode
	entry []*entityRef // what was named, item by item
}

// entityRef is one item of a list of references.
type entityRef struct {
	bars []*barNode
}

// referenceCost is what each member that a reference names takes off the budget: whatever is made for it
// takes time and memory.
const referenceCost = 16

// refs reads an attribute that names members, sets or, where groups are allowed, groups: one of them or a list.
// A member that is named twice counts once.
func (b *block) refs(name string, groups bool) (found, bool) {
	e := b.expr(name)
	if e == nil {
		return found{}, false
	}
	items := []hcl.Expression{e}
	if list, diags := hcl.ExprList(e); !diags.HasErrors() {
		items = list
		if len(items) == 0 {
			b.l.fail(e.Range(), fmt.Sprintf("%s names nothing", name), "Name members or sets.")
			return found{}, false
		}
	}
	var out found
	ok := true
	seen := map[*barNode]bool{}
	for _, item := range items {
		refs, good := b.l.named(item.(hclsyntax.Expression), groups)
		ok = ok && good
		out.entry = append(out.entry, refs...)
		for _, r := range refs {
			for _, bar := range r.bars {
				if !b.l.pay(referenceCost) {
					b.l.fail(e.Range(), "The file refers to members too often", "Its blocks together name more members than is read; sets within sets count one by one.")
					return found{}, false
				}
				if !seen[bar] {
					seen[bar] = true
					out.bars = append(out.bars, bar)
				}
			}
		}
	}
	return out, ok
}

// members returns the placed members of a reference. It returns false where one could not be placed, which was reported.
func (f found) members() ([]*Member, bool) { return placed(f.bars) }

func placed(bars []*barNode) ([]*Member, bool) {
	out := make([]*Member, len(bars))
	for i, b := range bars {
		if b.member == nil {
			return nil, false
		}
		out[i] = b.member
	}
	return out, true
}

// named resolves one item: a name as it stands in the file, or a formula that picks members.
func (l *loader) named(e hclsyntax.Expression, groups bool) ([]*entityRef, bool) {
	t, diags := hcl.AbsTraversalForExpr(e)
	if diags.HasErrors() {
		return l.picked(e)
	}
	to, ok := l.follow(t)
	if !ok {
		return nil, false
	}
	ref := &entityRef{}
	switch {
	case to.bar != nil:
		ref.bars = []*barNode{to.bar}
	case to.set != nil:
		ref.bars, ok = to.set.bars()
	case to.group != nil && groups:
		ref.bars = to.group.bars
	case to.group != nil:
		l.fail(e.Range(), "A group can't be named here", "Name its members or sets.")
		return nil, false
	default:
		l.fail(e.Range(), "A member is needed here, not a number", "Name the member or set itself, without .left and the like.")
		return nil, false
	}
	return []*entityRef{ref}, ok
}

// picked resolves a formula such as slat[i + 1] or [for s in slat : s if …] to members, by their names.
func (l *loader) picked(e hclsyntax.Expression) ([]*entityRef, bool) {
	v, ok := l.evaluate(e)
	if !ok {
		return nil, false
	}
	values := []cty.Value{v}
	if t := v.Type(); !v.IsNull() && (t.IsTupleType() || t.IsListType()) {
		values = v.AsValueSlice()
	}
	var out []*entityRef
	for _, v := range values {
		name := ""
		if !v.IsNull() && v.IsKnown() && v.Type().IsObjectType() && v.Type().HasAttribute("name") {
			if n := v.GetAttr("name"); n.IsKnown() && !n.IsNull() && n.Type() == cty.String {
				name = n.AsString()
			}
		}
		t, diags := hclsyntax.ParseTraversalAbs([]byte(name), "", hcl.InitialPos)
		if name == "" || diags.HasErrors() || l.names[t.RootName()] == nil {
			remedy := "Name it as it stands in the file, such as leg.front_left."
			if !v.IsNull() && v.Type() == cty.String {
				remedy = "Write its name without quotes."
			}
			l.fail(e.Range(), "A member is needed here, not "+kindOf(v), remedy)
			return nil, false
		}
		to, ok := l.follow(t)
		if !ok {
			return nil, false
		}
		ref := &entityRef{}
		if ref.bars = []*barNode{to.bar}; to.set != nil {
			if ref.bars, ok = to.set.bars(); !ok {
				return nil, false
			}
		} else if to.bar == nil {
			return nil, false
		}
		out = append(out, ref)
	}
	return out, true
}

// member returns the one placed member of an attribute.
func (b *block) member(name string) (*Member, bool) {
	f, ok := b.refs(name, false)
	if !ok {
		return nil, false
	}
	if len(f.bars) != 1 {
		b.l.fail(b.at(name), "One member is needed here", "Name a single one, such as leg.front_left or slat[2].")
		return nil, false
	}
	return f.bars[0].member, f.bars[0].member != nil
}
