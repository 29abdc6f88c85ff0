package check_test

import (
	"fmt"

	"barwright/check"
	"barwright/frame"
)

// The shortest useful program: read a frame and say what is wrong with it.
func Example() {
	f, err := frame.Parse("table.hcl", []byte(`
frame { profile = "30x30-8" }
member "post" {
  left   = 0
  front  = 0
  bottom = 0
  top    = 500
}
member "rail" {
  left   = post.right + 0.2
  right  = 400
  front  = 0
  bottom = 300
}
`), frame.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, g := range check.Run(f) {
		if g.Rule == "near-miss" {
			fmt.Printf("line %d: %s: %s\n  %s\n", g.Origin.Start.Line, g.Severity, g.Message, g.Remedy)
		}
	}
	fmt.Println(check.Worst(check.Run(f)))
	// Output:
	// line 9: warning: post and rail lie 0.200 mm apart (left to right) and do not touch
	//   write a face of post instead of a number of its own
	// true
}
