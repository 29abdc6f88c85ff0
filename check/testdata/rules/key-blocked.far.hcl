# A bar stands some millimetres before the post whose access hole the key enters. The socket's
# floor lies 26.2 mm behind that side, so that the short arm of a 5 mm key, 33 mm (ISO 2936:2014), reaches it.
# case gap=200: silent
# case gap=34: silent
# case gap=32: note rail, post, wall ~ 32 mm of straight way are free
# case gap=20: note rail, post, wall
# case gap=0: note rail, post, wall ~ 0 mm of straight way are free, 33 mm are needed
param "gap" { value = 200 }
frame { profile = "30x30-8" }
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
member "wall" {
  right  = post.left - gap
  front  = 0
  bottom = 0
  top    = 600
}
