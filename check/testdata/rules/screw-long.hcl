# A screw M8 passes a lip of 2 mm into a thread of some depth.
# case: silent
# case screw=24: silent
# case screw=25: error rail, post ~ reaches 23 mm into rail, whose thread is 22 mm deep: it jams 1 mm before
# case screw=40: error rail, post
# case tap=17: error rail, post
# case screw=40 hole=28: error rail, post ~ its tip also reaches into the hole 28 mm from that end
# case screw=40 tap=40: silent
param "screw" { value = 20 }
param "tap" { value = 22 }
param "hole" { value = 200 }
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
drill "hole" {
  on       = rail
  face     = "front"
  from     = "left"
  distance = hole
  diameter = 7
}
