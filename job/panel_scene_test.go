package job

import (
	"math"
	"testing"

	"barwright/frame"
	"barwright/geom"
	"barwright/mesh"
)

// closet is a box of posts and two rings with sheets square to each axis: in slots and screwed on.
const closet = `
frame {
  profile = "30x30-8"
}
posts "leg" {
  left   = 0
  right  = 600
  front  = 0
  back   = 500
  bottom = 0
  top    = 800
}
ring "base" {
  within = leg
  bottom = 60
}
ring "crown" {
  within = leg
  bottom = 690
}
panel "left" {
  held_by   = [leg.front_left, leg.back_left, base.left_rail, crown.left_rail]
  thickness = 4
  material  = "PC"
}
panel "right" {
  held_by   = [leg.front_right, leg.back_right, base.right_rail, crown.right_rail]
  thickness = 3
  screwed   = true
}
panel "back" {
  held_by   = [leg.back_left, leg.back_right, base.back_rail, crown.back_rail]
  thickness = 2
  screwed   = true
}
panel "floor" {
  held_by   = base
  thickness = 5
  material  = "plywood"
}
panel "roof" {
  held_by   = crown
  thickness = 2
  screwed   = true
}
`

// The scene shows every sheet where the frame has it, as a closed solid of its outline less its holes: πr² each by the circle's area, and
// up to a layer as thick as the chord tolerance more.
func TestPanelSolids(t *testing.T) {
	j := openText(t, closet)
	for _, tol := range []float64{0.5, mesh.DefaultTolerance} {
		j.Tolerance, j.scene = tol, nil
		s, err := j.Scene()
		if err != nil {
			t.Fatal(err)
		}
		holes := 0
		for _, p := range j.Frame.Panels {
			m, place := itemOf(t, s, "panel "+p.Name)
			if err := m.Check(); err != nil {
				t.Errorf("%s: %v", p.Name, err)
			}
			area, more := math.Abs(geom.PolygonArea(p.Sheet.Outline)), 0.0
			for _, h := range p.Sheet.Holes {
				area -= math.Pi * h.Diameter * h.Diameter / 4
				more += math.Pi * h.Diameter * tol
			}
			holes += len(p.Sheet.Holes)
			if off := m.Volume()/p.Thickness - area; off < -0.1 || off > more+0.1 {
				t.Errorf("%s at %g: %.3f mm² of sheet, want %.3f and at most %.3f more", p.Name, tol, m.Volume()/p.Thickness, area, more)
			}
			box := geom.EmptyBox()
			for _, q := range m.Points {
				box = box.Extend(place.Apply(geom.Vec{X: float64(q[0]), Y: float64(q[1]), Z: float64(q[2])}))
			}
			if want := p.Sheet.Box; box.Low.Dist(want.Low) > 1e-3 || box.High.Dist(want.High) > 1e-3 {
				t.Errorf("%s lies in %v, its sheet in %v", p.Name, box, want)
			}
			if d := place.EX.Cross(place.EY).Dist(place.EZ); d != 0 {
				t.Errorf("%s is placed as its mirror image", p.Name)
			}
			checkHolesShow(t, p, m, place)
		}
		if holes == 0 {
			t.Error("no sheet has holes")
		}
	}
}

// checkHolesShow looks for the walls of the holes: points as far from a hole's middle, in the frame, as its radius.
func checkHolesShow(t *testing.T, p *frame.Panel, m *mesh.Mesh, place geom.Motion) {
	t.Helper()
	for _, h := range p.Sheet.Holes {
		middle, n := p.Sheet.At(h.At, 0), 0
		for _, q := range m.Points {
			at := place.Apply(geom.Vec{X: float64(q[0]), Y: float64(q[1]), Z: float64(q[2])})
			away := at.Sub(middle)
			away = away.With(p.Sheet.Normal, 0)
			if math.Abs(away.Len()-h.Diameter/2) < 1e-3 {
				n++
			}
		}
		if n < 2*geom.MinArcSegments {
			t.Errorf("%s: %d points of the wall of the hole at %v", p.Name, n, h.At)
		}
	}
}

// itemOf returns the mesh and the place of an item of a scene.
func itemOf(t *testing.T, s *mesh.Scene, name string) (*mesh.Mesh, geom.Motion) {
	t.Helper()
	for _, it := range s.Items {
		if it.Name == name {
			return s.Shapes[it.Shape].Mesh, it.Place
		}
	}
	t.Fatalf("no item %q", name)
	return nil, geom.Motion{}
}
