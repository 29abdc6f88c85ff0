# A panel between four rails, one of which may lie lower than the others.
# case: silent
# case drop=5: error low, ring.left_rail ~ 5.00 mm off
# case drop=5: error low, ring.right_rail ~ 5.00 mm off
# case drop=5: error ring.front_rail, ring.left_rail, ring.right_rail, low ~ no slots in one plane
param "drop" { value = 0 }
frame { profile = "30x30-8" }
ring "ring" {
  left   = 0
  right  = 600
  front  = 0
  back   = 400
  bottom = 0
}
member "low" {
  left   = ring.left_rail.right
  right  = ring.right_rail.left
  back   = ring.back_rail.front - 50
  bottom = 0 - drop
}
panel "floor" {
  held_by   = [ring.front_rail, ring.left_rail, ring.right_rail, low]
  thickness = 4
}
