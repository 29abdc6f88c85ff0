# Two rails end on one post side, dz apart. Heads M8 have 14 mm; slot nuts count 16.5 mm, and sit 15 mm before the rail
# (inward), so that they meet when the rails stand less than 46.5 mm apart.
# case: silent
# case dz=30: silent
# case bracket=1: silent
# case dz=65 bracket=1: error post, lower, upper ~ slot nut M6 in post
# case dz=74 bracket=1: error post, lower, upper ~ 14 mm apart, 16.5 mm are needed, 2.5 more
# case dz=76 bracket=1: error post, lower, upper
# case dz=77 bracket=1: silent
# case dz=80 bracket=1: silent
# case drill=1: silent
param "dz" { value = 200 }
param "bracket" { value = 0 }
param "drill" { value = 0 }
frame {
  profile = "30x30-8"
  joining = bracket > 0 ? "angle-bracket" : "end-screw"
}
member "post" {
  left   = 0
  front  = 0
  bottom = 0
  top    = 600
}
member "lower" {
  left   = post.right
  right  = 400
  front  = 0
  bottom = 285 - dz / 2
}
member "upper" {
  left   = post.right
  right  = 400
  front  = 0
  bottom = 285 + dz / 2
}
