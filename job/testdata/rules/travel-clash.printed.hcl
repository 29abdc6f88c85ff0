# A beam that moves up and down between posts, gap mm before each, with caps 2.4 mm thick; clips of 10 mm for a cable of 6 stand out of
# the posts' faces toward it, 50 mm over it.
# case gap=30 clips=0: silent
# case gap=2 clips=0: error beam, post.front_left
# case gap=2 clips=0: error beam, post.front_right
# case gap=8 clips=1: error beam, post.front_left ~ cable-clip
# case gap=8 clips=1: error beam, post.front_left ~ end-cap
# case gap=30 clips=1: silent
# case gap=8 clips=2: silent
param "gap" { value = 30 }
param "clips" { value = 0 }
frame {
  profile = "30x30-8"
}
posts "post" {
  left   = 0
  right  = 500
  front  = 0
  back   = 200
  bottom = 0
  top    = 600
}
member "beam" {
  left   = post.front_left.right + gap
  right  = post.front_right.left - gap
  front  = 0
  bottom = 200
}
group "carriage" {
  members = beam
  travel  = { along = "z", from = -100, to = 300 }
}
bracket "left cap" {
  kind = "end-cap"
  on   = beam
  end  = "left"
}
bracket "right cap" {
  kind = "end-cap"
  on   = beam
  end  = "right"
}
bracket "clip" {
  kind = "cable-clip"
  on   = post.front_left
  face = clips == 1 ? "right" : "left"
  at   = clips > 0 ? 280 : 590
}
