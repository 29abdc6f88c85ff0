package job

import (
	"bytes"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"barwright/frame"
	"barwright/geom"
	"barwright/mesh"
)

// output is one file of the output tree: its slash-separated name, and what writes it.
type output struct {
	name  string
	write func(io.Writer) error
}

// MeshFormats are the formats of meshes by the ending of their files.
func MeshFormats() []string { return []string{"stl", "obj", "3mf", "glb"} }

// MeshOptions chooses what mesh writes.
type MeshOptions struct {
	Formats []string // of MeshFormats; empty: all
	Part    string   // a mark: only this part, in its own coordinates
	Member  string   // a member: only this bar, in its place
	Explode float64
	ASCII   bool // STL as text
}

// meshOutputs lists the mesh files.
func (j *Job) meshOutputs(o MeshOptions) ([]output, error) {
	for _, f := range o.Formats {
		if !slices.Contains(MeshFormats(), f) {
			return nil, &UsageError{fmt.Sprintf("there is no mesh format %q; there are %s", f, strings.Join(MeshFormats(), ", "))}
		}
	}
	formats := o.Formats
	if len(formats) == 0 {
		formats = MeshFormats()
	}
	if o.Part != "" {
		p, err := j.part(o.Part)
		if err != nil {
			return nil, err
		}
		s, err := mesh.NewPartScene(p, j.Tolerance)
		if err != nil {
			return nil, &UsageError{err.Error()}
		}
		s.Notes = nil
		s.Items[0].Place = geom.Identity()
		return sceneOutputs(s, "mesh/part-"+p.Mark, formats, o.ASCII), nil
	}
	s, err := j.Scene()
	if err != nil {
		return nil, &UsageError{err.Error()}
	}
	name := "mesh/frame"
	if o.Member != "" {
		if s, err = s.Filter(o.Member); err != nil {
			return nil, &UsageError{err.Error()}
		}
		name = "mesh/" + o.Member
	}
	if s, err = s.Explode(o.Explode); err != nil {
		return nil, &UsageError{err.Error()}
	}
	return sceneOutputs(s, name, formats, o.ASCII), nil
}

// sceneOutputs lists the files of a scene in some formats. OBJ brings its material file.
func sceneOutputs(s *mesh.Scene, stem string, formats []string, ascii bool) []output {
	var out []output
	for _, f := range formats {
		switch f {
		case "stl":
			write := mesh.WriteSTL
			if ascii {
				write = mesh.WriteASCIISTL
			}
			out = append(out, output{stem + ".stl", func(w io.Writer) error { return write(w, s) }})
		case "obj":
			mtl := filepath.Base(stem) + ".mtl"
			out = append(out,
				output{stem + ".obj", func(w io.Writer) error { return mesh.WriteOBJ(w, io.Discard, s, mtl) }},
				output{stem + ".mtl", func(w io.Writer) error { return mesh.WriteOBJ(io.Discard, w, s, mtl) }})
		case "3mf":
			out = append(out, output{stem + ".3mf", func(w io.Writer) error { return mesh.Write3MF(w, s) }})
		case "glb":
			out = append(out, output{stem + ".glb", func(w io.Writer) error { return mesh.WriteGLB(w, s) }})
		}
	}
	return out
}

// part returns the part of a mark.
func (j *Job) part(mark string) (*frame.Part, error) {
	var marks []string
	for _, p := range j.Frame.Parts {
		if p.Mark == mark {
			return p, nil
		}
		marks = append(marks, p.Mark)
	}
	return nil, &UsageError{fmt.Sprintf("there is no part %q; there are %s", mark, strings.Join(marks, ", "))}
}

// WriteMeshes writes meshes into a folder and returns the paths.
func (j *Job) WriteMeshes(out string, o MeshOptions) ([]string, error) {
	list, err := j.meshOutputs(o)
	if err != nil {
		return nil, err
	}
	return j.writeAll(out, list, "meshes")
}

