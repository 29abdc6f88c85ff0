package mesh

import (
	"bufio"
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"io"
	"math"
	"runtime"
	"strings"
	"testing"

	"barwright/geom"

	"github.com/hpinc/go3mf"
	"github.com/hschendel/stl"
	"github.com/qmuntal/gltf"
)

// summary is what must survive writing and reading.
type summary struct {
	triangles int
	volume    float64 // mm³
	low, high [3]float64
}

// add counts a triangle.
func (s *summary) add(a, b, c [3]float64) {
	if s.triangles == 0 {
		s.low, s.high = a, a
	}
	s.triangles++
	s.volume += dot3(a, cross3(b, c)) / 6
	for _, p := range [][3]float64{a, b, c} {
		for k := range p {
			s.low[k], s.high[k] = math.Min(s.low[k], p[k]), math.Max(s.high[k], p[k])
		}
	}
}

// addSTL counts triangles of the stl library.
func (s *summary) addSTL(triangles []stl.Triangle) {
	for _, t := range triangles {
		s.add(float3(t.Vertices[0]), float3(t.Vertices[1]), float3(t.Vertices[2]))
	}
}

func float3(p [3]float32) [3]float64 {
	return [3]float64{float64(p[0]), float64(p[1]), float64(p[2])}
}

// sceneSummary counts a scene in float64, without any writer.
func sceneSummary(s *Scene) summary {
	var out summary
	for _, it := range s.Items {
		m := s.Shapes[it.Shape].Mesh
		at := func(i uint32) [3]float64 {
			p := float3(m.Points[i])
			q := it.Place.Apply(geom.Vec{X: p[0], Y: p[1], Z: p[2]})
			return [3]float64{q.X, q.Y, q.Z}
		}
		for _, t := range m.Triangles {
			out.add(at(t[0]), at(t[1]), at(t[2]))
		}
	}
	return out
}

// compare asks for the same count, the same volume to 1e-5 and the same box to float32.
func (s summary) compare(t *testing.T, want summary) {
	t.Helper()
	if s.triangles != want.triangles {
		t.Errorf("%d triangles, want %d", s.triangles, want.triangles)
	}
	if math.Abs(s.volume-want.volume) > 1e-5*want.volume {
		t.Errorf("volume %.3f, want %.3f", s.volume, want.volume)
	}
	for k := range s.low {
		if math.Abs(s.low[k]-want.low[k]) > 1e-3 || math.Abs(s.high[k]-want.high[k]) > 1e-3 {
			t.Errorf("box %v to %v, want %v to %v", s.low, s.high, want.low, want.high)
			return
		}
	}
}

// boxMesh is a box from the origin, its volume known without reckoning.
func boxMesh(x, y, z float32) *Mesh {
	m := &Mesh{}
	for i := range 8 {
		p := [3]float32{}
		if i&1 != 0 {
			p[0] = x
		}
		if i&2 != 0 {
			p[1] = y
		}
		if i&4 != 0 {
			p[2] = z
		}
		m.Points = append(m.Points, p)
	}
	m.Triangles = [][3]uint32{{0, 2, 1}, {1, 2, 3}, {4, 5, 6}, {5, 7, 6}, {0, 1, 4}, {1, 5, 4}, {2, 6, 3}, {3, 6, 7}, {0, 4, 2}, {2, 4, 6}, {1, 3, 5}, {3, 7, 5}}
	m.Surfaces = make([]Surface, 12)
	m.Surfaces[0], m.Surfaces[1] = Machined, Machined
	return m
}

// boxScene is two boxes of 10 × 20 × 30, one of them turned freely and moved.
func boxScene() *Scene {
	sin, cos := math.Sincos(0.3)
	turn := geom.Motion{EX: geom.Vec{X: cos, Y: sin}, EY: geom.Vec{X: -sin, Y: cos}, EZ: geom.Vec{Z: 1}, T: geom.Vec{X: 100, Y: -50, Z: 7}}
	return &Scene{
		Title: "Two boxes", Shapes: []*Shape{{Name: "part A1", Mark: "A1", Mesh: boxMesh(10, 20, 30)}},
		Items: []Item{{Name: "one", Mark: "A1", Place: geom.Identity()}, {Name: "two", Mark: "A1", Place: turn}},
	}
}

// formats are the writers, and readers that no line of this package has part in, but for OBJ's.
var formats = []struct {
	name  string
	write func(w io.Writer, s *Scene) error
	read  func(b []byte) (summary, error)
}{
	{"stl", WriteSTL, readSTL},
	{"ascii stl", WriteASCIISTL, readSTL},
	{"obj", func(w io.Writer, s *Scene) error { return WriteOBJ(w, io.Discard, s, "frame.mtl") }, readOBJ},
	{"3mf", Write3MF, read3MF},
	{"glb", WriteGLB, readGLB},
}

func readSTL(b []byte) (out summary, err error) {
	solid, err := stl.ReadAll(bytes.NewReader(b))
	if err == nil {
		out.addSTL(solid.Triangles)
	}
	return out, err
}

