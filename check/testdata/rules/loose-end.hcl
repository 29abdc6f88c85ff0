# An arm on a post, of some length toward a second post 400 mm away.
# case reach=300: warning arm ~ right end of arm touches nothing; the bar is held at 1 place and needs 2; far is 70 mm ahead
# case reach=369: warning arm ~ far is 1 mm ahead
# case reach=370: silent
param "reach" { value = 300 }
frame { profile = "30x30-8" }
ring "base" {
  left    = 0
  right   = 430
  front   = 0
  back    = 300
  bottom  = -30
}
member "post" {
  left   = 0
  front  = 0
  bottom = 0
  top    = 600
}
member "far" {
  left   = 400
  front  = 0
  bottom = 0
  top    = 600
}
member "tie" {
  left   = 30
  right  = 400
  front  = 0
  bottom = 500
}
member "arm" {
  left   = 30
  length = reach
  along  = "x"
  front  = 0
  bottom = 300
}
