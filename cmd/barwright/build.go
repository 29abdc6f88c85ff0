package main

import (
	"fmt"

	"github.com/spf13/cobra"
)

func newBuild(s *streams) *cobra.Command {
	var c common
	cmd := &cobra.Command{
		Use:   "build FRAME",
		Short: "Make everything, into one folder",
		Args:  oneFrame,
		RunE: func(cmd *cobra.Command, args []string) error {
			j, err := c.open(s, args[0])
			if err != nil {
				return err
			}
			out, err := j.Build(c.out)
			if err != nil {
				return err
			}
			if short := j.Unplaced(); short != nil && !c.quiet {
				fmt.Fprintf(s.err, "barwright: the cut plan is not whole: %v\n", short)
			}
			return c.finish(s, j, []string{out})
		},
	}
	c.bind(cmd, true)
	return cmd
}
