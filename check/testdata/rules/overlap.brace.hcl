# A bar in the way of a brace from a post to a rail.
# case x=120: error bar, stay
# case x=400: silent
param "x" { value = 120 }
frame { profile = "30x30-8" }
member "post" {
  left   = 0
  front  = 0
  bottom = 0
  top    = 600
}
member "rail" {
  left   = 30
  right  = 600
  front  = 0
  bottom = 0
}
brace "stay" {
  from = { on = post, at = 315 }
  to   = { on = rail, at = 300 }
}
member "bar" {
  mid_x  = x
  front  = -100
  back   = 100
  bottom = 200
}
