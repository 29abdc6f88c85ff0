package statics_test

import (
	"fmt"

	"barwright/frame"
	"barwright/geom"
	"barwright/statics"
)

// A shelf of two posts and a rail, loaded in the middle.
func Example() {
	f, err := frame.Parse("shelf.hcl", []byte(`
frame { profile = "30x30-8" }
member "left" {
  bottom = 0
  top    = 500
  left   = 0
  front  = 0
}
member "right" {
  bottom = 0
  top    = 500
  right  = 800
  front  = 0
}
member "shelf" {
  left  = left.right
  right = right.left
  front = 0
  top   = 480
}
support {
  on      = left
  at      = 0
  clamped = true
}
support {
  on      = right
  at      = 0
  clamped = true
}
mass "books" {
  kg     = 20
  on     = shelf
  spread = [0, 740]
}
`), frame.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	m, err := statics.FromFrame(f, statics.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	r, err := m.Analyse(statics.LoadOptions{})
	if err != nil {
		fmt.Println(err)
		return
	}
	c := r.LoadCases[0]
	fmt.Printf("%s gives %.1f mm; the shelf rings at %.0f Hz\n", c.AtMember, c.Deflection, r.Frequencies[0])
	// Output:
	// shelf gives 0.3 mm; the shelf rings at 12 Hz
}

func ExampleSystem_Solve() {
	m := &statics.Model{
		Nodes: []geom.Vec{{}, {X: 1000}},
		Beams: []statics.Beam{{Ends: [2]int{0, 1}, Release: [2]statics.Release{statics.Rigid(), statics.Rigid()}, Y: geom.Vec{Z: 1},
			Section: &statics.Section{Area: 444, Iy: 101972, Iz: 101972, J: 151959}, Material: &statics.Material{E: 70000, G: 27000}}},
		Supports: []statics.Support{{Node: 0, Fixed: [6]bool{true, true, true, true, true, true}}},
	}
	s, err := m.Prepare()
	if err != nil {
		fmt.Println(err)
		return
	}
	sol, err := s.Solve(&statics.Case{Nodes: []statics.NodeLoad{{Node: 1, Force: geom.Vec{Z: -100}}}})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("the tip of the cantilever sinks %.3f mm\n", -sol.Shift(1).Z)
	// Output:
	// the tip of the cantilever sinks 4.670 mm
}
