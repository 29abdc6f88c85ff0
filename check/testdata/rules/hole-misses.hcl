# Holes in a 30x30 bar with slots 8.2 wide and 9 deep: the lip's edge lies 4.1 mm from the middle, the rounded corner
# begins at 13.5.
# case: silent
# case depth=5: error bar ~ meets no metal: it is 5 mm deep
# case depth=9.3: warning bar ~ only scratches
# case depth=12: silent
# case offset=3: warning bar ~ starts on one edge
# case offset=5: warning bar ~ starts on
# case offset=9: silent
# case offset=9 diameter=3 depth=0.4: warning bar ~ only scratches the metal: 0.4 mm
# case offset=0.2: silent
# case diameter=12: silent
# case diameter=12 offset=3: warning bar ~ one side bites
# case offset=14.2 diameter=1.5: warning bar ~ starts on a slope
param "offset" { value = 0 }
param "diameter" { value = 6 }
param "depth" { value = 30 }
frame { profile = "30x30-8" }
member "bar" {
  left   = 0
  right  = 400
  front  = 0
  bottom = 0
}
drill "hole" {
  on       = bar
  face     = "front"
  from     = "left"
  distance = 200
  offset   = offset
  diameter = diameter
  depth    = depth
}
