package drawing

import (
	"math"
	"testing"

	"barwright/assembly"
	"barwright/frame"
	"barwright/geom"
	"barwright/mesh"
)

// joinMeshes returns meshes as one.
func joinMeshes(list ...*mesh.Mesh) *mesh.Mesh {
	out := &mesh.Mesh{}
	for _, m := range list {
		n := uint32(len(out.Points))
		out.Points = append(out.Points, m.Points...)
		for _, t := range m.Triangles {
			out.Triangles = append(out.Triangles, [3]uint32{t[0] + n, t[1] + n, t[2] + n})
		}
		out.Surfaces = append(out.Surfaces, m.Surfaces...)
	}
	return out
}

// Of a box with a small one beside it only the large one is left when fine detail is left out: nine visible edges, three along each axis,
// each as long as the view shows its axis.
func TestFineDetailIsLeftOut(t *testing.T) {
	large := boxMesh(geom.Box{High: geom.Vec{X: 100, Y: 80, Z: 60}})
	small := boxMesh(geom.Box{Low: geom.Vec{X: 200}, High: geom.Vec{X: 204, Y: 4, Z: 4}})
	v := Pictorial()
	nine := 0.0
	for _, e := range []geom.Vec{{X: 100}, {Y: 80}, {Z: 60}} {
		nine += 3 * v.Project(e).Len()
	}
	length := func(fine float64) float64 {
		sum := 0.0
		for _, l := range HiddenLines([]Body{{Mesh: joinMeshes(large, small), Place: geom.Identity(), Fine: fine}}, v, LineOptions{}) {
			for k := 1; k < len(l.Points); k++ {
				sum += l.Points[k].Dist(l.Points[k-1])
			}
		}
		return sum
	}
	// The small box is 4·√3 = 6.9 mm over its corners.
	if got := length(8); math.Abs(got-nine) > 0.01*nine {
		t.Errorf("without the detail %.2f mm of lines, the box has %.2f", got, nine)
	}
	if got := length(6); got < nine*1.03 {
		t.Errorf("a detail larger than the limit is left out: %.2f mm of lines", got)
	}
}

// A part that goes on behind a bar is drawn dashed, as hidden edges are (ISO 128-2, line type 02), and named; one before the bar is not
// dashed.
func TestPartBehindABarIsDashed(t *testing.T) {
	f, err := frame.Parse("b.hcl", []byte(`frame { profile = "60x60-8" }
member "bar" {
  left   = 0
  right  = 600
  front  = 0
  bottom = 0
}`), frame.Options{})
	if err != nil {
		t.Fatal(err)
	}
	scene, err := mesh.NewScene(f, mesh.DefaultTolerance)
	if err != nil {
		t.Fatal(err)
	}
	plan, err := assembly.New(f, assembly.Options{})
	if err != nil {
		t.Fatal(err)
	}
	scene.Shapes = append(scene.Shapes, &mesh.Shape{Name: "printed P1", Mark: "P1", Mesh: boxMesh(geom.Box{High: geom.Vec{X: 20, Y: 5, Z: 20}})})
	for _, c := range []struct {
		y      float64
		dashed bool
	}{{61, true}, {-6, false}} {
		g, err := newGuide(f, scene, plan, Options{})
		if err != nil {
			t.Fatal(err)
		}
		g.newPage()
		p := g.shotOf(f.Members, nil, geom.Vec{Z: -1}, geom.Vec{})
		place := geom.Identity()
		place.T = geom.Vec{X: 300, Y: c.y, Z: 5}
		p.put(mesh.Item{Name: "P1", Mark: "P1", Shape: len(scene.Shapes) - 1, Place: place, Kind: mesh.PrintedItem}, geom.Vec{}, geom.Vec{})
		p.refs = append(p.refs, len(p.scene.Items)-1)
		g.drawShot(&p, Area{geom.Vec2{X: 30, Y: 100}, geom.Vec2{X: 150, Y: 160}}, true)
		dashed, named := 0, 0
		for _, op := range g.page.Ops {
			if s, ok := op.(*Stroke); ok && s.Role == Hidden {
				dashed++
			}
			if x, ok := op.(*Text); ok && x.Role == Balloon && x.String == "P1" {
				named++
			}
		}
		if (dashed > 0) != c.dashed || named != 1 {
			t.Errorf("part at y = %g: %d dashed lines, %d balloons", c.y, dashed, named)
		}
	}
}

