package geom

import (
	"fmt"
	"strconv"
	"strings"
)

// series holds the generic square section of each slot width. It is never written.
var series = map[int]Profile{
	6: {Pitch: 20, CornerRadius: 1.5, Core: 5.0, Thread: "M6", Alloy: DefaultAlloy,
		Slot: Slot{Opening: 6.2, Lip: 1.8, Cavity: 11.0, Depth: 6.0, Chamfer: 2.5}},
	8: {Pitch: 30, CornerRadius: 1.5, Core: 6.8, Thread: "M8", Alloy: DefaultAlloy,
		Slot: Slot{Opening: 8.2, Lip: 2.0, Cavity: 16.5, Depth: 9.0, Chamfer: 3.5}},
	10: {Pitch: 40, CornerRadius: 1.5, Core: 8.5, Thread: "M10", Alloy: DefaultAlloy,
		Slot: Slot{Opening: 10.2, Lip: 4.5, Cavity: 20.0, Depth: 12.5, Chamfer: 4.0}},
}

// DefaultAlloy is the alloy of a profile that names none.
const DefaultAlloy = "EN AW-6060 T66"

// BuiltinNames returns the names of the built-in profiles up to two cells each way, in a fixed order.
func BuiltinNames() []string {
	var out []string
	for _, slot := range []int{6, 8, 10} {
		p := series[slot].Pitch
		for _, c := range [][2]float64{{1, 1}, {1, 2}, {1, 3}, {1, 4}, {2, 2}} {
			out = append(out, fmt.Sprintf("%gx%g-%d", c[0]*p, c[1]*p, slot))
		}
	}
	return out
}

// parseName splits "30x60-8", "generic-30-slot8" or "generic-30x60-slot8".
func parseName(name string) (w, h float64, slot int, ok bool) {
	size, rest := name, ""
	if g, found := strings.CutPrefix(name, "generic-"); found {
		size, rest, ok = strings.Cut(g, "-slot")
	} else {
		size, rest, ok = strings.Cut(name, "-")
	}
	if !ok {
		return 0, 0, 0, false
	}
	a, b, two := strings.Cut(size, "x")
	if !two {
		b = a
		if !strings.HasPrefix(name, "generic-") {
			return 0, 0, 0, false
		}
	}
	w1, ok1 := plainNumber(a)
	h1, ok2 := plainNumber(b)
	slot, ok3 := plainNumber(rest)
	return float64(w1), float64(h1), slot, ok1 && ok2 && ok3
}

// plainNumber reads digits without a sign or leading zeros, so that each profile has one spelling.
func plainNumber(s string) (int, bool) {
	n, err := strconv.Atoi(s)
	return n, err == nil && strconv.Itoa(n) == s
}
