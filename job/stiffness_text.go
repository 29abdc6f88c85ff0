package job

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"barwright/statics"
)

// Figure writes a measured or computed figure with three digits that count.
func Figure(v float64) string {
	a := math.Abs(v)
	if a == 0 || math.IsNaN(v) || math.IsInf(v, 0) {
		return "0"
	}
	digits := 2 - int(math.Floor(math.Log10(a)))
	s := strconv.FormatFloat(v, 'f', max(0, min(digits, 4)), 64)
	if strings.Trim(s, "-0.") == "" {
		return "0"
	}
	return s
}

// WriteStiffness prints an analysis for a terminal: the findings, the extremes, then a table of the load cases, the
// feet, what was assumed, and the caution.
func WriteStiffness(w io.Writer, s *Stiffness, colour bool) error {
	WriteFindings(w, s.Findings, colour)
	if err := WriteTable(w, extremeRows(s)); err != nil {
		return err
	}
	fmt.Fprintln(w)
	if err := WriteTable(w, caseRows(s.Report)); err != nil {
		return err
	}
	fmt.Fprintln(w)
	if err := WriteTable(w, footRows(s)); err != nil {
		return err
	}
	if len(s.Report.Notes) > 0 {
		fmt.Fprintln(w)
	}
	for _, n := range s.Report.Notes {
		fmt.Fprintf(w, "assumed: %s\n", n)
	}
	_, err := fmt.Fprintf(w, "\n%s\n", s.Report.Caution)
	return err
}

// extremeRows is the summary.
func extremeRows(s *Stiffness) [][]string {
	e, r := s.Extremes(), s.Report
	var rows [][]string
	add := func(what, value, unit, where string) { rows = append(rows, []string{what, value, unit, where}) }
	if e.Case != "" {
		add("largest shift", Figure(e.Deflection), "mm", fmt.Sprintf("%s at %s; %s", e.Member, spot(e.At), e.Case))
		add("largest sag", Figure(e.Sag), "mm", "straight down; "+e.SagCase)
		add("largest slope", Figure(e.Slope), "mm/m", e.SlopeCase)
		stress := fmt.Sprintf("%s; %s", e.StressAt, e.StressCase)
		if e.Utilisation > 0 {
			stress = fmt.Sprintf("%s %% of the yield strength of %s; %s", Figure(100*e.Utilisation), e.StressAt, e.StressCase)
		}
		add("highest stress", Figure(math.Abs(e.Stress)), "MPa", stress)
	}
	for _, k := range r.Racking {
		add("racking along "+k.Direction, Figure(k.Stiffness), "N/mm", fmt.Sprintf("%s mm under %s N at the top", Figure(k.Shift), Figure(k.Push)))
	}
	if len(r.Frequencies) > 0 {
		add("lowest frequency", Figure(r.Frequencies[0]), "Hz", frequencyWords(s.Report))
	}
	add("mass", Figure(r.Mass), "kg", "bars, brackets, panels, printed parts and what the frame carries; not screws, nuts and feet")
	return rows
}

// frequencyWords lists the higher frequencies and where what travels stands.
func frequencyWords(r *statics.Report) string {
	var out []string
	for _, f := range r.Frequencies[1:] {
		out = append(out, Figure(f))
	}
	text := standsWords(r.ModeMasses)
	switch {
	case len(out) == 0:
		return text
	case text == "":
		return "then " + strings.Join(out, ", ")
	}
	return "then " + strings.Join(out, ", ") + "; " + text
}

// standsWords says where travelling things stand.
func standsWords(masses []statics.MassPlace) string {
	var out []string
	for _, m := range masses {
		out = append(out, fmt.Sprintf("%s at %s", m.Name, spot(m.At)))
	}
	if out == nil {
		return ""
	}
	return "with " + strings.Join(out, ", ")
}

// spot writes a place as whole millimetres.
func spot(p [3]float64) string {
	return Length(math.Round(p[0])) + ", " + Length(math.Round(p[1])) + ", " + Length(math.Round(p[2]))
}

// caseRows is the table of the load cases.
func caseRows(r *statics.Report) [][]string {
	rows := [][]string{{"load case", ">shift mm", ">sag mm", ">slope mm/m", ">stress MPa", ">of yield %", "most at"}}
	for _, c := range r.LoadCases {
		if c.Failed != "" {
			rows = append(rows, []string{c.Name, "-", "-", "-", "-", "-", c.Failed})
			continue
		}
		rows = append(rows, []string{c.Name, Figure(c.Deflection), Figure(c.Sag), Figure(c.Slope), Figure(math.Abs(c.Stress)),
			Figure(100 * c.Utilisation), c.AtMember + " " + spot(c.At)})
	}
	return rows
}

// footRows is the table of what the feet carry.
func footRows(s *Stiffness) [][]string {
	rows := [][]string{{"foot", ">least N", ">most N", "most in"}}
	for _, f := range s.Extremes().Feet {
		rows = append(rows, []string{f.Name, Figure(f.Least), Figure(f.Most), f.Case})
	}
	return rows
}
