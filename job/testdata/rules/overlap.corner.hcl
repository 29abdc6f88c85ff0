# A corner in the inside of post and rails, under the rails, and a bar under them: the corner's legs are 30 mm long. On top of the rails
# it stands in the way of a panel in their slots only with its ribs, which the panel's notches miss.
# case low=25: error post.front_left, ring.front_rail, ring.left_rail, under ~ corner-inside
# case low=15: silent
# case low=0: silent
param "low" { value = 0 }
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
  bottom = 70
}
member "under" {
  left   = post.front_left.right
  right  = post.front_right.left - 60
  front  = 0
  bottom = low
}
bracket "corner" {
  kind = "corner-inside"
  on   = [post.front_left, ring.front_rail, ring.left_rail]
  face = low == 0 ? "top" : "bottom"
}
panel "floor" {
  held_by   = ring
  thickness = 4
}
