package frame

import (
	"errors"
	"math"
	"math/big"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"
	"github.com/zclconf/go-cty/cty"
	"github.com/zclconf/go-cty/cty/function"
)

// meterKind says what a meter watches.
type meterKind int

const (
	eachTime    meterKind = iota // the body of a loop: each evaluation costs its length
	bySize                       // a value that is copied: it costs its size
	onlyScalar                   // a value that must be a number, a text or a truth
	onlyScalars                  // a list of such values, spread out; it costs its size
)

// meteredExpr watches an expression while it is evaluated.
type meteredExpr struct {
	hclsyntax.Expression
	l    *loader
	kind meterKind
	cost int
}

// meter wraps an expression. The parentheses keep the wrapped expression visible to walks.
func (l *loader) meter(e hclsyntax.Expression, kind meterKind) hclsyntax.Expression {
	r := e.Range()
	return &meteredExpr{&hclsyntax.ParenthesesExpr{Expression: e, SrcRange: r}, l, kind, 16 + max(r.End.Byte-r.Start.Byte, 0)}
}

// Value evaluates the expression while there is budget left.
func (m *meteredExpr) Value(ctx *hcl.EvalContext) (cty.Value, hcl.Diagnostics) {
	if m.kind == eachTime && !m.l.pay(m.cost) {
		return m.tooMuch()
	}
	v, diags := m.Expression.Value(ctx)
	if diags.HasErrors() || v == cty.NilVal || v.IsNull() || !v.IsKnown() || m.kind == eachTime || scalar(v) {
		return v, diags
	}
	if m.kind == onlyScalar {
		return cty.DynamicVal, append(diags, problem(m.Range(), "A number is needed here, not "+kindOf(v), ""))
	}
	if !v.CanIterateElements() {
		return v, diags
	}
	size := 0
	for it := v.ElementIterator(); it.Next(); {
		_, item := it.Element()
		size += 16
		if scalar(item) || item.IsNull() || !item.IsKnown() {
			continue
		}
		if m.kind == onlyScalars {
			return cty.DynamicVal, append(diags, problem(m.Range(), "Numbers are needed in this list, not "+kindOf(item), ""))
		}
		if item.CanIterateElements() {
			size += 16 * item.LengthInt()
		}
	}
	if !m.l.pay(size) {
		return m.tooMuch()
	}
	return v, diags
}

func (m *meteredExpr) tooMuch() (cty.Value, hcl.Diagnostics) {
	return cty.DynamicVal, hcl.Diagnostics{problem(m.Range(), tooMuchWork, "All loops and lists of the file together take too many steps. Make them shorter.")}
}

// pay takes a cost off the budget and reports whether there was enough.
func (l *loader) pay(cost int) bool {
	l.budget -= cost
	return l.budget >= 0
}

// scalar reports whether a value is a single number, text or truth.
func scalar(v cty.Value) bool { return v.Type().IsPrimitiveType() }

// scalarsOnly ends an operation before the library searches through its operands.
func scalarsOnly(a, b cty.Value, _, _ hcl.Diagnostics) (cty.Value, hcl.Diagnostics) {
	for _, v := range []cty.Value{a, b} {
		if v.Type() != cty.DynamicPseudoType && !scalar(v) {
			return cty.DynamicVal, hcl.Diagnostics{&hcl.Diagnostic{Severity: hcl.DiagError,
				Summary: "A formula needs numbers, not " + kindOf(v), Detail: "Name one of its faces or items."}}
		}
	}
	return cty.NilVal, nil
}

