package frame

import (
	"fmt"
	"math"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"
	"github.com/zclconf/go-cty/cty"
)

// evaluate works out an expression. Where it returns false an error has been reported, here or at what the
// expression refers to.
func (l *loader) evaluate(e hclsyntax.Expression) (value cty.Value, ok bool) {
	if l.refusedIn(e.Range()) {
		return cty.NilVal, false
	}
	ctx, ok := l.context(e)
	if !ok {
		return cty.NilVal, false
	}
	defer func() {
		if recover() != nil {
			// The number library panics where a formula has no value (0/0).
			l.fail(e.Range(), "This can't be computed", "The formula has no value.")
			value, ok = cty.NilVal, false
		}
	}()
	v, diags := e.Value(ctx)
	for _, d := range diags {
		if d.Severity == hcl.DiagError {
			summary, detail := plainEvaluation(d)
			at := e.Range()
			if d.Subject != nil {
				at = *d.Subject
			}
			l.fail(at, summary, detail)
			return cty.NilVal, false
		}
	}
	if v == cty.NilVal || !v.IsKnown() {
		return cty.NilVal, false
	}
	return v, true
}

// number works out an expression that must be a number within bounds.
func (l *loader) number(e hclsyntax.Expression) (float64, bool) {
	v, ok := l.evaluate(e)
	if !ok {
		return 0, false
	}
	return l.asNumber(v, e.Range())
}

// asNumber takes a value as a number within bounds.
func (l *loader) asNumber(v cty.Value, at hcl.Range) (float64, bool) {
	if !v.IsKnown() {
		return 0, false
	}
	if v.IsNull() || v.Type() != cty.Number {
		remedy := "Lengths are numbers of millimetres."
		if !v.IsNull() && v.Type() == cty.String {
			remedy = "Write the number without quotes."
		} else if !v.IsNull() && v.Type().IsObjectType() {
			remedy = "Name one of its faces, such as .left or .top."
		}
		l.fail(at, "A number is needed here, not "+kindOf(v), remedy)
		return 0, false
	}
	f := float(v)
	if math.IsNaN(f) || math.Abs(f) > maxSize {
		l.fail(at, "This number is out of all bounds", "Sizes go up to 1000000 mm (one kilometre).")
		return 0, false
	}
	return f, true
}

// text works out an expression that must be a text.
func (l *loader) text(e hclsyntax.Expression) (string, bool) {
	if w, ok := l.bareWord(e); ok {
		l.fail(e.Range(), "A text stands in quotes", fmt.Sprintf("Write %q.", shorten(w)))
		return "", false
	}
	v, ok := l.evaluate(e)
	if !ok {
		return "", false
	}
	return l.asText(v, e.Range())
}

// bareWord returns the single word that an expression is where nothing of that name is known: its quotes were forgotten.
func (l *loader) bareWord(e hclsyntax.Expression) (string, bool) {
	w := hcl.ExprAsKeyword(e)
	if w == "" || w == "true" || w == "false" || w == "null" || l.names[w] != nil {
		return "", false
	}
	return w, true
}

// asText takes a value as a text.
func (l *loader) asText(v cty.Value, at hcl.Range) (string, bool) {
	if !v.IsKnown() {
		return "", false
	}
	if v.IsNull() || v.Type() != cty.String {
		l.fail(at, "A text in quotes is needed here, not "+kindOf(v), "")
		return "", false
	}
	return v.AsString(), true
}

// kindOf says what a value is.
func kindOf(v cty.Value) string {
	t := v.Type()
	switch {
	case v.IsNull():
		return "nothing"
	case t == cty.Number:
		return "a number"
	case t == cty.String:
		return "a text"
	case t == cty.Bool:
		return "true or false"
	case t.IsTupleType() || t.IsListType() || t.IsSetType():
		return "a list"
	case t.IsObjectType() && t.HasAttribute("name"):
		return "a member or set"
	}
	return "an object"
}

// num returns a number attribute, or def where it is not given.
func (b *block) num(name string, def float64) (float64, bool) {
	if e := b.expr(name); e != nil {
		return b.l.number(e)
	}
	return def, true
}

// positive returns a number attribute that must be above zero, or def where it is not given.
func (b *block) positive(name string, def float64) (float64, bool) {
	v, ok := b.num(name, def)
	if ok && b.has(name) && !(v > 0) {
		b.l.fail(b.at(name), fmt.Sprintf("%s is %s; it must be more than 0", name, show(v)), "")
		return 0, false
	}
	return v, ok
}

