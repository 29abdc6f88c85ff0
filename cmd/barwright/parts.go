package main

import (
	"fmt"

	"barwright/job"

	"github.com/spf13/cobra"
)

func newParts(s *streams) *cobra.Command {
	var c common
	cmd := &cobra.Command{
		Use:   "parts FRAME",
		Short: "Print the cut list and the hardware list",
		Args:  oneFrame,
		RunE: func(cmd *cobra.Command, args []string) error {
			j, err := c.open(s, args[0])
			if err != nil {
				return err
			}
			if !c.json && !c.quiet {
				if err := job.WriteParts(s.out, j.Frame); err != nil {
					return err
				}
				fmt.Fprintln(s.out)
			}
			if c.out == "" {
				return c.finish(s, j, nil)
			}
			wrote, err := j.WriteLists(c.out)
			if err != nil {
				return err
			}
			return c.finish(s, j, wrote)
		},
	}
	c.bind(cmd, false)
	cmd.Flags().StringVar(&c.out, "out", "", "also write parts.csv and hardware.csv into this folder")
	return cmd
}
