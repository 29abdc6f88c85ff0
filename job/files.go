package job

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// FileError is a file or folder that could not be read or written, with what to do about it.
type FileError struct {
	Path   string
	Err    error
	Remedy string
}

// Error returns the path, the cause and the remedy.
func (e *FileError) Error() string {
	err := e.Err
	var p *fs.PathError
	if errors.As(err, &p) {
		err = p.Err
	}
	s := fmt.Sprintf("%s: %v", e.Path, err)
	if e.Remedy != "" {
		s += "\n  " + e.Remedy
	}
	return s
}

// Unwrap returns the cause.
func (e *FileError) Unwrap() error { return e.Err }

// WriteFile writes a file whole or not at all: into a temporary name beside it, then renamed.
func WriteFile(path string, write func(io.Writer) error) (err error) {
	dir := filepath.Dir(path)
	made := missingFolders(dir)
	defer func() {
		if err != nil {
			for _, d := range made {
				os.Remove(d) // fails, rightly, where something else stands in it
			}
		}
	}()
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return &FileError{path, err, "Choose another folder with --out."}
	}
	tmp, err := os.CreateTemp(dir, "."+filepath.Base(path)+".*")
	if err != nil {
		return &FileError{path, err, "Choose another folder with --out."}
	}
	defer func() {
		if err != nil {
			tmp.Close()
			os.Remove(tmp.Name())
		}
	}()
	w := newCounter(tmp)
	if err := write(w); err != nil {
		if w.failed != nil {
			return &FileError{path, w.failed, "Is the disk full?"}
		}
		return err
	}
	if err := w.flush(); err != nil {
		return &FileError{path, err, "Is the disk full?"}
	}
	if err := tmp.Chmod(0o644); err != nil {
		return &FileError{path, err, ""}
	}
	if err := tmp.Close(); err != nil {
		return &FileError{path, err, "Is the disk full?"}
	}
	if err := os.Rename(tmp.Name(), path); err != nil {
		return &FileError{path, err, ""}
	}
	return nil
}

// missingFolders returns the folders of a path that are not there, the innermost first.
func missingFolders(dir string) []string {
	var out []string
	for {
		if _, err := os.Lstat(dir); err == nil {
			return out
		}
		out = append(out, dir)
		up := filepath.Dir(dir)
		if up == dir {
			return out
		}
		dir = up
	}
}

// counter is a buffered writer that remembers the first failure of the disk, so that it can be told from
// a failure of the maker of the content.
type counter struct {
	w      io.Writer
	buf    []byte
	failed error
}

func newCounter(w io.Writer) *counter { return &counter{w: w, buf: make([]byte, 0, 1<<16)} }

// Write adds to the buffer and passes full buffers on.
func (c *counter) Write(p []byte) (int, error) {
	if len(c.buf)+len(p) > cap(c.buf) {
		if err := c.flush(); err != nil {
			return 0, err
		}
	}
	if len(p) >= cap(c.buf) {
		n, err := c.w.Write(p)
		c.failed = err
		return n, err
	}
	c.buf = append(c.buf, p...)
	return len(p), nil
}

func (c *counter) flush() error {
	if c.failed == nil && len(c.buf) > 0 {
		_, c.failed = c.w.Write(c.buf)
	}
	c.buf = c.buf[:0]
	return c.failed
}

// manifestName is the file that lists what a build wrote.
const manifestName = "manifest.txt"

// folder is a fresh output folder that is filled beside its place and then swapped in.
type folder struct {
	place string   // where it will stand
	dir   string   // where it is filled
	made  []string // folders above it that were not there before
	files []string // slash-separated, relative
}

// newFolder makes a fresh folder beside place. What an interrupted run left is cleared first. It refuses
// a place that holds a file of somebody else's under the name of one that will be written only at the swap.
func newFolder(place string) (*folder, error) {
	place = filepath.Clean(place)
	parent := filepath.Dir(place)
	fail := func(err error) (*folder, error) {
		return nil, &FileError{place, err, "Choose another folder with --out."}
	}
	made := missingFolders(parent)
	if err := os.MkdirAll(parent, 0o755); err != nil {
		return fail(err)
	}
	if st, err := os.Stat(place); err == nil && !st.IsDir() {
		return fail(errors.New("is a file, not a folder"))
	}
	if err := recoverFolder(place); err != nil {
		return fail(err)
	}
	dir := filepath.Join(parent, "."+filepath.Base(place)+".new")
	if err := os.RemoveAll(dir); err != nil {
		return fail(err)
	}
	if err := os.Mkdir(dir, 0o755); err != nil {
		return fail(err)
	}
	return &folder{place: place, dir: dir, made: made}, nil
}

