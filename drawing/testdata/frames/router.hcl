# A router table of heavy bars: two long beams, cross bars, a gantry on two columns, motor plates' holes.
frame {
  title     = "Router"
  reference = "RT-80"
  profile   = "40x80-10"
  units     = "mm"
}
title_block {
  owner    = "Workshop"
  creator  = "A. Maker"
  approver = "B. Checker"
  date     = "2026-03-01"
}
member "left_beam" {
  front  = 0
  back   = 1200
  left   = 0
  bottom = 100
}
member "right_beam" {
  front  = 0
  back   = 1200
  right  = 900
  bottom = 100
}
row "cross" {
  left   = left_beam.right
  right  = right_beam.left
  bottom = 100
  count  = 4
  first  = { front = 0 }
  last   = { back = 1200 }
}
member "left_column" {
  mid_x  = left_beam.mid_x
  mid_y  = 700
  bottom = left_beam.top
  top    = 560
  turn   = 90
}
member "right_column" {
  mid_x  = right_beam.mid_x
  mid_y  = 700
  bottom = right_beam.top
  top    = 560
  turn   = 90
}
member "gantry" {
  left   = 0
  right  = 900
  mid_y  = 700
  bottom = left_column.top
  turn   = 90
}
drill "motor" {
  on          = gantry
  face        = "front"
  from        = "left"
  distance    = 62.5
  offset      = 12.5
  diameter    = 6.6
  counterbore = { diameter = 11, depth = 6.8 }
}
drill "motor2" {
  on          = gantry
  face        = "front"
  from        = "left"
  distance    = 109.6
  offset      = -12.5
  diameter    = 6.6
  counterbore = { diameter = 11, depth = 6.8 }
}
drill "switch" {
  on       = gantry
  face     = "top"
  from     = "right"
  distance = 85
  offset   = 7
  tap      = "M4"
  depth    = 8
}
drill "rail" {
  on       = [left_beam, right_beam]
  face     = "top"
  from     = "front"
  distance = 333.3
  tap      = "M5"
  depth    = 10
  offset   = 15
}
support {
  on = left_beam
  at = [0, 1200]
}
