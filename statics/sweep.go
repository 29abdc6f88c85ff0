package statics

import (
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
)

// SweepAxis is a parameter of the frame file and the values it takes.
type SweepAxis struct {
	Name   string   `json:"name"`
	Values []string `json:"values"`
}

// maxSweep bounds how many frames a sweep may ask for.
const maxSweep = 2000

// ParseSweep reads one axis: "wire_z=200:900:50" (from, to, step) or a list, "profile=30x30-8,30x60-8".
func ParseSweep(text string) (SweepAxis, error) {
	name, values, ok := strings.Cut(text, "=")
	name = strings.TrimSpace(name)
	if !ok || name == "" || strings.TrimSpace(values) == "" {
		return SweepAxis{}, fmt.Errorf("%q is no sweep; write name=from:to:step or name=value,value", text)
	}
	if !strings.Contains(values, ":") {
		a := SweepAxis{Name: name}
		for _, v := range strings.Split(values, ",") {
			if v = strings.TrimSpace(v); v == "" {
				return SweepAxis{}, fmt.Errorf("%q has an empty value", text)
			}
			a.Values = append(a.Values, v)
		}
		if len(a.Values) > maxSweep {
			return SweepAxis{}, fmt.Errorf("%q asks for %d values; %d are allowed", text, len(a.Values), maxSweep)
		}
		return a, nil
	}
	parts := strings.Split(values, ":")
	var n [3]float64
	for i, p := range parts {
		v, err := strconv.ParseFloat(strings.TrimSpace(p), 64)
		if i >= 3 || err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
			return SweepAxis{}, fmt.Errorf("%q is no sweep; write name=from:to:step with three numbers", text)
		}
		n[i] = v
	}
	return rangeOf(name, text, n, len(parts))
}

// rangeOf lists the values of from:to:step.
func rangeOf(name, text string, n [3]float64, given int) (SweepAxis, error) {
	if given != 3 || n[2] == 0 || (n[1]-n[0])*n[2] < 0 {
		return SweepAxis{}, fmt.Errorf("%q is no sweep: the step must lead from the first number to the second", text)
	}
	count := math.Floor((n[1]-n[0])/n[2] + 1e-9)
	if count >= maxSweep {
		return SweepAxis{}, fmt.Errorf("%q asks for %.0f values; %d are allowed", text, count+1, maxSweep)
	}
	a := SweepAxis{Name: name}
	for i := range int(count) + 1 {
		a.Values = append(a.Values, strconv.FormatFloat(math.Round((n[0]+float64(i)*n[2])*1e6)/1e6, 'f', -1, 64))
	}
	return a, nil
}

// SweepRow is one frame of a sweep.
type SweepRow struct {
	Values    []string `json:"values"`
	Sag       float64  `json:"max_deflection_mm"`
	Racking   float64  `json:"racking_n_per_mm"` // the softer direction
	Frequency float64  `json:"frequency_hz"`
	Mass      float64  `json:"mass_kg"`
	Cost      float64  `json:"bar_cost"`
	Within    bool     `json:"within_limits"`
	Failed    string   `json:"failed,omitempty"`
}

// Sweep is a table of frames. Best is the row that is cheapest (lightest, where nothing has a price) under the limits, or -1.
type Sweep struct {
	Axes []SweepAxis `json:"axes"`
	Rows []SweepRow  `json:"rows"`
	Best int         `json:"best"`
}

// RunSweep analyses every combination of the axes' values, the last axis changing fastest. run gets the values in the order of the
// axes and returns the report and the cost of the bars, 0 where it is unknown; its error marks the row and does not end the sweep.
func RunSweep(axes []SweepAxis, limits Limits, run func(values []string) (*Report, float64, error)) (*Sweep, error) {
	total := 1
	for _, a := range axes {
		if total *= len(a.Values); total > maxSweep || total == 0 {
			return nil, fmt.Errorf("the sweep asks for %d frames; 1 to %d are allowed", total, maxSweep)
		}
	}
	s := &Sweep{Axes: axes, Best: -1}
	for i := range total {
		values := make([]string, len(axes))
		rest := i
		for k := len(axes) - 1; k >= 0; k-- {
			n := len(axes[k].Values)
			values[k] = axes[k].Values[rest%n]
			rest /= n
		}
		row := SweepRow{Values: values}
		report, cost, err := run(values)
		if err != nil {
			row.Failed = err.Error()
		} else {
			row.fill(report, cost, limits)
		}
		s.Rows = append(s.Rows, row)
		if row.Within && (s.Best < 0 || row.better(&s.Rows[s.Best])) {
			s.Best = i
		}
	}
	return s, nil
}

// fill takes the figures of a report.
func (w *SweepRow) fill(r *Report, cost float64, l Limits) {
	w.Mass, w.Cost = r.Mass, cost
	for _, c := range r.LoadCases {
		if c.Failed != "" {
			w.Failed = c.Name + ": " + c.Failed
		}
		if !c.Warmed {
			w.Sag = math.Max(w.Sag, c.Deflection)
		}
	}
	for i, k := range r.Racking {
		if i == 0 || k.Stiffness < w.Racking {
			w.Racking = k.Stiffness
		}
	}
	if len(r.Frequencies) > 0 {
		w.Frequency = r.Frequencies[0]
	}
	w.Within = w.Failed == "" && len(r.Breaches(l)) == 0
}

// better reports whether a row is cheaper, then lighter, then gives less.
func (w *SweepRow) better(than *SweepRow) bool {
	switch {
	case w.Cost != than.Cost:
		return w.Cost < than.Cost
	case w.Mass != than.Mass:
		return w.Mass < than.Mass
	}
	return w.Sag < than.Sag
}

// CSV writes the table with a header.
func (s *Sweep) CSV(w io.Writer) error {
	c := csv.NewWriter(w)
	var head []string
	for _, a := range s.Axes {
		head = append(head, a.Name)
	}
	head = append(head, "max_deflection_mm", "racking_n_per_mm", "frequency_hz", "mass_kg", "bar_cost", "within_limits", "best", "failed")
	if err := c.Write(head); err != nil {
		return err
	}
	num := func(v float64) string { return strconv.FormatFloat(tidy(v), 'f', -1, 64) }
	for i, r := range s.Rows {
		line := append([]string(nil), r.Values...)
		line = append(line, num(r.Sag), num(r.Racking), num(r.Frequency), num(r.Mass), num(r.Cost), strconv.FormatBool(r.Within), strconv.FormatBool(i == s.Best), r.Failed)
		if err := c.Write(line); err != nil {
			return err
		}
	}
	c.Flush()
	return c.Error()
}
