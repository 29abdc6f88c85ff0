package geom_test

import (
	"fmt"

	"barwright/geom"
)

func ExampleProfile_Properties() {
	p, _ := geom.Builtin("30x60-8")
	s := p.Properties()
	fmt.Printf("area %.0f mm², Ix %.0f mm⁴, Iy %.0f mm⁴\n", s.Area, s.Ix, s.Iy)
	t, err := p.Torsion()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("J %.1f cm⁴, known to %.1f %%\n", t.J/1e4, 100*geom.TorsionTolerance)
	// Output:
	// area 735 mm², Ix 244065 mm⁴, Iy 70792 mm⁴
	// J 4.0 cm⁴, known to 0.1 %
}
