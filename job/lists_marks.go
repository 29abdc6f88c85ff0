package job

import (
	"io"

	"barwright/frame"
)

// LockMarks writes the record of the frame's marks beside its file, and returns its path. From then on parts keep their
// marks over changes.
func (j *Job) LockMarks() (string, error) {
	path, text := frame.MarksPath(j.Frame.File), j.Frame.Lock()
	return path, WriteFile(path, func(w io.Writer) error { _, err := w.Write(text); return err })
}
