package frame

import (
	"fmt"
	"math/big"
	"sort"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"
	"github.com/zclconf/go-cty/cty"
)

// Bounds of numbers. A frame's own sizes stay within maxSize; steps on the way may be larger.
const (
	maxSize   = 1e6  // mm: a kilometre
	maxNumber = 1e12 // of any step of a formula
	minNumber = 1e-15
)

// loopBudget bounds all loops of one file together. One unit is about what it takes to evaluate one character of a formula.
const loopBudget = 4_000_000

// tooMuchWork ends a loop that runs for too long.
const tooMuchWork = "These loops take too long"

// makeSafe changes a parsed file so that evaluating it can neither panic nor run away: arithmetic checks
// every step, loops share one budget, and what would multiply without bound is refused.
//
// The library's own division returns infinity for 1/0 and panics for 0/0; its numbers carry exponents up to
// 2^31, so that printing one could take all memory; and each of its calls searches its arguments to
// the bottom. Loops within loops could build values whose size is the product of their lengths,
// and a frame needs none.
func (l *loader) makeSafe(body *hclsyntax.Body) {
	w := &safeWalker{l: l, ops: safeOperations(), allowed: map[hclsyntax.Expression]bool{}}
	hclsyntax.Walk(body, w) //nolint:errcheck // it reports through the loader
	sort.Slice(l.refused, func(i, j int) bool { return l.refused[i] < l.refused[j] })
}

type safeWalker struct {
	l       *loader
	ops     map[*hclsyntax.Operation]*hclsyntax.Operation
	loops   int
	allowed map[hclsyntax.Expression]bool // places where a whole row may stand
}

// refuse reports a piece of a formula that is not evaluated, nor anything round it.
func (w *safeWalker) refuse(at hcl.Range, summary, detail string) {
	w.l.fail(at, summary, detail)
	w.l.refused = append(w.l.refused, at.Start.Byte)
}

// refusedIn reports whether something was refused inside a range.
func (l *loader) refusedIn(r hcl.Range) bool {
	i := sort.SearchInts(l.refused, r.Start.Byte)
	return i < len(l.refused) && l.refused[i] < r.End.Byte
}

// allow lets a whole row stand in a place where nothing searches through it.
func (w *safeWalker) allow(e hclsyntax.Expression) {
	for {
		p, ok := e.(*hclsyntax.ParenthesesExpr)
		if !ok {
			break
		}
		e = p.Expression
	}
	w.allowed[e] = true
}

// allowRoot lets whole rows stand for themselves: as an attribute, in its list or in its object.
func (w *safeWalker) allowRoot(e hclsyntax.Expression) {
	w.allow(e)
	switch e := e.(type) {
	case *hclsyntax.TupleConsExpr:
		for _, item := range e.Exprs {
			w.allow(item)
		}
	case *hclsyntax.ObjectConsExpr:
		for _, item := range e.Items {
			w.allow(item.ValueExpr)
		}
	}
}

// Enter checks a node before its children.
func (w *safeWalker) Enter(n hclsyntax.Node) hcl.Diagnostics {
	switch e := n.(type) {
	case *hclsyntax.Attribute:
		w.allowRoot(e.Expr)
	case *hclsyntax.ForExpr:
		w.allow(e.CollExpr)
		if w.loops++; w.loops == 2 {
			w.refuse(e.SrcRange, "A for inside another for", "Only one level is read. Write the list out, or use let blocks.")
		}
	case *hclsyntax.SplatExpr:
		w.allow(e.Source)
	case *hclsyntax.IndexExpr:
		w.allow(e.Collection)
	case *hclsyntax.ScopeTraversalExpr:
		w.reference(e)
	case *hclsyntax.TemplateExpr:
		if w.loops > 0 && !e.IsStringLiteral() {
			w.refuse(e.SrcRange, "A text with ${ … } inside a for", "Only plain texts are read there.")
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

// Exit wraps what must be measured while it is evaluated, once its children have been seen.
func (w *safeWalker) Exit(n hclsyntax.Node) hcl.Diagnostics {
	l := w.l
	switch e := n.(type) {
	case *hclsyntax.ForExpr:
		w.loops--
		e.ValExpr = l.meter(e.ValExpr, eachTime)
		if e.CondExpr != nil {
			e.CondExpr = l.meter(e.CondExpr, eachTime)
		}
		if e.KeyExpr != nil {
			e.KeyExpr = l.meter(e.KeyExpr, eachTime)
		}
	case *hclsyntax.SplatExpr:
		e.Each = l.meter(e.Each, eachTime)
	case *hclsyntax.ConditionalExpr:
		e.TrueResult, e.FalseResult = l.meter(e.TrueResult, bySize), l.meter(e.FalseResult, bySize)
	case *hclsyntax.UnaryOpExpr:
		e.Val = l.meter(e.Val, onlyScalar)
	case *hclsyntax.FunctionCallExpr:
		for i := range e.Args {
			kind := onlyScalar
			if e.ExpandFinal && i == len(e.Args)-1 {
				kind = onlyScalars
			}
			e.Args[i] = l.meter(e.Args[i], kind)
		}
	}
	return nil
}

// reference refuses a whole row where the library would search through all of it.
func (w *safeWalker) reference(e *hclsyntax.ScopeTraversalExpr) {
	ent := w.l.names[e.Traversal.RootName()]
	if ent == nil || ent.kind != string(Row) || len(e.Traversal) > 1 || w.allowed[e] {
		return
	}
	w.refuse(e.SrcRange, fmt.Sprintf("The whole row %q can't stand here", ent.name),
		fmt.Sprintf("Name one of its members, such as %s[0], or go through it with for.", ent.name))
}

// literal refuses numbers that no frame has.
func (w *safeWalker) literal(e *hclsyntax.LiteralValueExpr) {
	if e.Val.Type() != cty.Number || e.Val.IsNull() || !e.Val.IsKnown() {
		return
	}
	if v := e.Val.AsBigFloat(); !fits(v, 1e9) {
		w.refuse(e.SrcRange, "This number is out of all bounds", "Sizes go up to 1000000 mm (one kilometre).")
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
