package main

import (
	"fmt"
	"strconv"
	"strings"

	"barwright/geom"
	"barwright/job"
	"barwright/mesh"
	"barwright/statics"

	"github.com/spf13/cobra"
)

// stiffnessFlags are the flags of stiffness besides the common ones.
type stiffnessFlags struct {
	push       float64
	accelerate string
	warm       float64
	modes      int
	rigid      bool
	joints     []string
	sweep      []string
	view, size string
	measure    bool
}

func newStiffness(s *streams) *cobra.Command {
	var c common
	var f stiffnessFlags
	cmd := &cobra.Command{
		Use:   "stiffness FRAME",
		Short: "Work out sag, racking and natural frequencies",
		Long: `stiffness works out how far the frame gives under its own weight and what it carries,
with everything that travels at its worst place; how stiff its top is against a push
(racking); what the feet carry; the highest stress; and the lowest natural frequencies.
A limit block in the frame file says what must be kept; what is not kept is a warning.

--sweep tries values of parameters, or profiles, and names the best under the limits:
profile=… is the frame's own profile, NAME.profile=… that of a member or set.

` + wrapped(statics.Caution),
		Example: `  barwright stiffness frame.hcl
  barwright stiffness frame.hcl --out out/stiffness
  barwright stiffness frame.hcl --accelerate 0.5,0,0 --warm 20
  barwright stiffness frame.hcl --sweep wire_z=200:900:50
  barwright stiffness frame.hcl --sweep profile=30x30-8,40x40-10 --sweep width=800:1000:100 --out sweep`,
		Args: func(cmd *cobra.Command, args []string) error {
			if f.measure {
				return nil
			}
			return oneFrame(cmd, args)
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			if f.measure {
				_, err := fmt.Fprintln(s.out, wrapped(statics.HowToMeasure))
				return err
			}
			return runStiffness(cmd, s, &c, &f, args[0])
		},
	}
	c.bind(cmd, false)
	fl := cmd.Flags()
	fl.Float64Var(&f.push, "push", 100, "push at the top along X and Y, N")
	fl.StringVar(&f.accelerate, "accelerate", "", "acceleration of what travels, in g: X,Y,Z (default the limit block's)")
	fl.Float64Var(&f.warm, "warm", 0, "rise of temperature of all bars, K (default the limit block's)")
	fl.IntVar(&f.modes, "modes", 6, "how many natural frequencies, 1 to 30")
	fl.BoolVar(&f.rigid, "rigid-joints", false, "take every joint as stiff, for comparison")
	fl.StringArrayVar(&f.joints, "joint", nil, "measured stiffness of a joining in kN·m/rad: NAME=ACROSS or NAME=ACROSS,TWIST (repeatable)")
	fl.BoolVar(&f.measure, "how-to-measure", false, "print how a joint's stiffness is measured")
	fl.StringArrayVar(&f.sweep, "sweep", nil, "try values: name=from:to:step or name=value,value (repeatable)")
	fl.StringVar(&c.out, "out", "", "also write the sheet (PDF, SVG), the pictures or, of a sweep, table and plot into this folder")
	fl.StringVar(&f.view, "view", "", "view of the pictures by name ("+strings.Join(mesh.ViewNames(), ", ")+") or AZIMUTH,ELEVATION in degrees")
	fl.StringVar(&f.size, "size", "", "size of the pictures in pixels (default 1200x900)")
	return cmd
}

// wrapped breaks a text into lines for a terminal.
func wrapped(text string) string {
	out, n := "", 0
	for _, w := range strings.Fields(text) {
		switch {
		case n == 0:
		case n+1+len(w) > 88:
			out, n = out+"\n", 0
		default:
			out, n = out+" ", n+1
		}
		out, n = out+w, n+len(w)
	}
	return out
}

func runStiffness(cmd *cobra.Command, s *streams, c *common, f *stiffnessFlags, path string) error {
	o, err := f.options(cmd)
	if err != nil {
		return err
	}
	p, err := f.pictures()
	if err != nil {
		return err
	}
	j, err := c.open(s, path)
	if err != nil {
		return err
	}
	if len(f.sweep) > 0 {
		err = runSweep(s, c, f, j, o)
	} else {
		err = runOneStiffness(s, c, j, o, p)
	}
	if err != nil {
		return err
	}
	if j.Failed() {
		if !c.quiet && !c.json {
			fmt.Fprintln(s.out, job.Summary(j.Frame, j.Findings))
		}
		return errFound
	}
	return nil
}

