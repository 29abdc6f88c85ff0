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
	rows := [][]string{{"panel", "quantity", "material", "thickness_mm", "width_mm", "height_mm", "notched_corners", "holes", "engagement_mm", "clearance_mm", "growth_mm", "mass_kg", "held_by", "fingerprint"}}
	for _, p := range f.Panels {
		s := p.Sheet
		if s == nil {
			continue
		}
		rows = append(rows, []string{p.Name, "1", p.Material, Number(p.Thickness).String(), round(s.Size.X, 2).String(), round(s.Size.Y, 2).String(), strconv.Itoa(s.Notches),
			strconv.Itoa(len(s.Holes)), Number(p.Engagement).String(), Number(p.Clearance).String(), round(s.Growth, 2).String(), round(s.Mass, 3).String(), heldBy(p), f.Fingerprint})
	}
	return writeCSV(w, rows)
}

func heldBy(p *frame.Panel) string {
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

// addPanels adds the sheets to a scene, notches included; the holes of screws are left out.
func (j *Job) addPanels(s *mesh.Scene) {
	for _, p := range j.Frame.Panels {
		if p.Sheet == nil {
			continue
		}
		s.Shapes = append(s.Shapes, &mesh.Shape{Name: "panel " + p.Name, Mesh: panelMesh(p)})
		s.Items = append(s.Items, mesh.Item{Name: "panel " + p.Name, Shape: len(s.Shapes) - 1, Place: geom.Shift(p.Sheet.Box.Low), Kind: mesh.FittingItem})
	}
}

// panelMesh is the sheet as a solid whose corner lies at the origin.
func panelMesh(p *frame.Panel) *mesh.Mesh {
	s, m := p.Sheet, &mesh.Mesh{}
	n := uint32(len(s.Outline))
	for _, high := range []float64{0, p.Thickness} {
		for _, q := range s.Outline {
			v := s.At(q, high).Sub(s.Box.Low)
			m.Points = append(m.Points, [3]float32{float32(v.X), float32(v.Y), float32(v.Z)})
		}
	}
	u, v := s.Normal.Others()
	mirror := u.Unit().Cross(v.Unit()).Dot(s.Normal.Unit()) < 0
	add := func(a, b, c uint32) {
		if mirror {
			b, c = c, b
		}
		m.Triangles = append(m.Triangles, [3]uint32{a, b, c})
		m.Surfaces = append(m.Surfaces, mesh.Fitting)
	}
	for _, t := range ears(s.Outline) {
		add(t[0], t[2], t[1])
		add(t[0]+n, t[1]+n, t[2]+n)
	}
	for i := range n {
		k := (i + 1) % n
		add(i, k, k+n)
		add(i, k+n, i+n)
	}
	return m
}

// ears cuts a simple polygon that runs counter-clockwise into triangles, ear by ear.
func ears(p []geom.Vec2) [][3]uint32 {
	left := make([]uint32, len(p))
	for i := range left {
		left[i] = uint32(i)
	}
	turn := func(a, b, c geom.Vec2) float64 { return (b.X-a.X)*(c.Y-a.Y) - (b.Y-a.Y)*(c.X-a.X) }
	var out [][3]uint32
	for len(left) > 3 {
		cut := -1
		for i := range left {
			n := len(left)
			a, b, c := p[left[(i+n-1)%n]], p[left[i]], p[left[(i+1)%n]]
			ok := turn(a, b, c) > 0
			for _, k := range left {
				q := p[k]
				if q != a && q != b && q != c && turn(a, b, q) >= 0 && turn(b, c, q) >= 0 && turn(c, a, q) >= 0 {
					ok = false
				}
			}
			if ok {
				cut = i
				break
			}
		}
		if cut < 0 {
			return out
		}
		n := len(left)
		out = append(out, [3]uint32{left[(cut+n-1)%n], left[cut], left[(cut+1)%n]})
		left = append(left[:cut:cut], left[cut+1:]...)
	}
	return append(out, [3]uint32{left[0], left[1], left[2]})
}
