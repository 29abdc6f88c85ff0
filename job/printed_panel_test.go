package job

import (
	"math"
	"strings"
	"testing"

	"barwright/check"
	"barwright/geom"
)

const enclosure = `
frame {
  profile = "20x20-6"
  joining = "printed-corner"
}
posts "post" {
  left   = 0
  right  = 300
  front  = 0
  back   = 220
  bottom = 0
  top    = 260
}
ring "low" {
  within = post
  bottom = 20
}
ring "high" {
  within = post
  top    = post.top
}
panel "left" {
  held_by   = [post.front_left, post.back_left, low.left_rail, high.left_rail]
  thickness = 3
  material  = "plywood"
}
`

// A sheet in the slots beside printed corners: its corners stay a millimetre (the project's own figure) clear of what the meshes of the parts
// have between the sheet's faces, no more; plywood does not grow. The screws behind it are told of once.
func TestPanelGivesWayToPrintedCorners(t *testing.T) {
	j := openText(t, enclosure)
	s := j.Frame.Panels[0].Sheet
	reach := geom.EmptyBox() // of the corner at the low front end of the sheet
	for _, p := range j.Printed {
		for _, at := range p.Places {
			for _, q := range p.Result.Mesh.Triangles {
				for _, e := range [][2]int32{{int32(q[0]), int32(q[1])}, {int32(q[1]), int32(q[2])}, {int32(q[2]), int32(q[0])}} {
					a, b := meshPoint(p, at, e[0]), meshPoint(p, at, e[1])
					for k := 0.0; k <= 1; k += 1.0 / 64 {
						v := a.Add(b.Sub(a).Scale(k))
						if v.X > s.Box.Low.X && v.X < s.Box.High.X && v.Y < 110 && v.Z < 130 {
							reach = reach.Extend(v)
						}
					}
				}
			}
		}
	}
	far := geom.Vec2{X: reach.High.Y - s.Box.Low.Y, Y: reach.High.Z - s.Box.Low.Z}
	if far.X < 20 || far.Y < 20 {
		t.Fatalf("the corner reaches %v into the sheet", far)
	}
	c := s.Outline[1] // the inner corner of the first notch
	if math.Abs(c.X-far.X-1) > 0.25 || math.Abs(c.Y-far.Y-1) > 0.25 || s.Notches != 4 {
		t.Errorf("%d notches, the first to %v round a part that reaches to %v", s.Notches, c, far)
	}
	keys := 0
	for _, g := range j.Findings {
		switch {
		case g.Severity == check.Error:
			t.Errorf("%s", g.Message)
		case g.Rule == "key-blocked":
			keys++
			if !strings.Contains(g.Remedy, "screwed = true") {
				t.Errorf("remedy %q", g.Remedy)
			}
		}
	}
	if keys != 1 {
		t.Errorf("%d notes on keys behind one sheet", keys)
	}
}

func meshPoint(p *PrintedPart, at PrintedPlace, i int32) geom.Vec {
	q := p.Result.Mesh.Points[i]
	return at.Place.Apply(geom.Vec{X: float64(q[0]), Y: float64(q[1]), Z: float64(q[2])})
}
