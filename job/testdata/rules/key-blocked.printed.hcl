# A cover on the outside of a post over the access hole of a rail's screw at 215, or beside it; and a clip's screw, whose head a bar stands
# over at a distance.
# case at=215 gap=200: note post.front_left, rail ~ slot-cover
# case at=400 gap=200: silent
# case at=400 gap=60: silent
# case at=400 gap=20: note over, rail ~ panel-clip
param "at" { value = 400 }
param "gap" { value = 200 }
frame {
  profile = "30x30-8"
}
posts "post" {
  left   = 0
  right  = 500
  front  = 0
  back   = 200
  bottom = 0
  top    = 600
}
member "rail" {
  left   = post.front_left.right
  right  = post.front_right.left
  front  = 0
  bottom = 200
}
member "over" {
  left   = post.front_left.right + 100
  right  = post.front_right.left - 100
  front  = 0
  bottom = rail.top + gap
}
bracket "cover" {
  kind = "slot-cover"
  on   = post.front_left
  face = "left"
  at   = at
  set  = { length = 80 }
}
bracket "clip" {
  kind   = "panel-clip"
  on     = rail
  face   = "top"
  toward = "back"
}
