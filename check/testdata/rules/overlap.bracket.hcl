# Two rails on one post, gap apart: the legs of 30 of both brackets lie in the gap.
# case gap=40: error lower, post, upper ~ bracket
# case gap=60: silent
param "gap" { value = 40 }
frame {
  profile = "30x30-8"
  joining = "angle-bracket"
}
member "post" {
  left   = 0
  front  = 0
  bottom = 0
  top    = 600
}
member "lower" {
  left   = 30
  right  = 400
  front  = 0
  bottom = 270 - gap / 2
}
member "upper" {
  left   = 30
  right  = 400
  front  = 0
  bottom = 300 + gap / 2
}
