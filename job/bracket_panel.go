package job

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"barwright/frame"
	"barwright/geom"
	"barwright/mesh"
)

// WritePanelsCSV writes the cut list of the panels. Every line carries the fingerprint of the input.
func WritePanelsCSV(w io.Writer, f *frame.Frame) error {
	rows := [][]string{{"panel", "quantity", "material", "thickness_mm", "width_mm", "height_mm", "notches", "holes", "engagement_mm", "clearance_mm", "growth_mm", "mass_kg", "held_by", "fingerprint"}}
	for _, p := range f.Panels {
		s := p.Sheet
		if s == nil {
			continue
		}
		rows = append(rows, []string{p.Name, "1", p.Material, Number(p.Thickness).String(), round(s.Size.X, 2).String(), round(s.Size.Y, 2).String(), strconv.Itoa(s.Notches),
			strconv.Itoa(len(s.Holes)), Number(p.Engagement).String(), Number(p.Clearance).String(), round(s.Growth, 2).String(), round(s.Mass, 3).String(), holders(p), f.Fingerprint})
	}
	return writeCSV(w, rows)
}

// holders names the bars that hold a panel.
func holders(p *frame.Panel) string {
	var names []string
	for _, m := range p.HeldBy {
		names = append(names, m.Name)
	}
	return strings.Join(names, " ")
}

// WritePanels prints the cut sizes of the panels for a terminal.
func WritePanels(w io.Writer, f *frame.Frame) error {
	rows := [][]string{{"panel", "material", ">thick", ">width", ">height", ">notches", ">holes", ">kg"}}
	for _, p := range f.Panels {
		if s := p.Sheet; s != nil {
			rows = append(rows, []string{p.Name, p.Material, Length(p.Thickness), Length(s.Size.X), Length(s.Size.Y), strconv.Itoa(s.Notches), strconv.Itoa(len(s.Holes)), fmt.Sprintf("%.2f", s.Mass)})
		}
	}
	if len(rows) == 1 {
		return nil
	}
	fmt.Fprintln(w)
	return WriteTable(w, rows)
}

// panelOutputs lists the panels' cut list, and the outline of each as DXF and SVG in full size.
func (j *Job) panelOutputs() []output {
	var list []output
	for _, p := range j.Frame.Panels {
		if p.Sheet == nil {
			continue
		}
		stem := "panels/" + fileName(p.Name)
		list = append(list,
			output{stem + ".dxf", func(w io.Writer) error { return writePanelDXF(w, p.Sheet) }},
			output{stem + ".svg", func(w io.Writer) error { return writePanelSVG(w, p, j.Frame) }})
	}
	if len(list) > 0 {
		list = append(list, output{"panels.csv", func(w io.Writer) error { return WritePanelsCSV(w, j.Frame) }})
	}
	return list
}

// writePanelDXF writes the outline and the holes as lines and circles, release 12, millimetres, nothing else: what a saw or router reads.
func writePanelDXF(w io.Writer, s *frame.PanelSheet) error {
	var b bytes.Buffer
	tag := func(code int, value string) { fmt.Fprintf(&b, "%3d\n%s\n", code, value) }
	at := func(code int, p geom.Vec2) {
		tag(code, decimal(p.X))
		tag(code+10, decimal(p.Y))
		tag(code+20, "0.0")
	}
	tag(0, "SECTION")
	tag(2, "HEADER")
	tag(9, "$ACADVER")
	tag(1, "AC1009")
	tag(9, "$EXTMIN")
	at(10, geom.Vec2{})
	tag(9, "$EXTMAX")
	at(10, s.Size)
	tag(0, "ENDSEC")
	tag(0, "SECTION")
	tag(2, "ENTITIES")
	for i, p := range s.Outline {
		tag(0, "LINE")
		tag(8, "CUT")
		at(10, p)
		at(11, s.Outline[(i+1)%len(s.Outline)])
	}
	for _, h := range s.Holes {
		tag(0, "CIRCLE")
		tag(8, "HOLES")
		at(10, h.At)
		tag(40, decimal(h.Diameter/2))
	}
	tag(0, "ENDSEC")
	tag(0, "EOF")
	_, err := w.Write(b.Bytes())
	return err
}

