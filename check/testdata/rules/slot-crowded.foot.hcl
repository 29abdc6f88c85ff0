# A foot's slot plate of 30 mm under a rail, and a panel in the slots of a ring with brackets or a bar in the middle.
# case: silent
# case foot=200: error rail, post ~ slot plate of the foot
# case foot=190: error rail, post
# case panel=1: silent
# case panel=1 bar=1: warning ring.front_rail, mid ~ the edge of panel
# case panel=1 bar=1: warning ring.back_rail, mid ~ the edge of panel
param "foot" { value = 100 }
param "panel" { value = 0 }
param "bar" { value = 0 }
frame { profile = "30x30-8" }
member "rail" {
  left   = 0
  right  = 400
  front  = 0
  bottom = 90
}
member "post" {
  mid_x  = 200
  front  = 0
  bottom = 0
  top    = rail.bottom
}
foot {
  under = rail
  at    = foot
}
ring "ring" {
  left   = 0
  right  = 600
  front  = 300
  back   = 700
  bottom = 90
}
member "mid" {
  front  = ring.front_rail.back
  back   = ring.back_rail.front
  mid_x  = 300
  bottom = bar > 0 ? 90 : 200
}
panel "floor" {
  held_by   = ring
  thickness = panel > 0 ? 4 : 1
  screwed   = panel == 0
}
