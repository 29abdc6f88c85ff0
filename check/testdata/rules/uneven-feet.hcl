# Four posts; the height of their feet follows from the floor. A foot M8 needs 12 for the pad, 6.8 for the nut
# (ISO 4032) and 10 of adjustment.
# case: silent
# case given=40: silent
# case given=45: warning leg.front_left ~ given as 45 mm high; from the floor to the bar are 40 mm, 5 mm off
# case given=30: warning leg.front_left ~ 10 mm off
# case given=60: error leg.front_left ~ 20 mm off; a stud takes up 10 mm
# case bottom=29: silent
# case bottom=28: warning leg.front_left ~ need 28.8 mm, 0.8 more
# case bottom=28: warning leg.front_right
# case bottom=28: warning leg.back_left
# case bottom=28: warning leg.back_right
param "given" { value = 0 }
param "bottom" { value = 40 }
frame { profile = "30x30-8" }
posts "leg" {
  left   = 0
  right  = 600
  front  = 0
  back   = 400
  bottom = bottom
  top    = 500
}
ring "top" {
  within = leg
  top    = leg.top
}
foot {
  under  = leg.front_left
  height = given > 0 ? given : bottom
}
foot { under = [leg.front_right, leg.back_left, leg.back_right] }
