# One bar with machining of every kind on all four faces, and its mirror image.
frame {
  title   = "Drilled bars"
  profile = "40x40-10"
}
member "bar" {
  along  = "x"
  left   = 0
  length = 612.5
  front  = 0
  bottom = 0
}
member "image" {
  along  = "x"
  left   = 0
  length = 612.5
  front  = 200
  bottom = 0
}
member "rest" {
  front  = bar.back
  back   = image.front
  mid_x  = 300
  bottom = 0
}
drill "a" {
  on          = [bar, image]
  face        = "top"
  from        = "left"
  distance    = 41.3
  offset      = 9
  diameter    = 5.5
  counterbore = { diameter = 10, depth = 5.7 }
}
drill "b" {
  on       = bar
  face     = "top"
  from     = "left"
  distance = 120
  offset   = -11
  tap      = "M5"
  depth    = 12
}
drill "b2" {
  on       = image
  face     = "bottom"
  from     = "left"
  distance = 120
  offset   = -11
  tap      = "M5"
  depth    = 12
}
drill "c" {
  on       = bar
  face     = "front"
  from     = "right"
  distance = 77
  diameter = 8.5
  depth    = 14
}
drill "d" {
  on       = bar
  face     = "bottom"
  from     = "right"
  distance = 200.5
  offset   = 6.5
  diameter = 3.3
  depth    = 9
}
drill "e" {
  on       = [bar, image]
  face     = "back"
  from     = "left"
  distance = 450
  tap      = "M6"
}
drill "f" {
  on       = bar
  face     = "back"
  from     = "left"
  distance = 90
  diameter = 7
}
