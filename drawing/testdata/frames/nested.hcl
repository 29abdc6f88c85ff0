# Rings in rings: pinwheels of both hands, and a bed that hangs between.
frame {
  title        = "Nested rings"
  profile      = "20x20-6"
  joining_else = "angle-bracket"
}
ring "outer" {
  left    = 0
  right   = 640
  front   = 0
  back    = 480
  bottom  = 0
  corners = "pinwheel"
}
ring "inner" {
  left    = 120
  right   = 520
  front   = 20
  back    = 460
  bottom  = 0
  corners = "y-through"
}
ring "heart" {
  left    = 140
  right   = 500
  front   = 140
  back    = 340
  bottom  = 0
  corners = "pinwheel"
  hand    = "reverse"
}
member "tie" {
  left   = outer.left_rail.right
  right  = inner.left_rail.left
  mid_y  = 240
  bottom = 0
}
