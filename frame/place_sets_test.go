package frame

import (
	"math"
	"testing"

	"barwright/geom"
)

func TestRings(t *testing.T) {
	v := func(x, y, z float64) geom.Vec { return geom.Vec{X: x, Y: y, Z: z} }
	f := parse(t, `
frame { profile = "30x30-8" }
ring "level" {
  left = 0
  right = 600
  front = 0
  back = 400
  bottom = 0
  corners = "y-through"
}
ring "reverse" {
  left = 0
  right = 600
  front = 0
  back = 400
  bottom = 100
  corners = "pinwheel"
  hand = "reverse"
}
ring "upright" {
  plane = "xz"
  left = 1000
  right = 1600
  bottom = 0
  top = 400
  front = 0
  corners = "pinwheel"
  profile = "30x60-8"
}
ring "side" {
  plane = "yz"
  front = 0
  back = 600
  bottom = 0
  top = 400
  mid_x = 2000
  corners = { bottom_front = "z-through", top_back = "z-through" }
}
`)
	checkBoxes(t, f, []boxCase{
		{"level.front_rail", v(30, 0, 0), v(570, 30, 30)},
		{"level.left_rail", v(0, 0, 0), v(30, 400, 30)},
		// The other hand: the front rail's left end butts the left rail.
		{"reverse.front_rail", v(30, 0, 100), v(600, 30, 130)},
		{"reverse.right_rail", v(570, 30, 100), v(600, 400, 130)},
		{"reverse.back_rail", v(0, 370, 100), v(570, 400, 130)},
		{"reverse.left_rail", v(0, 0, 100), v(30, 370, 130)},
		// Seen from the front: bottom, right, top, left. All rails are 30 deep and 60 high in the ring.
		{"upright.bottom_rail", v(1000, 0, 0), v(1540, 30, 60)},
		{"upright.right_rail", v(1540, 0, 0), v(1600, 30, 340)},
		{"upright.top_rail", v(1060, 0, 340), v(1600, 30, 400)},
		{"upright.left_rail", v(1000, 0, 60), v(1060, 30, 400)},
		// Corner by corner; the others are through along the first axis.
		{"side.bottom_rail", v(1985, 30, 0), v(2015, 600, 30)},
		{"side.front_rail", v(1985, 0, 0), v(2015, 30, 370)},
		{"side.top_rail", v(1985, 0, 370), v(2015, 570, 400)},
		{"side.back_rail", v(1985, 570, 30), v(2015, 600, 400)},
	})
}

// Rails of a smaller section lie on the posts' slot centre line, or flush; a post that stands taller is butted.
func TestRingsWithinPosts(t *testing.T) {
	v := func(x, y, z float64) geom.Vec { return geom.Vec{X: x, Y: y, Z: z} }
	posts := `
frame { profile = "20x20-6" }
posts "leg" {
  left = 0
  right = 500
  front = 0
  back = 400
  bottom = 0
  top = 300
  tops = { back_left = 600 }
  profile = "40x40-10"
}
ring "mid" {
  within = leg
  top = 100
}
ring "out" {
  within = leg
  top = 200
  flush = "outside"
}
ring "in" {
  within = leg
  top = 250
  flush = "inside"
}
ring "lid" {
  within = leg
  bottom = leg.front_left.top
  profile = "40x40-10"
  corners = { front_left = "x-through", front_right = "y-through", back_right = "x-through", back_left = "post" }
}
`
	checkBoxes(t, parse(t, posts), []boxCase{
		{"leg.back_left", v(0, 360, 0), v(40, 400, 600)},
		{"mid.front_rail", v(40, 10, 80), v(460, 30, 100)},
		{"mid.back_rail", v(40, 370, 80), v(460, 390, 100)},
		{"mid.left_rail", v(10, 40, 80), v(30, 360, 100)},
		{"out.front_rail", v(40, 0, 180), v(460, 20, 200)},
		{"out.right_rail", v(480, 40, 180), v(500, 360, 200)},
		{"in.front_rail", v(40, 20, 230), v(460, 40, 250)},
		{"in.back_rail", v(40, 360, 230), v(460, 380, 250)},
		{"lid.front_rail", v(0, 0, 300), v(460, 40, 340)},
		{"lid.right_rail", v(460, 0, 300), v(500, 360, 340)},
		{"lid.back_rail", v(40, 360, 300), v(500, 400, 340)},
		{"lid.left_rail", v(0, 40, 300), v(40, 360, 340)},
	})
}

func TestRows(t *testing.T) {
	f := parse(t, `
frame { profile = "20x20-6" }
row "gaps" {
  front = 0
  back = 300
  bottom = 0
  count = 3
  between = [0, 300]
}
row "steps" {
  left = 0
  length = 200
  along = "x"
  bottom = 100
  count = 4
  first = { front = 10 }
  step = 50
}
row "down" {
  left = 0
  right = 200
  front = 0
  count = 3
  last = { top = 500 }
  step = 100
}
row "ends" {
  bottom = 0
  top = 200
  front = 1000
  count = 5
  first = { left = 0 }
  last = { right = 220 }
}
row "train" {
  along = "x"
  length = 100
  front = 2000
  bottom = 0
  count = 2
  first = { left = 0 }
  step = 150
}
let "free" { value = steps[1].front - steps[0].back }
member "between" {
  left = 300
  right = 500
  front = steps[0].back
  bottom = steps[round(3.2)].bottom + free
}
`)
	// Clear gaps: 300 - 3 × 20 = 240 in four gaps of 60.
	for i, want := range []float64{60, 140, 220} {
		if m := f.Member("gaps[" + itoa(i) + "]"); math.Abs(m.Box.Low.X-want) > 1e-9 {
			t.Errorf("gaps[%d] at %g; want %g", i, m.Box.Low.X, want)
		}
	}
	for i, want := range []float64{10, 60, 110, 160} {
		if m := f.Member("steps[" + itoa(i) + "]"); m.Box.Low.Y != want || m.Length() != 200 {
			t.Errorf("steps[%d] at %g, %g long; want %g, 200", i, m.Box.Low.Y, m.Length(), want)
		}
	}
	for i, want := range []float64{300, 400, 500} {
		if m := f.Member("down[" + itoa(i) + "]"); m.Box.High.Z != want {
			t.Errorf("down[%d] at %g; want %g", i, m.Box.High.Z, want)
		}
	}
	for i, want := range []float64{0, 50, 100, 150, 200} {
		if m := f.Member("ends[" + itoa(i) + "]"); m.Box.Low.X != want {
			t.Errorf("ends[%d] at %g; want %g", i, m.Box.Low.X, want)
		}
	}
	if m := f.Member("train[1]"); m.Box.Low.X != 150 || m.Box.High.X != 250 {
		t.Errorf("train[1] from %g to %g; want 150 to 250", m.Box.Low.X, m.Box.High.X)
	}
	if m := f.Member("between"); m.Box.Low.Y != 30 || m.Box.Low.Z != 130 {
		t.Errorf("between at y %g, z %g; want 30, 130", m.Box.Low.Y, m.Box.Low.Z)
	}
}
