# A wall in the slots of posts and rails that brackets join: its corners are cut out round legs and nuts.
# case: silent
param "bar" { value = 620 }
frame {
  profile = "30x30-8"
  joining = "angle-bracket"
}
member "front" {
  left   = 0
  front  = 0
  bottom = 0
  top    = 700
}
member "back" {
  left   = 0
  front  = 500
  bottom = 0
  top    = 700
}
member "low" {
  left   = 0
  front  = front.back
  back   = back.front
  bottom = 60
}
member "high" {
  left   = 0
  front  = front.back
  back   = back.front
  bottom = 540
}
member "third" {
  left   = 0
  front  = front.back
  back   = back.front
  bottom = bar
}
panel "wall" {
  held_by   = [front, back, low, high]
  thickness = 4
  material  = "PC"
}
