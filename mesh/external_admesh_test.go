package mesh

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	readers "barwright/internal/outside"
)

var admeshLine = regexp.MustCompile(`(?m)^(.*?)\s*:\s*(\d+)(?:\s+(\d+))?`)

// admeshFaults has admesh (Martin and others, a checker and mender of STL files) read a file and returns what it would mend.
func admeshFaults(admesh, path string) (faults []string, err error) {
	out, err := exec.Command(admesh, path).CombinedOutput()
	if err != nil {
		return nil, fmt.Errorf("%w: %s", err, out)
	}
	found := 0
	for _, l := range admeshLine.FindAllStringSubmatch(string(out), -1) {
		switch what := strings.TrimSpace(l[1]); what {
		case "Degenerate facets", "Edges fixed", "Facets removed", "Facets added", "Facets reversed", "Backwards edges", "Normals fixed":
			found++
			if l[2] != "0" {
				faults = append(faults, what+": "+l[2])
			}
		case "Total disconnected facets":
			found++
			if l[2] != "0" || l[3] != "0" {
				faults = append(faults, fmt.Sprintf("%s before %s, after %s", what, l[2], l[3]))
			}
		}
	}
	if found < 7 {
		return nil, fmt.Errorf("admesh's report is not understood: %s", out)
	}
	return faults, nil
}

// TestAdmesh has admesh read the solids as the package's STL: it must find nothing to mend, the normals of the
// thinnest slivers included.
func TestAdmesh(t *testing.T) {
	admesh := readers.Program(t, "admesh")
	step := 53
	if long() {
		step = 3
	}
	dir := t.TempDir()
	solids := externalSweep(t, step)
	for i, s := range solids {
		var w bytes.Buffer
		if err := WriteSTLMesh(&w, s.name, s.mesh); err != nil {
			t.Fatal(err)
		}
		path := filepath.Join(dir, strconv.Itoa(i)+".stl")
		if err := os.WriteFile(path, w.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
		faults, err := admeshFaults(admesh, path)
		if err != nil {
			t.Fatalf("%s: %v", s.name, err)
		}
		if len(faults) > 0 {
			t.Errorf("%s: %s", s.name, strings.Join(faults, ", "))
		}
		os.Remove(path)
	}
	t.Logf("%d solids", len(solids))
}
