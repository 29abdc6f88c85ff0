# Bars of the workshop's own section, two faces of which are closed.
profile "house" {
  pitch         = 36
  corner_radius = 2
  slot {
    opening = 8.4
    lip     = 2.6
    cavity  = 17
    depth   = 10.5
    chamfer = 3
  }
  core {
    bore = 6.8
  }
  closed = ["left", "top"]
}
frame {
  title        = "Closed faces"
  profile      = "house"
  joining_else = "angle-bracket"
}
posts "leg" {
  left   = 0
  right  = 420
  front  = 0
  back   = 360
  bottom = 40
  top    = 500
}
ring "top" {
  within = leg
  top    = leg.top
}
drill "lock" {
  on       = leg.front_left
  face     = "left"
  from     = "top"
  distance = 88
  diameter = 5
  depth    = 3
}
drill "hinge" {
  on       = leg.back_right
  face     = "right"
  from     = "bottom"
  distance = 123.4
  offset   = 8
  diameter = 4.2
}
foot {
  under = leg
}
