# A printed pad under a post that stands on a foot already, or under the other posts.
# case both=1: error post.front_left ~ foot-pad
# case both=0: silent
param "both" { value = 0 }
frame {
  profile = "30x30-8"
}
posts "post" {
  left   = 0
  right  = 400
  front  = 0
  back   = 200
  bottom = 40
  top    = 400
}
foot {
  under  = [post.front_left, post.front_right, post.back_left]
  height = 40
}
bracket "pad" {
  kind = "foot-pad"
  on   = both > 0 ? post.front_left : post.back_right
  end  = "bottom"
}
