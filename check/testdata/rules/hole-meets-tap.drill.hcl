# A hole drilled across a tapped post end, through or blind, on the middle or beside the core.
# case: silent
# case z=15: warning post ~ drilled hole ⌀6 15 mm from the bottom end
# case z=15 depth=8: silent
# case z=15 depth=12: warning post
# case z=15 offset=8: silent
# case z=24.9: warning post
param "z" { value = 60 }
param "depth" { value = 30 }
param "offset" { value = 0 }
frame { profile = "30x30-8" }
member "post" {
  left   = 0
  front  = 0
  bottom = 40
  top    = 500
}
foot { under = post }
drill "pin" {
  on       = post
  face     = "front"
  from     = "bottom"
  distance = z
  offset   = offset
  diameter = 6
  depth    = depth
}
