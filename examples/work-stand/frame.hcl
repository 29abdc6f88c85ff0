# A stand for a bench tool: four posts, a ring of rails at the top to carry the
# board, a second ring lower down to keep the posts apart, and four feet.
#
# X runs left to right, Y front to back, Z up. Everything is in millimetres.
# Change a number here, or on the command line:
#   barwright check examples/work-stand/frame.hcl --set height=820

param "width" {
  value = 600
  min   = 200
  max   = 1500
  note  = "outside, left to right"
}
param "depth" {
  value = 450
  min   = 200
  max   = 1200
  note  = "outside, front to back"
}
param "height" {
  value = 760
  min   = 300
  max   = 1400
  note  = "floor to the top of the posts"
}

frame {
  title   = "Work stand"
  profile = "30x30-8"   # for every bar
  joining = "end-screw" # for every joint
}

# The posts end 40 above the floor, which leaves the feet their room.
# Each one has a name: leg.front_left, leg.front_right, leg.back_left, leg.back_right.
posts "leg" {
  left   = 0
  right  = width
  front  = 0
  back   = depth
  bottom = 40
  top    = height
}

# Four rails between the posts, level with their tops.
ring "top" {
  within = leg
  top    = leg.top
}

# Four more, low enough to rest a foot on.
ring "lower" {
  within = leg
  bottom = 180
}

# One bar across the middle of the top ring, under the board. It runs along Y,
# as both its front and its back are given; across, one place is enough.
member "middle" {
  front = top.front_rail.back
  back  = top.back_rail.front
  mid_x = width / 2
  top   = top.top
}

# A levelling foot in the tapped lower end of each post.
foot {
  under  = leg
  thread = "M8"
}
