# Two rails on a post at right angles: equal heights cross in the empty core. Holes beside the core cross in metal.
# case dz=0: silent
# case dz=5: silent
# case dz=7.5: silent
# case dz=60: silent
# case dz=60 dh=5: error post ~ break into each other by 1 mm
# case dz=60 dh=6: warning post ~ leave a wall of 0 mm
# case dz=60 dh=7.5: silent
param "dz" { value = 0 }
param "dh" { value = 100 }
frame { profile = "30x30-8" }
member "post" {
  left   = 0
  front  = 0
  bottom = 0
  top    = 600
}
member "right" {
  left   = 30
  right  = 400
  front  = 0
  bottom = 400
}
member "back" {
  front  = 30
  back   = 400
  left   = 0
  bottom = 400 + dz
}
# The corners of the section are metal.
drill "one" {
  on       = post
  face     = "left"
  from     = "bottom"
  distance = 100
  offset   = 11
  diameter = 6
}
drill "two" {
  on       = post
  face     = "front"
  from     = "bottom"
  distance = 100 + dh
  offset   = 11
  diameter = 6
}
