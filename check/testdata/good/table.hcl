# A table: four posts on feet under a ring that lies on them, a second ring between the posts.
frame { profile = "30x30-8" }
posts "leg" {
  left   = 0
  right  = 1000
  front  = 0
  back   = 600
  bottom = 40
  top    = 700
}
ring "top" {
  left    = 0
  right   = 1000
  front   = 0
  back    = 600
  bottom  = leg.top
  corners = "pinwheel"
}
ring "low" {
  within = leg
  bottom = 150
}
foot { under = leg }
