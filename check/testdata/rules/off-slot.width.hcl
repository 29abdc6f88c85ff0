# Bars of different slot widths, joined by end screws or by brackets.
# case: silent
# case small=1: error post, rail ~ passes the slot
# case small=1 bracket=1: warning post, rail ~ 6.2 and 10.2 mm wide
# case big=1: warning post, rail ~ does not pass the slot of post, 8.2 wide
# case closed=1: error post, rail ~ is closed
# case bracket=1: silent
param "small" { value = 0 }
param "big" { value = 0 }
param "closed" { value = 0 }
param "bracket" { value = 0 }
frame { joining = bracket > 0 ? "angle-bracket" : "end-screw" }
profile "shut" {
  cells = [1, 1]
  pitch = 30
  slot {
    opening = 8.2
    lip     = 2
    cavity  = 16.5
    depth   = 9
    chamfer = 3.5
  }
  core { bore = 6.8 }
  closed = ["right"]
}
member "post" {
  profile = small > 0 ? "40x40-10" : closed > 0 ? "shut" : "30x30-8"
  right   = 0
  mid_y   = 0
  bottom  = 0
  top     = 500
}
member "rail" {
  profile = small > 0 ? "20x20-6" : big > 0 ? "40x40-10" : "30x30-8"
  left    = 0
  right   = 400
  mid_y   = 0
  bottom  = 200
}
