package job

import (
	"cmp"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"barwright/drawing"
	"barwright/frame"
	"barwright/geom"
	readers "barwright/internal/outside"
)

// examplesWithParts are the frames whose printed parts and panels other people's readers judge.
var examplesWithParts = []string{"foam-cutter", "curing-cabinet"}

// table reads a CSV file of an output folder: its rows by the names of the columns.
func table(t *testing.T, path string) (rows []map[string]string) {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	all, err := csv.NewReader(strings.NewReader(string(b))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range all[1:] {
		row := map[string]string{}
		for i, v := range r {
			row[all[0][i]] = v
		}
		rows = append(rows, row)
	}
	return rows
}

// number reads a figure of a table.
func number(t *testing.T, text string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// openExample loads an example and writes its printed parts, hardware and panels into a folder.
func openExample(t *testing.T, name string) (j *Job, out string, reports []*BracketReport) {
	t.Helper()
	j, err := Open("../examples/"+name+"/frame.hcl", nil)
	if err != nil {
		t.Fatal(err)
	}
	out = t.TempDir()
	if reports, err = j.WriteBrackets(out, drawing.Options{}); err != nil {
		t.Fatal(err)
	}
	for _, o := range append(j.panelOutputs(), output{"hardware.csv", func(w io.Writer) error { return WriteHardwareCSV(w, j.Frame) }}) {
		path := filepath.Join(out, filepath.FromSlash(o.name))
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		f, err := os.Create(path)
		if err != nil {
			t.Fatal(err)
		}
		if err := o.write(f); err != nil {
			t.Fatal(err)
		}
		if err := f.Close(); err != nil {
			t.Fatal(err)
		}
	}
	return j, out, reports
}

// plateCount is what recount.py says of a package of plates.
type plateCount struct {
	Objects, Items int
	LooseEdges     int `json:"loose_edges"`
	Unit           string
	Each           []struct {
		Name   string
		Volume float64
		Items  int
	}
	Boxes []struct {
		Name, Object string
		Low, High    [3]float64
	}
}

// TestPlatesByPython has a reader written with nothing but Python's own zip and XML recount the printing plates: each printed part once
// as an object with the volume of its report, as often as the hardware list says, all on the bed and clear of one another.
// manifold-3d then judges the same package.
func TestPlatesByPython(t *testing.T) {
	python := readers.Program(t, "python3")
	for _, name := range examplesWithParts {
		j, out, reports := openExample(t, name)
		text, err := exec.Command(python, "../testdata/external/threemf/recount.py", filepath.Join(out, "brackets", "plates.3mf")).CombinedOutput()
		if err != nil {
			t.Fatalf("%s: %v: %s", name, err, text)
		}
		var r plateCount
		if err := json.Unmarshal(text, &r); err != nil {
			t.Fatal(err)
		}
		hardware := map[string]string{}
		for _, row := range table(t, filepath.Join(out, "hardware.csv")) {
			if row["item"] == "printed part" {
				hardware[row["size"]] = row["quantity"]
			}
		}
		if r.Unit != "millimeter" || r.LooseEdges != 0 || len(reports) < 3 || r.Objects != len(reports) || len(hardware) != len(reports) {
			t.Errorf("%s: unit %q, %d loose edges, %d objects; %d parts in the list, %d in the report", name, r.Unit, r.LooseEdges, r.Objects, len(hardware), len(reports))
		}
		for i, o := range r.Each {
			p := reports[i]
			if o.Name != p.Name || o.Items != p.Quantity || hardware[o.Name] != fmt.Sprint(o.Items) {
				t.Errorf("%s: %d × %s on the plates, %d × %s in the report, %s in the hardware list", name, o.Items, o.Name, p.Quantity, p.Name, hardware[o.Name])
			}
			if want := float64(p.Volume); math.Abs(o.Volume-want) > 1e-6*want {
				t.Errorf("%s: %s has %.4f mm³, the report says %.4f", name, o.Name, o.Volume, want)
			}
		}
		checkPlates(t, name, &r, j)
		judgePlates(t, out, text)
	}
}

// checkPlates checks that what lies on a plate lies on its bed and keeps clear of the rest. Plates lie side by side along x.
func checkPlates(t *testing.T, name string, r *plateCount, j *Job) {
	t.Helper()
	bed := [2]float64{220, 220} // the default of the language
	if p := j.Frame.Printing; p != nil && p.Bed[0] > 0 {
		bed = [2]float64{p.Bed[0], p.Bed[1]}
	}
	const slack = 2e-3
	start := map[int]float64{} // of each plate: the least x that it holds
	plate := make([]int, len(r.Boxes))
	for i, b := range r.Boxes {
		if _, err := fmt.Sscanf(b.Name, "plate %d:", &plate[i]); err != nil {
			t.Fatalf("%s: item %q names no plate", name, b.Name)
		}
		if x, ok := start[plate[i]]; !ok || b.Low[0] < x {
			start[plate[i]] = b.Low[0]
		}
		if math.Abs(b.Low[2]) > 1e-6 {
			t.Errorf("%s: %s floats at %.4f", name, b.Name, b.Low[2])
		}
	}
	for i, b := range r.Boxes {
		if x := start[plate[i]]; b.High[0]-x > bed[0]+slack || b.Low[1] < -slack || b.High[1] > bed[1]+slack {
			t.Errorf("%s: %s leaves its bed: %v to %v, the bed begins at %.1f", name, b.Name, b.Low, b.High, x)
		}
		for k, c := range r.Boxes[:i] {
			if b.Low[0] < c.High[0]-slack && c.Low[0] < b.High[0]-slack && b.Low[1] < c.High[1]-slack && c.Low[1] < b.High[1]-slack {
				t.Errorf("%s: %s lies on %s", name, b.Name, c.Name)
			}
			if plate[k] != plate[i] && b.Low[0] < c.High[0] && c.Low[0] < b.High[0] {
				t.Errorf("%s: the plates of %s and %s overlap", name, b.Name, c.Name)
			}
		}
	}
}

// judgePlates runs manifold-3d on an output folder's plates.
func judgePlates(t *testing.T, out string, recount []byte) {
	t.Helper()
	node := readers.Program(t, "node")
	modules := readers.Module(t, "../testdata/external/node_modules", "manifold-3d")
	counted := filepath.Join(out, "recount.json")
	if err := os.WriteFile(counted, recount, 0o644); err != nil {
		t.Fatal(err)
	}
	modules, err := filepath.Abs(modules)
	if err != nil {
		t.Fatal(err)
	}
	if text, err := exec.Command(node, "../testdata/external/plates.mjs", out, counted, modules).CombinedOutput(); err != nil {
		t.Errorf("%v: %s", err, text)
	}
}

// panelAudit is what ezdxf says of the outline of a panel.
type panelAudit struct {
	Version       string
	Errors, Fixes int
	Kinds         map[string]int
	Closed        bool
	Corners       int
	Area          float64
	Holes         [][3]float64
	Low, High     [2]float64
}

// TestPanelsByOutsideReaders audits the DXF files of the panels with ezdxf and compares them with the cut list and, by Go's XML reader,
// with the SVG files: one closed outline of the size in the list, as many notches, the holes in the same places.
func TestPanelsByOutsideReaders(t *testing.T) {
	python := readers.Program(t, "python3")
	if _, err := os.Stat("/usr/bin/python3"); err == nil {
		python = "/usr/bin/python3" // where Debian's packages are
	}
	if exec.Command(python, "-c", "import ezdxf").Run() != nil {
		readers.Missing(t, "python3-ezdxf")
	}
	panels, holes := 0, 0
	for _, name := range examplesWithParts {
		_, out, _ := openExample(t, name)
		if _, err := os.Stat(filepath.Join(out, "panels.csv")); err != nil {
			continue // it has none
		}
		rows := table(t, filepath.Join(out, "panels.csv"))
		args := []string{"../testdata/external/panels/audit.py"}
		for _, row := range rows {
			args = append(args, filepath.Join(out, "panels", fileName(row["panel"])+".dxf"))
		}
		text, err := exec.Command(python, args...).Output()
		if err != nil {
			t.Fatal(err)
		}
		lines := strings.Split(strings.TrimSpace(string(text)), "\n")
		if len(lines) != len(rows) {
			t.Fatalf("%s: %d audits of %d panels", name, len(lines), len(rows))
		}
		for i, row := range rows {
			var a panelAudit
			if err := json.Unmarshal([]byte(lines[i]), &a); err != nil {
				t.Fatal(err)
			}
			svg, err := os.ReadFile(filepath.Join(out, "panels", fileName(row["panel"])+".svg"))
			if err != nil {
				t.Fatal(err)
			}
			checkPanel(t, name+", panel "+row["panel"], row, &a, readSVG(t, svg))
			panels, holes = panels+1, holes+len(a.Holes)
		}
	}
	if panels < 5 || holes < 10 {
		t.Errorf("%d panels with %d holes judged", panels, holes)
	}
}

// checkPanel compares the audit of a DXF file with the row of the cut list and with the SVG file.
func checkPanel(t *testing.T, name string, row map[string]string, a *panelAudit, s drawn) {
	t.Helper()
	const near = 2e-4 // the files hold four decimals
	if a.Version != "AC1009" || a.Errors != 0 || a.Fixes != 0 || !a.Closed {
		t.Errorf("%s: version %s, %d errors, %d fixes, closed: %v", name, a.Version, a.Errors, a.Fixes, a.Closed)
	}
	if a.Kinds["LINE"] != a.Corners || a.Kinds["CIRCLE"] != len(a.Holes) || len(a.Kinds) > 2 {
		t.Errorf("%s: entities %v, %d corners, %d holes", name, a.Kinds, a.Corners, len(a.Holes))
	}
	if a.Corners != len(s.sides) {
		t.Errorf("%s: %d corners in the DXF file, %d in the SVG file", name, a.Corners, len(s.sides))
	}
	area := 0.0
	for _, side := range s.sides {
		area += side[0].Cross(side[1]) / 2
	}
	if math.Abs(math.Abs(area)-a.Area) > near*math.Sqrt(a.Area)*8 {
		t.Errorf("%s: %.3f mm² in the DXF file, %.3f in the SVG file", name, a.Area, math.Abs(area))
	}
	for k, column := range []string{"width_mm", "height_mm"} {
		if want := number(t, row[column]); math.Abs(a.High[k]-a.Low[k]-want) > 0.051 || math.Abs(a.Low[k]) > near {
			t.Errorf("%s: the outline runs from %.3f to %.3f, %s is %.3f", name, a.Low[k], a.High[k], column, want)
		}
	}
	if want := number(t, row["holes"]); len(a.Holes) != int(want) || len(s.holes) != len(a.Holes) {
		t.Errorf("%s: %d holes in the DXF file, %d in the SVG file, %g in the list", name, len(a.Holes), len(s.holes), want)
		return
	}
	if n := int(number(t, row["notches"])); (n == 0) != (a.Corners == 4) || a.Corners < 4+2*n { // at a corner a notch adds two, in a side four
		t.Errorf("%s: %d corners with %d notches", name, a.Corners, n)
	}
	slices.SortFunc(s.holes, func(a, b frame.PanelHole) int {
		return cmp.Or(cmp.Compare(a.At.X, b.At.X), cmp.Compare(a.At.Y, b.At.Y))
	})
	for i, h := range a.Holes {
		if o := s.holes[i]; o.At.Dist(geom.Vec2{X: h[0], Y: h[1]}) > near || math.Abs(o.Diameter-h[2]) > near {
			t.Errorf("%s: hole %v in the DXF file, %v in the SVG file", name, h, o)
		}
		if d := h[2] / 2; h[0]-d < a.Low[0] || h[0]+d > a.High[0] || h[1]-d < a.Low[1] || h[1]+d > a.High[1] {
			t.Errorf("%s: hole %v leaves the sheet", name, h)
		}
	}
}
