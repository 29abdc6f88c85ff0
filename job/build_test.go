package job

import (
	"path/filepath"
	"testing"
)

// BenchmarkBuildFoamCutter is the time that a person waits for everything; run it with -cpuprofile to see where it goes.
func BenchmarkBuildFoamCutter(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		j, err := Open("../examples/foam-cutter/frame.hcl", nil)
		if err != nil {
			b.Fatal(err)
		}
		if _, err := j.Build(filepath.Join(b.TempDir(), "out")); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkStages times each kind of output by itself.
func BenchmarkStages(b *testing.B) {
	open := func(b *testing.B) *Job {
		j, err := Open("../examples/foam-cutter/frame.hcl", nil)
		if err != nil {
			b.Fatal(err)
		}
		return j
	}
	for _, s := range []struct {
		name string
		run  func(*Job, string) error
	}{
		{"open", func(*Job, string) error { return nil }},
		{"cut", func(j *Job, out string) error {
			p, err := j.cutPlan()
			if err != nil {
				return err
			}
			_, err = p.Write(out, CutSheetOptions{})
			return err
		}},
		{"lists", func(j *Job, out string) error { _, err := j.WriteLists(out); return err }},
		{"meshes", func(j *Job, out string) error { _, err := j.WriteMeshes(out, MeshOptions{}); return err }},
		{"pictures", func(j *Job, out string) error {
			_, err := j.WritePictures(out, PictureOptions{Views: buildViews()})
			return err
		}},
		{"sheets", func(j *Job, out string) error { _, err := j.WriteSheets(out, SheetOptions{}); return err }},
	} {
		b.Run(s.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if err := s.run(open(b), b.TempDir()); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
