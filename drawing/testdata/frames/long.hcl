# A bench with bars of nearly six metres and many cross bars, unequally spaced.
frame {
  title        = "Long bench"
  profile      = "40x80-10"
  joining_else = "angle-bracket"
}
ring "bed" {
  left   = 0
  right  = 5800
  front  = 0
  back   = 700
  bottom = 800
}
row "cross" {
  front  = bed.front_rail.back
  back   = bed.back_rail.front
  bottom = bed.bottom
  count  = 11
  first  = { mid_x = 500 }
  last   = { mid_x = 5300 }
}
member "odd" {
  front  = bed.front_rail.back
  back   = bed.back_rail.front
  bottom = bed.bottom
  mid_x  = 611.5
}
posts "leg" {
  left   = 0
  right  = 5800
  front  = 0
  back   = 700
  bottom = 0
  top    = bed.bottom
}
