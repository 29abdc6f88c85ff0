# A corner in the inside of post and rails, under the rails: its wings are 23 mm long. A clip of 10 mm sits on the post d mm under the rails. The
# corner's ribs stand in slots in which a panel lies too, but its notches miss them.
# case d=20: error post.front_left, ring.front_rail, ring.left_rail ~ corner-inside
# case d=26: error post.front_left, ring.front_rail, ring.left_rail ~ corner-inside
# case d=30: silent
param "d" { value = 60 }
frame {
  profile = "30x30-8"
}
posts "post" {
  left   = 0
  right  = 400
  front  = 0
  back   = 300
  bottom = 0
  top    = 400
}
ring "ring" {
  within = post
  bottom = 170
}
bracket "corner" {
  kind = "corner-inside"
  on   = [post.front_left, ring.front_rail, ring.left_rail]
  face = "bottom"
}
bracket "clip" {
  kind = "cable-clip"
  on   = post.front_left
  face = "right"
  at   = ring.bottom - d
}
panel "floor" {
  held_by   = ring
  thickness = 4
}
