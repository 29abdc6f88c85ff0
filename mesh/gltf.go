package mesh

import (
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"math"

	"barwright/geom"

	"github.com/qmuntal/gltf"
)

// WriteGLB writes the scene as binary glTF 2.0: one mesh for each shape, one node for each item, named after its member and
// with its mark and kind as extras. Points stay in mm as they were checked; a root node turns them to metres with Y up.
// Each finish of a shape is a primitive with its own material.
func WriteGLB(w io.Writer, s *Scene) error {
	b := glbBuilder{doc: &gltf.Document{Asset: gltf.Asset{Version: "2.0", Generator: "barwright"}}}
	meshOf := make([]int, len(s.Shapes))
	kinds, used := shapeKinds(s)
	var views []glbShape
	for i, sh := range s.Shapes {
		meshOf[i] = -1
		if used[i] && len(sh.Mesh.Triangles) > 0 {
			meshOf[i] = len(views)
			views = append(views, newGLBShape(sh, kinds[i]))
		}
	}
	if len(views) == 0 {
		return fmt.Errorf("GLB: the scene is empty")
	}
	b.materials(views)
	if err := b.meshes(views); err != nil {
		return err
	}
	b.nodes(s, meshOf)
	out := stickyWriter{w: w}
	enc := gltf.NewEncoder(&out)
	enc.AsBinary = true
	if err := errors.Join(enc.Encode(b.doc), out.err); err != nil {
		return fmt.Errorf("GLB: %w", err)
	}
	return nil
}

// stickyWriter remembers the first error: the glTF library looks at some of its writes only.
type stickyWriter struct {
	w   io.Writer
	err error
}

// Write passes on b, or nothing more once a write has failed.
func (s *stickyWriter) Write(b []byte) (int, error) {
	if s.err != nil {
		return 0, s.err
	}
	n, err := s.w.Write(b)
	s.err = err
	return n, err
}

// glbShape is a shape as the file holds it.
type glbShape struct {
	*Shape
	*smoothMesh
	order [len(finishes)][]uint32 // the triangles of each finish
}

func newGLBShape(sh *Shape, k Kind) glbShape {
	g := glbShape{Shape: sh, smoothMesh: smooth(sh.Mesh)}
	var count [len(finishes)]int
	for _, s := range sh.Mesh.Surfaces {
		count[finishOf(s, k)]++
	}
	for f, n := range count {
		g.order[f] = make([]uint32, 0, n)
	}
	for i, s := range sh.Mesh.Surfaces {
		f := finishOf(s, k)
		g.order[f] = append(g.order[f], uint32(i))
	}
	return g
}

// wide reports whether the indices need 32 bits: 65535 itself may not be an index (glTF 2.0, section 3.7.2.1).
func (g *glbShape) wide() bool { return len(g.point) > 65535 }

// indexBytes returns the bytes that the indices of a finish take, padded to four.
func (g *glbShape) indexBytes(f int) int {
	size := 2
	if g.wide() {
		size = 4
	}
	return (3*len(g.order[f])*size + 3) / 4 * 4
}

// vertexBytes is what one vertex takes: position and normal.
const vertexBytes = 24

// glbBuilder gathers the parts of the document.
type glbBuilder struct {
	doc        *gltf.Document
	data       []byte
	indexStart int
	material   [len(finishes)]int // the number of each finish's material
}

// materials adds one for each finish that a shape has.
func (b *glbBuilder) materials(views []glbShape) {
	var used [len(finishes)]bool
	for i := range views {
		for f := range finishes {
			used[f] = used[f] || len(views[i].order[f]) > 0
		}
	}
	for i, f := range finishes {
		if !used[i] {
			continue
		}
		b.material[i] = len(b.doc.Materials)
		c := [4]float64{linear(f.colour.R), linear(f.colour.G), linear(f.colour.B), 1}
		b.doc.Materials = append(b.doc.Materials, &gltf.Material{
			Name: f.name,
			PBRMetallicRoughness: &gltf.PBRMetallicRoughness{
				BaseColorFactor: &c, MetallicFactor: gltf.Float(f.metal), RoughnessFactor: gltf.Float(f.roughness),
			},
		})
	}
}