// runOneStiffness analyses the frame as it stands.
func runOneStiffness(s *streams, c *common, j *job.Job, o job.StiffnessOptions, p mesh.PictureOptions) error {
	r, err := j.Stiffness(o)
	if err != nil {
		return err
	}
	var wrote []string
	if c.out != "" {
		if wrote, err = j.WriteStiffnessFiles(c.out, r, p); err != nil {
			return err
		}
	}
	switch {
	case c.json:
		return job.WriteJSON(s.out, job.NewStiffnessReport(r))
	case c.quiet:
		return nil
	}
	if err := job.WriteStiffness(s.out, r, colour(s.out)); err != nil {
		return err
	}
	return list(s, wrote)
}

// runSweep analyses the frame with every combination of values.
func runSweep(s *streams, c *common, f *stiffnessFlags, j *job.Job, o job.StiffnessOptions) error {
	r, err := j.StiffnessSweep(f.sweep, c.set, o)
	if err != nil {
		return err
	}
	var wrote []string
	if c.out != "" {
		if wrote, err = j.WriteSweepFiles(c.out, r); err != nil {
			return err
		}
	}
	switch {
	case c.json:
		return job.WriteJSON(s.out, job.NewSweepReport(r))
	case c.quiet:
		return nil
	}
	if err := job.WriteSweep(s.out, r); err != nil {
		return err
	}
	return list(s, wrote)
}

func list(s *streams, wrote []string) error {
	for _, w := range wrote {
		if _, err := fmt.Fprintf(s.out, "wrote %s\n", w); err != nil {
			return err
		}
	}
	return nil
}

// options are the flags that were given, as the analysis takes them.
func (f *stiffnessFlags) options(cmd *cobra.Command) (job.StiffnessOptions, error) {
	o := job.StiffnessOptions{Push: f.push, Modes: f.modes, RigidJoints: f.rigid}
	switch {
	case !(f.push > 0 && f.push <= 1e6):
		return o, usage("--push is %g; it is a force in N, more than 0", f.push)
	case f.modes < 1 || f.modes > 30:
		return o, usage("--modes is %d; it lies between 1 and 30", f.modes)
	case !(f.warm >= -200 && f.warm <= 200):
		return o, usage("--warm is %g; it lies between -200 and 200 K", f.warm)
	}
	if cmd.Flags().Changed("warm") {
		o.Warm = &f.warm
	}
	if f.accelerate != "" {
		n, ok := numbers(f.accelerate, 3)
		if !ok || (geom.Vec{X: n[0], Y: n[1], Z: n[2]}).Len() > 100 {
			return o, usage("--accelerate %q is no acceleration; write three numbers in g, such as 0.5,0,0", f.accelerate)
		}
		o.Accelerate = &geom.Vec{X: n[0], Y: n[1], Z: n[2]}
	}
	var err error
	o.Joints, err = f.stiffnesses()
	return o, err
}

// stiffnesses reads the measured joints.
func (f *stiffnessFlags) stiffnesses() (map[string]statics.JointStiffness, error) {
	if len(f.joints) == 0 {
		return nil, nil
	}
	out := map[string]statics.JointStiffness{}
	for _, text := range f.joints {
		name, value, ok := strings.Cut(text, "=")
		n, good := numbers(value, 2)
		if !good {
			n, good = numbers(value, 1)
		}
		if !ok || !good || name == "" {
			return nil, usage("--joint %q is no stiffness; write the joining and kN·m/rad across the bar, and about it if known: end-screw=12,6", text)
		}
		k := statics.JointStiffness{Bend: n[0] * 1e6, Twist: n[0] * 1e6}
		if len(n) == 2 {
			k.Twist = n[1] * 1e6
		}
		if !(k.Bend > 0 && k.Twist > 0 && k.Bend <= 1e15 && k.Twist <= 1e15) {
			return nil, usage("--joint %q: a stiffness is more than 0", text)
		}
		out[name] = k
	}
	return out, nil
}

// numbers reads n numbers with commas between them.
func numbers(text string, n int) ([]float64, bool) {
	parts := strings.Split(text, ",")
	if len(parts) != n {
		return nil, false
	}
	out := make([]float64, n)
	for i, p := range parts {
		v, err := strconv.ParseFloat(strings.TrimSpace(p), 64)
		if err != nil || !(v >= -1e9 && v <= 1e9) {
			return nil, false
		}
		out[i] = v
	}
	return out, true
}

// pictures reads how pictures are taken.
func (f *stiffnessFlags) pictures() (mesh.PictureOptions, error) {
	o := mesh.PictureOptions{View: f.view}
	if f.size != "" {
		if n, err := fmt.Sscanf(f.size+" ", "%dx%d ", &o.Width, &o.Height); n != 2 || err != nil {
			return o, usage("--size %q is no size; write it as 1600x1200", f.size)
		}
	}
	return o, nil
}
