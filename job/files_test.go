package job

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func text(s string) func(io.Writer) error {
	return func(w io.Writer) error { _, err := io.WriteString(w, s); return err }
}

// names returns everything under a folder.
func names(t *testing.T, dir string) string {
	t.Helper()
	var out []string
	err := filepath.WalkDir(dir, func(path string, d os.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			rel, _ := filepath.Rel(dir, path)
			out = append(out, filepath.ToSlash(rel))
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return strings.Join(out, " ")
}

func TestWriteFileWholeOrNotAtAll(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "deep", "er", "a.txt")
	broken := errors.New("the maker failed")
	err := WriteFile(path, func(w io.Writer) error {
		io.WriteString(w, strings.Repeat("half", 100000))
		return broken
	})
	if !errors.Is(err, broken) {
		t.Errorf("error %v; want the maker's own", err)
	}
	if got := names(t, dir); got != "" {
		t.Errorf("left behind: %s", got)
	}
	if _, err := os.Stat(filepath.Join(dir, "deep")); err == nil {
		t.Error("the folders that it made were left")
	}
	if err := WriteFile(path, text("whole")); err != nil {
		t.Fatal(err)
	}
	if b, _ := os.ReadFile(path); string(b) != "whole" {
		t.Errorf("content %q", b)
	}
}

// fill builds one tree at a place.
func fill(t *testing.T, place string, files ...string) error {
	t.Helper()
	d, err := newFolder(place)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		if err := d.add(f, text(f)); err != nil {
			t.Fatal(err)
		}
	}
	err = d.swap()
	if err != nil {
		d.drop()
	}
	return err
}

// A run killed between the two renames of its swap leaves the old folder under its aside name: the
// next run puts it back. One killed after them leaves both: the next run keeps what is not listed.
func TestRecoverKilledSwap(t *testing.T) {
	dir := t.TempDir()
	place := filepath.Join(dir, "out")
	if err := fill(t, place, "a.txt", "sub/b.txt"); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(place, "mine.txt"), []byte("mine"), 0o644); err != nil {
		t.Fatal(err)
	}
	// Killed in the middle.
	if err := os.Rename(place, oldName(place)); err != nil {
		t.Fatal(err)
	}
	if err := fill(t, place, "a.txt"); err != nil {
		t.Fatal(err)
	}
	if got, want := names(t, dir), "out/a.txt out/manifest.txt out/mine.txt"; got != want {
		t.Errorf("files %q; want %q", got, want)
	}
	// Killed before the old folder was cleared.
	if err := os.CopyFS(oldName(place), os.DirFS(place)); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(oldName(place), "late.txt"), []byte("late"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := fill(t, place, "c.txt"); err != nil {
		t.Fatal(err)
	}
	got := names(t, dir)
	for _, want := range []string{"out/c.txt", "out/mine.txt", "out/late.txt"} {
		if !strings.Contains(got, want) {
			t.Errorf("files %q lack %s", got, want)
		}
	}
	if strings.Contains(got, "out/a.txt") || strings.Contains(got, ".old") {
		t.Errorf("files %q hold something stale", got)
	}
}

func TestSwapRefusesForeignFile(t *testing.T) {
	dir := t.TempDir()
	place := filepath.Join(dir, "out")
	if err := os.MkdirAll(place, 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(place, "a.txt"), []byte("mine"), 0o644); err != nil {
		t.Fatal(err)
	}
	err := fill(t, place, "a.txt")
	var fe *FileError
	if !errors.As(err, &fe) || ExitStatus(err) != 3 {
		t.Errorf("error %v; want a file error with exit status 3", err)
	}
	if b, _ := os.ReadFile(filepath.Join(place, "a.txt")); string(b) != "mine" {
		t.Errorf("the file now holds %q", b)
	}
	if got := names(t, dir); got != "out/a.txt" {
		t.Errorf("files %q", got)
	}
}

// A manifest that somebody edited cannot make the program remove files outside its folder.
func TestManifestStaysInside(t *testing.T) {
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, manifestName), []byte("../../etc/passwd\n/etc/passwd\na.txt\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	if got := readManifest(dir); len(got) != 1 || !got["a.txt"] {
		t.Errorf("manifest %v; want a.txt alone", got)
	}
}

func TestNumber(t *testing.T) {
	for _, c := range []struct {
		in   float64
		want string
	}{{0, "0"}, {-1e-9, "0"}, {0.1 + 0.2, "0.3"}, {840, "840"}, {-12.5, "-12.5"}, {1e9, "1000000000"}, {825.0000001, "825"}} {
		if got := Number(c.in).String(); got != c.want {
			t.Errorf("%v prints %s; want %s", c.in, got, c.want)
		}
	}
}
