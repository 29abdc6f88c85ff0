# A rack with four boards, each on a ring with two bars under it; through the door of the workshop.
frame { profile = "30x30-8" }
posts "leg" {
  left   = 0
  right  = 900
  front  = 0
  back   = 450
  bottom = 45
  top    = 1800
}
ring "one" {
  within = leg
  bottom = 150
}
ring "two" {
  within = leg
  bottom = 700
}
ring "three" {
  within = leg
  bottom = 1250
}
ring "four" {
  within = leg
  top    = leg.top
}
row "under" {
  count   = 2
  front   = one.front_rail.back
  back    = one.back_rail.front
  bottom  = one.bottom
  between = [leg.front_left.right, leg.front_right.left]
}
foot { under = leg }
doorway "workshop" {
  width  = 820
  height = 1980
}
stock "30x30-8" {
  bar  = [{ length = 6000, price = 40 }]
  trim = 20
}
