# Upright rings in both planes, as of a gate and a sign.
frame {
  title        = "Upright rings"
  profile      = "30x60-8"
  joining_else = "plate"
  projection   = "third"
  units        = "inch"
}
ring "gate" {
  plane  = "xz"
  left   = 0
  right  = 1000
  bottom = 0
  top    = 1400
  front  = 0
}
ring "side" {
  plane   = "yz"
  front   = gate.back
  back    = gate.back + 600
  bottom  = 0
  top     = 700
  left    = 0
  corners = "y-through"
}
member "bar" {
  left   = gate.left_rail.right
  right  = gate.right_rail.left
  mid_z  = 700
  front  = gate.front
  turn   = 90
}
