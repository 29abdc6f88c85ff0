# A stand whose long rails are held by through screws and whose short ones by end screws, with a cable hole in one rail.
frame { profile = "40x40-10" }
posts "leg" {
  left   = 0
  right  = 700
  front  = 0
  back   = 500
  bottom = 60
  top    = 900
}
ring "top" {
  within = leg
  top    = leg.top - 20
}
ring "low" {
  within = leg
  bottom = 200
}
joint {
  on   = [top.front_rail, top.back_rail, low.front_rail, low.back_rail]
  with = "through-screw"
}
drill "cable" {
  on       = low.front_rail
  face     = "front"
  from     = "left"
  distance = 300
  diameter = 9
}
foot { under = leg }
