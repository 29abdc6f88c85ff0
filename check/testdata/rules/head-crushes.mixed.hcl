# A rail of slot 8 on a post of slot 10: the head M8 hardly covers the slot.
# case: warning post ~ of preload are left
# case same=1: note post ~ press on 65.7 mm² each: 351 MPa
param "same" { value = 0 }
frame { profile = "40x40-10" }
member "post" {
  left   = 0
  mid_y  = 0
  bottom = 0
  top    = 600
}
member "rail" {
  profile = same > 0 ? "40x40-10" : "30x30-8"
  left    = post.right
  right   = 400
  mid_y   = 0
  bottom  = 300
}
