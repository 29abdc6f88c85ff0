package drawing_test

import (
	"fmt"

	"barwright/drawing"
	"barwright/frame"
	"barwright/geom"
)

// One part of one frame, drawn and read back from the record.
func ExamplePartSheets() {
	profile, _ := geom.Builtin("30x30-8")
	bar := frame.Bar{Profile: profile, Length: 840, Holes: []frame.Hole{
		{Side: geom.Right, Z: 15, Diameter: 7}, {Side: geom.Right, Z: 825, Diameter: 7}}}
	f := &frame.Frame{Title: "Stand", Parts: []*frame.Part{{Mark: "A1", Bar: bar, Members: make([]*frame.Member, 2)}}}
	sheets, err := drawing.PartSheets(f, drawing.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, t := range sheets[0].Texts(drawing.Dimension, drawing.Callout) {
		if t.Shows != drawing.Nothing {
			fmt.Println(t.String)
		}
	}
	// Output:
	// 15
	// 825
	// 840
	// 2× ⌀7 through
}
