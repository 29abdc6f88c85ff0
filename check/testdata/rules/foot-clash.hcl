# A foot M8 under a rail, its pad 35.2 mm wide, and a bar near the floor x mm from its axis; or two feet near each other.
# case x=100: silent
# case x=18: silent
# case x=17: error rail, low ~ the bar passes 17 mm from the foot's axis, the pad needs 17.6 mm, 0.6 more
# case x=10: error rail, low
# case x=0: error rail, low
# case x=100 second=230: error rail ~ share
# case x=100 second=240: silent
# case x=100 under=1: error rail, low
param "x" { value = 100 }
param "second" { value = 380 }
param "under" { value = 0 }
frame { profile = "30x30-8" }
member "rail" {
  left   = 0
  right  = 400
  front  = 0
  bottom = 90
}
# It lies on the floor, or higher where the plate of the foot is.
member "low" {
  left   = under > 0 ? 100 : 200 + x
  right  = under > 0 ? 300 : 320
  front  = under > 0 ? 0 : 0
  bottom = under > 0 ? 50 : 0
}
foot {
  under = rail
  at    = [200, second]
}
