# A cable clip, 10 mm long, on a post whose back a screwed panel covers or not; and a second clip beside it at x mm.
# case face=0 x=200: error post.back_left, post.back_right, low, high ~ panel "back"
# case face=0 x=200: error post.back_left, post.back_right, low, high ~ panel "back"
# case face=1 x=107: error post.back_left ~ cable-clip
# case face=1 x=109.5: error post.back_left ~ cable-clip
# case face=1 x=110.5: silent
# case face=1 x=200: silent
param "face" { value = 1 }
param "x" { value = 200 }
frame {
  profile = "30x30-8"
}
posts "post" {
  left   = 0
  right  = 400
  front  = 0
  back   = 300
  bottom = 0
  top    = 400
}
member "low" {
  left   = post.back_left.right
  right  = post.back_right.left
  back   = post.back_left.back
  bottom = 0
}
member "high" {
  left   = post.back_left.right
  right  = post.back_right.left
  back   = post.back_left.back
  top    = post.back_left.top
}
panel "back" {
  held_by   = [post.back_left, post.back_right, low, high]
  thickness = 2
  screwed   = true
}
bracket "first" {
  kind = "cable-clip"
  on   = post.back_left
  face = face > 0 ? "left" : "back"
  at   = 100
}
bracket "second" {
  kind = "cable-clip"
  on   = post.back_left
  face = face > 0 ? "left" : "back"
  at   = x
}
