# A cube of 20 mm bars: two pinwheel rings and four posts between them.
frame { profile = "20x20-6" }
ring "floor" {
  left    = 0
  right   = 400
  front   = 0
  back    = 400
  bottom  = 0
  corners = "pinwheel"
}
posts "post" {
  left   = 0
  right  = 400
  front  = 0
  back   = 400
  bottom = floor.top
  top    = 380
}
ring "lid" {
  left    = 0
  right   = 400
  front   = 0
  back    = 400
  bottom  = post.top
  corners = "pinwheel"
}
