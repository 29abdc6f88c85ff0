# A rail that ends some hundredths before a post, or is that much too high for it.
# case gap=0.2: warning post, rail ~ 0.200 mm apart (left to right)
# case gap=0.01: warning post, rail ~ 0.010 mm apart
# case gap=0.49: warning post, rail
# case gap=0: silent
# case gap=0.6: silent
# case gap=0 high=0.3: warning post, rail ~ top faces are 0.300 mm out of line
# case gap=0 high=-0.1: warning post, rail ~ top faces are 0.100 mm out of line
# case gap=0 high=0.5: silent
# case gap=0 side=0.25: warning post, rail ~ front faces are 0.250 mm out of line
# case gap=0 side=2: silent
param "gap" { value = 0 }
param "high" { value = 0 }
param "side" { value = 0 }
frame { profile = "30x30-8" }
member "post" {
  left   = 0
  front  = 0
  bottom = 0
  top    = 500
}
member "rail" {
  left   = post.right + gap
  right  = 400
  front  = side
  top    = post.top + high
}
