package job

import (
	"io"

	"barwright/assembly"
	"barwright/drawing"
)

// guideOutputs lists the assembly guide: a PDF, and the same as one HTML page.
func (j *Job) guideOutputs(o StepsOptions) ([]output, error) {
	p, err := j.Plan(o)
	if err != nil {
		return nil, err
	}
	scene, err := j.Scene()
	if err != nil {
		return nil, err
	}
	options := drawing.Options{NotForManufacture: j.Failed()}
	title := j.Frame.Title
	if title == "" {
		title = j.Frame.Name
	}
	return []output{
		{"guide.pdf", whole(func(w io.Writer) error {
			sheets, err := drawing.GuideSheets(j.Frame, scene, p, options)
			if err != nil {
				return err
			}
			return drawing.WritePDF(w, &drawing.Book{Title: "Assembly guide: " + title, Subject: "Assembly guide, input " + j.Frame.Fingerprint, Author: j.Frame.TitleBlock.Creator, Sheets: sheets})
		})},
		{"guide.html", whole(func(w io.Writer) error { return drawing.WriteGuideHTML(w, j.Frame, scene, p, options) })},
	}, nil
}

// WriteGuide writes the assembly guide into a folder and returns the paths.
func (j *Job) WriteGuide(out string, o StepsOptions) ([]string, error) {
	list, err := j.guideOutputs(o)
	if err != nil {
		return nil, err
	}
	return j.writeAll(out, list, "guide")
}

// buildGuide lists the assembly guide of a build and puts the steps into its report. A frame of too many bars to be planned has
// none.
func (j *Job) buildGuide(report *Report) ([]output, error) {
	if len(j.Frame.Members) > assembly.MostBars {
		return nil, nil
	}
	p, err := j.Plan(StepsOptions{})
	if err != nil {
		return nil, err
	}
	report.Assembly = NewStepsReport(p)
	return j.guideOutputs(StepsOptions{})
}
