# A box frame of w × d × h through an opening of 820 × 1980 (no feet: the sizes are the bars'). A rectangle
# 2000 × 200 stands in 1980 × 731 when it is tilted (the rectangle in the rectangle), 2000 × 300 would need 873.
# case w=800 d=700 h=1100: silent
# case w=1900 d=810 h=1100: silent
# case w=1900 d=830 h=1100: error ~ in any orientation: at best it needs 830.0 × 1100.0 mm, 10.0 mm too much
# case w=900 d=850 h=860: error ~ at best it needs 850.0 × 860.0 mm, 30.0 mm too much
# case w=2500 d=800 h=1900: silent
# case w=1500 d=1500 h=815: silent
# case w=2500 d=830 h=2500: error ~ in any orientation
# case w=2000 d=300 h=2000: error ~ needs 300.0 × 2000.0 mm, 20.0 mm too much
# case w=2000 d=200 h=2000: silent
# case w=1200 d=1200 h=1200: error
# case w=850 d=850 h=850: error
# case w=900 d=850 h=860 groups=1: silent
param "w" { value = 600 }
param "d" { value = 600 }
param "h" { value = 600 }
param "groups" { value = 0 }
frame { profile = "30x30-8" }
posts "leg" {
  left   = 0
  right  = w
  front  = 0
  back   = d
  bottom = 0
  top    = h
}
ring "low" {
  within = leg
  bottom = 100
}
ring "top" {
  within = leg
  top    = h
}
row "cross" {
  count  = 1
  front  = low.front_rail.back
  back   = low.back_rail.front
  bottom = 100
  first  = { mid_x = 200 }
  step   = 50
}
group "front" {
  members = groups > 0 ? [leg.front_left, leg.front_right, low.front_rail, top.front_rail] : [cross[0]]
}
doorway "door" {
  width  = 820
  height = 1980
}
