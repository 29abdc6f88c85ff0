package main

import (
	"barwright/job"

	"github.com/spf13/cobra"
)

func newDraw(s *streams) *cobra.Command {
	var c common
	var o job.SheetOptions
	cmd := &cobra.Command{
		Use:   "draw FRAME",
		Short: "Write shop drawings: SVG and PDF",
		Args:  oneFrame,
		RunE: func(cmd *cobra.Command, args []string) error {
			j, err := c.open(s, args[0])
			if err != nil {
				return err
			}
			wrote, err := j.WriteSheets(j.OutFolder(c.out), o)
			if err != nil {
				return err
			}
			return c.finish(s, j, wrote)
		},
	}
	c.bind(cmd, true)
	f := cmd.Flags()
	f.StringVar(&o.Part, "part", "", "only the sheet of this mark")
	f.StringVar(&o.Size, "sheet", "", "sheet size A4 to A1 (default: chosen to fit)")
	f.StringVar(&o.Projection, "projection", "", "first or third angle (default: as the frame file says)")
	f.StringVar(&o.Units, "units", "", "mm or inch (default: as the frame file says)")
	f.BoolVar(&o.Text, "svg-text", false, "keep text in SVG as text instead of outlines")
	return cmd
}
