# A pad's screw needs 22 mm of thread in the post's end; a rail z mm above that end is screwed through the post at z + 15.
# case z=0: warning post ~ 22 mm are needed
# case z=5: warning post ~ 22 mm are needed
# case z=15: silent
# case z=0 pad=0: silent
param "z" { value = 15 }
param "pad" { value = 1 }
frame {
  profile = "30x30-8"
}
member "post" {
  left   = 0
  front  = 0
  bottom = 0
  top    = 300
}
member "rail" {
  left   = post.right
  right  = post.right + 300
  front  = 0
  bottom = z
}
bracket "pad" {
  kind = pad > 0 ? "foot-pad" : "end-cap"
  on   = post
  end  = "bottom"
}