// safeOperations maps the library's operations to checked ones.
func safeOperations() map[*hclsyntax.Operation]*hclsyntax.Operation {
	number := func(f func(a, b cty.Value) cty.Value) *hclsyntax.Operation {
		return checkedOperation(cty.Number, 2, f)
	}
	boolean := func(f func(a, b cty.Value) cty.Value) *hclsyntax.Operation {
		return checkedOperation(cty.Bool, 2, f)
	}
	return map[*hclsyntax.Operation]*hclsyntax.Operation{
		hclsyntax.OpAdd:                number(cty.Value.Add),
		hclsyntax.OpSubtract:           number(cty.Value.Subtract),
		hclsyntax.OpMultiply:           number(cty.Value.Multiply),
		hclsyntax.OpDivide:             number(divide),
		hclsyntax.OpModulo:             number(modulo),
		hclsyntax.OpNegate:             checkedOperation(cty.Number, 1, func(a, _ cty.Value) cty.Value { return a.Negate() }),
		hclsyntax.OpGreaterThan:        boolean(cty.Value.GreaterThan),
		hclsyntax.OpGreaterThanOrEqual: boolean(cty.Value.GreaterThanOrEqualTo),
		hclsyntax.OpLessThan:           boolean(cty.Value.LessThan),
		hclsyntax.OpLessThanOrEqual:    boolean(cty.Value.LessThanOrEqualTo),
		hclsyntax.OpEqual:              equality(false),
		hclsyntax.OpNotEqual:           equality(true),
	}
}

// errNoNumber is the outcome of an operation that has none.
var errNoNumber = errors.New("it divides by zero")

// divide returns NilVal where there is no quotient.
func divide(a, b cty.Value) cty.Value {
	if b.AsBigFloat().Sign() == 0 {
		return cty.NilVal
	}
	return a.Divide(b)
}

// modulo returns the remainder with the sign of a, as HCL does, by way of float64: the library's own
// would count up to any quotient.
func modulo(a, b cty.Value) cty.Value {
	x, y := float(a), float(b)
	if y == 0 {
		return cty.NilVal
	}
	return cty.NumberFloatVal(math.Mod(x, y))
}

// float returns a known number as a float64.
func float(v cty.Value) float64 {
	f, _ := v.AsBigFloat().Float64()
	return f
}

// checkedOperation makes an operation on numbers that converts nothing and refuses results out of bounds.
func checkedOperation(result cty.Type, operands int, f func(a, b cty.Value) cty.Value) *hclsyntax.Operation {
	params := make([]function.Parameter, operands)
	for i := range params {
		params[i] = function.Parameter{Name: "x", Type: cty.DynamicPseudoType, AllowNull: true}
	}
	impl := func(args []cty.Value, _ cty.Type) (cty.Value, error) {
		for _, a := range args {
			if a.IsNull() || a.Type() != cty.Number {
				return cty.NilVal, errors.New("it needs numbers on both sides, without quotes")
			}
		}
		out := f(args[0], args[len(args)-1])
		if out == cty.NilVal {
			return cty.NilVal, errNoNumber
		}
		if result == cty.Number && !fitsOrVanishes(out.AsBigFloat()) {
			return cty.NilVal, errors.New("its result is out of all bounds")
		}
		if result == cty.Number && !fits(out.AsBigFloat(), maxNumber) {
			out = cty.Zero
		}
		return out, nil
	}
	return &hclsyntax.Operation{Type: result, ShortCircuit: scalarsOnly, Impl: function.New(&function.Spec{
		Params: params, Type: function.StaticReturnType(result), Impl: impl,
	})}
}

// fitsOrVanishes reports whether a result is within bounds; one too small to matter counts as zero.
func fitsOrVanishes(v *big.Float) bool {
	return !v.IsInf() && new(big.Float).Abs(v).Cmp(big.NewFloat(maxNumber)) <= 0
}

// equality compares two numbers, texts or truths; anything larger would take time.
func equality(not bool) *hclsyntax.Operation {
	param := function.Parameter{Name: "x", Type: cty.DynamicPseudoType}
	impl := func(args []cty.Value, _ cty.Type) (cty.Value, error) {
		for _, a := range args {
			if !a.Type().IsPrimitiveType() {
				return cty.NilVal, errors.New("only numbers and texts can be compared")
			}
		}
		return cty.BoolVal(args[0].RawEquals(args[1]) != not), nil
	}
	return &hclsyntax.Operation{Type: cty.Bool, ShortCircuit: scalarsOnly, Impl: function.New(&function.Spec{
		Params: []function.Parameter{param, param}, Type: function.StaticReturnType(cty.Bool), Impl: impl,
	})}
}
