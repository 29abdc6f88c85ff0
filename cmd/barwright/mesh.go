package main

import (
	"barwright/job"
	"barwright/mesh"

	"github.com/spf13/cobra"
)

func newMesh(s *streams) *cobra.Command {
	var c common
	var o job.MeshOptions
	tolerance := mesh.DefaultTolerance
	cmd := &cobra.Command{
		Use:   "mesh FRAME",
		Short: "Write watertight meshes: STL, OBJ, 3MF, GLB",
		Example: `  barwright mesh frame.hcl
  barwright mesh frame.hcl --part A3 --format stl
  barwright mesh frame.hcl --format glb --explode 0.5`,
		Args: oneFrame,
		RunE: func(cmd *cobra.Command, args []string) error {
			if o.Part != "" && o.Member != "" {
				return usage("--part and --member exclude each other: a part lies in its own coordinates, a member in its place")
			}
			j, err := c.open(s, args[0])
			if err != nil {
				return err
			}
			j.Tolerance = tolerance
			wrote, err := j.WriteMeshes(j.OutFolder(c.out), o)
			if err != nil {
				return err
			}
			return c.finish(s, j, wrote)
		},
	}
	c.bind(cmd, true)
	f := cmd.Flags()
	f.StringSliceVar(&o.Formats, "format", nil, "formats: stl, obj, 3mf, glb (default all)")
	f.StringVar(&o.Part, "part", "", "only the part of this mark, in its own coordinates")
	f.StringVar(&o.Member, "member", "", "only this member, in its place")
	f.Float64Var(&o.Explode, "explode", 0, "move the bars apart by this factor")
	f.BoolVar(&o.ASCII, "ascii", false, "write STL as text")
	f.Float64Var(&tolerance, "tolerance", tolerance, "chord tolerance of curves, mm")
	return cmd
}
