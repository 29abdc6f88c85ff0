# A frame whose rails lie on the posts' sides and are screwed through: counterbores down to the slot floor.
frame {
  title        = "Screwed through"
  profile      = "30x30-8"
  joining      = "through-screw"
  joining_else = "angle-bracket"
  projection   = "third"
}
posts "leg" {
  left   = 0
  right  = 500
  front  = 0
  back   = 400
  bottom = 0
  top    = 600
}
ring "low" {
  within = leg
  bottom = 60
}
ring "top" {
  left    = 0
  right   = 500
  front   = 0
  back    = 400
  bottom  = leg.top
  corners = "x-through"
}
member "shelf" {
  left   = low.left_rail.right
  right  = low.right_rail.left
  mid_y  = 200
  bottom = low.bottom
}
