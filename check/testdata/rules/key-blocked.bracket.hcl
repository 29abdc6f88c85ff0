# The screws of a bracket in a corner, with a bar h under the rail: short arms of 29 mm go in, long arms of 74 mm turn
# beside it.
# case h=200: silent
# case h=45: silent
# case h=10: note rail, post, under ~ a 4 mm key can't reach the screw M6 of rail and post: under is in its way, 26 mm of straight way are free, 29 mm are needed, 3 more
param "h" { value = 200 }
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
member "rail" {
  left   = post.right
  right  = 400
  front  = 0
  bottom = 300
}
member "under" {
  left   = post.right + 31
  front  = -200
  back   = 200
  top    = rail.bottom - h
}
