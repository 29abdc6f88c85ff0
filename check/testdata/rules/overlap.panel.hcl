# A panel of some thickness in slots 8.2 wide, and a bar that may cross it.
# case t=4: silent
# case t=9: error ring.front_rail, ring.back_rail, ring.left_rail, ring.right_rail ~ does not go into the slots
# case t=9: error ring.front_rail, ring.back_rail, ring.left_rail, ring.right_rail ~ does not go into the slots
# case t=9: error ring.front_rail, ring.back_rail, ring.left_rail, ring.right_rail ~ does not go into the slots
# case t=9: error ring.front_rail, ring.back_rail, ring.left_rail, ring.right_rail ~ does not go into the slots
# case t=4 low=1: error cross, ring.front_rail, ring.back_rail, ring.left_rail, ring.right_rail ~ panel
param "t" { value = 4 }
param "low" { value = 0 }
frame { profile = "30x30-8" }
ring "ring" {
  left   = 0
  right  = 600
  front  = 0
  back   = 400
  bottom = 0
}
member "cross" {
  front  = ring.front_rail.back
  back   = ring.back_rail.front
  mid_x  = 300
  bottom = low > 0 ? 0 : 30
}
panel "floor" {
  held_by   = ring
  thickness = t
}
