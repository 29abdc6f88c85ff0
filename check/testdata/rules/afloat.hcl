# A ring and bars beside it.
# case: silent
# case dx=1: error bar ~ bar is joined to nothing else
# case dx=100: error bar
# case pair=1: error one, two ~ one and 1 more are joined to nothing
# case none=1: error bar ~ 0 joints, 1 is needed
# case travel=1: silent
# case brace=1: silent
# case brace=2: error stay
param "dx" { value = 0 }
param "pair" { value = 0 }
param "none" { value = 0 }
param "travel" { value = 0 }
param "brace" { value = 1 }
frame { profile = "30x30-8" }
ring "ring" {
  left   = 0
  right  = 600
  front  = 0
  back   = 400
  bottom = 0
}
member "bar" {
  front  = ring.front_rail.back + dx
  back   = ring.back_rail.front - dx
  mid_x  = 300
  bottom = 0
}
joint {
  on   = bar
  with = none > 0 ? "none" : "end-screw"
}
# Joined to each other, and to the ring where pair is 0.
member "one" {
  left   = 100
  right  = 280
  mid_y  = 200
  bottom = pair > 0 ? 100 : 30
}
member "two" {
  mid_x  = 200
  front  = 0
  back   = one.front
  bottom = one.bottom
}
# A carriage that floats by right.
row "wagon" {
  count  = 1
  left   = 450
  right  = 500
  bottom = 200
  first  = { mid_y = 200 }
  step   = 40
}
group "wagon_way" {
  members = wagon
  travel  = { along = "z", from = 0, to = 10 * travel }
}
member "post" {
  left   = 0
  front  = 0
  bottom = 30
  top    = 500
}
brace "stay" {
  from    = { on = post, at = 300 }
  to      = { on = ring.front_rail, at = 300 }
  joining = brace > 1 ? "none" : "plate"
}
