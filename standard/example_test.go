package standard_test

import (
	"fmt"
	"math"

	"barwright/standard"
)

// The hole through which an M8 screw passes.
func ExampleClearanceHole() {
	hole, _ := standard.ClearanceHole("M8")
	fmt.Println(hole.Fine, hole.Medium, hole.Coarse, hole.Source.Text)
	// Output: 8.4 9 10 ISO 273
}

// Can an extruded core bore of 6.8 mm take M8 without drilling?
func ExampleThread_Accepts() {
	m8, _ := standard.ThreadByName("M8")
	fmt.Println(m8.MinorMin, m8.MinorMax, m8.Accepts(6.8), m8.Accepts(7))
	// Output: 6.647 6.912 true false
}

// The head, the key and the key's hole of a button head screw.
func ExampleButtonHeadScrew() {
	screw, _ := standard.ButtonHeadScrew("M8")
	key, _ := standard.HexKey(screw.Key)
	fmt.Printf("head ⌀%v × %v, key %v, across corners %.2f\n",
		screw.HeadDiameter, screw.HeadHeight, key.Size, key.AcrossCorners)
	// Output: head ⌀14 × 4.4, key 5, across corners 5.77
}

// A screw through a 30 mm bar, 2·d into the next one, from what is sold.
func ExampleRoundUpLength() {
	up, _ := standard.RoundUpLength("M8", 37)
	down, _ := standard.RoundDownLength("M8", 37)
	_, longer := standard.RoundUpLength("M8", 81)
	fmt.Println(down, up, longer)
	// Output: 35 40 false
}

// How far a bar of 840 mm may be off without its own tolerance.
func ExampleGeneralTolerance() {
	medium, _ := standard.GeneralTolerance("m", 840)
	_, given := standard.GeneralTolerance("f", 2500)
	fmt.Println(medium, given)
	// Output: 0.8 false
}

// The mass of a metre of tube 40 × 40 × 3.
func ExampleAlloy() {
	alloy, _ := standard.Alloy("EN AW-6060 T66")
	area := 40.0*40 - 34*34
	fmt.Printf("%.3f kg, E %v MPa, yields at %v MPa\n", area*1000*alloy.Density, alloy.E, alloy.Yield)
	// Output: 1.199 kg, E 70000 MPa, yields at 150 MPa
}

// Full torque presses more than aluminium bears: use a washer, or less torque.
func ExampleTighteningTorque() {
	full, _ := standard.TighteningTorque("M8", "8.8", 0.14)
	less, _ := standard.BearingTorque("M8")
	fmt.Printf("full: %.1f N·m, %v MPa; reduced: %.1f N·m, %v MPa\n",
		full.TorqueSocket/1000, full.HeadPressure, less.TorqueSocket/1000, less.HeadPressure)
	// Output: full: 27.7 N·m, 325 MPa; reduced: 12.8 N·m, 150 MPa
}

// An A3 sheet and the largest reduction that shows a bar of 1110 mm on it.
func ExampleScales() {
	sheet, _ := standard.SheetByName("A3")
	width, height := sheet.DrawingSpace()
	for _, scale := range standard.Scales() {
		if 1110*scale.Factor() < width {
			fmt.Printf("%v x %v, %d:%d\n", width, height, scale.Num, scale.Den)
			break
		}
	}
	// Output: 390 x 277, 1:5
}

// What two people at home lift together.
func ExampleTeamLift() {
	two, _ := standard.TeamLift(standard.HomeLift, 2)
	fmt.Println(two)
	// Output: 20
}

// The angle tolerance of a mitre whose shorter side is 30 mm.
func ExampleAngleTolerance() {
	tol, _ := standard.AngleTolerance("m", 30)
	fmt.Printf("%.1f°\n", tol*180/math.Pi)
	// Output: 0.5°
}
