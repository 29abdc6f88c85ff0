package drawing

import (
	"testing"

	"barwright/frame"
	"barwright/mesh"
)

// cutter is a machine frame of the kind that the program is made for.
const cutter = `
param "width"  { value = 900 }
param "depth"  { value = 700 }
param "height" { value = 1150 }
frame {
  title   = "Hot-wire foam cutter"
  profile = "30x30-8"
  joining = "end-screw"
  joining_else = "angle-bracket"
}
posts "leg" {
  left = 0
  right = width
  front = 0
  back = depth
  bottom = 40
  top = height
}
ring "base" {
  within = leg
  bottom = 90
}
ring "crown" {
  left = 0
  right = width
  front = 0
  back = depth
  bottom = leg.top
  corners = "pinwheel"
}
member "middle" {
  left = width / 2 - 15
  front = base.front_rail.back
  back = base.back_rail.front
  bottom = base.bottom
}
member "wire_beam" {
  left = leg.front_left.right
  right = leg.front_right.left
  front = leg.front_left.front
  mid_z = 420
}
joint {
  between = [wire_beam, leg.front_left]
  with = "angle-bracket"
}
foot {
  under = [leg.front_left, leg.front_right]
  thread = "M8"
  height = 40
}
foot {
  under = base.back_rail
  at = [60, 780]
  on = "slot-plate"
  height = 90
}
`

// load reads a frame and makes its scene.
func load(t testing.TB, text string) (*frame.Frame, *mesh.Scene) {
	t.Helper()
	f, err := frame.Parse("cutter.hcl", []byte(text), frame.Options{})
	if err != nil {
		t.Fatal(err)
	}
	s, err := mesh.NewScene(f, 0.1)
	if err != nil {
		t.Fatal(err)
	}
	return f, s
}

func verify(t *testing.T, sheets []*Sheet) {
	t.Helper()
	for _, s := range sheets {
		for _, c := range s.Verify() {
			t.Errorf("%s: %v", s.Name, c)
		}
	}
}

func TestArrangementOfTheCutter(t *testing.T) {
	f, scene := load(t, cutter)
	sheets, err := ArrangementSheets(f, scene, Options{})
	if err != nil {
		t.Fatal(err)
	}
	verify(t, sheets)
	more, err := ExplodedSheets(f, scene, Options{})
	if err != nil {
		t.Fatal(err)
	}
	verify(t, more)
}
