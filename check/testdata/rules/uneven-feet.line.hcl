# Three posts on feet, the third y mm behind the line of the others.
# case y=0: error a, b, c ~ 3 of 3 feet stand in one line, within 0 mm
# case y=0.8: error a, b, c ~ within 0.8 mm
# case y=200: silent
param "y" { value = 200 }
frame { profile = "30x30-8" }
member "a" {
  left   = 0
  front  = 0
  bottom = 40
  top    = 400
}
member "b" {
  left   = 400
  front  = 0
  bottom = 40
  top    = 400
}
member "c" {
  left   = 200
  front  = y
  bottom = 40
  top    = 400
}
foot { under = [a, b, c] }
