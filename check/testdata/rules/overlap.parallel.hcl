# Two bars one beside the other, y apart; solid corners of 30x30 bars meet over 4 mm only at their outer edges.
# case y=10: error a, b
# case y=26: error a, b
# case y=30: silent
param "y" { value = 10 }
frame { profile = "30x30-8" }
member "a" {
  left   = 0
  right  = 300
  front  = 0
  bottom = 0
}
member "b" {
  left   = 100
  right  = 400
  front  = y
  bottom = 0
}
