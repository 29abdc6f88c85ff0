# A hole of ⌀10 near an end: 12 mm are needed (1.2 d0 of EN 1999-1-1), 5 mm and it breaks out.
# case at=11: warning bar ~ lies 11 mm from the left end; 12 mm are needed, 1 more
# case at=5: warning bar
# case at=4: error bar ~ breaks out of the end
# case at=12: silent
# case at=200: silent
# case at=389: warning bar ~ from the right end
# case at=388: silent
# case at=200 offset=9.5: warning bar ~ leaves 0.5 mm of the front side's edge
# case at=200 offset=9: silent
# case at=200 offset=12: error bar ~ breaks out of the edge of the front side by 2 mm
param "at" { value = 200 }
param "offset" { value = 0 }
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
  distance = at
  offset   = offset
  diameter = 10
}
