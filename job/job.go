package job

import (
	"encoding/json"
	"errors"
	"io"
	"path/filepath"

	"barwright/assembly"
	"barwright/check"
	"barwright/frame"
	"barwright/mesh"
)

// Job is a frame that has been loaded and checked.
type Job struct {
	Frame    *frame.Frame
	Findings []check.Finding
	// Tolerance is the chord tolerance of meshes in mm.
	Tolerance float64
	// Progress, if set, is told of each stage of a long run.
	Progress func(stage string, done, total int)

	// Printed is the printed parts of the frame, by mark.
	Printed []*PrintedPart

	scene *mesh.Scene
	plans map[StepsOptions]*assembly.Plan
	cut   *CutPlan
	// stiffness is the analysis with the usual loads, made once.
	stiffness *Stiffness
}

// Open loads the frame file and checks the frame. Errors are frame.Diagnostics, *frame.SetError
// or *frame.ReadError.
func Open(path string, set []string) (*Job, error) {
	f, err := frame.Load(path, frame.Options{Set: set})
	if err != nil {
		return nil, err
	}
	printed, err := printParts(f)
	if err != nil {
		return nil, err
	}
	j := &Job{Frame: f, Printed: printed, Tolerance: mesh.DefaultTolerance}
	j.settleFloor()
	j.Findings = withMore(check.Run(f), append(j.levelPads(), j.checkLimits()...))
	return j, nil
}

// Failed reports whether a finding says that the frame can't be built.
func (j *Job) Failed() bool { return check.Worst(j.Findings) }

// Scene returns the meshes of the frame, made once.
func (j *Job) Scene() (*mesh.Scene, error) {
	if j.scene == nil {
		s, err := mesh.NewScene(j.Frame, j.Tolerance)
		if err != nil {
			return nil, err
		}
		if err := j.addPanels(s); err != nil {
			return nil, err
		}
		j.addPrinted(s)
		j.scene = s
	}
	return j.scene, nil
}

// OutFolder returns the folder of the outputs: the one given, or out/NAME.
func (j *Job) OutFolder(given string) string {
	if given != "" {
		return given
	}
	return filepath.Join("out", j.Frame.Name)
}

// WriteJSON writes a value as JSON with two spaces and a final newline.
func WriteJSON(w io.Writer, v any) error {
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	return e.Encode(v)
}

// ExitStatus returns the exit status that an error means: 0 none, 1 an invalid frame, 2 a wrong command
// line, 3 a file that can't be read or written.
func ExitStatus(err error) int {
	var read *frame.ReadError
	var file *FileError
	var set *frame.SetError
	var usage *UsageError
	switch {
	case err == nil:
		return 0
	case errors.As(err, &read), errors.As(err, &file):
		return 3
	case errors.As(err, &set), errors.As(err, &usage):
		return 2
	}
	return 1
}

// UsageError is a wrong command line: what is wrong and what to type instead.
type UsageError struct{ Text string }

// Error returns the text.
func (e *UsageError) Error() string { return e.Text }
