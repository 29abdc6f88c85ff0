# An access hole ⌀7 where a rail butts a post x mm under its top: 8.4 mm are needed.
# case x=15: silent
# case x=8: warning post ~ the access hole ⌀7 in the left side of post lies 8 mm from the top end
param "x" { value = 15 }
frame { profile = "30x30-8" }
member "post" {
  left   = 0
  front  = 0
  bottom = 0
  top    = 600
}
member "rail" {
  left  = 30
  right = 400
  front = 0
  mid_z = post.top - x
}
