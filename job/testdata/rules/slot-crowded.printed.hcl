# A cap whose tongues stand 10 mm deep in the post's slots, and the screw of a rail d mm under the post's top: its head, 14 mm wide, lies in
# the slot 15 mm under the rail's top. And a clip of 10 mm over the head of a screw that goes through the other post at 250, 13 mm
# wide in its counterbore, or a clip beside it.
# case d=0 at=100: error post, rail ~ end-cap
# case d=1.5 at=100: error post, rail ~ end-cap
# case d=2.5 at=100: silent
# case d=30 at=250: error far, through ~ cable-clip
# case d=30 at=100: silent
param "d" { value = 30 }
param "at" { value = 100 }
frame {
  profile = "30x30-8"
}
member "post" {
  left   = 0
  front  = 0
  bottom = 0
  top    = 300
}
member "far" {
  left   = 500
  front  = 0
  bottom = 0
  top    = 300
}
member "rail" {
  left   = post.right
  right  = far.left - 50
  front  = 0
  top    = post.top - d
}
member "through" {
  left   = far.right
  right  = far.right + 200
  front  = 0
  bottom = 235
}
joint {
  between = [through, far]
  with    = "through-screw"
}
bracket "cap" {
  kind = "end-cap"
  on   = post
  end  = "top"
  set  = { depth = 10 }
}
bracket "clip" {
  kind = "cable-clip"
  on   = far
  face = "left"
  at   = at
}
