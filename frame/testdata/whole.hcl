# Every block of the language once, on a hot-wire cutter.
# X left to right, Y front to back, Z up; millimetres.
param "width"  { value = 900 }
param "depth"  { value = 700 }
param "height" { value = 1150 }
param "wire_z" {
  value = 420
  min   = 200
  max   = 900
  note  = "height of the wire beam"
}
let "inside" { value = width - 60 }

frame {
  title        = "Hot-wire foam cutter"
  reference    = "HW-1"
  revision     = "B"
  profile      = "30x30-8"
  joining      = "end-screw"
  joining_else = "angle-bracket"
}

posts "leg" {
  left    = 0
  right   = width
  front   = 0
  back    = depth
  bottom  = 40
  bottoms = { back_left = 90, back_right = 90 }
  top     = height
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

member "wire_beam" {
  left  = leg.front_left.right
  right = leg.front_right.left
  front = leg.front_left.front
  mid_z = wire_z
}

joint {
  between = [wire_beam, leg.front_left]
  with    = "angle-bracket"
}

joining "long-screw" {
  base         = "end-screw"
  screw_length = 25
  tap_depth    = 27
}

joint {
  on   = base.left_rail
  with = "long-screw"
}

foot {
  under  = [leg.front_left, leg.front_right]
  thread = "M8"
  height = 40
}
foot {
  under = base.back_rail
  at    = [60, 780]
  on    = "slot-plate"
}

row "slat" {
  front  = base.front_rail.back
  back   = base.back_rail.front
  bottom = base.bottom
  count  = 6
  first  = { mid_x = 120 }
  last   = { mid_x = width - 120 }
}

ring "bed" {
  left    = 60
  right   = width - 60
  front   = 60
  back    = depth - 60
  bottom  = 300
  corners = "pinwheel"
}
group "moving_bed" {
  members    = [bed]
  travel     = { along = "z", from = -150, to = 500 }
  kg         = 3.5
  carried_by = leg
}

brace "stay" {
  from = { on = leg.front_left, at = 700 }
  to   = { on = base.left_rail, at = 500 }
}

mass "heads" {
  kg     = 5
  on     = wire_beam
  path   = [60, 780]
  offset = [0, -45, 30]
}
panel "back" {
  held_by   = [leg.back_left, leg.back_right, base.back_rail, crown.back_rail]
  thickness = 4
  material  = "PMMA"
}
doorway "workshop" {
  width  = 820
  height = 1980
}
doorway "landing" {
  corridor = [900, 1050]
  height   = 2300
}
stock "30x30-8" {
  bar    = [{ length = 6000, price = 41.50 }, { length = 3000, price = 22.80 }]
  offcut = [1240, 780, 655]
  kerf   = 3
  trim   = 20
}
profile "mine" {
  cells         = [1, 1]
  pitch         = 30
  corner_radius = 1.5
  slot {
    opening = 8.2
    lip     = 2.0
    cavity  = 16.5
    depth   = 9.0
    chamfer = 3.5
  }
  core { bore = 6.8 }
  closed = []
  alloy  = "EN AW-6060 T66"
}
drill "cable" {
  on       = leg.back_left
  face     = "left"
  from     = "bottom"
  distance = 200
  diameter = 12
  depth    = 9
}
support {
  on = base.front_rail
  at = 420
}
title_block {
  creator = "the workshop"
  date    = "2024-05-01"
}
