# A beam that moves up and down between two posts, with a fixed bar over it and the floor under it.
# case: silent
# case to=129: silent
# case to=131: error beam, over ~ hits over when it has moved 130 mm along z; it is to move from -100 to 131 mm
# case to=400: error beam, over
# case from=-269: silent
# case from=-310: error beam ~ moves 10 mm under the floor
# case from=-310: error beam, base.front_rail ~ when it has moved -270 mm
# case second=1: warning beam, other ~ can both be in one place
# case second=1 to=40: silent
# case near=1: error beam, post
param "from" { value = -100 }
param "to" { value = 100 }
param "second" { value = 0 }
param "near" { value = 0 }
frame { profile = "30x30-8" }
ring "base" {
  left   = 0
  right  = 600
  front  = 0
  back   = 400
  bottom = 0
}
member "post" {
  left   = near > 0 ? 100 : 0
  front  = 0
  bottom = 30
  top    = 800
}
member "over" {
  left   = post.right
  right  = 500
  front  = 0
  bottom = 460
}
member "beam" {
  left   = 140 - 30 * near
  right  = 500
  front  = 0
  bottom = 300
}
group "lift" {
  members = beam
  travel  = { along = "z", from = from, to = to }
}
member "other" {
  left   = 150
  right  = 500
  front  = second > 0 ? 0 : 200
  bottom = 380
}
group "slide" {
  members = other
  travel  = { along = "y", from = 0, to = 10 }
}
