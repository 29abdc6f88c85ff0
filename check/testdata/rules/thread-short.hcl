# A screw M8 passes a lip of 2 mm: 2 diameters are 16 mm, so that it needs 18 mm and a thread of 16 mm.
# case: silent
# case screw=18: silent
# case screw=16: warning rail, post ~ holds 14 mm in the thread of rail
# case screw=16: warning rail, post2 ~ 16 mm are usual, 2 more
# case screw=12: warning rail, post
# case screw=12: warning rail, post2
# case screw=9.5: error rail, post ~ holds 7.5 mm
# case screw=9.5: error rail, post2
# case tap=15: warning rail, post ~ holds 15 mm
# case tap=15: warning rail, post2
# case tap=16: silent
# case tap=6: error rail, post
# case tap=6: error rail, post2
param "screw" { value = 20 }
param "tap" { value = 22 }
frame {
  profile = "30x30-8"
  joining = "own"
}
joining "own" {
  base         = "end-screw"
  thread       = "M8"
  screw_length = screw
  tap_depth    = tap
}
member "post" {
  left   = 0
  front  = 0
  bottom = 0
  top    = 600
}
member "rail" {
  left   = post.right
  right  = 400
  front  = 0
  bottom = 300
}
member "post2" {
  left   = 400
  front  = 0
  bottom = 0
  top    = 600
}
