# A rail between two posts with a bar butting it. Both ends of the rail's slots are covered; that is no harm, as heads
# may be put in first. Built as one group with the posts, it is shut when the bar comes.
# case: silent
# case group=1: warning rail, bar, left, right ~ 1 free end is needed
# case group=1 nuts=1: warning rail, bar, left, right ~ the slot nut M6 in rail
# case group=2: silent
# case group=1 free=1: silent
# case group=1 free=200: silent
# case group=1 free=10: warning rail, bar, left, right
# case group=1 free=0.5: warning rail, bar, left, right
# case group=1 short=1: error stub, bar
# case group=1 short=1: error stub, bar ~ its slot in stub only 12 mm
# case group=1 short=1: warning rail, bar, left, right
param "group" { value = 0 }
param "nuts" { value = 0 }
param "free" { value = 0 }
param "short" { value = 0 }
frame { profile = "30x30-8" }
member "left" {
  left   = 0
  front  = 0
  bottom = 0
  top    = 600
}
member "right" {
  left   = 400
  front  = 0
  bottom = 0
  top    = free == 1 ? 290 : 600
}
member "rail" {
  left   = left.right
  right  = right.left - (free == 1 ? 0 : free)
  front  = 0
  bottom = 300
}
member "bar" {
  mid_x  = 200
  front  = 30
  back   = 300
  bottom = 300
}
# A piece too short for the nut of the bracket that holds it, or far away.
member "stub" {
  left   = bar.right
  length = short > 0 ? 12 : 300
  along  = "x"
  mid_y  = 200
  bottom = 300
}
joint {
  between = [rail, bar]
  with    = nuts > 0 ? "angle-bracket" : "end-screw"
}
joint {
  between = [stub, bar]
  with    = short > 0 ? "plate" : "none"
}
group "unit" {
  members = group == 1 ? [left, right, rail] : [left, right, rail, bar]
}
