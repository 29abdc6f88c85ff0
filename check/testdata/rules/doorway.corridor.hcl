# A flat ladder l × w round the corner of a corridor: 2√2·900 − 2w is the longest that goes round where both sides are
# 900 wide (the rectangle in the corner, calculus texts); upright or on its side as the height allows.
# case l=1740 w=400: silent
# case l=1745 w=400: silent
# case l=1760 w=400: error ~ does not go round the corner
# case l=2400 w=400: error
# case l=2400 w=400 high=2500: silent
# case l=1000 w=1000 high=500: error
param "l" { value = 1000 }
param "w" { value = 400 }
param "high" { value = 350 }
frame { profile = "30x30-8" }
ring "ladder" {
  left   = 0
  right  = l
  front  = 0
  back   = w
  bottom = 0
}
doorway "landing" {
  corridor = [900, 900]
  height   = high
}