// notNegative returns a number attribute of zero or more, or def where it is not given.
func (b *block) notNegative(name string, def float64) (float64, bool) {
	v, ok := b.num(name, def)
	if ok && v < 0 {
		b.l.fail(b.at(name), fmt.Sprintf("%s is %s; it can't be less than 0", name, show(v)), "")
		return 0, false
	}
	return v, ok
}

// str returns a text attribute, or def where it is not given.
func (b *block) str(name, def string) (string, bool) {
	if e := b.expr(name); e != nil {
		return b.l.text(e)
	}
	return def, true
}

// choice returns a text attribute that must be one of some words.
func (b *block) choice(name, def string, words ...string) (string, bool) {
	s, ok := b.str(name, def)
	if !ok || !b.has(name) {
		return s, ok
	}
	for _, w := range words {
		if s == w {
			return s, true
		}
	}
	b.l.fail(b.at(name), fmt.Sprintf("%s can't be %q", name, shorten(s)), didYouMean(s, words))
	return "", false
}

// flag returns a true-or-false attribute, or def where it is not given.
func (b *block) flag(name string, def bool) (bool, bool) {
	e := b.expr(name)
	if e == nil {
		return def, true
	}
	v, ok := b.l.evaluate(e)
	if !ok {
		return false, false
	}
	if v.IsNull() || v.Type() != cty.Bool {
		b.l.fail(e.Range(), "true or false is needed here, not "+kindOf(v), "Write it without quotes.")
		return false, false
	}
	return v.True(), true
}

// items returns the values of a list attribute, each with its place where the list is written out.
func (b *block) items(name string) (values []cty.Value, at []hcl.Range, ok bool) {
	e := b.expr(name)
	if e == nil {
		return nil, nil, true
	}
	v, ok := b.l.evaluate(e)
	if !ok {
		return nil, nil, false
	}
	t := v.Type()
	if v.IsNull() || !(t.IsTupleType() || t.IsListType()) {
		values, at = []cty.Value{v}, []hcl.Range{e.Range()}
		if k := b.spec.attr(name).kind; k != aPlaces {
			b.l.fail(e.Range(), fmt.Sprintf("%s is a list", name), "Write it in brackets: [ … ].")
			return nil, nil, false
		}
		return values, at, true
	}
	written, diags := hcl.ExprList(e)
	for i, item := range v.AsValueSlice() {
		place := e.Range()
		if !diags.HasErrors() && i < len(written) {
			place = written[i].Range()
		}
		values, at = append(values, item), append(at, place)
	}
	return values, at, true
}

// nums returns an attribute that is a list of numbers, of exactly n where n is not negative.
func (b *block) nums(name string, n int) ([]float64, bool) {
	values, at, ok := b.items(name)
	if !ok || !b.has(name) {
		return nil, ok
	}
	out := make([]float64, len(values))
	for i, v := range values {
		if out[i], ok = b.l.asNumber(v, at[i]); !ok {
			return nil, false
		}
	}
	if n >= 0 && len(out) != n {
		b.l.fail(b.at(name), fmt.Sprintf("%s has %d numbers; it needs %d", name, len(out), n), "")
		return nil, false
	}
	return out, true
}

// texts returns an attribute that is a list of texts.
func (b *block) texts(name string) ([]string, []hcl.Range, bool) {
	values, at, ok := b.items(name)
	if !ok {
		return nil, nil, false
	}
	out := make([]string, len(values))
	for i, v := range values {
		if out[i], ok = b.l.asText(v, at[i]); !ok {
			return nil, nil, false
		}
	}
	return out, at, true
}

// show prints a number for a message.
func show(v float64) string {
	return fmt.Sprintf("%g", math.Round(v*1e4)/1e4+0)
}

// checkedInt returns a whole number within bounds from an attribute, or def where it is not given.
func (b *block) checkedInt(name string, def, low, high int) (int, bool) {
	v, ok := b.num(name, float64(def))
	if !ok {
		return 0, false
	}
	if v != math.Trunc(v) || v < float64(low) || v > float64(high) {
		b.l.fail(b.at(name), fmt.Sprintf("%s is %s; it must be a whole number from %d to %d", name, show(v), low, high), "")
		return 0, false
	}
	return int(v), true
}