// meshes lays all vertices and then all indices into one buffer of two views.
func (b *glbBuilder) meshes(views []glbShape) error {
	vertices, indices := 0, 0
	for i := range views {
		vertices += len(views[i].point) * vertexBytes
		for f := range finishes {
			indices += views[i].indexBytes(f)
		}
	}
	// The header of the file and the JSON need some room beside the buffer.
	if uint64(vertices)+uint64(indices) > math.MaxUint32-1<<26 {
		return errTooMany
	}
	b.data = make([]byte, 0, vertices+indices)
	b.indexStart = vertices
	b.doc.Buffers = []*gltf.Buffer{{ByteLength: vertices + indices}}
	b.doc.BufferViews = []*gltf.BufferView{
		{ByteLength: vertices, ByteStride: vertexBytes, Target: gltf.TargetArrayBuffer},
		{ByteOffset: vertices, ByteLength: indices, Target: gltf.TargetElementArrayBuffer},
	}
	for i := range views {
		b.mesh(&views[i])
	}
	for i := range views {
		b.indices(&views[i], b.doc.Meshes[i])
	}
	b.doc.Buffers[0].Data = b.data
	return nil
}

// mesh adds the vertices of a shape and its mesh with primitives that still lack indices.
func (b *glbBuilder) mesh(g *glbShape) {
	at := len(b.data)
	low := [3]float32{math.MaxFloat32, math.MaxFloat32, math.MaxFloat32}
	high := [3]float32{-math.MaxFloat32, -math.MaxFloat32, -math.MaxFloat32}
	b.data = b.data[:at+len(g.point)*vertexBytes]
	for i, p := range g.point {
		q := g.Mesh.Points[p]
		for k := range q {
			q[k] += 0 // no -0
			low[k], high[k] = min(low[k], q[k]), max(high[k], q[k])
		}
		r := b.data[at+i*vertexBytes:]
		put3(r[:12], q)
		put3(r[12:24], g.normal[i])
	}
	position, normal := len(b.doc.Accessors), len(b.doc.Accessors)+1
	b.doc.Accessors = append(b.doc.Accessors,
		&gltf.Accessor{BufferView: gltf.Index(0), ByteOffset: at, ComponentType: gltf.ComponentFloat, Type: gltf.AccessorVec3,
			Count: len(g.point), Min: wide3(low), Max: wide3(high)},
		&gltf.Accessor{BufferView: gltf.Index(0), ByteOffset: at + 12, ComponentType: gltf.ComponentFloat, Type: gltf.AccessorVec3,
			Count: len(g.point)})
	m := &gltf.Mesh{Name: oneLine(g.Name)}
	for f := range finishes {
		if len(g.order[f]) > 0 {
			m.Primitives = append(m.Primitives, &gltf.Primitive{
				Attributes: gltf.PrimitiveAttributes{gltf.POSITION: position, gltf.NORMAL: normal},
				Material:   gltf.Index(b.material[f]),
			})
		}
	}
	b.doc.Meshes = append(b.doc.Meshes, m)
}

// indices adds the indices of a shape to its primitives.
func (b *glbBuilder) indices(g *glbShape, m *gltf.Mesh) {
	component := gltf.ComponentUshort
	if g.wide() {
		component = gltf.ComponentUint
	}
	next := 0
	for f := range finishes {
		if len(g.order[f]) == 0 {
			continue
		}
		at := len(b.data)
		b.data = b.data[:at+g.indexBytes(f)]
		putIndices(b.data[at:], g, f)
		m.Primitives[next].Indices = gltf.Index(len(b.doc.Accessors))
		next++
		b.doc.Accessors = append(b.doc.Accessors, &gltf.Accessor{BufferView: gltf.Index(1), ByteOffset: at - b.indexStart,
			ComponentType: component, Type: gltf.AccessorScalar, Count: 3 * len(g.order[f])})
	}
}

