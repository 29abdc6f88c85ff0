package statics

import (
	"fmt"
	"io"
	"math"
	"strings"
)

// Summary writes the report for a terminal: what gives most and where, how stiff the top is, what the feet carry,
// the stress and the frequencies, then what was assumed.
func (r *Report) Summary(w io.Writer) error {
	var b strings.Builder
	for _, c := range r.LoadCases {
		fmt.Fprintf(&b, "%s\n", upperFirst(c.Name))
		if c.Failed != "" {
			fmt.Fprintf(&b, "  no result   %s\n", c.Failed)
			continue
		}
		fmt.Fprintf(&b, "  gives       %s mm at most: %s at (%s)\n", show(c.Deflection), c.AtMember, place(c.At))
		fmt.Fprintf(&b, "  sags        %s mm; tilts %s mm/m at most\n", show(c.Sag), show(c.Slope))
		fmt.Fprintf(&b, "  stress      %s MPa in %s%s\n", show(math.Abs(c.Stress)), c.StressAt, ofYield(c.Utilisation))
		for _, q := range c.Reactions {
			fmt.Fprintf(&b, "  carries     %s N  %s\n", show(q.Force[2]), q.Name)
		}
		for _, n := range c.Lifted {
			fmt.Fprintf(&b, "  lifts off   %s\n", n)
		}
		for _, m := range c.Masses {
			fmt.Fprintf(&b, "  stands at   (%s): %s on %s\n", place(m.At), m.Name, m.Member)
		}
	}
	for _, k := range r.Racking {
		fmt.Fprintf(&b, "Push along %s at the top\n  racks       %s N/mm (%s mm under %s N)\n", k.Direction, show(k.Stiffness), show(k.Shift), show(k.Push))
	}
	if len(r.Frequencies) > 0 {
		var f []string
		for _, v := range r.Frequencies {
			f = append(f, show(v))
		}
		fmt.Fprintf(&b, "Rings at\n  frequency   %s Hz\n", strings.Join(f, "  "))
		for _, m := range r.ModeMasses {
			fmt.Fprintf(&b, "  stands at   (%s): %s on %s\n", place(m.At), m.Name, m.Member)
		}
	}
	fmt.Fprintf(&b, "Weighs\n  mass        %s kg: bars, brackets, panels, printed parts and what the frame carries; not screws, nuts and feet\n", show(r.Mass))
	if len(r.Notes) > 0 {
		b.WriteString("Assumed\n")
		for _, n := range r.Notes {
			fmt.Fprintf(&b, "  %s\n", n)
		}
	}
	fmt.Fprintf(&b, "\n%s\n", r.Caution)
	_, err := io.WriteString(w, b.String())
	return err
}

func upperFirst(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// ofYield says what share of the yield strength a stress is, where that is known.
func ofYield(u float64) string {
	if u == 0 {
		return ""
	}
	return fmt.Sprintf(", %s %% of its yield strength", show(100*u))
}

// show prints a number with three digits that count, and none after the point where it is large.
func show(v float64) string {
	a := math.Abs(v)
	switch {
	case a < 0.0005:
		return "0"
	case a < 0.1:
		return fmt.Sprintf("%.3f", v)
	case a < 10:
		return fmt.Sprintf("%.2f", v)
	case a < 100:
		return fmt.Sprintf("%.1f", v)
	}
	return fmt.Sprintf("%.0f", v)
}

func place(p [3]float64) string { return fmt.Sprintf("%.0f, %.0f, %.0f", p[0], p[1], p[2]) }
