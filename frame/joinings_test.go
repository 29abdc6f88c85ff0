package frame

import (
	"fmt"
	"testing"

	"barwright/geom"
	"barwright/standard"
)

// Screws of brackets and plates hold in the slot nut behind the lips, by half a diameter at least, and stay off the slot's floor, on every
// built-in size (common practice, no source). A length that the file gives is kept.
func TestSlotScrewsDoNotBottomOut(t *testing.T) {
	for _, name := range geom.BuiltinNames() {
		for _, with := range []string{"angle-bracket", "plate"} {
			f := parse(t, fmt.Sprintf(`frame {
  profile = %q
  joining = %q
}
member "long" {
  left   = 0
  right  = 800
  front  = 0
  bottom = 0
}
member "butt" {
  mid_x  = 400
  front  = long.back
  length = 500
  along  = "y"
  bottom = 0
}`, name, with))
			if len(f.Joints) != 1 || len(f.Joints[0].Fasteners) == 0 {
				t.Fatalf("%s, %s: no joint", name, with)
			}
			for _, x := range f.Joints[0].Fasteners {
				row, _ := standard.ThreadByName(x.Thread)
				slot := x.TipIn.Bar.Profile.Slot
				deep := x.Length - x.TipIn.SidePoint(x.HeadSide, 0, 0, 0).Sub(x.Seat).Dot(x.Dir)
				if deep > slot.Depth || deep < slot.Lip+row.Nominal/2 {
					t.Errorf("%s, %s: %s x %g reaches %.2f mm into a slot with lips of %g and a floor at %g", name, with, x.Thread, x.Length, deep, slot.Lip, slot.Depth)
				}
			}
		}
	}
	f := parse(t, `frame {
  profile = "20x20-6"
  joining = "angle-bracket"
}
joining "angle-bracket" { screw_length = 10 }
member "long" {
  left   = 0
  right  = 800
  front  = 0
  bottom = 0
}
member "butt" {
  mid_x  = 400
  front  = long.back
  length = 500
  along  = "y"
  bottom = 0
}`)
	if l := f.Joints[0].Fasteners[0].Length; l != 10 {
		t.Errorf("a given length of 10 became %g", l)
	}
}