// putIndices stores the vertex numbers of the triangles of a finish.
func putIndices(out []byte, g *glbShape, f int) {
	i := 0
	for _, t := range g.order[f] {
		for _, v := range g.triangle[t] {
			if g.wide() {
				binary.LittleEndian.PutUint32(out[4*i:], v)
			} else {
				binary.LittleEndian.PutUint16(out[2*i:], uint16(v))
			}
			i++
		}
	}
}

// wide3 returns the three numbers as float64.
func wide3(v [3]float32) []float64 { return []float64{float64(v[0]), float64(v[1]), float64(v[2])} }

// glbExtras is what a node carries for programs.
type glbExtras struct {
	Name string `json:"name"`
	Mark string `json:"mark,omitempty"`
	Kind string `json:"kind"`
}

// nodes adds the root and a node for each item.
func (b *glbBuilder) nodes(s *Scene, meshOf []int) {
	root := &gltf.Node{
		Name: oneLine(s.Title),
		// A quarter turn about X takes Z up to Y up.
		Rotation: [4]float64{-math.Sqrt2 / 2, 0, 0, math.Sqrt2 / 2},
		Scale:    [3]float64{0.001, 0.001, 0.001},
	}
	if root.Name == "" {
		root.Name = "frame"
	}
	b.doc.Nodes = append(make([]*gltf.Node, 0, len(s.Items)+1), root)
	for _, it := range s.Items {
		if meshOf[it.Shape] < 0 {
			continue
		}
		root.Children = append(root.Children, len(b.doc.Nodes))
		b.doc.Nodes = append(b.doc.Nodes, &gltf.Node{
			Name: oneLine(it.Name), Mesh: gltf.Index(meshOf[it.Shape]), Extras: glbExtras{it.Name, it.Mark, it.Kind.String()},
			Rotation: quaternion(it.Place), Translation: [3]float64{it.Place.T.X + 0, it.Place.T.Y + 0, it.Place.T.Z + 0},
		})
	}
	b.doc.Scenes = []*gltf.Scene{{Name: root.Name, Nodes: []int{0}}}
	b.doc.Scene = gltf.Index(0)
}

// quaternion returns the turn of a motion as the unit quaternion x, y, z, w with w ≥ 0, by
// Shepperd's choice of the largest component (Journal of Guidance and Control 1, 1978).
func quaternion(m geom.Motion) [4]float64 {
	xx, yy, zz := m.EX.X, m.EY.Y, m.EZ.Z
	squares := [4]float64{1 + xx - yy - zz, 1 - xx + yy - zz, 1 - xx - yy + zz, 1 + xx + yy + zz}
	best := 3
	for i := range 3 {
		if squares[i] > squares[best] {
			best = i
		}
	}
	// Four times the products of the components, rows and columns in the order x, y, z, w.
	xy, xz, yz := m.EX.Y+m.EY.X, m.EX.Z+m.EZ.X, m.EY.Z+m.EZ.Y
	xw, yw, zw := m.EY.Z-m.EZ.Y, m.EZ.X-m.EX.Z, m.EX.Y-m.EY.X
	q := [4][4]float64{
		{squares[0], xy, xz, xw}, {xy, squares[1], yz, yw}, {xz, yz, squares[2], zw}, {xw, yw, zw, squares[3]},
	}[best]
	l := math.Sqrt(float64(q[0]*q[0]) + float64(q[1]*q[1]) + float64(q[2]*q[2]) + float64(q[3]*q[3]))
	if q[3] < 0 {
		l = -l
	}
	for i := range q {
		q[i] = q[i]/l + 0
	}
	return q
}
