# A frame of more than sixty bars: three storeys of posts, rings and rows.
frame {
  title   = "Test hall rig"
  profile = "40x40-10"
}
posts "leg" {
  left   = 0
  right  = 2400
  front  = 0
  back   = 1200
  bottom = 40
  top    = 1900
}
ring "a" {
  within = leg
  bottom = 120
}
ring "b" {
  within = leg
  bottom = 900
}
ring "c" {
  within = leg
  top    = leg.top
}
row "slat_a" {
  front  = a.front_rail.back
  back   = a.back_rail.front
  bottom = a.bottom
  count  = 17
  first  = { mid_x = 140 }
  last   = { mid_x = 2260 }
}
row "slat_b" {
  front  = b.front_rail.back
  back   = b.back_rail.front
  bottom = b.bottom
  count  = 16
  first  = { mid_x = 140 }
  last   = { mid_x = 2260 }
}
row "slat_c" {
  front  = c.front_rail.back
  back   = c.back_rail.front
  bottom = c.bottom
  count  = 14
  first  = { mid_x = 140 }
  last   = { mid_x = 2260 }
}
foot {
  under  = leg
  thread = "M10"
}
