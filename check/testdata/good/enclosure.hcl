# An enclosure with panels in the slots of two sides and a screwed lid.
frame { profile = "20x20-6" }
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
  bottom = 0
}
ring "top" {
  within = leg
  top    = leg.top
}
panel "left" {
  held_by   = [leg.front_left, leg.back_left, low.left_rail, top.left_rail]
  thickness = 4
  material  = "PMMA"
}
panel "back" {
  held_by   = [leg.back_left, leg.back_right, low.back_rail, top.back_rail]
  thickness = 4
}
panel "lid" {
  held_by   = top
  thickness = 6
  screwed   = true
}
