# A bar that stands alone, a post that stands on a foot and is held at its top, and a bar across two others.
# case alone=1: warning spare[0] ~ the left end of spare[0] touches nothing; the bar is held nowhere
# case alone=1: warning spare[0] ~ right end
# case alone=0: silent
# case alone=0 laid=1: warning over ~ left end of over touches nothing; the bar is held at 1 place
# case alone=0 laid=1: warning over ~ right end
# case alone=0 laid=2: silent
# case alone=0 short=5: warning post ~ the top end of post touches nothing; the bar is held at 1 place and needs 2; low is 5 mm ahead
param "alone" { value = 0 }
param "laid" { value = 2 }
param "short" { value = 0 }
frame { profile = "30x30-8" }
member "left" {
  front  = 0
  back   = 400
  left   = 0
  bottom = 100
}
member "right" {
  front  = 0
  back   = 400
  left   = 400
  bottom = 100
}
member "low" {
  left   = 30
  right  = 400
  mid_y  = 200
  bottom = 100
}
member "low2" {
  left   = 30
  right  = 400
  mid_y  = 300
  bottom = 100
}
# It lies on left, and on right too where laid is 2; its ends are free.
member "over" {
  left   = laid > 1 ? -50 : 380
  right  = 600
  mid_y  = 100
  bottom = 130
}
member "post" {
  mid_x  = 200
  mid_y  = 200
  bottom = 40
  top    = 100 - short
}
row "spare" {
  count  = 1
  left   = alone > 0 ? 1000 : 30
  right  = alone > 0 ? 1300 : 400
  bottom = 100
  first  = { mid_y = 40 }
  step   = 40
}
foot { under = post }
