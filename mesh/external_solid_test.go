package mesh

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	readers "barwright/internal/outside"
)

// externalSolid is one solid for an outside reader; shape and try give the subtraction that it should equal.
type externalSolid struct {
	name      string
	mesh      *Mesh
	shape     *shape
	try       int
	tolerance float64
}

// externalFile writes solids for testdata/external/check.mjs: little endian, counts as uint32, mesh points as
// float32, all else float64.
func externalFile(t testing.TB, solids []externalSolid) string {
	t.Helper()
	var w bytes.Buffer
	put := func(v any) { binary.Write(&w, binary.LittleEndian, v) }
	points := func(l [][2]int64, mm float64) {
		put(uint32(len(l)))
		for _, p := range l {
			put([2]float64{float64(p[0]) * mm, float64(p[1]) * mm})
		}
	}
	put(uint32(len(solids)))
	for _, s := range solids {
		put(uint32(len(s.name)))
		w.WriteString(s.name)
		put(uint32(len(s.mesh.Points)))
		put(s.mesh.Points)
		put(uint32(len(s.mesh.Triangles)))
		put(s.mesh.Triangles)
		if s.shape == nil {
			put(uint32(0))
			continue
		}
		put(uint32(1))
		b := builder{tolerance: s.tolerance}
		if err := b.prepare(s.shape, s.try); err != nil {
			t.Fatal(err)
		}
		mm := 1 / b.grid.perMM
		put(uint32(len(b.loops)))
		for _, r := range b.loops {
			points(b.corner[r[0]:r[1]], mm)
		}
		put([2]float64{float64(b.low[2]) * mm, float64(b.high[2]) * mm})
		for _, e := range s.shape.ends {
			put([3]float64{e.at, e.sx, e.sy})
		}
		put(uint32(len(b.tools) - 2))
		for _, tl := range b.tools[2:] {
			put(uint32(tl.axis))
			put([2]float64{tl.box.low[tl.axis] * mm, tl.box.high[tl.axis] * mm})
			points(tl.points, mm)
		}
	}
	path := filepath.Join(t.TempDir(), "solids")
	if err := os.WriteFile(path, w.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// externalResult is a line of check.mjs.
type externalResult struct {
	Name       string
	Status     string
	Volume     float64
	Subtracted *float64
	Ms         float64
	Genus      int
}

// manifoldCheck has manifold-3d judge solids.
func manifoldCheck(t testing.TB, solids []externalSolid) []externalResult {
	t.Helper()
	if len(solids) == 0 {
		t.Fatal("no solids to check")
	}
	node := readers.Program(t, "node")
	dir, err := filepath.Abs("../testdata/external")
	if err != nil {
		t.Fatal(err)
	}
	modules := readers.Module(t, filepath.Join(dir, "node_modules"), "manifold-3d")
	cmd := exec.Command(node, filepath.Join(dir, "check.mjs"), externalFile(t, solids), modules)
	cmd.Stderr = os.Stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("check.mjs: %v", err)
	}
	var list []externalResult
	for _, line := range strings.Split(strings.TrimSpace(string(out)), "\n") {
		var r externalResult
		if err := json.Unmarshal([]byte(line), &r); err != nil {
			t.Fatalf("%q: %v", line, err)
		}
		list = append(list, r)
	}
	if len(list) != len(solids) {
		t.Fatalf("%d answers for %d solids", len(list), len(solids))
	}
	return list
}

// externalSweep returns every step-th bar of the sweep and of random seeds as solids.
func externalSweep(t *testing.T, step int) []externalSolid {
	var out []externalSolid
	add := func(name string, s *shape) {
		m, try, err := buildTries(s, DefaultTolerance)
		if err == errNothingLeft {
			return
		}
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		x := externalSolid{name: name, mesh: m}
		if len(out)%subtractEvery(step) == 0 {
			x.shape, x.try, x.tolerance = s, try, DefaultTolerance
		}
		out = append(out, x)
	}
	bars := sweep(t)
	for i := 0; i < len(bars); i += step {
		add(bars[i].name, shapeOf(&bars[i].bar, DefaultTolerance))
	}
	ps := sweepProfiles(t)
	for seed := 0; seed < 10000; seed += step {
		b := randomBar(t, ps, uint64(seed))
		add(fmt.Sprintf("seed %d", seed), shapeOf(&b, DefaultTolerance))
	}
	return out
}

// subtractEvery returns of how many solids the outside kernel does one subtraction itself, which takes it long.
func subtractEvery(step int) int { return max(1, 20/step) }

// TestManifold has manifold-3d (Lalish and others, an open geometry kernel) read the solids: it must find no error and
// our volume, and get the same volume where it does the subtraction itself.
func TestManifold(t *testing.T) {
	step := 83
	if long() {
		step = 1
	}
	solids := externalSweep(t, step)
	bad, worst, ms, n := 0, 0.0, 0.0, 0
	for from := 0; from < len(solids); from += 1000 {
		part := solids[from:min(from+1000, len(solids))]
		for i, r := range manifoldCheck(t, part) {
			v, off := part[i].mesh.Volume(), 0.0
			if r.Subtracted != nil {
				off = math.Abs(*r.Subtracted-v) / v
				worst = max(worst, off)
				ms, n = ms+r.Ms, n+1
			}
			if r.Status != "NoError" || math.Abs(r.Volume-v) > 1e-6*v || off > 1e-5 {
				if bad++; bad < 20 {
					t.Errorf("%s: %s, volume %.6f of %.6f, its own subtraction differs by %.2g", r.Name, r.Status, r.Volume, v, off)
				}
			}
		}
	}
	t.Logf("%d solids, %d bad; %d subtractions of its own differ by at most %.2g and take %.1f ms on average", len(solids), bad, n, worst, ms/float64(n))
}

// BenchmarkManifold has manifold-3d do the subtraction of BenchmarkSolid's bar, to compare in one run; it reports ns/subtraction, its own
// reading and starting left out.
func BenchmarkManifold(b *testing.B) {
	s := shapeOf(benchBar(b, 0), benchTolerance)
	m, err := build(s, benchTolerance)
	if err != nil {
		b.Fatal(err)
	}
	solids := make([]externalSolid, 30)
	for i := range solids {
		solids[i] = externalSolid{name: "bench", mesh: m, shape: s, tolerance: benchTolerance}
	}
	for b.Loop() {
		best := math.Inf(1)
		for _, r := range manifoldCheck(b, solids) {
			best = math.Min(best, r.Ms)
		}
		b.ReportMetric(best*1e6, "ns/subtraction")
	}
}
