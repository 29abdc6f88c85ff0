package job

import (
	"io"
	"runtime"
	"sync"

	"barwright/drawing"
	"barwright/internal/parallel"
	"barwright/mesh"
)

// buildViews are the views of the whole frame that a build draws.
func buildViews() []string { return []string{mesh.ViewNames()[0], "front", "left", "top"} }

// Build makes every output in a fresh folder and swaps it in, so that the folder holds one whole run, the old or the
// new. It returns the folder.
func (j *Job) Build(out string) (string, error) {
	list, err := j.buildOutputs()
	if err != nil {
		return "", err
	}
	d, err := newFolder(j.OutFolder(out))
	if err != nil {
		return "", err
	}
	if err := j.writeTogether(d, list); err != nil {
		d.drop()
		return "", err
	}
	if err := d.swap(); err != nil {
		d.drop()
		return "", err
	}
	return d.place, nil
}

// writeTogether writes the outputs into the folder, as many at once as there are processors: no two
// share anything that they change. Of several errors it returns that of the first output.
func (j *Job) writeTogether(d *folder, list []output) error {
	var wg sync.WaitGroup
	var mu sync.Mutex
	failed := make([]error, len(list))
	next, done := 0, 0
	for range min(runtime.GOMAXPROCS(0), len(list)) {
		wg.Go(func() {
			mu.Lock()
			defer mu.Unlock()
			for next < len(list) {
				i := next
				next++
				mu.Unlock()
				err := WriteFile(d.path(list[i].name), list[i].write)
				mu.Lock()
				if failed[i] = err; err != nil {
					next = len(list)
				}
				done++
				j.progress("build", done, len(list))
			}
		})
	}
	wg.Wait()
	for i, err := range failed {
		if err != nil {
			return err
		}
		d.files = append(d.files, list[i].name)
	}
	return nil
}

// buildOutputs lists everything that build writes.
func (j *Job) buildOutputs() ([]output, error) {
	report := NewReport(j.Frame, j.Findings)
	plan, err := j.cutPlan()
	if err != nil {
		return nil, err
	}
	report.Cut = NewCutReport(plan)
	// What takes longest to prepare goes side by side; only the stiffness touches the report meanwhile.
	var stiffness, sheets []output
	var failed [2]error
	parallel.Do(2, func(i int) {
		if i == 0 {
			sheets, failed[i] = j.sheetOutputs(SheetOptions{})
		} else {
			stiffness, failed[i] = j.stiffnessOutputs(report)
		}
	})
	if err := parallel.FirstError(failed[:]); err != nil {
		return nil, err
	}
	list := []output{{"report.json", func(w io.Writer) error { return WriteJSON(w, report) }}}
	list = append(list, j.listOutputs()...)
	list = append(list, output{"cutplan.csv", func(w io.Writer) error { return WriteCutCSV(w, plan) }},
		output{"lists.xlsx", whole(func(w io.Writer) error { return WriteXLSX(w, j.Frame, plan) })})
	labels, err := plan.labelOutput(CutSheetOptions{})
	if err != nil {
		return nil, err
	}
	list = append(list, labels...)
	list = append(list, sheets...)
	guide, err := j.buildGuide(report)
	if err != nil {
		return nil, err
	}
	list = append(list, guide...)
	meshes, err := j.meshOutputs(MeshOptions{})
	if err != nil {
		return nil, err
	}
	list = append(list, meshes...)
	for _, p := range j.Frame.Parts {
		part, err := j.meshOutputs(MeshOptions{Part: p.Mark, Formats: []string{"stl"}})
		if err != nil {
			return nil, err
		}
		list = append(list, part...)
	}
	printed, err := j.bracketOutputs(drawing.Options{})
	if err != nil {
		return nil, err
	}
	list = append(list, printed...)
	list = append(list, j.panelOutputs()...)
	pictures, err := j.pictureOutputs(PictureOptions{Views: buildViews()})
	if err != nil {
		return nil, err
	}
	list = append(list, pictures...)
	list = append(list, stiffness...)
	for _, p := range j.Frame.Parts {
		list = append(list, j.partPicture(p, mesh.PictureOptions{}))
	}
	return list, nil
}
