# A long ladder of slats between two rails, as a cable tray, round the corner of a corridor.
frame { profile = "20x20-6" }
member "front" {
  left   = 0
  right  = 1500
  front  = 0
  bottom = 0
}
member "back" {
  left   = 0
  right  = 1500
  back   = 300
  bottom = 0
}
row "slat" {
  count  = 9
  front  = front.back
  back   = back.front
  bottom = 0
  first  = { mid_x = 50 }
  last   = { mid_x = 1450 }
}
doorway "landing" {
  corridor = [900, 1050]
  height   = 2300
}
