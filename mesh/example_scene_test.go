package mesh_test

import (
	"bytes"
	"fmt"

	"barwright/frame"
	"barwright/geom"
	"barwright/mesh"
)

// A part with one cross hole, as its own STL.
func ExampleWriteSTLMesh() {
	profile, _ := geom.Builtin("30x30-8")
	bar := frame.Bar{Profile: profile, Length: 100, Holes: []frame.Hole{{Z: 50, Diameter: 7}}}
	m, err := mesh.Solid(&bar, mesh.DefaultTolerance)
	if err != nil {
		fmt.Println(err)
		return
	}
	var out bytes.Buffer
	if err := mesh.WriteSTLMesh(&out, "A1", m); err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(out.Len() == 84+50*len(m.Triangles))
	// Output: true
}

// A picture of a part, drawn from near its datum end.
func ExamplePicture() {
	profile, _ := geom.Builtin("20x40-6")
	part := &frame.Part{Mark: "A1", Bar: frame.Bar{Profile: profile, Length: 250}}
	scene, err := mesh.NewPartScene(part, mesh.DefaultTolerance)
	if err != nil {
		fmt.Println(err)
		return
	}
	img, err := mesh.Picture(scene, mesh.PartPictureOptions())
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(img.Bounds().Size())
	// Output: (800,600)
}

func ExampleScene_Filter() {
	scene := &mesh.Scene{Items: []mesh.Item{{Name: "wire_beam", Mark: "A5"}}}
	_, err := scene.Filter("wire_baem")
	fmt.Println(err)
	// Output: no member or part is called "wire_baem"; did you mean "wire_beam"?
}
