package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"barwright": func() { os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) },
	})
}

// The scripts are one behaviour of the program each, and its best manual.
func TestScripts(t *testing.T) {
	const dir = "testdata/script"
	found, err := filepath.Glob(filepath.Join(dir, "*.txtar"))
	if err != nil || len(found) < 10 {
		t.Fatalf("%d scripts found (%v); the folder is not where it was", len(found), err)
	}
	examples, err := filepath.Abs("../../examples")
	if err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{
		Dir:                 dir,
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Setup: func(e *testscript.Env) error {
			e.Setenv("EXAMPLES", examples)
			return nil
		},
		Cmds: map[string]func(ts *testscript.TestScript, neg bool, args []string){
			"cmpdirs":   compareFolders,
			"killbuild": killBuild,
		},
	})
}

// compareFolders fails unless two folders hold the same files with the same bytes.
func compareFolders(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: cmpdirs A B")
	}
	read := func(dir string) map[string]string {
		files := map[string]string{}
		root := ts.MkAbs(dir)
		err := filepath.WalkDir(root, func(path string, d os.DirEntry, err error) error {
			if err != nil || d.IsDir() {
				return err
			}
			data, err := os.ReadFile(path)
			rel, _ := filepath.Rel(root, path)
			files[rel] = string(data)
			return err
		})
		ts.Check(err)
		return files
	}
	a, b := read(args[0]), read(args[1])
	if len(a) == 0 {
		ts.Fatalf("%s is empty", args[0])
	}
	if len(a) != len(b) {
		ts.Fatalf("%s has %d files, %s has %d", args[0], len(a), args[1], len(b))
	}
	for name, text := range a {
		if b[name] != text {
			ts.Fatalf("%s differs between the two", name)
		}
	}
}

// killBuild runs a build again and again, each time killed a little later, and fails if the output folder is ever
// anything but whole: every file that its manifest lists is there, with bytes in it.
func killBuild(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: killbuild FRAME OUT")
	}
	program := ""
	for _, dir := range filepath.SplitList(ts.Getenv("PATH")) {
		if path := filepath.Join(dir, "barwright"); program == "" {
			if _, err := os.Stat(path); err == nil {
				program = path
			}
		}
	}
	if program == "" {
		ts.Fatalf("the program is not on the PATH")
	}
	out, whole, killed := ts.MkAbs(args[1]), 0, 0
	for wait := 2 * time.Millisecond; whole < 2; wait += 2*wait/3 + time.Millisecond {
		c := exec.Command(program, "build", ts.MkAbs(args[0]), "--out", out, "--quiet")
		c.Env = append(os.Environ(), "TESTSCRIPT_COMMAND=barwright")
		ts.Check(c.Start())
		timer := time.AfterFunc(wait, func() { c.Process.Kill() })
		if c.Wait() == nil {
			whole++
		} else {
			killed++
		}
		timer.Stop()
		text, err := os.ReadFile(filepath.Join(out, "manifest.txt"))
		if os.IsNotExist(err) {
			if _, err := os.Stat(out); err == nil {
				ts.Fatalf("killed after %v: a folder without a manifest", wait)
			}
			continue
		}
		ts.Check(err)
		for _, name := range strings.Fields(string(text)) {
			if st, err := os.Stat(filepath.Join(out, name)); err != nil || st.Size() == 0 {
				ts.Fatalf("killed after %v: %s is not whole (%v)", wait, name, err)
			}
		}
	}
	if killed < 5 {
		ts.Fatalf("only %d runs were killed", killed)
	}
}
