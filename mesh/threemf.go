package mesh

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"strconv"
	"time"

	"barwright/geom"

	"github.com/hpinc/go3mf"
	"github.com/hpinc/go3mf/spec"
)

// Write3MF writes the scene as a 3MF package (3MF core specification 1.2): each shape once as an object that bears its
// name and mark, each item as a build item with its transform and the member's name as part number, the
// finishes as base materials, in millimetres, the title as metadata.
//
// The library's encoder writes the model; its zip is then packed anew without compressing again, because
// the library stamps the time of day into it and lists content types in the order of a map.
func Write3MF(w io.Writer, s *Scene) error {
	model, err := model3MF(s)
	if err != nil {
		return err
	}
	var packed bytes.Buffer
	enc := go3mf.NewEncoder(&packed)
	enc.FloatPrecision = -1 // the shortest text that reads back as the same float32
	if err := enc.Encode(model); err != nil {
		return fmt.Errorf("3MF: %w", err)
	}
	return repack3MF(w, packed.Bytes())
}

// model3MF builds the library's model of a scene.
func model3MF(s *Scene) (*go3mf.Model, error) {
	materials := &go3mf.BaseMaterials{ID: 1}
	for _, f := range finishes {
		materials.Materials = append(materials.Materials, go3mf.Base{Name: f.name, Color: f.colour})
	}
	model := &go3mf.Model{Units: go3mf.UnitMillimeter, Language: "en"}
	model.Resources.Assets = []go3mf.Asset{materials}
	if t := oneLine(s.Title); t != "" {
		model.Metadata = []go3mf.Metadata{{Name: xml.Name{Local: "Title"}, Value: t}}
	}
	kinds, used := shapeKinds(s)
	for i, sh := range s.Shapes {
		if used[i] && len(sh.Mesh.Triangles) > 0 {
			model.Resources.Objects = append(model.Resources.Objects, object3MF(sh, kinds[i], uint32(i+2)))
		}
	}
	for _, it := range s.Items {
		if len(s.Shapes[it.Shape].Mesh.Triangles) == 0 {
			continue
		}
		item := &go3mf.Item{ObjectID: uint32(it.Shape + 2), PartNumber: oneLine(it.Name)}
		if it.Place != geom.Identity() {
			item.AnyAttr = spec.AnyAttr{transform3MF(it.Place)}
		}
		model.Build.Items = append(model.Build.Items, item)
	}
	if len(model.Build.Items) == 0 {
		return nil, fmt.Errorf("3MF: the scene is empty, and the format wants at least one object")
	}
	return model, nil
}

// object3MF builds the object of one shape. Triangles of the commonest finish take the object's own.
func object3MF(sh *Shape, k Kind, id uint32) *go3mf.Object {
	base := finishOf(Skin, k)
	o := &go3mf.Object{ID: id, Name: oneLine(sh.Name), PartNumber: oneLine(sh.Mark), PID: 1, PIndex: uint32(base), Mesh: &go3mf.Mesh{}}
	o.Mesh.Vertices.Vertex = make([]go3mf.Point3D, len(sh.Mesh.Points))
	for i, p := range sh.Mesh.Points {
		o.Mesh.Vertices.Vertex[i] = go3mf.Point3D{p[0] + 0, p[1] + 0, p[2] + 0} // no -0
	}
	o.Mesh.Triangles.Triangle = make([]go3mf.Triangle, len(sh.Mesh.Triangles))
	for i, t := range sh.Mesh.Triangles {
		f := uint32(finishOf(sh.Mesh.Surfaces[i], k))
		o.Mesh.Triangles.Triangle[i] = go3mf.Triangle{V1: t[0], V2: t[1], V3: t[2], PID: 1, P1: f, P2: f, P3: f}
	}
	return o
}

// transform3MF is the transform attribute of a build item. The library would write it with three
// decimals, which would turn a brace off its place.
type transform3MF geom.Motion

// Namespace returns that of the core, whose attributes bear no prefix.
func (t transform3MF) Namespace() string { return go3mf.Namespace }

// Unmarshal3MFAttr does nothing: the type is only written.
func (t transform3MF) Unmarshal3MFAttr(spec.XMLAttr) error { return nil }

// Marshal3MF adds the attribute: the images of the unit vectors, then the shift (core specification, section 3.3).
func (t transform3MF) Marshal3MF(_ spec.Encoder, start *xml.StartElement) error {
	var b []byte
	for i, v := range []geom.Vec{t.EX, t.EY, t.EZ, t.T} {
		for j, c := range []float64{v.X, v.Y, v.Z} {
			if i+j > 0 {
				b = append(b, ' ')
			}
			b = strconv.AppendFloat(b, float64(float32(c))+0, 'f', -1, 32)
		}
	}
	start.Attr = append(start.Attr, xml.Attr{Name: xml.Name{Local: "transform"}, Value: string(b)})
	return nil
}

// The two small parts of the package, always the same (ECMA-376 part 2, Open Packaging Conventions).
const (
	model3MFPath  = "3D/3dmodel.model"
	types3MF      = `<?xml version="1.0" encoding="UTF-8"?>` + "\n" + `<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="model" ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/></Types>`
	relations3MF  = `<?xml version="1.0" encoding="UTF-8"?>` + "\n" + `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rel0" Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel" Target="/3D/3dmodel.model"/></Relationships>`
	types3MFPath  = "[Content_Types].xml"
	relate3MFPath = "_rels/.rels"
)

// zipEpoch is the time of every file in a package: the first that zip can say.
func zipEpoch() time.Time { return time.Date(1980, 1, 1, 0, 0, 0, 0, time.UTC) }

// repack3MF writes a package of the model in packed, with fixed times and order.
func repack3MF(w io.Writer, packed []byte) error {
	in, err := zip.NewReader(bytes.NewReader(packed), int64(len(packed)))
	if err != nil {
		return fmt.Errorf("3MF: %w", err)
	}
	out := zip.NewWriter(w)
	for _, f := range [][2]string{{types3MFPath, types3MF}, {relate3MFPath, relations3MF}} {
		p, err := out.CreateHeader(&zip.FileHeader{Name: f[0], Method: zip.Deflate, Modified: zipEpoch()})
		if err == nil {
			_, err = io.WriteString(p, f[1])
		}
		if err != nil {
			return err
		}
	}
	for _, f := range in.File {
		if f.Name != model3MFPath {
			continue
		}
		raw, err := f.OpenRaw()
		if err != nil {
			return fmt.Errorf("3MF: %w", err)
		}
		p, err := out.CreateRaw(rawHeader(f))
		if err == nil {
			_, err = io.Copy(p, raw)
		}
		if err != nil {
			return err
		}
	}
	return out.Close()
}

// rawHeader returns the header of a compressed file with the time fixed.
func rawHeader(f *zip.File) *zip.FileHeader {
	h := &zip.FileHeader{
		Name: f.Name, Method: f.Method, CRC32: f.CRC32,
		CompressedSize64: f.CompressedSize64, UncompressedSize64: f.UncompressedSize64,
	}
	// CreateRaw takes the header as it is: only the MS-DOS fields count.
	h.ModifiedDate, h.ModifiedTime = 1<<5|1, 0
	return h
}
