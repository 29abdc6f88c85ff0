package main

import (
	"fmt"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"barwright/drawing"
	"barwright/job"

	"github.com/spf13/cobra"
)

// cutFlags are the flags of cut besides the common ones.
type cutFlags struct {
	pieces, bars     string
	kerf, trim, keep float64
	limit            time.Duration
	shorten          float64
	labels           labelFlags
}

func newCut(s *streams) *cobra.Command {
	var c common
	var f cutFlags
	cmd := &cobra.Command{
		Use:   "cut FRAME",
		Short: "Plan the bars to buy and how to cut them",
		Long: `cut plans which bars to buy and how to cut them, and says whether that is proven to
be the cheapest way. It reads the stock and supplier blocks of a frame file, or plain lists:
pieces as CSV with the heading length,quantity,mark and bars with length,price,quantity
(an empty quantity: as many as needed). Lists with semicolons and decimal commas are read as well.`,
		Example: `  barwright cut frame.hcl
  barwright cut frame.hcl --out order
  barwright cut --pieces pieces.csv --bars bars.csv --kerf 3 --trim 10`,
		Args: func(cmd *cobra.Command, args []string) error {
			switch {
			case f.pieces == "" && f.bars == "":
				return oneFrame(cmd, args)
			case len(args) > 0:
				return usage("a frame file and lists exclude each other: a frame has its bars in stock blocks")
			case f.pieces == "" || f.bars == "":
				return usage("--pieces and --bars go together: barwright cut --pieces pieces.csv --bars bars.csv")
			case len(c.set) > 0:
				return usage("--set is for a frame file; lists have no parameters")
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error { return runCut(cmd, s, &c, &f, args) },
	}
	c.bind(cmd, false)
	fl := cmd.Flags()
	fl.StringVar(&f.pieces, "pieces", "", "list of pieces (CSV), in place of a frame file")
	fl.StringVar(&f.bars, "bars", "", "list of bars to be had (CSV)")
	fl.Float64Var(&f.kerf, "kerf", 0, "width of the saw cut, mm (default the stock's, or 3)")
	fl.Float64Var(&f.trim, "trim", 0, "taken off every bar, both ends together, mm (default the stock's, or 0)")
	fl.Float64Var(&f.keep, "keep", 0, "shortest leftover worth keeping, mm (default the stock's, or 0)")
	fl.DurationVar(&f.limit, "time-limit", 0, "longest search for each profile (default 5s)")
	fl.Float64Var(&f.shorten, "shorten", 5, "look for lengths that would save a bar if at most this much shorter, mm; 0: don't")
	fl.StringVar(&c.out, "out", "", "also write cutplan.csv, the cut-plan sheets and the labels into this folder")
	f.labels.bind(cmd)
	return cmd
}

// runCut plans, prints and writes. Pieces without a bar are an error after all else is done.
func runCut(cmd *cobra.Command, s *streams, c *common, f *cutFlags, args []string) error {
	o, err := f.options(cmd)
	if err != nil {
		return err
	}
	labels, err := f.labels.options()
	if err != nil {
		return err
	}
	var j *job.Job
	var p *job.CutPlan
	if f.pieces != "" {
		p, err = job.CutList(cmd.Context(), f.pieces, f.bars, o)
	} else if j, err = c.open(s, args[0]); err == nil {
		p, err = j.Cut(cmd.Context(), o)
	}
	if err != nil {
		return err
	}
	var wrote []string
	if c.out != "" {
		if wrote, err = p.Write(filepath.Clean(c.out), job.CutSheetOptions{NotForManufacture: j != nil && j.Failed(), Labels: labels}); err != nil {
			return err
		}
	}
	if err := c.printCut(s, j, p, wrote); err != nil && (err != errFound || p.Unplaced() == nil) {
		return err
	}
	return p.Unplaced()
}

// printCut prints the plan, then what holds for every command on a frame.
func (c *common) printCut(s *streams, j *job.Job, p *job.CutPlan, wrote []string) error {
	if c.json {
		if err := job.WriteJSON(s.out, job.NewCutReport(p)); err != nil || j == nil || !j.Failed() {
			return err
		}
		return errFound
	}
	if !c.quiet {
		if err := job.WriteCut(s.out, p); err != nil {
			return err
		}
		if c.out != "" && p.TooManyLabels() {
			fmt.Fprintf(s.out, "no labels: there are more than %d pieces\n", drawing.MaxLabels)
		}
	}
	if j != nil {
		if !c.quiet {
			fmt.Fprintln(s.out)
		}
		return c.finish(s, j, wrote)
	}
	for _, w := range wrote {
		if !c.quiet {
			fmt.Fprintf(s.out, "wrote %s\n", w)
		}
	}
	return nil
}

// options are the flags that were given, as the planner takes them.
func (f *cutFlags) options(cmd *cobra.Command) (job.CutOptions, error) {
	o := job.CutOptions{TimeLimit: f.limit, Shorten: f.shorten}
	for _, v := range []struct {
		name string
		mm   *float64
		into **float64
	}{{"kerf", &f.kerf, &o.Kerf}, {"trim", &f.trim, &o.Trim}, {"keep", &f.keep, &o.Keep}} {
		if !cmd.Flags().Changed(v.name) {
			continue
		}
		if !(*v.mm >= 0 && *v.mm <= 1e6) {
			return o, usage("--%s is %g; it is a length in mm, 0 or more", v.name, *v.mm)
		}
		*v.into = v.mm
	}
	if f.limit < 0 {
		return o, usage("--time-limit is %s; it must be positive, such as 10s", f.limit)
	}
	if !(f.shorten >= 0 && f.shorten <= 1000) {
		return o, usage("--shorten is %g; it lies between 0 and 1000 mm", f.shorten)
	}
	return o, nil
}

// labelFlags are the grid of a sheet of stickers.
type labelFlags struct {
	size string
	gap  float64
}

func (l *labelFlags) bind(cmd *cobra.Command) {
	d := drawing.DefaultLabels()
	cmd.Flags().StringVar(&l.size, "label-size", fmt.Sprintf("%gx%g", d.Width, d.Height), "size of a label, mm")
	cmd.Flags().Float64Var(&l.gap, "label-gap", 0, "gap between labels, mm")
}

// options reads the size.
func (l *labelFlags) options() (drawing.LabelOptions, error) {
	o := drawing.DefaultLabels()
	w, h, ok := strings.Cut(l.size, "x")
	var err1, err2 error
	o.Width, err1 = strconv.ParseFloat(w, 64)
	o.Height, err2 = strconv.ParseFloat(h, 64)
	if !ok || err1 != nil || err2 != nil {
		return o, usage("--label-size %q is no size; write it as 60x40", l.size)
	}
	o.Gap = l.gap
	return o, nil
}
