# A frame 600 × 600 × 630 through a doorway of w × w mm: the caps of 2.4 mm on the lid's rails make it 4.8 mm wider.
# case w=601: error ~ doorway
# case w=604: error ~ doorway
# case w=606: silent
param "w" { value = 606 }
frame {
  profile = "30x30-8"
}
posts "post" {
  left   = 0
  right  = 600
  front  = 0
  back   = 600
  bottom = 0
  top    = 600
}
ring "lid" {
  left    = 0
  right   = 600
  front   = 0
  back    = 600
  bottom  = 600
  corners = "x-through"
}
ring "low" {
  within = post
  bottom = 60
}
bracket "left" {
  kind = "end-cap"
  on   = [lid.front_rail, lid.back_rail]
  end  = "left"
}
bracket "right" {
  kind = "end-cap"
  on   = [lid.front_rail, lid.back_rail]
  end  = "right"
}
doorway "door" {
  width  = w
  height = w
}
