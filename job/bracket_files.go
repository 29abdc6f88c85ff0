package job

import (
	"fmt"
	"io"
	"math"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"barwright/drawing"
	"barwright/geom"
	"barwright/internal/parallel"
	"barwright/mesh"
)

// bracketOutputs lists the files of the frame's printed parts: STL, 3MF and PDF of each, and a 3MF of all on printing plates.
func (j *Job) bracketOutputs(o drawing.Options) ([]output, error) {
	o.NotForManufacture = o.NotForManufacture || j.Failed()
	if o.Units == "" {
		o.Units = j.Frame.Units
	}
	if o.Projection == "" {
		o.Projection = j.Frame.Projection
	}
	files, failed := make([][]output, len(j.Printed)), make([]error, len(j.Printed))
	parallel.Do(len(j.Printed), func(i int) {
		p := j.Printed[i]
		files[i], failed[i] = partFiles(p.Result, "brackets/"+p.FileStem(), j.bracketBlock(p), o)
	})
	if err := parallel.FirstError(failed); err != nil {
		return nil, err
	}
	list := slices.Concat(files...)
	if len(list) > 0 {
		plates := j.plates()
		list = append(list, output{"brackets/plates.3mf", func(w io.Writer) error { return mesh.Write3MF(w, plates) }})
	}
	return list, nil
}

// bracketBlock fills the title block of a printed part's sheet with what the frame says.
func (j *Job) bracketBlock(p *PrintedPart) drawing.TitleBlock {
	f, t := j.Frame, j.Frame.TitleBlock
	number := p.Mark
	if f.Reference != "" {
		number = f.Reference + "-" + p.Mark
	}
	return drawing.TitleBlock{Owner: t.Owner, Creator: t.Creator, Approver: t.Approver, Date: t.Date, Department: t.Department,
		Title: fmt.Sprintf("Printed part %s: %s", p.Mark, p.Result.Name), Number: number, Revision: f.Revision, Fingerprint: f.Fingerprint, Quantity: strconv.Itoa(p.Quantity)}
}

// plateGap is the room in mm between parts on a plate and between plates (common practice, no source).
const plateGap = 8.0

// plates lays all printed parts out, by kind and each as often as it is needed, in rows on plates of the bed's size. The plates lie side
// by side along x.
func (j *Job) plates() *mesh.Scene {
	bed := geom.Vec{X: 220, Y: 220}
	if p := j.Frame.Printing; p != nil && p.Bed[0] > 0 {
		bed = geom.Vec{X: p.Bed[0], Y: p.Bed[1]}
	}
	s := &mesh.Scene{Title: "Printed parts of " + j.Frame.Name}
	plate, x, y, deep := 0, 0.0, 0.0, 0.0
	for i, p := range j.Printed {
		s.Shapes = append(s.Shapes, &mesh.Shape{Name: p.Mark + " " + p.Result.Name, Mark: p.Mark, Mesh: p.Result.Mesh})
		size, turn := p.Result.Size, geom.Identity()
		if size.X > bed.X+1e-3 || size.Y > bed.Y+1e-3 {
			// It fits turned by a quarter, or it would not have been built.
			turn = geom.Motion{EX: geom.Vec{Y: 1}, EY: geom.Vec{X: -1}, EZ: geom.Vec{Z: 1}, T: geom.Vec{X: size.Y}}
			size.X, size.Y = size.Y, size.X
		}
		for k := range p.Quantity {
			if x > 0 && x+size.X > bed.X+1e-3 {
				x, y, deep = 0, y+deep+plateGap, 0
			}
			if y > 0 && y+size.Y > bed.Y+1e-3 {
				plate, x, y, deep = plate+1, 0, 0, 0
			}
			at := turn.Then(geom.Shift(geom.Vec{X: float64(plate)*(bed.X+3*plateGap) + x, Y: y}))
			s.Items = append(s.Items, mesh.Item{Name: fmt.Sprintf("plate %d: %s %d of %d", plate+1, p.Mark, k+1, p.Quantity), Mark: p.Mark, Shape: i, Place: at, Kind: mesh.PrintedItem})
			x, deep = x+size.X+plateGap, math.Max(deep, size.Y)
		}
	}
	return s
}

// WriteBrackets writes the frame's printed parts into a folder and returns the reports.
func (j *Job) WriteBrackets(out string, o drawing.Options) ([]*BracketReport, error) {
	list, err := j.bracketOutputs(o)
	if err != nil {
		return nil, err
	}
	wrote, err := j.writeAll(out, list, "printed parts")
	if err != nil {
		return nil, err
	}
	reports := []*BracketReport{}
	for _, p := range j.Printed {
		r := newBracketReport(p.Result, p.Quantity)
		r.Name, r.On = p.Mark+" "+p.Result.Name, p.on
		stem := filepath.Join(out, "brackets", p.FileStem()) + "."
		for _, w := range wrote {
			if strings.HasPrefix(w, stem) {
				r.Files = append(r.Files, w)
			}
		}
		reports = append(reports, r)
	}
	return reports, nil
}
