# Through screws M8 of two rails on one post at right angles, dz apart: clearance holes of ⌀9 (ISO 273).
# case dz=0: error post ~ meet inside the bar: they lie 0 mm apart along it, 9 mm are needed
# case dz=8: error post
# case dz=40: silent
# case dz=0 mixed=1: note post ~ bars the key's way
param "dz" { value = 0 }
param "mixed" { value = 0 }
frame {
  profile = "30x30-8"
  joining = "through-screw"
}
member "post" {
  left   = 0
  front  = 0
  bottom = 0
  top    = 600
}
member "right" {
  left   = 30
  right  = 400
  front  = 0
  bottom = 400
}
member "back" {
  front   = 30
  back    = 400
  left    = 0
  bottom  = 400 + dz
  joining = mixed > 0 ? "end-screw" : "through-screw"
}
