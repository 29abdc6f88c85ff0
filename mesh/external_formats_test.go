package mesh

import (
	"encoding/json"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"barwright/frame"
	"barwright/geom"
	readers "barwright/internal/outside"
)

// saved writes a scene to a file of the test's own.
func saved(t *testing.T, name string, s *Scene, write func(io.Writer, *Scene) error) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := write(f, s); err != nil {
		t.Fatal(err)
	}
	return path
}

// outsideScenes are the scenes that outside readers judge: the frame by hand, the same blown up, free turns, and the project's examples.
func outsideScenes(t *testing.T) map[string]*Scene {
	t.Helper()
	s := testScene(t)
	blown, err := s.Explode(0.4)
	if err != nil {
		t.Fatal(err)
	}
	odd := boxScene()
	odd.Title, odd.Items[0].Name = `A & B "<c>" é`, `bar "x" <&>'`
	out := map[string]*Scene{"frame": s, "exploded": blown, "odd names": odd}
	paths, err := filepath.Glob("../examples/*/frame.hcl")
	if err != nil || len(paths) == 0 {
		t.Fatalf("no examples found (%v)", err)
	}
	for _, path := range paths {
		f, err := frame.Load(path, frame.Options{})
		if err != nil {
			t.Fatal(err)
		}
		if out[filepath.Base(filepath.Dir(path))], err = NewScene(f, DefaultTolerance); err != nil {
			t.Fatal(err)
		}
	}
	return out
}

// TestGLBByKhronosValidator has the validator of the Khronos Group judge our GLB against the glTF 2.0 specification.
func TestGLBByKhronosValidator(t *testing.T) {
	node := readers.Program(t, "node")
	script, err := filepath.Abs("../testdata/external/gltf/validate.js")
	if err != nil {
		t.Fatal(err)
	}
	if out, err := exec.Command(node, script, os.DevNull).CombinedOutput(); err != nil && strings.Contains(string(out), "Cannot find module") {
		readers.Missing(t, "the npm package gltf-validator (see testdata/external/gltf)")
	}
	for name, s := range outsideScenes(t) {
		out, err := exec.Command(node, script, saved(t, "frame.glb", s, WriteGLB)).CombinedOutput()
		if err != nil {
			t.Fatalf("%s: %v: %s", name, err, out)
		}
		var r struct {
			Errors, Warnings, Infos, Triangles int
			Messages                           []string
		}
		if err := json.Unmarshal(out, &r); err != nil {
			t.Fatal(err)
		}
		held := 0 // the validator counts what the file holds, each mesh once
		for _, sh := range s.Shapes {
			held += len(sh.Mesh.Triangles)
		}
		if r.Errors+r.Warnings > 0 || r.Triangles != held {
			t.Errorf("%s: %d errors, %d warnings, %d triangles of %d: %s", name, r.Errors, r.Warnings, r.Triangles, held, strings.Join(r.Messages, "\n"))
		}
		t.Logf("%s: %d triangles, %d errors, %d warnings, %d infos", name, r.Triangles, r.Errors, r.Warnings, r.Infos)
	}
}

// Test3MFByPython has a reader written with nothing but Python's own zip and XML count the package again.
func Test3MFByPython(t *testing.T) {
	python := readers.Program(t, "python3")
	for name, s := range outsideScenes(t) {
		out, err := exec.Command(python, "../testdata/external/threemf/recount.py", saved(t, "frame.3mf", s, Write3MF)).CombinedOutput()
		if err != nil {
			t.Fatalf("%s: %v: %s", name, err, out)
		}
		var r struct {
			Objects, Items, Triangles int
			Volume                    float64
			Low, High                 [3]float64
			Unit, Title               string
			LooseEdges                int `json:"loose_edges"`
			Parts                     []string
			Times                     [][6]int
		}
		if err := json.Unmarshal(out, &r); err != nil {
			t.Fatal(err)
		}
		summary{r.Triangles, r.Volume, r.Low, r.High}.compare(t, sceneSummary(s))
		if r.Objects != len(s.Shapes) || r.Items != len(s.Items) || r.Parts[0] != s.Items[0].Name {
			t.Errorf("%s: %d objects and %d items, the first %q; want %d, %d, %q", name, r.Objects, r.Items, r.Parts[0], len(s.Shapes), len(s.Items), s.Items[0].Name)
		}
		if r.Unit != "millimeter" || r.Title != s.Title || r.LooseEdges != 0 {
			t.Errorf("%s: unit %q, title %q, %d loose edges", name, r.Unit, r.Title, r.LooseEdges)
		}
		if len(r.Times) != 1 || r.Times[0] != [6]int{1980, 1, 1, 0, 0, 0} {
			t.Errorf("%s: files of the times %v in the package", name, r.Times)
		}
	}
}

// TestSTLByAdmesh has admesh look for anything to repair.
func TestSTLByAdmesh(t *testing.T) {
	admesh := readers.Program(t, "admesh")
	count := regexp.MustCompile(`(?m)^(Number of facets|Number of parts|Degenerate facets|Edges fixed|Facets removed|Facets added|Facets reversed|Backwards edges|Normals fixed|Total disconnected facets)\s*:\s*(\d+)\s*(\d*)`)
	for name, s := range outsideScenes(t) {
		for _, write := range []func(io.Writer, *Scene) error{WriteSTL, WriteASCIISTL} {
			out, err := exec.Command(admesh, saved(t, "frame.stl", s, write)).CombinedOutput()
			if err != nil {
				t.Fatalf("%s: %v: %s", name, err, out)
			}
			rows := count.FindAllStringSubmatch(string(out), -1)
			if len(rows) < 9 {
				t.Fatalf("%s: admesh said %s", name, out)
			}
			for _, r := range rows {
				first, _ := strconv.Atoi(r[2])
				switch r[1] {
				case "Number of facets":
					if first != s.Triangles() {
						t.Errorf("%s: admesh counts %d triangles of %d", name, first, s.Triangles())
					}
				case "Number of parts":
				default:
					if first != 0 || r[3] != "" && r[3] != "0" {
						t.Errorf("%s: admesh found something to repair: %s", name, strings.TrimSpace(r[0]))
					}
				}
			}
			volume := regexp.MustCompile(`Volume\s*:\s*([-+.\deE]+)`).FindStringSubmatch(string(out))
			if volume == nil {
				t.Fatalf("%s: admesh gave no volume", name)
			}
			// admesh sums in float32; a percent is what that is good for in a frame.
			if v, _ := strconv.ParseFloat(volume[1], 64); math.Abs(v-sceneSummary(s).volume) > 0.01*sceneSummary(s).volume {
				t.Errorf("%s: admesh's volume is %g, ours %g", name, v, sceneSummary(s).volume)
			}
		}
	}
}

func TestFootByAdmesh(t *testing.T) {
	admesh := readers.Program(t, "admesh")
	for _, plate := range []float64{0, 30} {
		m, err := footMesh("M8", 40, plate, 0.02)
		if err != nil {
			t.Fatal(err)
		}
		s := &Scene{Shapes: []*Shape{{Mesh: m}}, Items: []Item{{Place: geom.Identity()}}}
		out, err := exec.Command(admesh, saved(t, "foot.stl", s, WriteSTL)).CombinedOutput()
		if err != nil || !regexp.MustCompile(`Number of parts\s*:\s*1\s`).Match(out) || !regexp.MustCompile(`Edges fixed\s*:\s*0\s`).Match(out) {
			t.Errorf("admesh on a foot (%v): %s", err, out)
		}
	}
}
