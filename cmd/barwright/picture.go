package main

import (
	"fmt"
	"strings"

	"barwright/job"
	"barwright/mesh"

	"github.com/spf13/cobra"
)

func newPicture(s *streams) *cobra.Command {
	var c common
	var o job.PictureOptions
	var size, balloons string
	cmd := &cobra.Command{
		Use:   "picture FRAME",
		Short: "Draw shaded pictures (PNG)",
		Example: `  barwright picture frame.hcl --view corner --view front
  barwright picture frame.hcl --view 30,20 --size 1600x1200 --balloons marks
  barwright picture frame.hcl --part A1`,
		Args: oneFrame,
		RunE: func(cmd *cobra.Command, args []string) error {
			if size != "" {
				if n, err := fmt.Sscanf(size+" ", "%dx%d ", &o.Width, &o.Height); n != 2 || err != nil || o.Width <= 0 || o.Height <= 0 {
					return usage("--size %q is no size; write it as 1600x1200", size)
				}
			}
			o.Balloons = mesh.Balloons(balloons)
			j, err := c.open(s, args[0])
			if err != nil {
				return err
			}
			wrote, err := j.WritePictures(j.OutFolder(c.out), o)
			if err != nil {
				return err
			}
			return c.finish(s, j, wrote)
		},
	}
	c.bind(cmd, true)
	f := cmd.Flags()
	f.StringArrayVar(&o.Views, "view", nil, "view by name ("+strings.Join(mesh.ViewNames(), ", ")+") or AZIMUTH,ELEVATION in degrees (repeatable)")
	f.StringVar(&size, "size", "", "size in pixels (default 1200x900, parts 800x600)")
	f.StringVar(&o.Part, "part", "", "a picture of the part of this mark, with its datum end and face numbers")
	f.BoolVar(&o.Perspective, "perspective", false, "draw in perspective instead of parallel")
	f.BoolVar(&o.Transparent, "transparent", false, "leave the background transparent instead of white")
	f.StringVar(&balloons, "balloons", "", "label bars by marks or names")
	f.Float64Var(&o.Explode, "explode", 0, "move the bars apart by this factor")
	f.StringArrayVar(&o.Highlight, "highlight", nil, "draw this member or mark in colour (repeatable)")
	return cmd
}
