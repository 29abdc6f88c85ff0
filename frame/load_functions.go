package frame

import (
	"errors"
	"fmt"
	"math"
	"sort"

	"github.com/zclconf/go-cty/cty"
	"github.com/zclconf/go-cty/cty/function"
)

// maxRange is how many numbers range makes at most.
const maxRange = 2000

// functions returns what formulas can call. Angles are degrees. Lists are paid for by their length.
func functions(pay func(cost int) bool) map[string]function.Function {
	degrees := func(f func(float64) float64) function.Function {
		return numberFunction(1, func(a []float64) (float64, error) { return exactDegrees(f, a[0]), nil })
	}
	one := func(f func(float64) float64) function.Function {
		return numberFunction(1, func(a []float64) (float64, error) { return f(a[0]), nil })
	}
	return map[string]function.Function{
		"min":   numberFunction(-1, func(a []float64) (float64, error) { return fold(a, math.Min), nil }),
		"max":   numberFunction(-1, func(a []float64) (float64, error) { return fold(a, math.Max), nil }),
		"abs":   one(math.Abs),
		"round": one(math.Round),
		"floor": one(math.Floor),
		"ceil":  one(math.Ceil),
		"sqrt": numberFunction(1, func(a []float64) (float64, error) {
			if a[0] < 0 {
				return 0, fmt.Errorf("%g has no square root", a[0])
			}
			return math.Sqrt(a[0]), nil
		}),
		"sin":   degrees(math.Sin),
		"cos":   degrees(math.Cos),
		"tan":   numberFunction(1, tangent),
		"inch":  one(func(x float64) float64 { return x * 25.4 }),
		"range": rangeFunction(pay),
	}
}

// functionNames returns the names in order.
func functionNames() []string {
	var out []string
	for name := range functions(nil) {
		out = append(out, name)
	}
	sort.Strings(out)
	return out
}

// exactDegrees takes multiples of 30° to the very values that sine and cosine have there.
func exactDegrees(f func(float64) float64, deg float64) float64 {
	v := f(math.Mod(deg, 360) * math.Pi / 180)
	for _, exact := range []float64{0, 0.5, -0.5, 1, -1} {
		if math.Abs(v-exact) < 1e-14 {
			return exact
		}
	}
	return v
}

func tangent(a []float64) (float64, error) {
	s, c := exactDegrees(math.Sin, a[0]), exactDegrees(math.Cos, a[0])
	if c == 0 {
		return 0, fmt.Errorf("the tangent of %g° is infinite", a[0])
	}
	return s / c, nil
}

func fold(a []float64, f func(x, y float64) float64) float64 {
	v := a[0]
	for _, x := range a[1:] {
		v = f(v, x)
	}
	return v
}

// numberFunction makes a function of n numbers, or of one or more where n is -1.
func numberFunction(n int, f func(a []float64) (float64, error)) function.Function {
	param := function.Parameter{Name: "x", Type: cty.DynamicPseudoType, AllowNull: true}
	spec := &function.Spec{Type: function.StaticReturnType(cty.Number)}
	for range max(n, 0) {
		spec.Params = append(spec.Params, param)
	}
	if n < 0 {
		spec.VarParam = &param
	}
	spec.Impl = func(args []cty.Value, _ cty.Type) (cty.Value, error) {
		a, err := floats(args)
		if err != nil {
			return cty.NilVal, err
		}
		v, err := f(a)
		if err == nil && (math.IsNaN(v) || math.Abs(v) > maxNumber) {
			err = errors.New("its result is out of all bounds")
		}
		if err != nil {
			return cty.NilVal, err
		}
		return cty.NumberFloatVal(v), nil
	}
	return function.New(spec)
}

// floats returns arguments as numbers; there must be at least one.
func floats(args []cty.Value) ([]float64, error) {
	if len(args) == 0 {
		return nil, errors.New("it needs at least one number")
	}
	out := make([]float64, len(args))
	for i, a := range args {
		if a.IsNull() || a.Type() != cty.Number {
			return nil, errors.New("it takes numbers, without quotes")
		}
		if out[i] = float(a); math.IsNaN(out[i]) || math.Abs(out[i]) > maxNumber {
			return nil, errors.New("a number in it is out of all bounds")
		}
	}
	return out, nil
}

// rangeFunction makes range(end), range(start, end) and range(start, end, step): numbers from start up to
// but without end, as HCL's.
func rangeFunction(pay func(cost int) bool) function.Function {
	param := function.Parameter{Name: "x", Type: cty.DynamicPseudoType, AllowNull: true}
	return function.New(&function.Spec{
		VarParam: &param,
		Type:     function.StaticReturnType(cty.List(cty.Number)),
		Impl: func(args []cty.Value, _ cty.Type) (cty.Value, error) {
			a, err := floats(args)
			if err != nil {
				return cty.NilVal, err
			}
			return rangeOf(a, pay)
		},
	})
}

func rangeOf(a []float64, pay func(cost int) bool) (cty.Value, error) {
	start, end, step := 0.0, a[0], 1.0
	switch len(a) {
	case 1:
	case 2:
		start, end = a[0], a[1]
		if end < start {
			step = -1
		}
	case 3:
		start, end, step = a[0], a[1], a[2]
	default:
		return cty.NilVal, errors.New("it takes up to three numbers: start, end, step")
	}
	if step == 0 {
		return cty.NilVal, errors.New("its step is zero")
	}
	n := math.Ceil((end-start)/step - 1e-9)
	if n > maxRange {
		return cty.NilVal, fmt.Errorf("it would make %.0f numbers; at most %d are made", n, maxRange)
	}
	if !pay(32 * int(max(n, 0))) {
		return cty.NilVal, errors.New("the file's loops and lists take too many steps")
	}
	if n <= 0 {
		return cty.ListValEmpty(cty.Number), nil
	}
	out := make([]cty.Value, int(n))
	for i := range out {
		out[i] = cty.NumberFloatVal(start + float64(float64(i)*step))
	}
	return cty.ListVal(out), nil
}
