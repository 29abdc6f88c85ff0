package job

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"strings"

	"barwright/drawing"
	"barwright/frame"
)

// SheetOptions chooses what draw writes.
type SheetOptions struct {
	Part string // a mark: only this part's sheets
	Text bool   // keep text in SVG as text instead of outlines
	drawing.Options
}

// sheets draws the sheets: the arrangement first, then one part after the other.
func (j *Job) sheets(o SheetOptions) (*drawing.Book, error) {
	o.NotForManufacture = j.Failed()
	f, err := j.only(o.Part)
	if err != nil {
		return nil, err
	}
	title := f.Title
	if title == "" {
		title = f.Name
	}
	book := &drawing.Book{Title: title, Subject: "Shop drawings, input " + f.Fingerprint, Author: f.TitleBlock.Creator}
	if o.Part == "" {
		scene, err := j.Scene()
		if err != nil {
			return nil, err
		}
		for _, draw := range []func() ([]*drawing.Sheet, error){
			func() ([]*drawing.Sheet, error) { return drawing.ArrangementSheets(f, scene, o.Options) },
			func() ([]*drawing.Sheet, error) { return drawing.ExplodedSheets(f, scene, o.Options) },
		} {
			s, err := draw()
			if err != nil {
				return nil, err
			}
			book.Sheets = append(book.Sheets, s...)
		}
	}
	parts, err := drawing.PartSheets(f, o.Options)
	if err != nil {
		return nil, err
	}
	book.Sheets = append(book.Sheets, parts...)
	if o.Part == "" {
		s, err := j.cutSheets(CutSheetOptions{NotForManufacture: o.NotForManufacture, Options: o.Options})
		if err != nil {
			return nil, err
		}
		book.Sheets = append(book.Sheets, s...)
	}
	drawing.NumberSheets(book.Sheets)
	return book, nil
}

// sheetOutputs lists the drawings: one PDF of all sheets and one SVG each.
func (j *Job) sheetOutputs(o SheetOptions) ([]output, error) {
	book, err := j.sheets(o)
	if err != nil {
		return nil, err
	}
	out := bookOutputs(book, "drawings", "drawings/", o.Text)
	for _, s := range book.Sheets {
		if strings.HasPrefix(s.Name, "part-") {
			out = append(out, output{"dxf/" + s.Name + ".dxf", whole(func(w io.Writer) error { return drawing.WriteDXF(w, s) })})
		}
	}
	return j.templateOutput(out, o)
}

// templateOutput adds the paper drill templates where a part has holes near an end.
func (j *Job) templateOutput(out []output, o SheetOptions) ([]output, error) {
	f, err := j.only(o.Part)
	if err != nil {
		return nil, err
	}
	pages, err := drawing.DrillTemplates(f, o.Options)
	if err != nil || len(pages) == 0 {
		return out, err
	}
	book := &drawing.Book{Title: f.Title, Subject: "Drill templates 1:1, input " + f.Fingerprint, Sheets: pages}
	return append(out, output{"templates.pdf", whole(func(w io.Writer) error { return drawing.WritePDF(w, book) })}), nil
}

// only returns the frame, or a copy of it with the part of a mark alone.
func (j *Job) only(mark string) (*frame.Frame, error) {
	if mark == "" {
		return j.Frame, nil
	}
	p, err := j.part(mark)
	if err != nil {
		return nil, err
	}
	one := *j.Frame
	one.Parts = []*frame.Part{p}
	return &one, nil
}

// bookOutputs lists the PDF of a book and the SVG of each of its sheets.
func bookOutputs(book *drawing.Book, pdf, folder string, text bool) []output {
	out := []output{{pdf + ".pdf", whole(func(w io.Writer) error { return drawing.WritePDF(w, book) })}}
	for _, s := range book.Sheets {
		out = append(out, output{folder + s.Name + ".svg", whole(func(w io.Writer) error { return drawing.WriteSVG(w, s, !text) })})
	}
	return out
}

// whole makes a file in memory before it writes a byte, so that a fault of its maker is told from one of the disk.
func whole(make func(io.Writer) error) func(io.Writer) error {
	return func(w io.Writer) error {
		var b bytes.Buffer
		if err := make(&b); err != nil {
			return err
		}
		_, err := w.Write(b.Bytes())
		return err
	}
}

// WriteSheets writes the drawings into a folder and returns the paths.
func (j *Job) WriteSheets(out string, o SheetOptions) ([]string, error) {
	list, err := j.sheetOutputs(o)
	var usage *UsageError
	if err != nil && !errors.As(err, &usage) {
		return nil, fmt.Errorf("drawings: %w", err)
	} else if err != nil {
		return nil, err
	}
	return j.writeAll(out, list, "drawings")
}
