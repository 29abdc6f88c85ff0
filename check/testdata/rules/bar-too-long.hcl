# A bar against a stock of 3000 with 20 of trim and an offcut, or against the usual 6000.
# case l=2980: silent
# case l=2981: error bar ~ the stock's longest bar gives, less 20 mm of trim, 2980 mm: 1 mm too long
# case l=5000: error bar
# case l=6000 own=1: silent
# case l=6001 own=1: warning bar ~ bars are usually sold 6000 mm: 1 mm too long
# case l=9000 own=1: warning bar
# case l=3400 offcut=3500: silent
# case l=3481 offcut=3500: error bar ~ 1 mm too long
param "l" { value = 1000 }
param "own" { value = 0 }
param "offcut" { value = 500 }
frame { profile = own > 0 ? "40x40-10" : "30x30-8" }
member "bar" {
  left   = 0
  right  = l
  front  = 0
  bottom = 0
}
stock "30x30-8" {
  bar    = [{ length = 3000, price = 20 }]
  offcut = [offcut]
  trim   = 20
}
