package frame

import (
	"fmt"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"
	"github.com/zclconf/go-cty/cty"
)

// object is an attribute written as { key = value, … }. Its values stay expressions, so that they
// can be references.
type object struct {
	b     *block
	name  string // of the attribute
	at    hcl.Range
	keys  []string
	where []hcl.Range
	value map[string]hclsyntax.Expression
}

// object returns an object attribute whose keys are among those known, or nil where it is not given or wrong.
func (b *block) object(name string, known ...string) *object {
	e := b.expr(name)
	if e == nil {
		return nil
	}
	return b.asObject(name, e, known)
}

func (b *block) asObject(name string, e hclsyntax.Expression, known []string) *object {
	for {
		p, ok := e.(*hclsyntax.ParenthesesExpr)
		if !ok {
			break
		}
		e = p.Expression
	}
	cons, ok := e.(*hclsyntax.ObjectConsExpr)
	if !ok {
		b.l.fail(e.Range(), fmt.Sprintf("%s is written in braces", name), fmt.Sprintf("Write %s = { %s = … }.", name, known[0]))
		return nil
	}
	o := &object{b: b, name: name, at: e.Range(), value: map[string]hclsyntax.Expression{}}
	good := true
	for _, item := range cons.Items {
		key, ok := b.objectKey(item.KeyExpr)
		at := item.KeyExpr.Range()
		switch {
		case !ok:
			b.l.fail(at, "A key must be a plain word", "")
		case indexOf(known, key) < 0:
			b.l.fail(at, fmt.Sprintf("%s has no key %q", name, shorten(key)), didYouMean(key, known))
		case o.value[key] != nil:
			b.l.fail(at, fmt.Sprintf("%q is given twice", key), "")
		default:
			o.keys, o.where = append(o.keys, key), append(o.where, at)
			o.value[key] = item.ValueExpr
			continue
		}
		good = false
	}
	if !good {
		return nil
	}
	return o
}

// objectKey returns a key written as a word or a text.
func (b *block) objectKey(e hclsyntax.Expression) (string, bool) {
	if w := hcl.ExprAsKeyword(e); w != "" {
		return w, true
	}
	k, ok := e.(*hclsyntax.ObjectConsKeyExpr)
	if !ok {
		return "", false
	}
	t, ok := k.Wrapped.(*hclsyntax.TemplateExpr)
	if !ok || !t.IsStringLiteral() {
		return "", false
	}
	v, diags := t.Value(nil)
	if diags.HasErrors() || v.Type() != cty.String {
		return "", false
	}
	return v.AsString(), true
}

// has reports whether a key is given.
func (o *object) has(key string) bool { return o.value[key] != nil }

// num returns the number of a key, or def where it is not given.
func (o *object) num(key string, def float64) (float64, bool) {
	if e := o.value[key]; e != nil {
		return o.b.l.number(e)
	}
	return def, true
}

// text returns the text of a key, or def where it is not given.
func (o *object) text(key, def string) (string, bool) {
	if e := o.value[key]; e != nil {
		return o.b.l.text(e)
	}
	return def, true
}

// need reports keys that are missing.
func (o *object) need(keys ...string) bool {
	ok := true
	for _, k := range keys {
		if !o.has(k) {
			o.b.l.fail(o.at, fmt.Sprintf("%s lacks %q", o.name, k), fmt.Sprintf("Add %s = … inside the braces.", k))
			ok = false
		}
	}
	return ok
}

// indexOf returns the place of a text in a list, or -1.
func indexOf(list []string, s string) int {
	for i, t := range list {
		if t == s {
			return i
		}
	}
	return -1
}
