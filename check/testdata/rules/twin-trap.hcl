# Two bars of nearly one length.
# case d=0: silent
# case d=1: warning a, b ~ 1 mm apart, 2 mm are needed to see it
# case d=2: warning a, b
# case d=2.5: silent
# case d=-0.6: warning a, b
param "d" { value = 0 }
frame { profile = "30x30-8" }
member "a" {
  left   = 0
  right  = 400
  front  = 0
  bottom = 0
}
member "b" {
  left   = 0
  right  = 400 + d
  front  = 200
  bottom = 0
}
