package main

import (
	"fmt"

	"barwright/job"

	"github.com/spf13/cobra"
)

func newParts(s *streams) *cobra.Command {
	var c common
	lock := false
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
			var wrote []string
			if lock {
				path, err := j.LockMarks()
				if err != nil {
					return err
				}
				wrote = append(wrote, path)
			}
			if c.out != "" {
				lists, err := j.WriteLists(c.out)
				if err != nil {
					return err
				}
				wrote = append(wrote, lists...)
			}
			return c.finish(s, j, wrote)
		},
	}
	c.bind(cmd, false)
	cmd.Flags().StringVar(&c.out, "out", "", "also write parts.csv, hardware.csv and lists.xlsx into this folder")
	cmd.Flags().BoolVar(&lock, "lock", false, "record the marks beside the frame file, so that parts keep them over changes")
	return cmd
}
