# A rail tapped M8 × 22 at its left end, on a post's slot; a bar butts the rail x mm from that end. The hole has ⌀7, so
# that its edge lies 3.5 mm nearer. The screw reaches 18 mm into the end.
# case x=15: error rail ~ its edge lies 11.5 mm from the end, 22 mm are needed, 10.5 more
# case x=21: error rail
# case x=24: warning rail ~ meets the thread in its tapped end M8 × 22: its edge lies 20.5 mm
# case x=25.4: warning rail ~ 0.1 more
# case x=25.5: silent
# case x=60: silent
# case x=15 bracket=1: silent
# case x=15 short=1: warning rail
# case x=15 short=2: silent
param "x" { value = 60 }
param "bracket" { value = 0 }
param "short" { value = 0 }
frame { profile = "30x30-8" }
joining "end" {
  base         = "end-screw"
  thread       = "M8"
  screw_length = short > 0 ? 12 : 20
  tap_depth    = short > 1 ? 11 : 22
}
member "post" {
  right  = 0
  front  = 0
  bottom = 0
  top    = 500
}
member "rail" {
  left   = 0
  right  = 400
  front  = 0
  bottom = 200
}
member "bar" {
  mid_x  = x
  front  = 30
  back   = 300
  bottom = 200
}
joint {
  between = [rail, bar]
  with    = bracket > 0 ? "angle-bracket" : "end-screw"
}
joint {
  between = [rail, post]
  with    = "end"
}
