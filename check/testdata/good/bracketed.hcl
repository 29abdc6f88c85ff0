# Everything on angle brackets: a rack of two bays, whose middle posts have rails on both sides.
frame {
  profile = "30x30-8"
  joining = "angle-bracket"
}
posts "leg" {
  left   = 0
  right  = 600
  front  = 0
  back   = 400
  bottom = 40
  top    = 1000
}
member "far_front" {
  right  = 1170
  front  = 0
  bottom = 40
  top    = 1000
}
member "far_back" {
  right  = 1170
  back   = 400
  bottom = 40
  top    = 1000
}
ring "low" {
  within = leg
  bottom = 200
}
ring "top" {
  within = leg
  bottom = 800
}
row "front" {
  count  = 2
  left   = leg.front_right.right
  right  = far_front.left
  front  = 0
  first  = { bottom = 200 }
  step   = 600
}
row "back" {
  count  = 2
  left   = leg.back_right.right
  right  = far_back.left
  back   = 400
  first  = { bottom = 200 }
  step   = 600
}
member "end_low" {
  front  = far_front.back
  back   = far_back.front
  right  = 1170
  bottom = 300
}
foot { under = [leg, far_front, far_back] }
