package drawing

import (
	"math"
	"strconv"
	"strings"
)

// units prints lengths: millimetres, or inches as decimals.
type units struct{ inch bool }

const mmPerInch = 25.4

// place prints a position or the length of a bar: at most one decimal of a millimetre, or thousandths of an inch.
func (u units) place(mm float64) string {
	if u.inch && mm != 0 {
		return fixed(mm/mmPerInch, 3)
	}
	return trimmed(mm, 1)
}

// size prints the size of a hole, where a second decimal can matter: a tap drill of 4.25.
func (u units) size(mm float64) string {
	if u.inch {
		return fixed(mm/mmPerInch, 3)
	}
	return trimmed(mm, 2)
}

// name names the unit.
func (u units) name() string {
	if u.inch {
		return "inches"
	}
	return "mm"
}

// fixed prints v with n decimals and never as a negative zero.
func fixed(v float64, n int) string {
	s := strconv.FormatFloat(v, 'f', n, 64)
	if strings.Trim(s, "-0.") == "" {
		s = strings.TrimPrefix(s, "-")
	}
	return s
}

// trimmed prints v rounded half up to n decimals, without trailing zeros.
func trimmed(v float64, n int) string {
	k := math.Pow(10, float64(n))
	// The small push keeps a half that binary digits write a hair too low from rounding down.
	s := fixed(math.Floor(v*k+0.5+1e-7)/k, n)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}
