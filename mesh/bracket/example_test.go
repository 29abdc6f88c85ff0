package bracket_test

import (
	"fmt"

	"barwright/geom"
	"barwright/mesh/bracket"
)

func Example() {
	profile, _ := geom.Builtin("30x30-8")
	part, err := bracket.Build(bracket.Spec{Kind: "angle", Profile: profile, Text: "B1"})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f × %.0f × %.0f mm, %.0f g of %s\n", part.Size.X, part.Size.Y, part.Size.Z, part.Mass*1000, part.Material)
	for _, h := range part.Hardware() {
		fmt.Println(h.Quantity, h.Item, h.Standard, h.Size)
	}
	// Output:
	// 32 × 29 × 17 mm, 7 g of PETG
	// 2 button head screw ISO 7380-1 M6x12
	// 2 slot nut  M6, slot 8
}
