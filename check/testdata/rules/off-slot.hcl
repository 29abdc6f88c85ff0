# A rail butting a post, moved off the post's middle by some millimetres.
# case off=0: silent
# case off=0.04: silent
# case off=5: error post, rail ~ lies 5.00 mm off the nearest slot centre line
# case off=-3: error post, rail ~ 3.00 mm off
# case off=5 with=1: silent
# case off=5 with=2: error post, rail ~ no other joining serves
param "off" { value = 0 }
param "with" { value = 0 }
frame {
  profile      = "30x30-8"
  joining_else = with > 1 ? "none" : "angle-bracket"
}
member "post" {
  left   = 0
  front  = 0
  bottom = 0
  top    = 500
}
member "rail" {
  left   = post.right
  right  = 400
  mid_y  = 15 + off
  bottom = 200
}
joint {
  between = [post, rail]
  with    = with == 1 ? "angle-bracket" : "end-screw"
}
