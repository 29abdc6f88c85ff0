package job

import (
	"fmt"
	"io"
	"strings"

	"barwright/drawing"
	"barwright/frame"
	"barwright/geom"
)

// CutSheetOptions say how the sheets of a plan are made.
type CutSheetOptions struct {
	NotForManufacture bool
	Labels            drawing.LabelOptions // zero: the usual ones
	drawing.Options
}

// sheets draws the cut plan.
func (p *CutPlan) sheets(o CutSheetOptions) ([]*drawing.Sheet, error) {
	d := drawing.CutPlan{Title: p.titleBlock()}
	for i := range p.Profiles {
		c := &p.Profiles[i]
		d.Profiles = append(d.Profiles, drawing.CutProfile{Profile: c.Profile, Problem: c.Problem, Plan: c.Plan, Verdict: c.verdict()})
		for _, a := range c.Assumed {
			d.Notes = append(d.Notes, "Assumed: "+a+".")
		}
	}
	if len(p.Profiles) > 1 {
		d.Notes = append(d.Notes, "In all: "+p.verdict()+".")
	}
	return drawing.CutPlanSheets(d, o.options(p.frame))
}

// options takes from the frame what is not said.
func (o CutSheetOptions) options(f *frame.Frame) drawing.Options {
	d := o.Options
	d.NotForManufacture = o.NotForManufacture
	if f != nil {
		if d.Units == "" {
			d.Units = f.Units
		}
		if d.Projection == "" {
			d.Projection = f.Projection
		}
	}
	return d
}

// titleBlock is the title block of the sheets that belong to ordering and sawing.
func (p *CutPlan) titleBlock() drawing.TitleBlock {
	var supplement []string
	for _, c := range p.Profiles {
		if c.Profile != "" {
			supplement = append(supplement, c.Profile)
		}
	}
	t := drawing.TitleBlock{Title: p.Title, Number: p.Name, DocumentType: "Cut plan", Tolerance: "ISO 2768-m", Fingerprint: p.Fingerprint,
		Supplement: strings.TrimSuffix("Bars to saw: "+strings.Join(supplement, ", "), ": "), Settings: strings.Join(p.set(), ", ")}
	if f := p.frame; f != nil {
		b := f.TitleBlock
		t.Owner, t.Date, t.Creator, t.Approver, t.Department, t.Revision = b.Owner, b.Date, b.Creator, b.Approver, b.Department, f.Revision
		if f.Reference != "" {
			t.Number = f.Reference
		}
		t.Number += "-cut"
	}
	return t
}

// set lists what was set on the command line.
func (p *CutPlan) set() []string {
	var out []string
	for _, s := range p.Settings {
		out = append(out, fmt.Sprintf("%s = %s", s.Name, Number(s.Value)))
	}
	return out
}

// stickers returns a label for each piece: those of a frame in the order of the parts, each with its place; those of a list in
// the order of sawing.
func (p *CutPlan) stickers() []drawing.Sticker {
	var out []drawing.Sticker
	base := drawing.Sticker{Frame: p.Name, Input: p.Fingerprint, Set: p.set()}
	for _, c := range p.Profiles {
		base.Profile = c.Profile
		for _, part := range c.parts {
			for _, m := range part.Members {
				s := base
				s.Mark, s.Length, s.Member, s.Way = part.Mark, part.Bar.Length, m.Name, wayWords(m)
				out = append(out, s)
			}
		}
		if c.parts != nil {
			continue
		}
		for _, b := range c.Plan.Bars {
			for _, k := range b.Cuts {
				s := base
				s.Mark, s.Length = k.Mark, k.Length
				out = append(out, s)
			}
		}
	}
	return out
}

// wayWords says how a bar lies in the frame. Faces 3 and 4 look the other way from 1 and 2.
func wayWords(m *frame.Member) string {
	f := m.FaceNames()
	return fmt.Sprintf("end 1 %s, face 1 %s, 2 %s", m.EndName(1), f[0], f[1])
}

// labelSheets draws the labels.
func (p *CutPlan) labelSheets(o CutSheetOptions) ([]*drawing.Sheet, error) {
	l := o.Labels
	if l == (drawing.LabelOptions{}) {
		l = drawing.DefaultLabels()
	}
	return drawing.LabelSheets(p.stickers(), l)
}

// measureSheets draws the sheets on which the bars at hand are measured first.
func (p *CutPlan) measureSheets(o CutSheetOptions) ([]*drawing.Sheet, error) {
	if p.frame == nil {
		return nil, nil
	}
	var profiles []*geom.Profile
	for _, c := range p.Profiles {
		profiles = append(profiles, c.parts[0].Bar.Profile)
	}
	t := p.titleBlock()
	t.Number = strings.TrimSuffix(t.Number, "-cut") + "-measure"
	return drawing.MeasureSheets(profiles, t, o.options(p.frame))
}

// cutSheets draws the sheets that belong to ordering and sawing: the cut plan, then the sheets to measure first.
func (j *Job) cutSheets(o CutSheetOptions) ([]*drawing.Sheet, error) {
	p, err := j.cutPlan()
	if err != nil {
		return nil, err
	}
	return p.allSheets(o)
}

func (p *CutPlan) allSheets(o CutSheetOptions) ([]*drawing.Sheet, error) {
	sheets, err := p.sheets(o)
	if err != nil {
		return nil, fmt.Errorf("cut plan: %w", err)
	}
	measure, err := p.measureSheets(o)
	return append(sheets, measure...), err
}

// Write writes the plan into a folder and returns the paths: the list, the sheets and the labels.
func (p *CutPlan) Write(out string, o CutSheetOptions) ([]string, error) {
	list := []output{{"cutplan.csv", func(w io.Writer) error { return WriteCutCSV(w, p) }}}
	sheets, err := p.allSheets(o)
	if err != nil {
		return nil, err
	}
	drawing.NumberSheets(sheets)
	list = append(list, bookOutputs(&drawing.Book{Title: p.Title, Subject: "Cut plan, input " + p.Fingerprint, Sheets: sheets}, "cutplan", "drawings/", false)...)
	labels, err := p.labelOutput(o)
	if err != nil {
		return nil, err
	}
	return (&Job{}).writeAll(out, append(list, labels...), "cut plan")
}

// TooManyLabels reports whether there are more pieces than one file of labels may hold, so that none is written.
func (p *CutPlan) TooManyLabels() bool {
	n := 0
	for _, c := range p.Profiles {
		for _, q := range c.Problem.Pieces {
			n += q.Quantity
		}
		for _, q := range c.TooLong {
			n += q.Quantity
		}
	}
	return n > drawing.MaxLabels
}

// labelOutput is the file of labels; none where there is nothing to label.
func (p *CutPlan) labelOutput(o CutSheetOptions) ([]output, error) {
	if p.TooManyLabels() {
		return nil, nil
	}
	sheets, err := p.labelSheets(o)
	if err != nil {
		return nil, &UsageError{err.Error()}
	}
	if len(sheets) == 0 {
		return nil, nil
	}
	book := &drawing.Book{Title: p.Title, Subject: "Labels, input " + p.Fingerprint, Sheets: sheets}
	return []output{{"labels.pdf", whole(func(w io.Writer) error { return drawing.WritePDF(w, book) })}}, nil
}
