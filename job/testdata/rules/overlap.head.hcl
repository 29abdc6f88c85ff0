# A clip beside a bought bracket of 30 mm: they stand x mm above the shelf's top.
# case x=10: error post.front_left, shelf ~ bracket
# case x=20: error post.front_left, shelf ~ bracket
# case x=45: silent
param "x" { value = 45 }
frame {
  profile = "30x30-8"
}
posts "post" {
  left   = 0
  right  = 400
  front  = 0
  back   = 200
  bottom = 0
  top    = 600
}
member "shelf" {
  left   = post.front_left.right
  right  = post.front_right.left
  front  = 0
  bottom = 200
}
joint {
  between = [shelf, post]
  with    = "angle-bracket"
}
bracket "clip" {
  kind = "cable-clip"
  on   = post.front_left
  face = "right"
  at   = shelf.top + x
}
