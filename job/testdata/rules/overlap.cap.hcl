# A cap on the end of a beam that stops gap mm before a post; the cap's plate is 2.4 mm thick.
# case gap=1: error beam, far ~ end-cap
# case gap=2.3: error beam, far ~ end-cap
# case gap=2.5: silent
# case gap=10: silent
param "gap" { value = 10 }
frame {
  profile = "30x30-8"
}
posts "post" {
  left   = 0
  right  = 400
  front  = 0
  back   = 200
  bottom = 0
  top    = 400
}
member "far" {
  left   = 700
  front  = 0
  bottom = 0
  top    = 400
}
member "beam" {
  left   = post.front_right.right
  right  = far.left - gap
  front  = 0
  bottom = 200
}
bracket "cap" {
  kind = "end-cap"
  on   = beam
  end  = "right"
}