// oldName is where the folder before stands during the swap.
func oldName(place string) string {
	return filepath.Join(filepath.Dir(place), "."+filepath.Base(place)+".old")
}

// recoverFolder puts a folder back that a run killed in the middle of its swap had set aside.
func recoverFolder(place string) error {
	old := oldName(place)
	if _, err := os.Stat(old); err != nil {
		return nil
	}
	if _, err := os.Stat(place); errors.Is(err, fs.ErrNotExist) {
		return os.Rename(old, place)
	}
	return keepForeign(old, place)
}

// add writes one file into the fresh folder.
func (d *folder) add(name string, write func(io.Writer) error) error {
	if err := WriteFile(d.path(name), write); err != nil {
		return err
	}
	d.files = append(d.files, name)
	return nil
}

// path returns where a file of the fresh folder lies.
func (d *folder) path(name string) string { return filepath.Join(d.dir, filepath.FromSlash(name)) }

// drop removes the fresh folder after a failure.
func (d *folder) drop() {
	os.RemoveAll(d.dir)
	for _, up := range d.made {
		os.Remove(up)
	}
}

// swap puts the fresh folder in its place. Files there that no manifest lists are kept.
func (d *folder) swap() error {
	slices.Sort(d.files)
	text := strings.Join(d.files, "\n") + "\n" + manifestName + "\n"
	if err := d.add(manifestName, func(w io.Writer) error { _, err := io.WriteString(w, text); return err }); err != nil {
		return err
	}
	if clash, err := d.clash(); err != nil {
		return &FileError{d.place, err, ""}
	} else if clash != "" {
		return &FileError{filepath.Join(d.place, clash), errors.New("stands where an output would go, and barwright did not write it"),
			"Move it away, or choose another folder with --out."}
	}
	old := oldName(d.place)
	_, err := os.Stat(d.place)
	exists := err == nil
	if exists {
		if err := os.Rename(d.place, old); err != nil {
			return &FileError{d.place, err, "Is a file in it open in another program?"}
		}
	}
	if err := os.Rename(d.dir, d.place); err != nil {
		if exists {
			err = errors.Join(err, os.Rename(old, d.place))
		}
		return &FileError{d.place, err, ""}
	}
	if exists {
		if err := keepForeign(old, d.place); err != nil {
			return &FileError{old, err, "Files of yours may be left in it."}
		}
	}
	return nil
}

// readManifest returns the files that a folder's manifest lists.
func readManifest(dir string) map[string]bool {
	listed := map[string]bool{}
	text, err := os.ReadFile(filepath.Join(dir, manifestName))
	if err != nil {
		return listed
	}
	for line := range strings.SplitSeq(string(text), "\n") {
		if line != "" && filepath.IsLocal(filepath.FromSlash(line)) {
			listed[line] = true
		}
	}
	return listed
}

// clash returns a file in the place that no manifest lists but a new file would overwrite.
func (d *folder) clash() (string, error) {
	listed := readManifest(d.place)
	for _, name := range d.files {
		_, err := os.Lstat(filepath.Join(d.place, filepath.FromSlash(name)))
		if err == nil && !listed[name] {
			return name, nil
		}
	}
	return "", nil
}

// keepForeign moves what the manifest of an old folder does not list into the new one, and
// removes the old folder with what is listed.
func keepForeign(old, place string) error {
	listed := readManifest(old)
	err := filepath.WalkDir(old, func(path string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() {
			return err
		}
		rel, err := filepath.Rel(old, path)
		if err != nil || listed[filepath.ToSlash(rel)] {
			return err
		}
		to := filepath.Join(place, rel)
		if err := os.MkdirAll(filepath.Dir(to), 0o755); err != nil {
			return err
		}
		if _, err := os.Lstat(to); err == nil {
			to += ".kept" // nobody's file is overwritten, not even after a killed run
		}
		return os.Rename(path, to)
	})
	if err != nil {
		return err
	}
	return os.RemoveAll(old)
}