// WriteLists writes the lists into a folder and returns the paths.
func (j *Job) WriteLists(out string) ([]string, error) {
	plan, err := j.cutPlan()
	if err != nil {
		return nil, err
	}
	book := output{"lists.xlsx", whole(func(w io.Writer) error { return WriteXLSX(w, j.Frame, plan) })}
	list := append(j.listOutputs(), book)
	for _, o := range j.panelOutputs() {
		if o.name == "panels.csv" {
			list = append(list, o)
		}
	}
	return j.writeAll(out, list, "lists")
}

// listOutputs lists the lists.
func (j *Job) listOutputs() []output {
	return []output{
		{"parts.csv", func(w io.Writer) error { return WritePartsCSV(w, j.Frame) }},
		{"hardware.csv", func(w io.Writer) error { return WriteHardwareCSV(w, j.Frame) }},
	}
}

// PictureOptions chooses what picture writes.
type PictureOptions struct {
	Views []string // empty: one from the corner
	Part  string   // a mark: a picture of this part
	mesh.PictureOptions
}

// pictureOutputs lists the pictures.
func (j *Job) pictureOutputs(o PictureOptions) ([]output, error) {
	if o.Part != "" {
		p, err := j.part(o.Part)
		if err != nil {
			return nil, err
		}
		return []output{j.partPicture(p, o.PictureOptions)}, nil
	}
	s, err := j.Scene()
	if err != nil {
		return nil, err
	}
	views := o.Views
	if len(views) == 0 {
		views = []string{""}
	}
	var out []output
	for _, v := range views {
		po := o.PictureOptions
		po.View = v
		name := "pictures/frame.png"
		if v != "" && v != mesh.ViewNames()[0] {
			name = "pictures/frame-" + strings.ReplaceAll(v, ",", "_") + ".png"
		}
		out = append(out, output{name, func(w io.Writer) error { return picture(w, s, po) }})
	}
	return out, nil
}

// picture draws a picture whole before it writes a byte; what cannot be drawn is a fault of the command line.
func picture(w io.Writer, s *mesh.Scene, o mesh.PictureOptions) error {
	var b bytes.Buffer
	if err := mesh.WritePNG(&b, s, o); err != nil {
		return &UsageError{err.Error()}
	}
	_, err := w.Write(b.Bytes())
	return err
}

// partPicture is the picture of one part.
func (j *Job) partPicture(p *frame.Part, o mesh.PictureOptions) output {
	part := mesh.PartPictureOptions()
	if o.Width != 0 || o.Height != 0 {
		part.Width, part.Height = o.Width, o.Height
	}
	if o.View != "" {
		part.View = o.View
	}
	part.Transparent = o.Transparent
	return output{"pictures/part-" + p.Mark + ".png", func(w io.Writer) error {
		s, err := mesh.NewPartScene(p, j.Tolerance)
		if err != nil {
			return err
		}
		return picture(w, s, part)
	}}
}

// WritePictures writes pictures into a folder and returns the paths.
func (j *Job) WritePictures(out string, o PictureOptions) ([]string, error) {
	list, err := j.pictureOutputs(o)
	if err != nil {
		return nil, err
	}
	return j.writeAll(out, list, "pictures")
}

// writeAll writes outputs into a folder, each whole or not at all.
func (j *Job) writeAll(out string, list []output, stage string) ([]string, error) {
	var paths []string
	for i, o := range list {
		j.progress(stage, i, len(list))
		path := filepath.Join(out, filepath.FromSlash(o.name))
		if err := WriteFile(path, o.write); err != nil {
			return paths, err
		}
		paths = append(paths, path)
	}
	j.progress(stage, len(list), len(list))
	return paths, nil
}

func (j *Job) progress(stage string, done, total int) {
	if j.Progress != nil {
		j.Progress(stage, done, total)
	}
}
