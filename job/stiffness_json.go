package job

import (
	"math"

	"barwright/statics"
)

// StiffnessReport is what `stiffness --json` prints: the report of the analysis with its extremes, limits and findings.
type StiffnessReport struct {
	*statics.Report
	Largest     Extremes        `json:"largest"`
	Limits      *LimitReport    `json:"limits,omitempty"`
	Findings    []FindingReport `json:"findings"`
	Fingerprint string          `json:"fingerprint"`
}

// LimitReport is the limit block: nothing where there is no limit.
type LimitReport struct {
	Sag       *Number `json:"sag_mm,omitempty"`
	Frequency *Number `json:"frequency_hz,omitempty"`
	Racking   *Number `json:"racking_n_per_mm,omitempty"`
	Stress    *Number `json:"stress_of_yield,omitempty"`
}

// Extremes are the largest figures over all load cases, each with the case that has it.
type Extremes struct {
	Deflection  float64    `json:"deflection_mm"`
	Case        string     `json:"deflection_case"`
	Member      string     `json:"deflection_member"`
	At          [3]float64 `json:"deflection_at_mm"`
	Sag         float64    `json:"sag_mm"`
	SagCase     string     `json:"sag_case"`
	Slope       float64    `json:"slope_mm_per_m"`
	SlopeCase   string     `json:"slope_case"`
	Stress      float64    `json:"stress_mpa"`
	Utilisation float64    `json:"utilisation"`
	StressAt    string     `json:"stress_member"`
	StressCase  string     `json:"stress_case"`
	Racking     float64    `json:"racking_n_per_mm"` // the softer direction
	RackingWay  string     `json:"racking_direction"`
	Feet        []FootLoad `json:"feet"`
}

// FootLoad is the least and largest force that a foot carries upward.
type FootLoad struct {
	Name  string     `json:"name"`
	At    [3]float64 `json:"at_mm"`
	Least float64    `json:"least_n"`
	Most  float64    `json:"most_n"`
	Case  string     `json:"most_case"`
}

// NewStiffnessReport returns the JSON of an analysis.
func NewStiffnessReport(s *Stiffness) *StiffnessReport {
	r := &StiffnessReport{Report: s.Report, Largest: s.Extremes(), Fingerprint: s.Frame.Fingerprint, Findings: []FindingReport{}}
	r.Limits = limitReport(s.Limits)
	for _, g := range s.Findings {
		r.Findings = append(r.Findings, findingReport(g))
	}
	return r
}

// limitReport returns the limits that are given, nil where there is none.
func limitReport(l statics.Limits) *LimitReport {
	if l == (statics.Limits{}) {
		return nil
	}
	given := func(v float64) *Number {
		if v == 0 {
			return nil
		}
		return num(v)
	}
	return &LimitReport{given(l.Sag), given(l.Frequency), given(l.Racking), given(l.Stress)}
}

// Extremes finds the largest figures over all load cases.
func (s *Stiffness) Extremes() Extremes {
	var e Extremes
	for _, c := range s.Report.LoadCases {
		if c.Failed != "" {
			continue
		}
		if e.Case == "" || c.Deflection > e.Deflection {
			e.Deflection, e.Case, e.Member, e.At = c.Deflection, c.Name, c.AtMember, c.At
		}
		if e.SagCase == "" || c.Sag > e.Sag {
			e.Sag, e.SagCase = c.Sag, c.Name
		}
		if e.SlopeCase == "" || c.Slope > e.Slope {
			e.Slope, e.SlopeCase = c.Slope, c.Name
		}
		if e.StressCase == "" || c.Utilisation > e.Utilisation || c.Utilisation == e.Utilisation && math.Abs(c.Stress) > math.Abs(e.Stress) {
			e.Stress, e.Utilisation, e.StressAt, e.StressCase = c.Stress, c.Utilisation, c.StressAt, c.Name
		}
		e.addFeet(&c)
	}
	for i, k := range s.Report.Racking {
		if i == 0 || k.Stiffness < e.Racking {
			e.Racking, e.RackingWay = k.Stiffness, k.Direction
		}
	}
	return e
}

// addFeet takes in the forces of the feet in one case.
func (e *Extremes) addFeet(c *statics.LoadCase) {
	for _, q := range c.Reactions {
		i := 0
		for i < len(e.Feet) && (e.Feet[i].Name != q.Name || e.Feet[i].At != q.At) {
			i++
		}
		up := q.Force[2]
		if i == len(e.Feet) {
			e.Feet = append(e.Feet, FootLoad{q.Name, q.At, up, up, c.Name})
		}
		f := &e.Feet[i]
		f.Least = math.Min(f.Least, up)
		if up > f.Most {
			f.Most, f.Case = up, c.Name
		}
	}
}
