package drawing

import (
	"fmt"
	"math/rand/v2"
	"strings"
)

// cutter is a machine frame of the kind that the program is made for.
const cutter = `
param "width"  { value = 900 }
param "depth"  { value = 700 }
param "height" { value = 1150 }
frame {
  title        = "Hot-wire foam cutter"
  profile      = "30x30-8"
  joining      = "end-screw"
  joining_else = "angle-bracket"
}
posts "leg" {
  left   = 0
  right  = width
  front  = 0
  back   = depth
  bottom = 40
  top    = height
}
ring "base" {
  within = leg
  bottom = 90
}
ring "crown" {
  left    = 0
  right   = width
  front   = 0
  back    = depth
  bottom  = leg.top
  corners = "pinwheel"
}
member "middle" {
  left   = width / 2 - 15
  front  = base.front_rail.back
  back   = base.back_rail.front
  bottom = base.bottom
}
member "wire_beam" {
  left  = leg.front_left.right
  right = leg.front_right.left
  front = leg.front_left.front
  mid_z = 420
}
joint {
  between = [wire_beam, leg.front_left]
  with    = "angle-bracket"
}
foot {
  under  = [leg.front_left, leg.front_right]
  thread = "M8"
  height = 40
}
foot {
  under  = base.back_rail
  at     = [60, 780]
  on     = "slot-plate"
  height = 90
}
`

// head returns a frame block.
func head(title, profile string) string {
	return fmt.Sprintf("frame {\n  title = %q\n  profile = %q\n  joining = \"end-screw\"\n  joining_else = \"angle-bracket\"\n}\n", title, profile)
}

func posts(name string, left, right, front, back, bottom, top int) string {
	return fmt.Sprintf("posts %q {\n  left = %d\n  right = %d\n  front = %d\n  back = %d\n  bottom = %d\n  top = %d\n}\n",
		name, left, right, front, back, bottom, top)
}

func within(name, set string, bottom int) string {
	return fmt.Sprintf("ring %q {\n  within = %s\n  bottom = %d\n}\n", name, set, bottom)
}

// row returns bars between the front and back rail of a ring.
func row(name, ring string, count, first, last int) string {
	return fmt.Sprintf("row %q {\n  front = %[2]s.front_rail.back\n  back = %[2]s.back_rail.front\n  bottom = %[2]s.bottom\n  count = %d\n  first = { mid_x = %d }\n  last = { mid_x = %d }\n}\n",
		name, ring, count, first, last)
}

// sampleFrames returns frames of many shapes by name.
func sampleFrames() map[string]string {
	rack := head("Shelf rack", "40x40-10") + posts("leg", 0, 1600, 0, 500, 30, 2000)
	for i, z := range []int{150, 750, 1350, 1940} {
		rack += within(fmt.Sprintf("shelf%d", i), "leg", z)
	}
	rack += row("slat", "shelf0", 8, 120, 1480) + row("board", "shelf1", 5, 220, 1380) +
		"foot {\n  under = leg\n  thread = \"M10\"\n  height = 30\n}\n"
	var hall strings.Builder
	hall.WriteString(head("Gantry hall rig", "40x40-10"))
	for k := range 3 {
		for i := range 4 {
			hall.WriteString(posts(fmt.Sprintf("p%d_%d", k, i), i*1000, i*1000+600, 0, 1500, k*900, k*900+860))
		}
		ring := fmt.Sprintf("r%d", k)
		fmt.Fprintf(&hall, "ring %q {\n  left = 0\n  right = 3600\n  front = 0\n  back = 1500\n  bottom = %d\n  corners = \"x-through\"\n}\n", ring, k*900+860)
		hall.WriteString(row(fmt.Sprintf("s%d", k), ring, 45, 100, 3500))
	}
	return map[string]string{
		"cutter": cutter, "rack": rack, "hall": hall.String(),
		"stand": head("Work stand", "20x20-6") + posts("leg", 0, 300, 0, 240, 0, 400) + within("top", "leg", 380) + within("low", "leg", 60),
		"flat": head("Flat frame", "30x60-8") + "ring \"r\" {\n  left = 0\n  right = 1200\n  front = 0\n  back = 600\n  bottom = 0\n  corners = \"x-through\"\n}\n" +
			"member \"mid\" {\n  left = r.left_rail.right\n  right = r.right_rail.left\n  mid_y = 300\n  bottom = 0\n}\n",
		"bar":   head("One bar", "40x40-10") + "member \"bar\" {\n  along = \"x\"\n  left = 0\n  length = 1234.5\n  front = 0\n  bottom = 0\n}\n",
		"tower": head("Tower", "20x20-6") + posts("leg", 0, 200, 0, 200, 0, 2400) + within("a", "leg", 100) + within("b", "leg", 1200) + within("c", "leg", 2380),
		"long": head("Long bench", "40x80-10") + posts("p", 0, 4000, 0, 800, 0, 850) + posts("q", 1300, 2700, 0, 800, 0, 850) +
			"row \"cross\" {\n  front = 0\n  back = 800\n  bottom = 850\n  count = 11\n  first = { left = 0 }\n  last = { right = 4000 }\n}\n" + within("base", "q", 100),
		"braced": head("Braced", "30x30-8") + posts("leg", 0, 800, 0, 500, 0, 700) + within("top", "leg", 670) + within("low", "leg", 100) +
			"brace \"stay\" {\n  from = { on = leg.front_left, at = 650 }\n  to = { on = low.left_rail, at = 350 }\n}\n",
	}
}

// randomFile returns a frame file with posts, rings at several heights, rows and beams.
func randomFile(rng *rand.Rand) string {
	profile := []string{"20x20-6", "30x30-8", "40x40-10"}[rng.IntN(3)]
	b := []int{20, 30, 40}[map[string]int{"20x20-6": 0, "30x30-8": 1, "40x40-10": 2}[profile]]
	w, d, h := 8*b+rng.IntN(60*b), 8*b+rng.IntN(40*b), 8*b+rng.IntN(60*b)
	s := head("Random frame", profile) + posts("leg", 0, w, 0, d, 0, h)
	z := b
	for k := 0; z+2*b < h && k < 4; k++ {
		name := fmt.Sprintf("ring%d", k)
		s += within(name, "leg", z)
		if n := 1 + rng.IntN(9); rng.IntN(2) == 0 && w > (2*n+4)*b {
			s += row(name+"_row", name, n+1, 2*b, w-2*b)
		}
		z += 3*b + rng.IntN(h/3)
	}
	return s
}
