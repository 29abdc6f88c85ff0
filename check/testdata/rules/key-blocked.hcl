# Two rails on one post from opposite sides; the second may sit dz higher, be bracketed, or be missing.
# case: silent
# case on=1: error left, post, right ~ a 5 mm key can't reach the screw M8 of right and post: left is in its way, 0 mm of straight way are free, 33 mm are needed, 33 more
# case on=1 dz=5: error left, post, right
# case on=1 dz=40: silent
# case on=1 bracket=1: note left, post, right ~ tighten it before left stands
param "on" { value = 0 }
param "dz" { value = 0 }
param "bracket" { value = 0 }
frame { profile = "30x30-8" }
member "post" {
  left   = 0
  front  = 0
  bottom = 0
  top    = 600
}
member "right" {
  left   = post.right
  right  = 400
  front  = 0
  bottom = 300
}
member "left" {
  left   = -400
  right  = post.left
  front  = on > 0 ? 0 : 200
  bottom = 300 + dz
}
joint {
  between = [left, post]
  with    = bracket > 0 ? "angle-bracket" : "end-screw"
}
