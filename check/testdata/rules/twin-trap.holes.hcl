# A bar butts a, and another butts b, or not; or both bars have two blind holes on adjacent sides, of which one bar's
# second looks up or down.
# case: silent
# case on=1: note a, b ~ differ by one hole ⌀7 at
# case on=1 off=0: silent
# case mirror=1: note a, b ~ are mirror images
# case mirror=1 at=250: note a, b ~ are mirror images
# case mirror=1 at=150: silent
param "on" { value = 0 }
param "off" { value = 30 }
param "mirror" { value = 0 }
param "at" { value = 300 }
frame { profile = "30x30-8" }
member "a" {
  left   = 0
  right  = 400
  front  = 0
  bottom = 0
}
member "b" {
  left   = 0
  right  = 400
  front  = 200
  bottom = 0
}
member "on_a" {
  mid_x  = 200
  back   = a.front
  front  = -100
  bottom = on > 0 ? 0 : 100
}
member "on_b" {
  mid_x  = 200
  front  = b.back
  back   = 400
  bottom = off
}
drill "front" {
  on       = [a, b]
  face     = "front"
  from     = "left"
  distance = 150
  diameter = 6
  depth    = 12
}
drill "a_top" {
  on       = a
  face     = "top"
  from     = "left"
  distance = at
  diameter = 6
  depth    = 12
}
drill "b_top" {
  on       = b
  face     = mirror > 0 ? "bottom" : "top"
  from     = "left"
  distance = at
  diameter = 6
  depth    = 12
}
