// Package outside finds the programs that nobody here wrote, which judge our files in tests. A missing
// one skips the test on a desk and fails it in CI, so that no check is skipped unseen.
package outside

import (
	"os"
	"os/exec"
	"path/filepath"
	"testing"
)

// Missing ends the test: it fails where CI=true and is skipped elsewhere, with the reason.
func Missing(t testing.TB, what string) {
	t.Helper()
	if os.Getenv("CI") == "true" {
		t.Fatalf("%s is not installed", what)
	}
	t.Skipf("%s is not installed", what)
}

// Program returns the path of the first program of the names that is installed.
func Program(t testing.TB, names ...string) string {
	t.Helper()
	for _, name := range names {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	Missing(t, names[0])
	return ""
}

// Module returns the folder of node modules that holds an npm package: the one that BARWRIGHT_NODE_MODULES names, or
// the given one.
func Module(t testing.TB, folder, name string) string {
	t.Helper()
	if given := os.Getenv("BARWRIGHT_NODE_MODULES"); given != "" {
		folder = given
	}
	if _, err := os.Stat(filepath.Join(folder, name)); err != nil {
		Missing(t, "the npm package "+name+" (see testdata/external)")
	}
	return folder
}
