# A hot-wire cutter for blocks of foam: a tall frame of four posts and two
# rings, a beam across the middle that carries the table, and a beam that moves
# up and down behind the front posts and holds the wire.
#
# X runs left to right, Y front to back, Z up. Everything is in millimetres.

param "width" {
  value = 900
  min   = 500
  max   = 1800
  note  = "outside, left to right"
}
param "depth" {
  value = 700
  min   = 400
  max   = 1400
  note  = "outside, front to back"
}
param "height" {
  value = 1150
  min   = 600
  max   = 1900
  note  = "floor to the top of the posts"
}
param "wire_z" {
  value = 420
  min   = 160
  max   = 1090
  note  = "height of the wire beam as it is drawn"
}

# The wire beam keeps this distance to everything that stands still.
let "clear" { value = 10 }

frame {
  title     = "Hot-wire foam cutter"
  reference = "FC-01"
  profile   = "30x30-8"   # for every bar that names none
  joining   = "end-screw" # for every joint that names none
}

# The front posts reach down to the feet in their ends. The back posts stop at
# the underside of the base ring, whose back rail stands on feet of its own.
posts "leg" {
  left    = 0
  right   = width
  front   = 0
  back    = depth
  bottom  = 40
  bottoms = { back_left = base_z, back_right = base_z }
  top     = height
}

let "base_z" { value = 90 }

# Four rails between the posts.
ring "base" {
  within = leg
  bottom = base_z
}

# Four rails on top of the posts. In a pinwheel each rail's end butts the side
# of the next, so that opposite rails are the same part.
ring "crown" {
  left    = 0
  right   = width
  front   = 0
  back    = depth
  bottom  = leg.top
  corners = "pinwheel"
}

# The middle beam, from the left to the right rail of the base.
member "table_beam" {
  left   = base.left_rail.right
  right  = base.right_rail.left
  mid_y  = depth / 2
  bottom = base.bottom
}

# The wire beam runs behind the front posts and touches nothing: its carriages
# are not drawn.
member "wire_beam" {
  left  = leg.front_left.right + clear
  right = leg.front_right.left - clear
  front = leg.front_left.back + clear
  mid_z = wire_z
}

# It moves between the base and the crown; from and to count from where it is drawn.
group "wire" {
  members    = [wire_beam]
  travel     = { along = "z", from = base.top + clear + 15 - wire_z, to = crown.bottom - clear - 15 - wire_z }
  kg         = 1.8 # wire, tensioner and carriages
  carried_by = [leg.front_left, leg.front_right]
}

# Two feet are screwed into the tapped ends of the front posts …
foot {
  under  = [leg.front_left, leg.front_right]
  thread = "M8"
  height = 40
}

# … and two sit on slot plates under the back rail.
foot {
  under  = base.back_rail
  at     = [60, base.back_rail.length - 60] # from the rail's left end
  on     = "slot-plate"
  thread = "M8"
  height = 90
}

# Printed parts: caps for the wire beam's ends, clips for the wire's cable, and
# for the builder a jig to drill the posts, and two gauges that hold the base rails
# at their height over the ends of the front posts.
bracket "left cap" {
  kind = "end-cap"
  on   = wire_beam
  end  = "left"
}
bracket "right cap" {
  kind = "end-cap"
  on   = wire_beam
  end  = "right"
}
bracket "cable clips" {
  kind = "cable-clip"
  on   = leg.back_left
  face = "left"
  at   = [150, leg.back_left.length / 2, leg.back_left.length - 150] # from the post's lower end
  set  = { cable = 5 }
}
bracket "post jig" {
  kind = "drill-jig"
  on   = leg
}
bracket "rail gauge" {
  kind     = "spacer"
  on       = leg.front_left
  quantity = 2
  set      = { height = base_z - 40 }
}
