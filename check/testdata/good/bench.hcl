# A heavy bench of 40 mm bars with a doubled top rail at the front.
frame { profile = "40x40-10" }
posts "leg" {
  left   = 0
  right  = 1600
  front  = 0
  back   = 700
  bottom = 60
  top    = 850
}
ring "top" {
  within = leg
  top    = leg.top
}
ring "low" {
  within = leg
  bottom = 200
}
row "cross" {
  count  = 3
  front  = top.front_rail.back
  back   = top.back_rail.front
  top    = top.top
  first  = { mid_x = 400 }
  last   = { mid_x = 1200 }
}
foot { under = leg }