func readOBJ(b []byte) (out summary, err error) {
	var points [][3]float64
	in := bufio.NewScanner(bytes.NewReader(b))
	for in.Scan() {
		var p [3]float64
		var f [3]int
		switch line := in.Text(); {
		case strings.HasPrefix(line, "v "):
			if _, err := fmt.Sscanf(line, "v %g %g %g", &p[0], &p[1], &p[2]); err != nil {
				return out, err
			}
			points = append(points, p)
		case strings.HasPrefix(line, "f "):
			if _, err := fmt.Sscanf(line, "f %d %d %d", &f[0], &f[1], &f[2]); err != nil {
				return out, err
			}
			out.add(points[f[0]-1], points[f[1]-1], points[f[2]-1])
		}
	}
	return out, in.Err()
}

func read3MF(b []byte) (out summary, err error) {
	// The library reads transforms with 32 bits, which is what the file has.
	var model go3mf.Model
	if err := go3mf.NewDecoder(bytes.NewReader(b), int64(len(b))).Decode(&model); err != nil {
		return out, err
	}
	for _, it := range model.Build.Items {
		o, ok := model.FindObject("", it.ObjectID)
		if !ok {
			return out, fmt.Errorf("object %d is missing", it.ObjectID)
		}
		m := it.Transform
		if !it.HasTransform() {
			m = go3mf.Identity()
		}
		at := func(i uint32) (q [3]float64) {
			p := float3(o.Mesh.Vertices.Vertex[i])
			for k := range q {
				q[k] = p[0]*float64(m[k]) + p[1]*float64(m[4+k]) + p[2]*float64(m[8+k]) + float64(m[12+k])
			}
			return q
		}
		for _, t := range o.Mesh.Triangles.Triangle {
			out.add(at(t.V1), at(t.V2), at(t.V3))
		}
	}
	return out, nil
}

// readGLB applies the nodes' transforms as the glTF specification says, and goes back from metres with Y up.
func readGLB(b []byte) (out summary, err error) {
	var doc gltf.Document
	if err := gltf.NewDecoder(bytes.NewReader(b)).Decode(&doc); err != nil {
		return out, err
	}
	root := doc.Nodes[doc.Scenes[*doc.Scene].Nodes[0]]
	data := doc.Buffers[0].Data
	for _, c := range root.Children {
		n := doc.Nodes[c]
		for _, p := range doc.Meshes[*n.Mesh].Primitives {
			at := func(i uint32) [3]float64 {
				a := doc.Accessors[p.Attributes[gltf.POSITION]]
				v := doc.BufferViews[*a.BufferView]
				o := v.ByteOffset + a.ByteOffset + int(i)*v.ByteStride
				var q [3]float64
				for k := range q {
					q[k] = float64(math.Float32frombits(binary.LittleEndian.Uint32(data[o+4*k:])))
				}
				q = turned(n.RotationOrDefault(), q)
				for k := range q {
					q[k] += n.Translation[k]
				}
				q = turned(root.RotationOrDefault(), q)
				return [3]float64{q[0] * root.Scale[0] * 1000, -q[2] * root.Scale[2] * 1000, q[1] * root.Scale[1] * 1000}
			}
			a := doc.Accessors[*p.Indices]
			v := doc.BufferViews[*a.BufferView]
			index := func(i int) uint32 {
				if a.ComponentType == gltf.ComponentUint {
					return binary.LittleEndian.Uint32(data[v.ByteOffset+a.ByteOffset+4*i:])
				}
				return uint32(binary.LittleEndian.Uint16(data[v.ByteOffset+a.ByteOffset+2*i:]))
			}
			for i := 0; i < a.Count; i += 3 {
				out.add(at(index(i)), at(index(i+1)), at(index(i+2)))
			}
		}
	}
	return out, nil
}

// turned turns a vector by a unit quaternion: v + 2 q × (q × v + w v).
func turned(q [4]float64, v [3]float64) [3]float64 {
	u := [3]float64{q[0], q[1], q[2]}
	c := cross3(u, v)
	for k := range c {
		c[k] += q[3] * v[k]
	}
	d := cross3(u, c)
	for k := range v {
		v[k] += 2 * d[k]
	}
	return v
}

func TestFormatsRoundTrip(t *testing.T) {
	boxes := summary{triangles: 24, volume: 2 * 10 * 20 * 30}
	// The turned box reaches from -20 sin 0.3 to 10 cos 0.3 in x, from 0 to 10 sin 0.3 + 20 cos 0.3 in y, moved by (100, -50, 7).
	boxes.low = [3]float64{0, -50, 0}
	boxes.high = [3]float64{100 + 10*math.Cos(0.3), 20, 37}
	frame := testScene(t)
	for _, f := range formats {
		for _, c := range []struct {
			name  string
			scene *Scene
			want  summary
		}{{"boxes", boxScene(), boxes}, {"frame", frame, sceneSummary(frame)}} {
			t.Run(f.name+" "+c.name, func(t *testing.T) {
				var b bytes.Buffer
				if err := f.write(&b, c.scene); err != nil {
					t.Fatal(err)
				}
				got, err := f.read(b.Bytes())
				if err != nil {
					t.Fatal(err)
				}
				got.compare(t, c.want)
			})
		}
	}
}

