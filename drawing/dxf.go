package drawing

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"strings"

	"barwright/geom"
)

// dxf writes the tagged pairs of a DXF file, release 12 (AC1009), which every reader knows.
type dxf struct{ bytes.Buffer }

func (d *dxf) tag(code int, value string) { fmt.Fprintf(d, "%3d\n%s\n", code, value) }

func (d *dxf) int(code, value int) { d.tag(code, fmt.Sprintf("%6d", value)) }

func (d *dxf) float(code int, value float64) { d.tag(code, trimmedZeros(fixed(value, 6))) }

func (d *dxf) point(code int, p geom.Vec2) {
	d.float(code, p.X)
	d.float(code+10, p.Y)
	d.float(code+20, 0)
}

// trimmedZeros takes trailing zeros off, but for one after the point.
func trimmedZeros(s string) string {
	s = strings.TrimRight(s, "0")
	if strings.HasSuffix(s, ".") {
		s += "0"
	}
	return s
}

// dxfLineTypes are the line types with their patterns in mm: positive a dash, negative a gap, zero a dot.
var dxfLineTypes = []struct {
	name, picture string
	pattern       []float64
}{
	{"CONTINUOUS", "Solid line", nil},
	{"DASHED", "__ __ __", []float64{3, -0.75}},
	{"CENTER", "____ . ____ .", []float64{6, -0.75, 0, -0.75}},
	{"PHANTOM", "____ . . ____ . .", []float64{6, -0.75, 0, -0.75, 0, -0.75}},
}

func (t LineType) dxfName() string { return dxfLineTypes[t].name }

// begin writes header and tables. Extents are those of the drawing in mm.
func (d *dxf) begin(low, high geom.Vec2) {
	d.tag(0, "SECTION")
	d.tag(2, "HEADER")
	d.tag(9, "$ACADVER")
	d.tag(1, "AC1009")
	d.tag(9, "$INSBASE")
	d.point(10, geom.Vec2{})
	d.tag(9, "$EXTMIN")
	d.point(10, low)
	d.tag(9, "$EXTMAX")
	d.point(10, high)
	d.tag(0, "ENDSEC")
	d.tag(0, "SECTION")
	d.tag(2, "TABLES")
	d.lineTypes()
	d.layers()
	d.textStyle()
	d.tag(0, "ENDSEC")
	d.tag(0, "SECTION")
	d.tag(2, "BLOCKS")
	d.tag(0, "ENDSEC")
	d.tag(0, "SECTION")
	d.tag(2, "ENTITIES")
}

func (d *dxf) lineTypes() {
	d.tag(0, "TABLE")
	d.tag(2, "LTYPE")
	d.int(70, len(dxfLineTypes))
	for _, t := range dxfLineTypes {
		d.tag(0, "LTYPE")
		d.tag(2, t.name)
		d.int(70, 0)
		d.tag(3, t.picture)
		d.int(72, 65)
		d.int(73, len(t.pattern))
		total := 0.0
		for _, p := range t.pattern {
			total += math.Abs(p)
		}
		d.float(40, total)
		for _, p := range t.pattern {
			d.float(49, p)
		}
	}
	d.tag(0, "ENDTAB")
}

func (d *dxf) layers() {
	d.tag(0, "TABLE")
	d.tag(2, "LAYER")
	d.int(70, int(roleCount)+1)
	layer := func(name, lineType string) {
		d.tag(0, "LAYER")
		d.tag(2, name)
		d.int(70, 0)
		d.int(62, 7)
		d.tag(6, lineType)
	}
	layer("0", "CONTINUOUS")
	for r := range roleCount {
		layer(r.String(), r.Pen().Type.dxfName())
	}
	d.tag(0, "ENDTAB")
}

func (d *dxf) textStyle() {
	d.tag(0, "TABLE")
	d.tag(2, "STYLE")
	d.int(70, 1)
	d.tag(0, "STYLE")
	d.tag(2, "STANDARD")
	d.int(70, 0)
	d.float(40, 0)
	d.float(41, 1)
	d.float(50, 0)
	d.int(71, 0)
	d.float(42, DimText)
	d.tag(3, "txt")
	d.tag(4, "")
	d.tag(0, "ENDTAB")
}

