package job

import "strings"

// workshop is a frame with a part of every kind that finds a place but the brace's foot. P stands for the pitch of its square profile.
const workshop = `
frame {
  profile = "PROFILE"
}
posts "leg" {
  left   = 0
  right  = 520
  front  = 0
  back   = 420
  bottom = 0
  top    = 640
}
ring "base" {
  within = leg
  bottom = 160
}
ring "shelf" {
  within = leg
  bottom = 380
}
ring "lid" {
  left    = 0
  right   = 520
  front   = 0
  back    = 420
  bottom  = 640
  corners = "pinwheel"
}
member "lid_mid" {
  mid_x  = 260
  front  = lid.front_rail.back
  back   = lid.back_rail.front
  bottom = lid.bottom
}
member "mid" {
  left   = base.left_rail.right
  right  = base.right_rail.left
  mid_y  = 210
  bottom = base.bottom
}
member "fore" {
  mid_x  = 260
  front  = base.front_rail.back
  back   = mid.front
  bottom = base.bottom
}
member "aft" {
  mid_x  = 260
  front  = mid.back
  back   = base.back_rail.front
  bottom = base.bottom
}
ring "door" {
  plane  = "xz"
  left   = 100
  right  = 420
  bottom = 200
  top    = 500
  front  = -200
}
member "splice_a" {
  left   = 0
  right  = 220
  front  = -400
  bottom = 0
}
member "splice_b" {
  left   = 220
  right  = 520
  front  = -400
  bottom = 0
}
panel "shelf" {
  held_by   = shelf
  thickness = 4
}
bracket "angles" {
  kind    = "angle"
  between = [shelf, leg]
}
bracket "tees" {
  kind    = "plate-tee"
  between = [lid, lid_mid]
}
bracket "ells" {
  kind    = "plate-ell"
  between = [door, door]
}
bracket "splice" {
  kind    = "plate-straight"
  between = [splice_a, splice_b]
  set     = { head = 1 }
}
bracket "cross" {
  kind = "plate-cross"
  on   = [mid, fore, aft]
  face = "top"
}
bracket "inside" {
  kind = "corner-inside"
  on   = [leg, base]
  face = "bottom"
}
bracket "edges" {
  kind = "corner-outside"
  on   = [leg, lid]
}
bracket "caps left" {
  kind = "end-cap"
  on   = [door.bottom_rail, door.top_rail]
  end  = "left"
}
bracket "caps right" {
  kind = "end-cap"
  on   = [door.bottom_rail, door.top_rail]
  end  = "right"
  set  = { hold = 1 }
}
bracket "pads" {
  kind = "foot-pad"
  on   = [leg.front_left, leg.front_right]
  end  = "bottom"
}
bracket "wheels" {
  kind = "caster-plate"
  on   = [leg.back_left, leg.back_right]
  end  = "bottom"
  set  = { pattern_x = 70, pattern_y = 60, insert = 1 }
}
bracket "cover" {
  kind = "slot-cover"
  on   = leg.front_left
  face = "front"
  at   = 290
  set  = { length = 60 }
}
bracket "clip" {
  kind = "cable-clip"
  on   = [leg.back_left, door.left_rail]
  face = "left"
  at   = [60, 200]
}
bracket "hold" {
  kind   = "panel-clip"
  on     = [lid.back_rail, lid.front_rail]
  face   = "bottom"
  toward = "front"
}
`

// braces has diagonals at five angles on printed feet.
const braces = `
frame {
  profile = "PROFILE"
}
member "base" {
  left   = 0
  right  = 2400
  front  = 0
  bottom = 0
}
posts "post" {
  left   = 0
  right  = 2400
  front  = 0
  back   = WIDE
  bottom = base.top
  top    = 900
}
brace "flat" {
  from = { on = base, at = 800 }
  to   = { on = post.front_left, at = 430 }
}
brace "steep" {
  from = { on = base, at = 2150 }
  to   = { on = post.front_right, at = 420 }
}
brace "even" {
  from = { on = base, at = 1500 }
  to   = { on = post.front_right, at = 780 }
}
brace "low" {
  from = { on = base, at = 1250 }
  to   = { on = post.front_left, at = 750 }
}
group "stays" {
  members = [flat, steep, even, low]
}
bracket "feet" {
  kind    = "brace-foot"
  between = [stays, base]
}
bracket "heads" {
  kind    = "brace-foot"
  between = [stays, post]
}
`

// wide has bars with two cells: double angles and plates, caps and pads with two cores.
const wide = `
frame {
  profile = "PROFILE"
}
member "post" {
  left   = 0
  front  = 0
  bottom = 0
  top    = 500
}
member "rail" {
  left   = post.right
  right  = post.right + 400
  front  = post.front
  bottom = 220
  turn   = 90
}
member "short" {
  left   = 200
  right  = 500
  front  = 300
  bottom = 0
}
bracket "double" {
  kind    = "angle"
  between = [rail, post]
  set     = { cells = 2 }
}
bracket "cap" {
  kind = "end-cap"
  on   = [rail, short]
  end  = "right"
}
bracket "pin cap" {
  kind = "end-cap"
  on   = [post]
  end  = "top"
  set  = { hold = 1, grip = 0.2, depth = 14 }
}
bracket "pin cap of the short" {
  kind = "end-cap"
  on   = short
  end  = "left"
  set  = { hold = 1 }
}
bracket "pad" {
  kind = "foot-pad"
  on   = post
  end  = "bottom"
}
bracket "cover" {
  kind = "slot-cover"
  on   = short
  face = "top"
  set  = { length = 120 }
}
bracket "clip" {
  kind = "cable-clip"
  on   = short
  face = "front"
  at   = 40
}
`

// fitFrames are the frames in which printed parts are looked at, by name.
func fitFrames() [][2]string {
	out := [][2]string{{"cube", cube}}
	of := func(text, profile, wide string) string {
		return strings.NewReplacer("PROFILE", profile, "WIDE", wide).Replace(text)
	}
	for _, p := range []string{"20x20-6", "30x30-8", "40x40-10"} {
		out = append(out, [2]string{"workshop of " + p, of(workshop, p, "")})
	}
	return append(out,
		[2]string{"braces of 30x30-8", of(braces, "30x30-8", "30 + 300")},
		[2]string{"braces of 40x40-10", of(braces, "40x40-10", "40 + 300")},
		[2]string{"wide of 30x60-8", of(wide, "30x60-8", "")},
		[2]string{"wide of 40x80-10", of(wide, "40x80-10", "")},
		[2]string{"flat of 30x60-8", strings.ReplaceAll(of(flat, "30x60-8", ""), "NARROW", "30x30-8")},
		[2]string{"flat of 40x80-10", strings.ReplaceAll(of(flat, "40x80-10", ""), "NARROW", "40x40-10")})
}
