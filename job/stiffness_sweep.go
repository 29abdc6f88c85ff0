package job

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"barwright/frame"
	"barwright/geom"
	"barwright/statics"
)

// SweepResult is a table of frames with other parameters or profiles.
type SweepResult struct {
	*statics.Sweep
	Limits statics.Limits
	Priced bool // every frame's bars have prices; else the best is the lightest

	frame *frame.Frame
}

// sweepCutLimit bounds the search for the cheapest bars of one frame. The planner stops by its own count long before.
const sweepCutLimit = 2 * time.Second

// profileAxis is the name of an axis of profiles; NAME.profile is one of a member or set.
const profileAxis = "profile"

// StiffnessSweep analyses the frame with every combination of values: "width=800:1000:50", "profile=30x30-8,40x40-10",
// "wire_beam.profile=…". set are the settings that hold in all of them. It returns a *[UsageError] for an axis that can't be, and
// the error of a setting or profile that the frame does not know.
func (j *Job) StiffnessSweep(sweep, set []string, o StiffnessOptions) (*SweepResult, error) {
	var axes []statics.SweepAxis
	for _, text := range sweep {
		a, err := statics.ParseSweep(text)
		if err == nil {
			err = j.checkAxis(&a, axes)
		}
		if err != nil {
			return nil, &UsageError{"--sweep " + err.Error()}
		}
		axes = append(axes, a)
	}
	r := &SweepResult{Limits: limitsOf(j.Frame.Limit), Priced: true, frame: j.Frame}
	sections := new(geom.SectionCache)
	total, done := 1, 0
	for _, a := range axes {
		total *= len(a.Values)
	}
	var err error
	r.Sweep, err = statics.RunSweep(axes, r.Limits, func(values []string) (*statics.Report, float64, error) {
		j.progress("sweep", done, total)
		done++
		s, cost, priced, err := j.sweepOne(axes, values, set, o, sections)
		if err != nil {
			return nil, 0, oneLineError(err)
		}
		r.Priced = r.Priced && priced
		return s.Report, cost, nil
	})
	if err != nil {
		return nil, &UsageError{"--sweep " + err.Error()}
	}
	j.progress("sweep", total, total)
	r.choose()
	return r, r.allFailed()
}

// checkAxis refuses an axis that is there already or that the frame does not know.
func (j *Job) checkAxis(a *statics.SweepAxis, before []statics.SweepAxis) error {
	for _, b := range before {
		if b.Name == a.Name {
			return fmt.Errorf("%s stands twice: give all its values in one", a.Name)
		}
	}
	if swap, ok := swapOf(a.Name, ""); ok {
		for _, v := range a.Values {
			swap.Profile = v
			if _, err := j.Frame.With(nil, []frame.Swap{swap}); isSetError(err) {
				return oneLineError(err)
			}
		}
		return nil
	}
	var names []string
	for _, p := range j.Frame.Params {
		if p.Name == a.Name {
			for _, v := range a.Values {
				if _, err := strconv.ParseFloat(v, 64); err != nil {
					return fmt.Errorf("%s=%s: %q is not a number", a.Name, strings.Join(a.Values, ","), v)
				}
			}
			return nil
		}
		names = append(names, p.Name)
	}
	return fmt.Errorf("%s: there is no param of that name; there are %s, and profile or NAME.profile", a.Name, listOf(names))
}

func isSetError(err error) bool {
	var set *frame.SetError
	return errors.As(err, &set)
}

// swapOf returns the swap that an axis of profiles stands for.
func swapOf(name, value string) (frame.Swap, bool) {
	if name == profileAxis {
		return frame.Swap{Profile: value}, true
	}
	block, ok := strings.CutSuffix(name, "."+profileAxis)
	return frame.Swap{Block: block, Profile: value}, ok
}

// sweepOne analyses one frame and asks what its bars cost.
func (j *Job) sweepOne(axes []statics.SweepAxis, values, set []string, o StiffnessOptions, sections *geom.SectionCache) (*Stiffness, float64, bool, error) {
	all := slices.Clone(set)
	var swaps []frame.Swap
	for i, a := range axes {
		if swap, ok := swapOf(a.Name, values[i]); ok {
			swaps = append(swaps, swap)
		} else {
			all = append(all, a.Name+"="+values[i])
		}
	}
	f, err := j.Frame.With(all, swaps)
	if err != nil {
		return nil, 0, false, err
	}
	s, err := analyse(f, o, sections)
	if err != nil {
		return nil, 0, false, err
	}
	p, err := planFrame(context.Background(), f, CutOptions{TimeLimit: sweepCutLimit})
	if err != nil || p.Unplaced() != nil {
		return s, 0, false, nil
	}
	t := p.Total()
	return s, t.Cost, t.Priced && t.Metres == 0, nil
}

// choose names the best under the limits: the cheapest, or the lightest where a price is missing; of equal ones the stiffer.
func (r *SweepResult) choose() {
	r.Best = -1
	for i := range r.Rows {
		w := &r.Rows[i]
		if !r.Priced {
			w.Cost = 0
		}
		if w.Within && (r.Best < 0 || r.better(w, &r.Rows[r.Best])) {
			r.Best = i
		}
	}
}

// better compares two frames that keep the limits.
func (r *SweepResult) better(a, b *statics.SweepRow) bool {
	if a.Cost != b.Cost {
		return a.Cost < b.Cost
	}
	if math.Abs(a.Mass-b.Mass) > 1e-6 {
		return a.Mass < b.Mass
	}
	return a.Sag < b.Sag
}

// allFailed returns an error where no frame of the sweep could be analysed.
func (r *SweepResult) allFailed() error {
	for _, w := range r.Rows {
		if w.Failed == "" || w.Mass > 0 {
			return nil
		}
	}
	return fmt.Errorf("none of the %d frames of the sweep can be analysed; the first: %s", len(r.Rows), r.Rows[0].Failed)
}

// oneLineError keeps the first line of an error, for a table.
func oneLineError(err error) error {
	text, _, more := strings.Cut(err.Error(), "\n")
	if !more {
		return err
	}
	return errors.New(text)
}

// label names a row by its values.
func (r *SweepResult) label(i int) string {
	var out []string
	for k, a := range r.Axes {
		out = append(out, a.Name+"="+r.Rows[i].Values[k])
	}
	return strings.Join(out, ", ")
}
