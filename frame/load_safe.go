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

// Bounds of numbers. A frame's own sizes stay within maxSize; steps on the way may be larger.
const (
	maxSize   = 1e6  // mm: a kilometre
	maxNumber = 1e12 // of any step of a formula
	minNumber = 1e-15
)

// loopBudget is how many characters of formula all loops of one file may run through together.
const loopBudget = 20_000_000

// errBudget ends a loop that runs for too long.
const tooMuchWork = "These loops take too long"

// makeSafe changes a parsed file so that evaluating it can neither panic nor run away: arithmetic checks
// every step, loops share one budget, and what would multiply without bound is refused.
//
// The library's own division returns infinity for 1/0 and panics for 0/0; its numbers carry exponents up to
// 2^31, so that printing one could take all memory. Loops within loops could build values whose size is
// the product of their lengths, and a frame needs none.
func (l *loader) makeSafe(body *hclsyntax.Body) {
	w := &safeWalker{l: l, ops: safeOperations()}
	hclsyntax.Walk(body, w) //nolint:errcheck // it reports through the loader
}

type safeWalker struct {
	l     *loader
	ops   map[*hclsyntax.Operation]*hclsyntax.Operation
	loops int
}

// Enter checks a node before its children.
func (w *safeWalker) Enter(n hclsyntax.Node) hcl.Diagnostics {
	switch e := n.(type) {
	case *hclsyntax.ForExpr:
		w.loops++
		if w.loops == 2 {
			w.l.fail(e.SrcRange, "A for inside another for", "Only one level is read. Write the list out, or use let blocks.")
		}
	case *hclsyntax.TemplateExpr:
		if w.loops > 0 && !e.IsStringLiteral() {
			w.l.fail(e.SrcRange, "A text with ${ … } inside a for", "Only plain texts are read there.")
		}
	case *hclsyntax.LiteralValueExpr:
		w.literal(e)
	case *hclsyntax.BinaryOpExpr:
		if op, ok := w.ops[e.Op]; ok {
			e.Op = op
		}
	case *hclsyntax.UnaryOpExpr:
		if op, ok := w.ops[e.Op]; ok {
			e.Op = op
		}
	}
	return nil
}

// Exit replaces loops by those that keep to the budget.
func (w *safeWalker) Exit(n hclsyntax.Node) hcl.Diagnostics {
	switch e := n.(type) {
	case *hclsyntax.ForExpr:
		w.loops--
		if w.loops > 0 {
			e.CollExpr = unknownAt(e.CollExpr.Range())
		}
		e.ValExpr = w.l.metered(e.ValExpr)
		if e.CondExpr != nil {
			e.CondExpr = w.l.metered(e.CondExpr)
		}
		if e.KeyExpr != nil {
			e.KeyExpr = w.l.metered(e.KeyExpr)
		}
	case *hclsyntax.SplatExpr:
		e.Each = w.l.metered(e.Each)
	case *hclsyntax.TemplateExpr:
		if w.loops > 0 && !e.IsStringLiteral() {
			e.Parts = []hclsyntax.Expression{unknownAt(e.SrcRange)}
		}
	}
	return nil
}

// literal refuses numbers that no frame has.
func (w *safeWalker) literal(e *hclsyntax.LiteralValueExpr) {
	if e.Val.Type() != cty.Number || e.Val.IsNull() || !e.Val.IsKnown() {
		return
	}
	if v := e.Val.AsBigFloat(); !fits(v, 1e9) {
		w.l.fail(e.SrcRange, "This number is out of all bounds", "Sizes go up to 1000000 mm (one kilometre).")
		e.Val = cty.UnknownVal(cty.Number)
	}
}

// fits reports whether a number is zero or of a magnitude up to a limit and not absurdly small.
func fits(v *big.Float, limit float64) bool {
	if v.IsInf() {
		return false
	}
	a := new(big.Float).Abs(v)
	return v.Sign() == 0 || a.Cmp(big.NewFloat(limit)) <= 0 && a.Cmp(big.NewFloat(minNumber)) >= 0
}

// unknownAt is an expression whose value is not known because an error was reported there.
func unknownAt(r hcl.Range) hclsyntax.Expression {
	return &hclsyntax.LiteralValueExpr{Val: cty.DynamicVal, SrcRange: r}
}

// meteredExpr is an expression inside a loop; each evaluation costs its length.
type meteredExpr struct {
	hclsyntax.Expression
	l    *loader
	cost int
}

// metered wraps the body of a loop. The parentheses keep the wrapped expression visible to walks.
func (l *loader) metered(e hclsyntax.Expression) hclsyntax.Expression {
	r := e.Range()
	return &meteredExpr{&hclsyntax.ParenthesesExpr{Expression: e, SrcRange: r}, l, 16 + max(r.End.Byte-r.Start.Byte, 0)}
}

// Value evaluates the body while there is budget left.
func (m *meteredExpr) Value(ctx *hcl.EvalContext) (cty.Value, hcl.Diagnostics) {
	m.l.budget -= m.cost + m.l.weight
	if m.l.budget < 0 {
		return cty.DynamicVal, hcl.Diagnostics{problem(m.Range(), tooMuchWork, "All loops of the file together run through too many steps. Make the lists shorter.")}
	}
	return m.Expression.Value(ctx)
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
	return &hclsyntax.Operation{Type: result, Impl: function.New(&function.Spec{
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
	return &hclsyntax.Operation{Type: cty.Bool, Impl: function.New(&function.Spec{
		Params: []function.Parameter{param, param}, Type: function.StaticReturnType(cty.Bool), Impl: impl,
	})}
}
