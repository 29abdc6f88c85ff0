package main

import (
	"fmt"

	"barwright/job"

	"github.com/spf13/cobra"
)

func newSection(s *streams) *cobra.Command {
	var c common
	var from string
	cmd := &cobra.Command{
		Use:   "section PROFILE",
		Short: "Show a profile: its drawing, area, mass, moments, torsion constant",
		Example: `  barwright section 30x30-8
  barwright section 30x60-8 --out out/section
  barwright section mine --frame frame.hcl --json`,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) != 1 {
				return usage("which profile? Write: barwright section 30x30-8")
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			p, err := job.FindProfile(args[0], from, c.set)
			if err != nil {
				return err
			}
			r, err := job.NewSectionReport(p)
			if err != nil {
				return err
			}
			var wrote []string
			if c.out != "" {
				if wrote, err = job.WriteSectionSheets(c.out, p, r); err != nil {
					return err
				}
			}
			if c.json {
				return job.WriteJSON(s.out, r)
			}
			if c.quiet {
				return nil
			}
			if err := job.WriteSection(s.out, r); err != nil {
				return err
			}
			for _, f := range wrote {
				fmt.Fprintf(s.out, "wrote %s\n", f)
			}
			return nil
		},
	}
	c.bind(cmd, false)
	cmd.Flags().StringVar(&from, "frame", "", "frame file that holds a profile block of that name")
	cmd.Flags().StringVar(&c.out, "out", "", "also write the dimensioned drawing as SVG and PDF into this folder")
	return cmd
}