// decimal writes a length with a point, as DXF wants it.
func decimal(v float64) string {
	s := strconv.FormatFloat(math.Round(v*1e4)/1e4+0, 'f', -1, 64)
	if !strings.Contains(s, ".") {
		s += ".0"
	}
	return s
}

// writePanelSVG writes the outline and the holes in full size, y up as in the DXF file.
func writePanelSVG(w io.Writer, p *frame.Panel, f *frame.Frame) error {
	s := p.Sheet
	var b bytes.Buffer
	name := strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;").Replace(p.Name)
	fmt.Fprintf(&b, "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"%smm\" height=\"%smm\" viewBox=\"0 0 %s %s\">\n<title>Panel %s, %s mm %s, input %s</title>\n",
		decimal(s.Size.X), decimal(s.Size.Y), decimal(s.Size.X), decimal(s.Size.Y), name, Length(p.Thickness), p.Material, f.Fingerprint)
	b.WriteString("<g fill=\"none\" stroke=\"#000\" stroke-width=\"0.25\">\n<path d=\"")
	for i, q := range s.Outline {
		fmt.Fprintf(&b, "%s%s %s", [2]string{"L", "M"}[btoi(i == 0)], decimal(q.X), decimal(s.Size.Y-q.Y))
	}
	b.WriteString("Z\"/>\n")
	for _, h := range s.Holes {
		fmt.Fprintf(&b, "<circle cx=\"%s\" cy=\"%s\" r=\"%s\"/>\n", decimal(h.At.X), decimal(s.Size.Y-h.At.Y), decimal(h.Diameter/2))
	}
	b.WriteString("</g>\n</svg>\n")
	_, err := w.Write(b.Bytes())
	return err
}

func btoi(b bool) int {
	if b {
		return 1
	}
	return 0
}

// addPanels adds the sheets to a scene, with their notches and the holes of their screws.
func (j *Job) addPanels(s *mesh.Scene) error {
	for _, p := range j.Frame.Panels {
		if p.Sheet == nil {
			continue
		}
		m, err := panelMesh(p, j.Tolerance)
		if err != nil {
			return fmt.Errorf("panel %q: %w", p.Name, err)
		}
		s.Shapes = append(s.Shapes, &mesh.Shape{Name: "panel " + p.Name, Mesh: m})
		s.Items = append(s.Items, mesh.Item{Name: "panel " + p.Name, Shape: len(s.Shapes) - 1, Place: panelPlace(p), Kind: mesh.FittingItem})
	}
	return nil
}

// panelMesh is the sheet as a solid in its own coordinates, from z = 0 to its thickness.
func panelMesh(p *frame.Panel, tolerance float64) (*mesh.Mesh, error) {
	var holes []mesh.PlateHole
	for _, h := range p.Sheet.Holes {
		holes = append(holes, mesh.PlateHole{At: h.At, Diameter: h.Diameter})
	}
	return mesh.Plate(p.Sheet.Outline, holes, p.Thickness, tolerance)
}

// panelPlace is the motion from a sheet's own coordinates into the frame. Where the sheet's two axes and its normal make
// no right-handed three, the thickness runs down from the high face.
func panelPlace(p *frame.Panel) geom.Motion {
	s := p.Sheet
	u, v := s.Normal.Others()
	m := geom.Motion{EX: u.Unit(), EY: v.Unit(), EZ: u.Unit().Cross(v.Unit())}
	high := 0.0
	if m.EZ.Dot(s.Normal.Unit()) < 0 {
		high = p.Thickness
	}
	m.T = s.At(geom.Vec2{}, high)
	return m
}
