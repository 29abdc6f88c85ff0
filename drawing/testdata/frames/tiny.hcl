# A very small frame of the smallest bars, with one hole in a bar of 60.
frame {
  title   = "Tiny box"
  profile = "20x20-6"
}
posts "leg" {
  left   = 0
  right  = 100
  front  = 0
  back   = 100
  bottom = 0
  top    = 80
}
ring "low" {
  within = leg
  bottom = 0
}
ring "top" {
  within = leg
  top    = leg.top
}
drill "pin" {
  on       = low.front_rail
  face     = "top"
  from     = "left"
  distance = 15
  offset   = 2
  diameter = 2.5
  depth    = 6
}
