package job

import (
	"fmt"
	"io"
	"strings"

	"barwright/drawing"
	"barwright/frame"
	"barwright/geom"
	"barwright/mesh"
)

// sheet draws the stiffness on one page.
func (s *Stiffness) sheet(notForManufacture bool) (*drawing.Sheet, error) {
	d := drawing.StiffnessData{Title: stiffnessTitle(s.Frame, "Sag, racking, natural frequencies", "-stiffness"), Summary: extremeRows(s), Caution: "CAUTION: " + s.Report.Caution}
	for _, r := range caseRows(s.Report)[1:] {
		d.Cases = append(d.Cases, r)
	}
	d.Feet = footRows(s)[1:]
	for _, g := range s.Findings {
		d.Notes = append(d.Notes, "LIMIT NOT KEPT: "+g.Message)
	}
	d.Notes = append(d.Notes, s.Report.Notes...)
	d.Views = s.views()
	sheet, err := drawing.StiffnessSheet(d, drawing.Options{Projection: projection(s.Frame), NotForManufacture: notForManufacture})
	if err != nil {
		return nil, fmt.Errorf("stiffness sheet: %w", err)
	}
	drawing.NumberSheets([]*drawing.Sheet{sheet})
	return sheet, nil
}

func projection(f *frame.Frame) string {
	if f.Projection == "" {
		return "first"
	}
	return f.Projection
}

// stiffnessTitle is the title block of the sheets about stiffness.
func stiffnessTitle(f *frame.Frame, what, suffix string) drawing.TitleBlock {
	b := f.TitleBlock
	var set []string
	for _, x := range f.Settings {
		set = append(set, x.Name+" = "+Number(x.Value).String())
	}
	t := drawing.TitleBlock{Owner: b.Owner, Number: f.Reference, Revision: f.Revision, Date: b.Date, Title: f.Title, Supplement: what,
		DocumentType: "Stiffness", Creator: b.Creator, Approver: b.Approver, Department: b.Department, Fingerprint: f.Fingerprint, Settings: strings.Join(set, ", ")}
	if t.Title == "" {
		t.Title = f.Name
	}
	if t.Number == "" {
		t.Number = f.Name
	}
	t.Number += suffix
	return t
}

// views are the case that gives most, both pushes and the lowest mode.
func (s *Stiffness) views() []drawing.StiffnessView {
	var out []drawing.StiffnessView
	for i, sh := range s.shapes(1) {
		push := strings.HasPrefix(sh.slug, "push-")
		if i == 0 || push || sh.unit == "" {
			out = append(out, s.view(&sh))
		}
	}
	return out
}

// view draws the axes of a shape's bars.
func (s *Stiffness) view(sh *shape) drawing.StiffnessView {
	k := mesh.ExaggerationFor(s.Frame, sh.most)
	v := drawing.StiffnessView{Title: sh.title, Caption: strings.Join(sh.lines, "; ")}
	if sh.unit != "" {
		v.Caption += "; drawn " + magnified(k)
	}
	moves := sh.movements(s.Frame)
	for _, m := range s.Frame.Members {
		mv, ok := moves[m]
		if !ok {
			continue
		}
		var b drawing.StiffnessBar
		for i, z := range mv.At {
			at := m.Place.Apply(geom.Vec{Z: z}).Add(mv.Base)
			b.Rest, b.Moved = append(b.Rest, at), append(b.Moved, at.Add(mv.Shift[i].Scale(k)))
		}
		b.Rest = []geom.Vec{b.Rest[0], b.Rest[len(b.Rest)-1]}
		v.Bars = append(v.Bars, b)
		if m.Name == sh.member {
			v.Peak = nearestMoved(&mv, m, sh.at, k)
		}
	}
	return v
}

// nearestMoved returns where the sample nearest to a place stands as drawn.
func nearestMoved(mv *mesh.Movement, m *frame.Member, at geom.Vec, k float64) *geom.Vec {
	var best *geom.Vec
	least := 0.0
	for i, z := range mv.At {
		p := m.Place.Apply(geom.Vec{Z: z}).Add(mv.Base)
		if d := p.Dist(at); best == nil || d < least {
			q := p.Add(mv.Shift[i].Scale(k))
			best, least = &q, d
		}
	}
	return best
}

// sheetOutput lists the sheet as PDF and SVG.
func (s *Stiffness) sheetOutput(notForManufacture bool, svg bool) ([]output, error) {
	sheet, err := s.sheet(notForManufacture)
	if err != nil {
		return nil, err
	}
	book := &drawing.Book{Title: s.Frame.Title, Subject: "Stiffness, input " + s.Frame.Fingerprint, Author: s.Frame.TitleBlock.Creator, Sheets: []*drawing.Sheet{sheet}}
	if svg {
		return bookOutputs(book, "stiffness", "", false), nil
	}
	return []output{{"stiffness.pdf", whole(func(w io.Writer) error { return drawing.WritePDF(w, book) })}}, nil
}
