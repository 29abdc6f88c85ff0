# Two bars side by side, b beginning x mm behind the front of a.
# case x=20: error a, b ~ mm³ within 30.0 × 10.0 × 30.0 mm
# case x=29: error a, b
# case x=30: silent
# case x=31: silent
param "x" { value = 20 }
frame { profile = "30x30-8" }
member "a" {
  left   = 0
  right  = 300
  front  = 0
  bottom = 0
}
member "b" {
  front  = x
  back   = 300
  left   = 0
  bottom = 0
}
