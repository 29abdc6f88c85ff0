package assembly

import (
	"math"
	"strconv"
	"strings"
)

// show writes a length in mm with at most one decimal.
func show(v float64) string { return fixed(v, 1) }

// fixed writes a number with at most some decimals, no zeros behind them and no negative zero.
func fixed(v float64, n int) string {
	s := strconv.FormatFloat(math.Round(v*math.Pow(10, float64(n)))/math.Pow(10, float64(n)), 'f', n, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}
