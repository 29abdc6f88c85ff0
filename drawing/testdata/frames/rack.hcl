# A shelf rack: four levels, slats on two of them, feet in the posts' ends.
frame {
  title     = "Shelf rack"
  reference = "R-10"
  profile   = "40x40-10"
}
posts "leg" {
  left   = 0
  right  = 1600
  front  = 0
  back   = 500
  bottom = 50
  top    = 2000
}
ring "low" {
  within = leg
  bottom = 150
}
ring "middle" {
  within = leg
  bottom = 750
}
ring "high" {
  within = leg
  bottom = 1350
}
ring "top" {
  within = leg
  top    = leg.top
}
row "slat" {
  front  = low.front_rail.back
  back   = low.back_rail.front
  bottom = low.bottom
  count  = 8
  first  = { mid_x = 120 }
  last   = { mid_x = 1480 }
}
row "board" {
  front  = middle.front_rail.back
  back   = middle.back_rail.front
  bottom = middle.bottom
  count  = 5
  first  = { mid_x = 220 }
  last   = { mid_x = 1380 }
}
foot {
  under  = leg
  thread = "M10"
}
doorway "store" {
  width  = 900
  height = 2050
}
