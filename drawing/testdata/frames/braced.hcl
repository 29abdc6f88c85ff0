# A stand that braces keep square: one at 45 degrees, one steeper, one in the back with two holes of its own.
frame {
  title   = "Braced stand"
  profile = "30x30-8"
}
posts "leg" {
  left   = 0
  right  = 800
  front  = 0
  back   = 500
  bottom = 40
  top    = 900
}
ring "top" {
  within = leg
  top    = leg.top
}
ring "low" {
  within = leg
  bottom = 120
}
brace "side" {
  from  = { on = leg.front_left, at = 420 }
  to    = { on = low.left_rail }
  angle = 45
}
brace "steep" {
  from = { on = leg.back_right, at = 700 }
  to   = { on = low.back_rail, at = 500 }
}
brace "front" {
  from    = { on = leg.front_right, at = 640 }
  to      = { on = top.front_rail, at = 420 }
  profile = "30x60-8"
}
drill "clip" {
  on       = leg.back_left
  face     = "left"
  from     = "bottom"
  distance = 411
  offset   = -3.5
  tap      = "M4"
  depth    = 6
}
foot {
  under  = leg
  thread = "M8"
}
