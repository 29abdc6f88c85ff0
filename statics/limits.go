package statics

import "fmt"

// Limits are what a frame must keep to. A zero stands for no limit.
type Limits struct {
	Sag       float64 // largest shift in any load case but a warmed one, which grows as a whole, mm
	Frequency float64 // lowest natural frequency, Hz
	Racking   float64 // least stiffness against a push at the top, N/mm
	Stress    float64 // largest share of the yield strength
}

// Breach is a limit that is not kept.
type Breach struct {
	Limit          string // "sag", "frequency", "racking", "stress"
	Value, Allowed float64
	Member         string // where, or ""
	At             [3]float64
	Message        string
	Remedy         string
}

// Breaches returns the limits that the report does not keep, in the order of the load cases.
func (r *Report) Breaches(l Limits) (out []Breach) {
	for _, c := range r.LoadCases {
		if c.Failed != "" {
			continue
		}
		if l.Sag > 0 && !c.Warmed && c.Deflection > l.Sag {
			out = append(out, Breach{"sag", c.Deflection, l.Sag, c.AtMember, c.At,
				fmt.Sprintf("%s gives %.2f mm (%s); the limit is %g mm", c.AtMember, c.Deflection, c.Name, l.Sag),
				"take a higher profile for that bar, turn it upright, shorten its span, or support it in the middle"})
		}
		if l.Stress > 0 && c.Utilisation > l.Stress {
			out = append(out, Breach{"stress", c.Utilisation, l.Stress, c.StressAt, c.At,
				fmt.Sprintf("%s is stressed to %.0f %% of its yield strength (%s); the limit is %.0f %%", c.StressAt, 100*c.Utilisation, c.Name, 100*l.Stress),
				"take a larger profile for that bar"})
		}
	}
	for _, k := range r.Racking {
		if l.Racking > 0 && k.Stiffness < l.Racking {
			out = append(out, Breach{"racking", k.Stiffness, l.Racking, "", [3]float64{},
				fmt.Sprintf("a push along %s at the top meets %.0f N/mm; the limit is %g N/mm", k.Direction, k.Stiffness, l.Racking),
				"add a brace or a plate in that direction, or stiffer joints"})
		}
	}
	if len(r.Frequencies) > 0 && l.Frequency > 0 && r.Frequencies[0] < l.Frequency {
		out = append(out, Breach{"frequency", r.Frequencies[0], l.Frequency, "", [3]float64{},
			fmt.Sprintf("the frame rings at %.1f Hz; the limit is %g Hz", r.Frequencies[0], l.Frequency),
			"make it stiffer where it racks, with braces or stiffer joints, or take weight off the top"})
	}
	return out
}
