# A group of one bar and what rides on it; a bar of 300 mm weighs about a quarter of a kilogram.
# case kg=14: silent
# case kg=14.8: note bar ~ 2 people are needed, who together should lift 20 kg
# case kg=19: note bar
# case kg=21: warning bar ~ 3 people are needed, who together should lift 22.5 kg
# case kg=40: warning bar ~ a hoist is needed
# case kg=2 mass=10: silent
# case kg=2 mass=14: note bar
# case kg=0 mass=1: silent
param "kg" { value = 1 }
param "mass" { value = 0.1 }
frame { profile = "30x30-8" }
member "bar" {
  left   = 0
  right  = 300
  front  = 0
  bottom = 0
}
member "post" {
  mid_x  = 100
  front  = 0
  bottom = 30
  top    = 400
}
group "unit" {
  members = bar
  kg      = kg
}
mass "load" {
  kg = mass
  on = bar
}
