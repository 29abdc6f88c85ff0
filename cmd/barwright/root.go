package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"barwright/frame"
	"barwright/job"

	"github.com/spf13/cobra"
	"golang.org/x/term"
)

// streams are where a command reads and writes.
type streams struct {
	in       io.Reader
	out, err io.Writer
}

// common are the flags with the same meaning everywhere.
type common struct {
	set   []string
	out   string
	json  bool
	quiet bool
}

// errFound says that the command did its work and that the frame has findings of severity error.
var errFound = errors.New("the frame has errors")

// run is the whole program: it returns the exit status.
func run(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	s := &streams{stdin, stdout, stderr}
	root := newRoot(s)
	root.SetArgs(args)
	root.SetIn(stdin)
	root.SetOut(stdout)
	root.SetErr(stderr)
	err := root.Execute()
	if errors.Is(err, errFound) {
		return 1
	}
	if err != nil {
		report(stderr, err)
	}
	return job.ExitStatus(err)
}

// report prints an error: the diagnostics of a frame file with their lines, others in one line.
func report(w io.Writer, err error) {
	var d *frame.Diagnostics
	if errors.As(err, &d) {
		d.Format(w, colour(w), width(w))
		return
	}
	fmt.Fprintf(w, "barwright: %v\n", err)
}

// colour reports whether w is a terminal that wants colour.
func colour(w io.Writer) bool { return isTerminal(w) && os.Getenv("NO_COLOR") == "" }

func isTerminal(w io.Writer) bool {
	f, ok := w.(*os.File)
	return ok && term.IsTerminal(int(f.Fd()))
}

// width returns how many characters a line of w may hold.
func width(w io.Writer) int {
	if f, ok := w.(*os.File); ok {
		if n, _, err := term.GetSize(int(f.Fd())); err == nil && n > 20 {
			return n
		}
	}
	return 100
}

func newRoot(s *streams) *cobra.Command {
	root := &cobra.Command{
		Use:   "barwright",
		Short: "Design, check, order and build frames of slotted aluminium extrusion",
		Long: `barwright reads one text file that describes a frame built from slotted aluminium
extrusion and works out every cut length, tapped end and access hole, checks the
design, and writes cut lists, meshes, pictures and shop drawings.

Exit status: 0 done; 1 the frame has errors; 2 the command line was wrong; 3 a file
can't be read or written.`,
		SilenceUsage:  true,
		SilenceErrors: true,
		CompletionOptions: cobra.CompletionOptions{
			HiddenDefaultCmd: true,
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) > 0 {
				return unknownCommand(cmd, args[0])
			}
			return cmd.Help()
		},
		Args: cobra.ArbitraryArgs,
	}
	root.SetFlagErrorFunc(func(cmd *cobra.Command, err error) error {
		return usage("%v\n  See barwright %s --help.", err, cmd.Name())
	})
	root.SuggestionsMinimumDistance = 2
	root.AddCommand(newNew(s), newCheck(s), newParts(s), newCut(s), newSection(s), newMesh(s), newPicture(s), newDraw(s), newSteps(s), newStiffness(s), newBracket(s), newBuild(s))
	return root
}

// unknownCommand names the nearest command.
func unknownCommand(root *cobra.Command, name string) error {
	if near := root.SuggestionsFor(name); len(near) > 0 {
		return usage("there is no command %q. Did you mean %s?", name, strings.Join(near, " or "))
	}
	return usage("there is no command %q. barwright --help lists them.", name)
}

// usage returns an error of the command line.
func usage(format string, args ...any) error {
	return &job.UsageError{Text: fmt.Sprintf(format, args...)}
}

// oneFrame asks for exactly one frame file.
func oneFrame(cmd *cobra.Command, args []string) error {
	switch len(args) {
	case 1:
		return nil
	case 0:
		return usage("which frame file? Write: barwright %s frame.hcl", cmd.Name())
	}
	return usage("one frame file at a time: barwright %s %s", cmd.Name(), args[0])
}

// bind adds the flags with the same meaning everywhere.
func (c *common) bind(cmd *cobra.Command, withOut bool) {
	cmd.Flags().StringArrayVar(&c.set, "set", nil, "replace a parameter: name=value (repeatable)")
	cmd.Flags().BoolVar(&c.json, "json", false, "print the result as JSON, and nothing else")
	cmd.Flags().BoolVar(&c.quiet, "quiet", false, "print only errors")
	if withOut {
		cmd.Flags().StringVar(&c.out, "out", "", "folder of the outputs (default out/NAME)")
	}
}

// open loads and checks the frame file.
func (c *common) open(s *streams, path string) (*job.Job, error) {
	j, err := job.Open(path, c.set)
	if err != nil {
		return nil, err
	}
	if !c.quiet && isTerminal(s.err) {
		j.Progress = newProgress(s.err)
	}
	return j, nil
}

// finish prints the findings and the summary line, or the report as JSON, and returns errFound where one is an error.
func (c *common) finish(s *streams, j *job.Job, wrote []string) error {
	switch {
	case c.json:
		if err := job.WriteJSON(s.out, job.NewReport(j.Frame, j.Findings)); err != nil {
			return err
		}
	case !c.quiet:
		job.WriteFindings(s.out, job.Pressing(j.Findings), colour(s.out))
		for _, f := range wrote {
			fmt.Fprintf(s.out, "wrote %s\n", f)
		}
		fmt.Fprintln(s.out, job.Summary(j.Frame, j.Findings))
	}
	if j.Failed() {
		return errFound
	}
	return nil
}
