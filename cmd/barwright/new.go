package main

import (
	"fmt"

	"barwright/job"

	"github.com/spf13/cobra"
)

func newNew(s *streams) *cobra.Command {
	o := job.Starter{Width: 600, Depth: 500, Height: 700, Profile: "30x30-8", Title: "My frame"}
	quiet := false
	cmd := &cobra.Command{
		Use:   "new [DIR]",
		Short: "Write a starter frame file from sizes given as flags",
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) > 1 {
				return usage("one folder at a time: barwright new %s", args[0])
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			dir := "."
			if len(args) == 1 {
				dir = args[0]
			}
			path, err := o.Write(dir)
			if err != nil {
				return err
			}
			if !quiet {
				fmt.Fprintf(s.out, "wrote %s\nnext: barwright check %s\n", path, path)
			}
			return nil
		},
	}
	f := cmd.Flags()
	f.Float64Var(&o.Width, "width", o.Width, "outside width (left to right), mm")
	f.Float64Var(&o.Depth, "depth", o.Depth, "outside depth (front to back), mm")
	f.Float64Var(&o.Height, "height", o.Height, "height from the floor to the top, mm")
	f.StringVar(&o.Profile, "profile", o.Profile, "profile of all bars")
	f.StringVar(&o.Title, "title", o.Title, "title of the frame")
	f.BoolVar(&quiet, "quiet", false, "print only errors")
	return cmd
}
