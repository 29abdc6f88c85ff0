package mesh

import (
	"bufio"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"math"

	"barwright/geom"

	"github.com/hschendel/stl"
)

// stlRecord is the length of one triangle in binary STL: normal, three corners, attribute word.
const stlRecord = 50

// errTooMany is returned where a format's 32-bit counters can't hold the scene.
var errTooMany = errors.New("the scene has more triangles than the format can count")

// WriteSTL writes the whole scene as one binary STL in mm, item after item. It holds one item's points at a time, whatever the
// size of the scene. A triangle of which placing made two corners the same float32 point is left out, with its
// neighbour over that edge, so that the surface stays closed.
//
// The writer is the package's own: the stl library wants every triangle in memory and makes a
// slice and a call for each, which is far from the speed of memory. It stays the judge: tests read back with it.
func WriteSTL(w io.Writer, s *Scene) error {
	count, buf := 0, [][3]float32(nil)
	for _, it := range s.Items {
		m := s.Shapes[it.Shape].Mesh
		buf = placed(m, it.Place, buf)
		count += countSolid(buf, m.Triangles)
	}
	if err := writeSTLHeader(w, s.Title, count); err != nil {
		return err
	}
	out := stlWriter{w: w, buf: make([]byte, 0, 1300*stlRecord)}
	for _, it := range s.Items {
		m := s.Shapes[it.Shape].Mesh
		buf = placed(m, it.Place, buf)
		out.triangles(buf, m.Triangles)
	}
	return out.flush()
}

// WriteSTLMesh writes one mesh as binary STL, in its own coordinates; the name goes into the header.
func WriteSTLMesh(w io.Writer, name string, m *Mesh) error {
	return WriteSTL(w, &Scene{Title: name, Shapes: []*Shape{{Mesh: m}}, Items: []Item{{Place: geom.Identity()}}})
}

// writeSTLHeader writes the 80 bytes of free text and the count. The text must not begin with "solid", which would mean ASCII.
func writeSTLHeader(w io.Writer, title string, count int) error {
	if count > math.MaxUint32 {
		return errTooMany
	}
	var head [84]byte
	copy(head[:80], "binary STL, mm: "+oneLine(title))
	binary.LittleEndian.PutUint32(head[80:], uint32(count))
	_, err := w.Write(head[:])
	return err
}

// stlWriter gathers records and writes them in large pieces. The first error stops it.
type stlWriter struct {
	w   io.Writer
	buf []byte
	err error
}

// triangles adds the triangles over the points.
func (o *stlWriter) triangles(points [][3]float32, triangles [][3]uint32) {
	for _, t := range triangles {
		a, b, c := points[t[0]], points[t[1]], points[t[2]]
		if a == b || b == c || c == a {
			continue
		}
		if len(o.buf)+stlRecord > cap(o.buf) && o.flush() != nil {
			return
		}
		n := facetNormal(a, b, c)
		at := len(o.buf)
		o.buf = o.buf[:at+stlRecord]
		r := o.buf[at : at+stlRecord : at+stlRecord]
		put3(r[0:12], n)
		put3(r[12:24], a)
		put3(r[24:36], b)
		put3(r[36:48], c)
		r[48], r[49] = 0, 0
	}
}

func (o *stlWriter) flush() error {
	if o.err == nil && len(o.buf) > 0 {
		_, o.err = o.w.Write(o.buf)
	}
	o.buf = o.buf[:0]
	return o.err
}

// put3 stores three numbers, little-endian.
func put3(b []byte, v [3]float32) {
	_ = b[11]
	binary.LittleEndian.PutUint32(b[0:], math.Float32bits(v[0]))
	binary.LittleEndian.PutUint32(b[4:], math.Float32bits(v[1]))
	binary.LittleEndian.PutUint32(b[8:], math.Float32bits(v[2]))
}

// countSolid returns how many triangles have three different corners.
func countSolid(points [][3]float32, triangles [][3]uint32) int {
	n := 0
	for _, t := range triangles {
		a, b, c := points[t[0]], points[t[1]], points[t[2]]
		if a != b && b != c && c != a {
			n++
		}
	}
	return n
}

// facetNormal returns the unit normal of a triangle seen counter-clockwise, zero where it has no area. It is the one that
// readers get who work it out again from the file's float32 corners, with the first product rounded to float32, as admesh does: for a
// sliver ten thousand times longer than wide no two ways agree, and a reader calls any other normal wrong.
func facetNormal(a, b, c [3]float32) [3]float32 {
	ux, uy, uz := b[0]-a[0], b[1]-a[1], b[2]-a[2]
	vx, vy, vz := c[0]-a[0], c[1]-a[1], c[2]-a[2]
	x := float64(minor(uy, vz, uz, vy))
	y := float64(minor(uz, vx, ux, vz))
	z := float64(minor(ux, vy, uy, vx))
	l := float64(x*x) + float64(y*y) + float64(z*z)
	if l == 0 {
		return [3]float32{}
	}
	l = 1 / math.Sqrt(l)
	// Adding zero turns -0 into 0.
	return [3]float32{float32(x*l) + 0, float32(y*l) + 0, float32(z*l) + 0}
}

// minor returns ab − cd. Products of float32 are exact in float64.
func minor(a, b, c, d float32) float32 {
	return float32(float64(float32(float64(a)*float64(b))) - float64(float64(c)*float64(d)))
}

// WriteASCIISTL writes the scene as one ASCII STL in mm, by the stl library. It holds all placed triangles in memory.
func WriteASCIISTL(w io.Writer, s *Scene) error {
	name := oneLine(s.Title)
	if name == "" {
		name = "frame"
	}
	solid := &stl.Solid{Name: name, IsAscii: true, Triangles: make([]stl.Triangle, 0, s.Triangles())}
	var buf [][3]float32
	for _, it := range s.Items {
		m := s.Shapes[it.Shape].Mesh
		buf = placed(m, it.Place, buf)
		for _, t := range m.Triangles {
			a, b, c := buf[t[0]], buf[t[1]], buf[t[2]]
			if a == b || b == c || c == a {
				continue
			}
			solid.Triangles = append(solid.Triangles, stl.Triangle{Normal: facetNormal(a, b, c), Vertices: [3]stl.Vec3{a, b, c}})
		}
	}
	out := bufio.NewWriterSize(w, 1<<16)
	if err := solid.WriteAll(out); err != nil {
		return fmt.Errorf("ASCII STL: %w", err)
	}
	return out.Flush()
}
