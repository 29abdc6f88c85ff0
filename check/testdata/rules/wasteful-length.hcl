# Four bars of one length from a bar of 3000 with a kerf of 3: n pieces need n·l + (n − 1)·3. Four of 747.75 would fit.
# case l=750: note bar[0], bar[1], bar[2], bar[3] ~ 3 pieces A1 of 750 mm go into a bar of 3000 mm; 4 would if each were 2.3 mm shorter: 1 bars in place of 2
# case l=748: note
# case l=755: note
# case l=747.7: silent
# case l=760: silent
# case l=998: silent
# case l=1000: note ~ 2 pieces A1 of 1000 mm
# case l=1000 trim=10: note ~ each were 5.4 mm shorter
# case l=1000 trim=50: silent
param "l" { value = 700 }
param "trim" { value = 0 }
frame { profile = "30x30-8" }
row "bar" {
  count  = l > 900 ? 3 : 4
  left   = 0
  right  = l
  bottom = 0
  first  = { mid_y = 0 }
  step   = 100
}
stock "30x30-8" {
  bar  = [{ length = 3000, price = 20 }]
  trim = trim
}
