# A warm cabinet in which resin parts cure: a box of four posts and two rings
# with walls of panel in the slots, a grid to hang things from, a back that is
# screwed on and a door that lifts off. Corners, feet, caps and clips are printed
# in ASA, which stays hard in the warmth.
#
# X runs left to right, Y front to back, Z up. Everything is in millimetres.

param "width" {
  value = 600
  min   = 400
  max   = 1000
  note  = "outside, left to right"
}
param "depth" {
  value = 500
  min   = 400
  max   = 800
  note  = "outside, front to back"
}
param "height" {
  value = 800
  min   = 500
  max   = 1200
  note  = "of the posts"
}

frame {
  title     = "Curing cabinet"
  reference = "CC-01"
  profile   = "30x30-8"
  joining   = "end-screw"
}

# Inside it gets as warm as a hot summer's car.
limit {
  warm = 45
}

printing {
  material = "ASA"
}

# It stands on pads in front and on casters behind: lift the front, and it rolls.
let "caster" { value = 50 }

posts "post" {
  left    = 0
  right   = width
  front   = 0
  back    = depth
  bottom  = 0
  top     = height
  bottoms = { back_left = caster, back_right = caster }
}

ring "base" {
  within = post
  bottom = 90
}

ring "crown" {
  within = post
  bottom = height - 110
}

# The lid closes the posts' tops.
ring "lid" {
  left    = 0
  right   = width
  front   = 0
  back    = depth
  bottom  = height
  corners = "pinwheel"
}
member "lid_mid" {
  mid_x  = width / 2
  front  = lid.front_rail.back
  back   = lid.back_rail.front
  bottom = lid.bottom
}

# A grid between the crown's rails: two bars butt the one that runs through. A
# printed cross holds the three together, as a screw could not be reached.
member "grid" {
  left   = crown.left_rail.right
  right  = crown.right_rail.left
  mid_y  = depth / 2
  bottom = crown.bottom
}
member "grid_front" {
  mid_x  = width / 2
  front  = crown.front_rail.back
  back   = grid.front
  bottom = crown.bottom
}
member "grid_back" {
  mid_x  = width / 2
  front  = grid.back
  back   = crown.back_rail.front
  bottom = crown.bottom
}

brace "strut" {
  from  = { on = crown.left_rail, at = 90 }
  to    = { on = grid }
  angle = 40
}

# The sill under the door is made of two offcuts end to end. Its screws pass the
# posts above the screws of their feet.
member "sill_left" {
  left   = post.front_left.right
  right  = width / 2
  front  = 0
  bottom = 25
}
member "sill_right" {
  left   = width / 2
  right  = post.front_right.left
  front  = 0
  bottom = 25
}

# The door lifts off to the front.
ring "door" {
  plane  = "xz"
  left   = 34
  right  = width - 34
  bottom = base.top + 4
  top    = crown.bottom - 4
  front  = 0
}
group "door_leaf" {
  members    = [door]
  travel     = { along = "y", from = -200, to = 0 }
  carried_by = [base.front_rail]
}

# Printed parts that join bars.
bracket "grid corners" {
  kind    = "angle"
  between = [crown, grid]
}
bracket "grid cross" {
  kind = "plate-cross"
  on   = [grid, grid_front, grid_back]
  face = "top"
}
bracket "strut foot left" {
  kind    = "brace-foot"
  between = [strut, crown]
}
bracket "strut foot right" {
  kind    = "brace-foot"
  between = [strut, grid]
}
bracket "lid tees" {
  kind    = "plate-tee"
  between = [lid, lid_mid]
}
bracket "door corners" {
  kind    = "plate-ell"
  between = [door, door]
}
bracket "sill splice" {
  kind    = "plate-straight"
  between = [sill_left, sill_right]
}
bracket "under the base" {
  kind = "corner-inside"
  on   = [post, base]
  face = "bottom"
}
# Only in front: behind, the back panel covers the corners.
bracket "lid corners" {
  kind = "corner-outside"
  on   = [post.front_left, post.front_right, lid]
}

# Feet, caps, covers and clips.
bracket "pads" {
  kind = "foot-pad"
  on   = [post.front_left, post.front_right]
  end  = "bottom"
  wall = 14
}
bracket "wheels" {
  kind = "caster-plate"
  on   = [post.back_left, post.back_right]
  end  = "bottom"
  wall = 14
  set  = { insert = 2, caster = caster }
}
bracket "door caps left" {
  kind = "end-cap"
  on   = [door.bottom_rail, door.top_rail]
  end  = "left"
}
bracket "door caps right" {
  kind = "end-cap"
  on   = [door.bottom_rail, door.top_rail]
  end  = "right"
}
bracket "covers" {
  kind = "slot-cover"
  on   = crown.front_rail
  face = "front"
  at   = [135, 405]
  set  = { length = 200 }
}
bracket "heater cable" {
  kind = "cable-clip"
  on   = post.back_right
  face = "right"
  at   = [200, 400, 600]
  set  = { cable = 8 }
}
bracket "drip sheet" {
  kind   = "panel-clip"
  on     = [grid_front, grid_back]
  face   = "bottom"
  toward = "right"
  set    = { panel = 3 }
}

# Gauges for the builder.
bracket "square" {
  kind = "square"
  on   = post.front_left
}
bracket "base height" {
  kind  = "spacer"
  on    = post
  under = [base.left_rail, base.right_rail]
}
bracket "tapping" {
  kind = "tap-guide"
  on   = post.front_left
}

# Walls, floor, lid and the door's leaf.
panel "left" {
  held_by   = [post.front_left, post.back_left, base.left_rail, crown.left_rail]
  thickness = 4
  material  = "PC"
}
panel "right" {
  held_by   = [post.front_right, post.back_right, base.right_rail, crown.right_rail]
  thickness = 4
  material  = "PC"
}
panel "back" {
  held_by   = [post.back_left, post.back_right, base.back_rail, crown.back_rail]
  thickness = 2
  material  = "EN AW-5754 H22"
  screwed   = true
}
panel "floor" {
  held_by   = base
  thickness = 5
  material  = "plywood"
}
panel "lid left" {
  held_by   = [lid.left_rail, lid_mid, lid.front_rail, lid.back_rail]
  thickness = 4
  material  = "PC"
}
panel "lid right" {
  held_by   = [lid_mid, lid.right_rail, lid.front_rail, lid.back_rail]
  thickness = 4
  material  = "PC"
}
panel "door" {
  held_by   = door
  thickness = 4
  material  = "PC"
}
panel "upper left" {
  held_by   = [post.front_left, post.back_left, crown.left_rail, lid.left_rail]
  thickness = 4
  material  = "PC"
}
panel "upper right" {
  held_by   = [post.front_right, post.back_right, crown.right_rail, lid.right_rail]
  thickness = 4
  material  = "PC"
}
panel "upper front" {
  held_by   = [post.front_left, post.front_right, crown.front_rail, lid.front_rail]
  thickness = 4
  material  = "PC"
}