func (d *dxf) end(w io.Writer) error {
	d.tag(0, "ENDSEC")
	d.tag(0, "EOF")
	_, err := w.Write(d.Bytes())
	return err
}

func (d *dxf) line(layer string, a, b geom.Vec2) {
	d.tag(0, "LINE")
	d.tag(8, layer)
	d.point(10, a)
	d.point(11, b)
}

// arc writes an arc or a circle, angles in radians counter-clockwise.
func (d *dxf) arc(layer string, c geom.Vec2, r, start, sweep float64) {
	if sweep > 2*math.Pi-1e-9 {
		d.tag(0, "CIRCLE")
		d.tag(8, layer)
		d.point(10, c)
		d.float(40, r)
		return
	}
	deg := func(a float64) float64 {
		a = math.Mod(a*180/math.Pi, 360)
		if a < 0 {
			a += 360
		}
		return a
	}
	d.tag(0, "ARC")
	d.tag(8, layer)
	d.point(10, c)
	d.float(40, r)
	d.float(50, deg(start))
	d.float(51, deg(start+sweep))
}

// dxfText spells a text for release 12, which has ASCII and a few signs of its own.
var dxfText = strings.NewReplacer("%", "%%%", "⌀", "%%c", "°", "%%d", "±", "%%p", "×", "x", "⌴", "cbore", "↧", "deep", "⌵", "csk",
	"–", "-", "−", "-", "…", "...", "²", "2", "³", "3", "⁴", "4")

func (d *dxf) text(t *Text) {
	d.tag(0, "TEXT")
	d.tag(8, t.Role.String())
	d.point(10, t.At)
	d.float(40, t.Height)
	d.tag(1, plain(dxfText.Replace(t.String)))
	if t.Turn != 0 {
		d.float(50, t.Turn*180/math.Pi)
	}
	if t.Align != Left {
		d.int(72, int(t.Align))
		d.point(11, t.At)
	}
}

// WriteDXF writes a sheet as DXF release 12: lines, arcs, circles and texts at the size of the paper in mm, on
// layers named by [Role].
func WriteDXF(w io.Writer, s *Sheet) error {
	var d dxf
	d.begin(geom.Vec2{}, geom.Vec2{X: s.Size.Width, Y: s.Size.Height})
	for i, op := range s.Ops {
		switch op := op.(type) {
		case *Stroke:
			for _, l := range segments(op, i) {
				d.line(l.role.String(), l.a, l.b)
			}
		case *Arc:
			d.arc(op.Role.String(), op.Centre, op.Radius, op.Start, op.Sweep)
		case *Text:
			d.text(op)
		}
	}
	return d.end(w)
}

// WriteSectionDXF writes the exact section of a profile at full size as DXF release 12, its middle at the origin:
// lines, arcs and the circles of the core bores on the layer OUTLINE. It returns an error where
// the profile is not sound.
func WriteSectionDXF(w io.Writer, p *geom.Profile) error {
	if err := p.Validate(); err != nil {
		return fmt.Errorf("profile %s: %w", p.Name, err)
	}
	var d dxf
	half := p.Size().Scale(0.5)
	d.begin(half.Scale(-1), half)
	layer := Outline.String()
	region := p.Region()
	cores := p.Cores()
	for _, loop := range region[:len(region)-len(cores)] {
		for _, e := range loop {
			if e.Turn == 0 {
				d.line(layer, e.From, e.To)
				continue
			}
			from := e.From
			if e.Turn < 0 { // DXF arcs run counter-clockwise
				from = e.To
			}
			r := from.Sub(e.Centre)
			d.arc(layer, e.Centre, e.Radius, math.Atan2(r.Y, r.X), math.Abs(e.Sweep()))
		}
	}
	for _, c := range cores {
		d.arc(layer, c, p.Core/2, 0, 2*math.Pi)
	}
	return d.end(w)
}
