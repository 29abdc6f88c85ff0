package job

import (
	"io"

	"barwright/mesh"
)

// picturedModes is how many of the modes get a picture.
const picturedModes = 3

// pictureTolerance is the chord tolerance of the bars in deformed pictures, mm.
const pictureTolerance = 0.25

// mostPictured is how many bars a frame may have for a build to draw it as it moves.
const mostPictured = 200

// stiffnessOutputs puts the stiffness into the report of a build and lists its sheet and, of a frame that is not large, the
// picture of the case that gives most. A frame that cannot be analysed has neither; the report says why.
func (j *Job) stiffnessOutputs(r *Report) ([]output, error) {
	s, err := j.Stiffness(StiffnessOptions{})
	if err != nil {
		r.StiffnessFailed = err.Error()
		return nil, nil
	}
	r.Stiffness = NewStiffnessReport(s)
	list, err := s.sheetOutput(j.Failed(), false)
	if err != nil {
		return nil, err
	}
	if shapes := s.shapes(0); len(shapes) > 0 && len(j.Frame.Members) <= mostPictured {
		list = append(list, s.picture(shapes[0], pictureTolerance, mesh.PictureOptions{}))
	}
	return list, nil
}

// WriteStiffnessFiles writes the sheet, the JSON and a picture of each load case, push and low mode into a folder, and returns the paths.
func (j *Job) WriteStiffnessFiles(out string, s *Stiffness, o mesh.PictureOptions) ([]string, error) {
	list, err := s.sheetOutput(j.Failed(), true)
	if err != nil {
		return nil, err
	}
	list = append(list, output{"stiffness.json", func(w io.Writer) error { return WriteJSON(w, NewStiffnessReport(s)) }})
	seen := map[string]bool{}
	for _, sh := range s.shapes(picturedModes) {
		p := s.picture(sh, pictureTolerance, o)
		if !seen[p.name] {
			seen[p.name] = true
			list = append(list, p)
		}
	}
	return j.writeAll(out, list, "stiffness")
}
