package main

import (
	"fmt"

	"barwright/drawing"
	"barwright/job"

	"github.com/spf13/cobra"
)

func newBracket(s *streams) *cobra.Command {
	var c common
	var o job.BracketOptions
	var d drawing.Options
	var fit string
	cmd := &cobra.Command{
		Use:   "bracket [KIND | FRAME]",
		Short: "Make printable brackets, feet, caps, clips, jigs and gauges",
		Long: `Without a name it lists the kinds of printed parts with their parameters. With a kind it
makes that part for a profile: STL and 3MF as it lies on the printer, and a PDF sheet
with dimensions and notes. With a frame file it makes all printed parts of the frame.`,
		Example: `  barwright bracket
  barwright bracket angle --profile 40x40-10 --text B1
  barwright bracket cable-clip --set cable=8 --fit 0.15
  barwright bracket drill-jig --frame frame.hcl --part A1
  barwright bracket frame.hcl`,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) > 1 {
				return usage("one kind or frame file at a time: barwright bracket %s", args[0])
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			if fit != "" {
				o.Allow = append(o.Allow, "fit="+fit)
			}
			switch {
			case len(args) == 0 && c.json:
				return job.WriteJSON(s.out, job.BracketKinds())
			case len(args) == 0:
				return job.WriteBracketKinds(s.out)
			case job.IsFrameFile(args[0]):
				return frameBrackets(s, &c, args[0], o, d)
			}
			o.Kind, o.Set = args[0], c.set
			out := c.out
			if out == "" {
				out = "out/brackets"
			}
			reports, err := job.WriteBracket(out, o, d)
			return showBrackets(s, &c, reports, err)
		},
	}
	c.bind(cmd, false)
	f := cmd.Flags()
	f.StringVar(&c.out, "out", "", "folder of the outputs (default out/brackets, of a frame out/NAME/brackets)")
	f.StringVar(&o.Profile, "profile", "30x30-8", "profile that the part sits on")
	f.StringVar(&o.Second, "second", "", "profile of the second bar, if another (angle, brace-foot)")
	f.StringVar(&o.Thread, "thread", "", "thread of the screws (default the usual one for the slot or core)")
	f.Float64Var(&o.Wall, "wall", 0, "main wall, mm (default follows from the profile)")
	f.StringVar(&fit, "fit", "", "clearance on each side of ribs in a slot, mm (default 0.1)")
	f.StringVar(&o.Bed, "bed", "", "printer's bed: width x depth x height, mm (default 220x220x250)")
	f.StringVar(&o.Text, "text", "", "mark to sink into the part")
	f.StringVar(&o.Material, "material", "", "printing polymer (default PETG)")
	f.Float64Var(&o.Load, "load", 0, "load of the strength note, N (default 100)")
	f.StringArrayVar(&o.Allow, "allowance", nil, "change an allowance: name=value (repeatable)")
	f.StringVar(&o.Frame, "frame", "", "frame file that holds the profile, or the part of a drill jig")
	f.StringVar(&o.Part, "part", "", "mark of the part that a drill jig serves")
	f.StringVar(&d.Units, "units", "", "units of the sheet: mm or inch")
	return cmd
}

// showBrackets prints the reports of printed parts.
func showBrackets(s *streams, c *common, reports []*job.BracketReport, err error) error {
	switch {
	case err != nil:
		return err
	case c.json:
		return job.WriteJSON(s.out, reports)
	case c.quiet:
		return nil
	}
	return job.WriteBracketReports(s.out, reports)
}

// frameBrackets makes the printed parts of a frame.
func frameBrackets(s *streams, c *common, path string, o job.BracketOptions, d drawing.Options) error {
	if o.Part != "" || o.Frame != "" || o.Text != "" || o.Thread != "" || len(o.Allow) > 0 || o.Bed != "" || o.Material != "" || o.Wall != 0 || o.Load != 0 {
		return usage("the printed parts of a frame take their figures from the file: a printing block, or the bracket block itself")
	}
	j, err := c.open(s, path)
	if err != nil {
		return err
	}
	reports, err := j.WriteBrackets(j.OutFolder(c.out), d)
	if err := showBrackets(s, c, reports, err); err != nil {
		return err
	}
	if !c.quiet && !c.json {
		if len(reports) == 0 {
			fmt.Fprintln(s.out, "The frame has no printed parts: add a bracket block, or a joint with \"printed-angle\".")
		}
		fmt.Fprintln(s.out, job.Summary(j.Frame, j.Findings))
	}
	if j.Failed() {
		return errFound
	}
	return nil
}
