# Two bars butt one rail from the same side, dx apart, by pairs of holes of ⌀7: the wall is dx - 7. One of them may be
# drilled instead, so that the bars do not share space.
# case dx=8: warning rail ~ leave a wall of 1 mm; 1.5 mm are needed, 0.5 more
# case dx=8.4: warning rail
# case dx=8.5: silent
# case dx=5: error rail ~ break into each other by 2 mm
# case dx=0: silent
# case dx=2 offset=7.6: warning rail
# case dx=0 offset=9: silent
param "dx" { value = 20 }
param "offset" { value = 0 }
frame { profile = "30x30-8" }
member "rail" {
  left   = 0
  right  = 400
  front  = 0
  bottom = 200
}
member "bar" {
  mid_x  = 200
  front  = 30
  back   = 300
  bottom = 200
}
drill "second" {
  on       = rail
  face     = "front"
  from     = "left"
  distance = 200 + dx
  offset   = offset
  diameter = 7
}
