# Two beams one behind the other move up and down past each other, gap mm apart; a clip for a cable of 6 stands 10 mm out of the first
# toward the second, or away from it.
# case gap=20 toward=1: silent
# case gap=5 toward=0: silent
# case gap=5 toward=1: warning first, second ~ cable-clip
param "gap" { value = 20 }
param "toward" { value = 1 }
frame {
  profile = "30x30-8"
}
member "first" {
  left   = 0
  right  = 500
  front  = 0
  bottom = 200
}
member "second" {
  left   = 0
  right  = 500
  front  = first.back + gap
  bottom = 200
}
group "one" {
  members = first
  travel  = { along = "z", from = -100, to = 100 }
}
group "two" {
  members = second
  travel  = { along = "z", from = -100, to = 100 }
}
bracket "clip" {
  kind = "cable-clip"
  on   = first
  face = toward > 0 ? "back" : "front"
}
