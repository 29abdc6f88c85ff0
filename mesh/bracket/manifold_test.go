package bracket

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"barwright/internal/outside"
)

// manifoldAnswer is a line of testdata/external/check.mjs.
type manifoldAnswer struct {
	Name   string
	Status string
	Volume float64
	Genus  int
}

// askManifold has manifold-3d (Lalish and others, an open geometry kernel) read the results.
func askManifold(t *testing.T, list []*Result) []manifoldAnswer {
	t.Helper()
	node := outside.Program(t, "node")
	dir, err := filepath.Abs("../../testdata/external")
	if err != nil {
		t.Fatal(err)
	}
	modules := outside.Module(t, filepath.Join(dir, "node_modules"), "manifold-3d")
	var w bytes.Buffer
	put := func(v any) { binary.Write(&w, binary.LittleEndian, v) }
	put(uint32(len(list)))
	for _, r := range list {
		put(uint32(len(r.Name)))
		w.WriteString(r.Name)
		put(uint32(len(r.Mesh.Points)))
		put(r.Mesh.Points)
		put(uint32(len(r.Mesh.Triangles)))
		put(r.Mesh.Triangles)
		put(uint32(0))
	}
	path := filepath.Join(t.TempDir(), "solids")
	if err := os.WriteFile(path, w.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(node, filepath.Join(dir, "check.mjs"), path, modules)
	cmd.Stderr = os.Stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("check.mjs: %v", err)
	}
	var answers []manifoldAnswer
	for _, line := range strings.Split(strings.TrimSpace(string(out)), "\n") {
		var a manifoldAnswer
		if err := json.Unmarshal([]byte(line), &a); err != nil {
			t.Fatalf("%q: %v", line, err)
		}
		answers = append(answers, a)
	}
	if len(answers) != len(list) {
		t.Fatalf("%d answers for %d solids", len(answers), len(list))
	}
	return answers
}

// TestManifold has manifold-3d judge parts of every kind: no error, and our volume. BARWRIGHT_SWEEP makes it 3,600 sets.
func TestManifold(t *testing.T) {
	n := 10 * len(kinds)
	if long() {
		n = 3600
	}
	var list []*Result
	sweepResults(t, n, func(_ Spec, r *Result) { r.model = nil; list = append(list, r) })
	bad := 0
	for from := 0; from < len(list); from += 400 {
		part := list[from:min(from+400, len(list))]
		for i, a := range askManifold(t, part) {
			if v := part[i].Volume; a.Status != "NoError" || math.Abs(a.Volume-v) > 1e-6*v {
				if bad++; bad < 10 {
					t.Errorf("%s: %s, volume %.4f, ours %.4f", a.Name, a.Status, a.Volume, v)
				}
			}
		}
	}
	t.Logf("%d solids, %d bad", len(list), bad)
}
