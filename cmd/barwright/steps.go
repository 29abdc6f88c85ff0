package main

import (
	"fmt"

	"barwright/assembly"
	"barwright/job"

	"github.com/spf13/cobra"
)

func newSteps(s *streams) *cobra.Command {
	var c common
	var o job.StepsOptions
	cmd := &cobra.Command{
		Use:   "steps FRAME",
		Short: "Find the order of building; write the assembly guide (PDF, HTML)",
		Example: `  barwright steps frame.hcl
  barwright steps frame.hcl --from base
  barwright steps frame.hcl --json`,
		Args: oneFrame,
		RunE: func(cmd *cobra.Command, args []string) error {
			j, err := c.open(s, args[0])
			if err != nil {
				return err
			}
			p, err := j.Plan(o)
			if err != nil {
				return err
			}
			var wrote []string
			if !c.json || c.out != "" {
				if wrote, err = j.WriteGuide(j.OutFolder(c.out), o); err != nil {
					return err
				}
			}
			return c.finishSteps(s, j, p, wrote)
		},
	}
	c.bind(cmd, true)
	cmd.Flags().StringVar(&o.From, "from", "", "a group, set or member that is built already")
	return cmd
}

// finishSteps prints the steps, or the report as JSON; a frame that can't be put together has errors.
func (c *common) finishSteps(s *streams, j *job.Job, p *assembly.Plan, wrote []string) error {
	switch {
	case c.json:
		if err := job.WriteJSON(s.out, job.NewStepsReport(p)); err != nil {
			return err
		}
	case !c.quiet:
		job.WriteSteps(s.out, p)
		for _, f := range wrote {
			fmt.Fprintf(s.out, "wrote %s\n", f)
		}
		fmt.Fprintln(s.out, job.Summary(j.Frame, j.Findings))
	}
	if p.Locked != nil || j.Failed() {
		return errFound
	}
	return nil
}
