package mesh

import (
	"bufio"
	"fmt"
	"io"
	"strconv"
	"strings"
)

// WriteOBJ writes the scene as a Wavefront OBJ in mm with its materials in a second file. Every item is a group
// named after its member; its faces are sorted by material. mtlName is the name under which wMtl's text is
// saved, as the OBJ refers to it. Text is written as it is made, with one item's points in memory.
func WriteOBJ(wObj, wMtl io.Writer, s *Scene, mtlName string) error {
	if mtlName == "" || strings.ContainsAny(mtlName, "\r\n/\\") {
		return fmt.Errorf("%q can't name a material file", mtlName)
	}
	if err := writeMTL(wMtl); err != nil {
		return err
	}
	out := bufio.NewWriterSize(wObj, 1<<16)
	fmt.Fprintf(out, "# %s\n# millimetres, Z up\nmtllib %s\n", oneLine(s.Title), mtlName)
	var buf [][3]float32
	first := 1
	for i := range s.Items {
		it := &s.Items[i]
		m := s.Shapes[it.Shape].Mesh
		buf = placed(m, it.Place, buf)
		fmt.Fprintf(out, "g %s\n", objName(it.Name))
		writeOBJPoints(out, buf)
		writeOBJFaces(out, m, it.Kind, first)
		first += len(buf)
	}
	return out.Flush()
}

// objName makes a group name: OBJ splits names at spaces.
func objName(name string) string {
	name = strings.ReplaceAll(oneLine(name), " ", "_")
	if name == "" {
		return "item"
	}
	return name
}

// writeOBJPoints writes vertex lines. Numbers are the shortest that read back as the same float32.
func writeOBJPoints(out *bufio.Writer, points [][3]float32) {
	line := make([]byte, 0, 64)
	for _, p := range points {
		line = append(line[:0], 'v')
		for _, v := range p {
			// Adding zero turns -0 into 0.
			line = strconv.AppendFloat(append(line, ' '), float64(v+0), 'f', -1, 32)
		}
		out.Write(append(line, '\n'))
	}
}

// writeOBJFaces writes the faces of one item, one material after the other.
func writeOBJFaces(out *bufio.Writer, m *Mesh, k Kind, first int) {
	line := make([]byte, 0, 64)
	for mat := range finishes {
		begun := false
		for i, t := range m.Triangles {
			if finishOf(m.Surfaces[i], k) != mat {
				continue
			}
			if !begun {
				fmt.Fprintf(out, "usemtl %s\n", finishes[mat].name)
				begun = true
			}
			line = append(line[:0], 'f')
			for _, v := range t {
				line = strconv.AppendInt(append(line, ' '), int64(first)+int64(v), 10)
			}
			out.Write(append(line, '\n'))
		}
	}
}

// writeMTL writes the materials, all of them always, so that the file does not depend on the scene.
func writeMTL(w io.Writer) error {
	out := bufio.NewWriter(w)
	for _, f := range finishes {
		c := f.colour
		fmt.Fprintf(out, "newmtl %s\nKa 0.2 0.2 0.2\nKd %.4f %.4f %.4f\nKs %.2f %.2f %.2f\nNs %d\nd 1\nillum 2\n",
			f.name, float64(c.R)/255, float64(c.G)/255, float64(c.B)/255, f.gloss, f.gloss, f.gloss, f.shine)
	}
	return out.Flush()
}