// A printed part is in no picture before the step that puts it on, bold in that step, and thin in later ones; one that joins bars that are
// built already is there from the start.
func TestPrintedPartStaysOn(t *testing.T) {
	f, err := frame.Parse("b.hcl", []byte(`frame {
  profile = "30x30-8"
  joining = "angle-bracket"
}
member "long" {
  left   = 0
  right  = 800
  front  = 0
  bottom = 0
}
member "butt" {
  mid_x  = 400
  front  = long.back
  length = 500
  along  = "y"
  bottom = 0
}`), frame.Options{})
	if err != nil {
		t.Fatal(err)
	}
	use := &frame.PrintedUse{Mark: "P1", Kind: "angle", On: f.Members, Joints: f.Joints}
	f.AddUses(use)
	scene, err := mesh.NewScene(f, mesh.DefaultTolerance)
	if err != nil {
		t.Fatal(err)
	}
	scene.Shapes = append(scene.Shapes, &mesh.Shape{Name: "printed P1", Mark: "P1", Mesh: boxMesh(geom.Box{High: geom.Vec{X: 20, Y: 20, Z: 20}})})
	place := geom.Identity()
	place.T = geom.Vec{X: 420, Y: 35, Z: 5}
	scene.Items = append(scene.Items, mesh.Item{Name: "P1", Mark: "P1", Shape: len(scene.Shapes) - 1, Place: place, Kind: mesh.PrintedItem})
	plan, err := assembly.New(f, assembly.Options{})
	if err != nil {
		t.Fatal(err)
	}
	down := geom.Vec{Z: -1}
	shows := func(p shot) (n, fresh int) {
		for i, it := range p.scene.Items {
			if it.Kind == mesh.PrintedItem {
				n++
				if p.fresh[i] {
					fresh++
				}
			}
		}
		return n, fresh
	}
	g, err := newGuide(f, scene, plan, Options{})
	if err != nil {
		t.Fatal(err)
	}
	step := &assembly.Step{Kind: assembly.Place, Printed: []*frame.PrintedUse{use}, Down: down}
	before := g.shotOf(f.Members, nil, down, geom.Vec{})
	if n, _ := shows(before); n != 0 {
		t.Errorf("%d parts before the step", n)
	}
	g.addPrinted(&before, step, 100)
	if n, fresh := shows(before); n != 1 || fresh != 1 || len(before.puts) != 1 {
		t.Errorf("%d parts in the step, %d bold, %d off their place", n, fresh, len(before.puts))
	}
	g.done(step)
	g.finished()
	if n, fresh := shows(g.shotOf(f.Members, nil, down, geom.Vec{})); n != 1 || fresh != 0 {
		t.Errorf("%d parts after the step, %d bold", n, fresh)
	}
	if n, _ := shows(g.shotOf(f.Members[:1], nil, down, geom.Vec{})); n != 0 {
		t.Errorf("%d parts where one of the bars is not there", n)
	}
	built := *plan
	built.From = f.Members
	if g, err = newGuide(f, scene, &built, Options{}); err != nil {
		t.Fatal(err)
	}
	if n, fresh := shows(g.shotOf(f.Members, nil, down, geom.Vec{})); n != 1 || fresh != 0 {
		t.Errorf("%d parts on what is built, %d bold", n, fresh)
	}
}

// What is taken is never cut: the lines of a step are wrapped to the width of their column.
func TestTakeIsWrapped(t *testing.T) {
	f, err := frame.Load("../examples/foam-cutter/frame.hcl", frame.Options{})
	if err != nil {
		t.Fatal(err)
	}
	scene, err := mesh.NewScene(f, mesh.DefaultTolerance)
	if err != nil {
		t.Fatal(err)
	}
	plan, err := assembly.New(f, assembly.Options{})
	if err != nil {
		t.Fatal(err)
	}
	g, err := newGuide(f, scene, plan, Options{})
	if err != nil {
		t.Fatal(err)
	}
	long := 0
	plan.Each(func(s *assembly.Step) {
		b := g.layout(s, "1", "")
		lines := 0
		for _, item := range b.take {
			lines += len(item)
			if len(item) > 1 {
				long++
			}
			for _, t2 := range item {
				if w := TextWidth(t2, SmallText); w > guideSide-takeIndent {
					t.Errorf("%q is %.1f mm wide", t2, w)
				}
			}
		}
		if b.side > 0 && b.side < float64(lines)*guideLine {
			t.Errorf("step %d: %d lines in %.1f mm", s.Number, lines, b.side)
		}
	})
	if long == 0 {
		t.Error("no line is long enough to be wrapped: the test shows nothing")
	}
}
