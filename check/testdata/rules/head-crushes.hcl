# A button head M8 has 13.57 mm at least (ISO 7380-1) and bears on two segments beside a slot 8.2 wide: 40.6 mm². 0.8 of
# 18.13 kN (VDI 2230-1, class 8.8, friction 0.14) press 358 MPa; EN AW-6060 T66 bears 150 MPa.
# case: note post ~ press on 40.6 mm² each: 358 MPa
# case opening=11: warning post ~ of preload are left
# case opening=13: warning post
# case none=1: silent
# case bracket=1: silent
# case through=1: note post ~ in counterbores of post press on
# case plate=1: silent
param "opening" { value = 8.2 }
param "none" { value = 0 }
param "bracket" { value = 0 }
param "through" { value = 0 }
param "plate" { value = 0 }
frame {
  profile = "wide"
  joining = none > 0 ? "none" : bracket > 0 ? "angle-bracket" : through > 0 ? "through-screw" : plate > 0 ? "plate" : "end-screw"
}
profile "wide" {
  pitch = 30
  slot {
    opening = opening
    lip     = 2
    cavity  = 16.5
    depth   = 9
    chamfer = 3.5
  }
  core { bore = 6.8 }
}
member "post" {
  left   = 0
  front  = 0
  bottom = 0
  top    = 600
}
member "rail" {
  left   = post.right
  right  = 400
  front  = 0
  bottom = 300
}
