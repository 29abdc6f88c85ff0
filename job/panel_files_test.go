package job

import (
	"bytes"
	"encoding/csv"
	"encoding/xml"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"barwright/frame"
	"barwright/geom"
)

// tags reads the pairs of a DXF file: a line with the group code, a line with the value (AutoCAD release 12 DXF reference).
func tags(t *testing.T, b []byte) [][2]string {
	t.Helper()
	lines := strings.Split(strings.TrimRight(string(b), "\n"), "\n")
	if len(lines)%2 != 0 {
		t.Fatalf("%d lines", len(lines))
	}
	var out [][2]string
	for i := 0; i < len(lines); i += 2 {
		out = append(out, [2]string{strings.TrimSpace(lines[i]), lines[i+1]})
	}
	return out
}

// drawn is what a drawing of a sheet shows: the sides of its outline and its holes.
type drawn struct {
	sides [][2]geom.Vec2
	holes []frame.PanelHole
}

// readDXF reads lines and circles.
func readDXF(t *testing.T, b []byte) drawn {
	t.Helper()
	var out drawn
	var kind string
	values := map[string]float64{}
	end := func() {
		switch kind {
		case "LINE":
			out.sides = append(out.sides, [2]geom.Vec2{{X: values["10"], Y: values["20"]}, {X: values["11"], Y: values["21"]}})
		case "CIRCLE":
			out.holes = append(out.holes, frame.PanelHole{At: geom.Vec2{X: values["10"], Y: values["20"]}, Diameter: 2 * values["40"]})
		}
	}
	all := tags(t, b)
	for _, tag := range all {
		if tag[0] == "0" {
			end()
			kind, values = tag[1], map[string]float64{}
			continue
		}
		if v, err := strconv.ParseFloat(tag[1], 64); err == nil {
			values[tag[0]] = v
		}
	}
	if last := all[len(all)-1]; last != [2]string{"0", "EOF"} {
		t.Errorf("it ends with %v", last)
	}
	return out
}

// readSVG reads the path and the circles, y turned up again.
func readSVG(t *testing.T, b []byte) drawn {
	t.Helper()
	var doc struct {
		Width   string `xml:"width,attr"`
		ViewBox string `xml:"viewBox,attr"`
		G       struct {
			Path struct {
				D string `xml:"d,attr"`
			} `xml:"path"`
			Circles []struct {
				X float64 `xml:"cx,attr"`
				Y float64 `xml:"cy,attr"`
				R float64 `xml:"r,attr"`
			} `xml:"circle"`
		} `xml:"g"`
	}
	if err := xml.Unmarshal(b, &doc); err != nil {
		t.Fatal(err)
	}
	box := strings.Fields(doc.ViewBox)
	high, err := strconv.ParseFloat(box[3], 64)
	if err != nil || doc.Width != box[2]+"mm" {
		t.Fatalf("width %q of a view box %q: not full size", doc.Width, doc.ViewBox)
	}
	var points []geom.Vec2
	for _, p := range strings.FieldsFunc(doc.G.Path.D, func(r rune) bool { return r == 'M' || r == 'L' || r == 'Z' }) {
		f := strings.Fields(p)
		x, _ := strconv.ParseFloat(f[0], 64)
		y, _ := strconv.ParseFloat(f[1], 64)
		points = append(points, geom.Vec2{X: x, Y: high - y})
	}
	var out drawn
	for i, p := range points {
		out.sides = append(out.sides, [2]geom.Vec2{p, points[(i+1)%len(points)]})
	}
	for _, c := range doc.G.Circles {
		out.holes = append(out.holes, frame.PanelHole{At: geom.Vec2{X: c.X, Y: high - c.Y}, Diameter: 2 * c.R})
	}
	return out
}

// The files of a sheet hold its outline, closed, and its holes; the areas under both are the sheet's. The list counts them.
func TestPanelFiles(t *testing.T) {
	j := openText(t, closet)
	var list bytes.Buffer
	if err := WritePanelsCSV(&list, j.Frame); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&list).ReadAll()
	if err != nil || len(rows) != 1+len(j.Frame.Panels) {
		t.Fatalf("%d rows, %v", len(rows), err)
	}
	for i, p := range j.Frame.Panels {
		var dxf, svg bytes.Buffer
		if err := writePanelDXF(&dxf, p.Sheet); err != nil {
			t.Fatal(err)
		}
		if err := writePanelSVG(&svg, p, j.Frame); err != nil {
			t.Fatal(err)
		}
		for kind, d := range map[string]drawn{"dxf": readDXF(t, dxf.Bytes()), "svg": readSVG(t, svg.Bytes())} {
			area := 0.0
			for k, s := range d.sides {
				area += s[0].Cross(s[1]) / 2
				if s[1].Dist(d.sides[(k+1)%len(d.sides)][0]) > 1e-6 {
					t.Errorf("%s of %s: the outline is open after %v", kind, p.Name, s)
				}
			}
			near := func(a, b frame.PanelHole) bool {
				return a.At.Dist(b.At) < 2e-4 && math.Abs(a.Diameter-b.Diameter) < 2e-4
			}
			if math.Abs(area-geom.PolygonArea(p.Sheet.Outline)) > 0.5 || !slices.EqualFunc(d.holes, p.Sheet.Holes, near) {
				t.Errorf("%s of %s: area %.3f and %d holes", kind, p.Name, area, len(d.holes))
			}
			volume := area * p.Thickness
			for _, h := range d.holes {
				volume -= math.Pi / 4 * h.Diameter * h.Diameter * p.Thickness
			}
			// The list's mass is that of what the drawing leaves: PC 1.20, birch plywood 0.68 g/cm³ (data sheets); a sheet of no
			// named material is taken for a plastic of 1.20.
			density := map[string]float64{"PC": 1.2e-6, "plywood": 0.68e-6, "": 1.2e-6}[p.Material]
			kg, err := strconv.ParseFloat(rows[i+1][11], 64)
			if err != nil || math.Abs(kg-density*volume) > 6e-4 || rows[i+1][7] != strconv.Itoa(len(d.holes)) || rows[i+1][6] != strconv.Itoa(p.Sheet.Notches) {
				t.Errorf("%s: the list says %v", p.Name, rows[i+1])
			}
		}
	}
}
