# Bracket screws M6 through a leg of 5 mm into a slot 9 mm deep.
# case: silent
# case screw=14: silent
# case screw=16: warning rail, post ~ reaches 11 mm into the slot of rail, which is 9 mm deep: it meets the floor 2 mm before
# case screw=16: warning rail, post ~ slot of post
param "screw" { value = 12 }
frame {
  profile = "30x30-8"
  joining = "own"
}
joining "own" {
  base         = "angle-bracket"
  thread       = "M6"
  screw_length = screw
}
member "post" {
  left   = 0
  front  = 0
  bottom = 0
  top    = 600
}
member "rail" {
  left   = post.right
  right  = 400
  front  = 0
  bottom = 300
}