func TestFormatsSameBytes(t *testing.T) {
	s := testScene(t)
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	for _, f := range formats {
		var first [32]byte
		for i, procs := range []int{2, 2, 1} {
			runtime.GOMAXPROCS(procs)
			h := sha256.New()
			if err := f.write(h, s); err != nil {
				t.Fatal(err)
			}
			if sum := [32]byte(h.Sum(nil)); i == 0 {
				first = sum
			} else if sum != first {
				t.Errorf("%s: run %d on %d processors gave other bytes", f.name, i+1, procs)
			}
		}
	}
}

func TestOBJGroupsAndMaterials(t *testing.T) {
	var obj, mtl bytes.Buffer
	s := boxScene()
	s.Title = "line\nbreak"
	s.Items[1].Name = "two words"
	if err := WriteOBJ(&obj, &mtl, s, "a.mtl"); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"# line break\n", "\nmtllib a.mtl\n", "\ng one\n", "\ng two_words\n", "\nusemtl machined\n", "\nusemtl aluminium\n"} {
		if !strings.Contains(obj.String(), want) {
			t.Errorf("the OBJ lacks %q", want)
		}
	}
	// Orange of Okabe and Ito, (230, 159, 0): 230/255 = 0.9020, 159/255 = 0.6235.
	if !strings.Contains(mtl.String(), "newmtl machined\nKa 0.2 0.2 0.2\nKd 0.9020 0.6235 0.0000\n") {
		t.Errorf("the machined material is not orange:\n%s", mtl.String())
	}
	for _, bad := range []string{"", "a/b.mtl", "a\nb"} {
		if err := WriteOBJ(io.Discard, io.Discard, s, bad); err == nil {
			t.Errorf("a material file called %q was taken", bad)
		}
	}
}

func TestGLBTells(t *testing.T) {
	var b bytes.Buffer
	s := testScene(t)
	if err := WriteGLB(&b, s); err != nil {
		t.Fatal(err)
	}
	var doc gltf.Document
	if err := gltf.NewDecoder(&b).Decode(&doc); err != nil {
		t.Fatal(err)
	}
	// Five parts and one kind of foot; a root, 16 bars and 4 feet.
	if len(doc.Meshes) != 6 || len(doc.Nodes) != 21 {
		t.Errorf("%d meshes and %d nodes, want 6 and 21", len(doc.Meshes), len(doc.Nodes))
	}
	for _, n := range doc.Nodes {
		if n.Name == "wire_beam" {
			extras, _ := n.Extras.(map[string]any)
			if extras["mark"] != "A5" || extras["name"] != "wire_beam" || extras["kind"] != "bar" {
				t.Errorf("wire_beam bears %v", n.Extras)
			}
			return
		}
	}
	t.Error("no node is called wire_beam")
}

func TestEmptySceneErrors(t *testing.T) {
	if err := WriteGLB(io.Discard, &Scene{}); err == nil {
		t.Error("an empty GLB was written")
	}
	if err := Write3MF(io.Discard, &Scene{}); err == nil {
		t.Error("an empty 3MF was written")
	}
	var b bytes.Buffer
	if err := WriteSTL(&b, &Scene{}); err != nil || b.Len() != 84 {
		t.Errorf("an empty STL has %d bytes (%v), want the 84 of its header", b.Len(), err)
	}
}

// failing is a writer that takes a number of bytes and then fails.
type failing int

func (f *failing) Write(b []byte) (int, error) {
	if *f < failing(len(b)) {
		return 0, io.ErrShortWrite
	}
	*f -= failing(len(b))
	return len(b), nil
}

func TestWriteErrorsArePassedOn(t *testing.T) {
	s := testScene(t)
	for _, f := range formats {
		for _, room := range []failing{0, 50, 3000} {
			if err := f.write(&room, s); err == nil {
				t.Errorf("%s: a full disk went unnoticed", f.name)
			}
		}
	}
}

func TestCollapsedTrianglesLeaveSTLClosed(t *testing.T) {
	// A box of a tenth of a micron, a kilometre away: in float32 all its corners are the same.
	s := &Scene{Shapes: []*Shape{{Mesh: boxMesh(1e-4, 10, 10)}}, Items: []Item{{Place: geom.Shift(geom.Vec{X: 1e6})}}}
	var b bytes.Buffer
	if err := WriteSTL(&b, s); err != nil {
		t.Fatal(err)
	}
	solid, err := stl.ReadAll(bytes.NewReader(b.Bytes()))
	if err != nil {
		t.Fatal(err)
	}
	// Only the two faces square to x keep their area: four triangles.
	if len(solid.Triangles) != 4 {
		t.Errorf("%d triangles, want 4", len(solid.Triangles))
	}
}
