# A gantry of 30 × 60 bars: rails lying, a beam standing on two posts.
frame { profile = "30x60-8" }
member "left" {
  left   = 0
  front  = 0
  back   = 800
  bottom = 60
}
member "right" {
  left   = 900
  front  = 0
  back   = 800
  bottom = 60
}
member "front" {
  left   = left.right
  right  = right.left
  front  = 100
  bottom = 60
  turn   = 90
}
member "back" {
  left   = left.right
  right  = right.left
  front  = 600
  bottom = 60
  turn   = 90
}
foot {
  under = [left, right]
  at    = [60, 740]
}
